"""Taking back and taking back a take-back (redo): which events hold, whatever the order in which they came."""

from collections import Counter
from collections.abc import Mapping, Sequence

from witnessmark.record.event import Event


def holding(take_backs: Sequence[Event]) -> tuple[frozenset[str], frozenset[str]]:
    """(ids that are taken back, ids of take-backs that take back each other in a circle).

    An event is taken back while at least one take-back of it holds; a take-back holds unless it is itself taken back.
    Take-backs in a circle cannot be told apart and none of them holds.
    """
    target = {one.id: str(one.body["event"]) for one in take_backs}
    undecided = Counter(aim for aim in target.values() if aim in target)
    holds = {one: True for one in target if undecided[one] == 0}
    ready = list(holds)
    gone: set[str] = set()
    while ready:  # from the take-backs that nobody takes back towards the events
        one = ready.pop()
        aim = target[one]
        if holds[one]:
            gone.add(aim)
        else:
            undecided[aim] -= 1
        if aim in target and aim not in holds and (holds[one] or undecided[aim] == 0):
            holds[aim] = not holds[one]
            ready.append(aim)
    return frozenset(gone), frozenset(one for one in target if one not in holds)


def parents(readings: Mapping[str, Event]) -> tuple[dict[str, str], frozenset[str]]:
    """(reading -> the reading that it supersedes, ids whose superseding runs in a circle and is left out)."""
    parent = {one: str(event.body["supersedes"]) for one, event in readings.items()
              if event.body.get("supersedes") in readings}
    circle: set[str] = set()
    settled: set[str] = set()
    for start in parent:
        trail: dict[str, None] = {}
        here = start
        while here in parent and here not in settled and here not in trail:
            trail[here] = None
            here = parent[here]
        if here in trail:
            path = list(trail)
            circle.update(path[path.index(here):])
        settled.update(trail)
    return {one: aim for one, aim in parent.items() if one not in circle}, frozenset(circle)
