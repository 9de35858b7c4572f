"""Replay: the events of a job in, its snapshot out. Pure, and without an opinion on what may be done next.

Readings, supersedings, answers and take-backs point at ids and accumulate, so any order of arrival gives the same
snapshot; one that points at an id which has not come yet waits and is listed. So do photos, checks of gauges, decisions
and what the customer says, of which the later holds by sight and clock (order.py). Header, engine, gauges, parts and
limits, of which the last entry holds, go by the order of the log and by what they were based on (latest.py).
"""

from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

from witnessmark.record import beside, latest
from witnessmark.record.event import Event
from witnessmark.record.intended import intended
from witnessmark.record.job import (
    Conflict,
    GaugeRevision,
    Job,
    Kept,
    LimitsText,
    Note,
    Part,
    Reading,
    Setting,
    Waiting,
    Waived,
)
from witnessmark.record.readings import AS_FOUND, answers, corrections, reading
from witnessmark.record.shape import problems
from witnessmark.record.takeback import holding
from witnessmark.record.together import together

ByKind = Mapping[str, Sequence[Event]]
POINTS = {"question_answered": "reading", "taken_back": "event", "reading_taken": "supersedes",
          "customer_answered": "about", "bolt_turned": "run", "bolt_doubted": "run", "bolt_settled": "run",
          "trace_entered": "run"}
Made = TypeVar("Made")


def replay(events: Iterable[Event]) -> Job:
    """The snapshot after these events. They are taken by `seq`; where none has a number they get 1, 2, 3 ..."""
    ordered = _numbered(events)
    kinds, ids, kept = _sorted_out(ordered)
    gone, conflicts, refused = _gone(kinds)
    heads, engines = kinds.get("job_opened", ()), _engines(kinds)
    head_state, engine_state = latest.states(heads, gone), latest.states(engines, gone)
    head, engine = latest.current(heads, head_state), latest.current(engines, engine_state)
    conflicts += latest.stale("job", heads, head_state, lambda _: "a job header")
    conflicts += latest.stale("engine", engines, engine_state, lambda _: "an engine")
    gauges, gauge_conflicts = _gauges(kinds.get("gauge_entered", ()), gone)
    parts, part_conflicts = _parts(kinds.get("part_entered", ()), gone)
    settings, setting_conflicts = _settings(kinds.get("setting_made", ()), gone)
    limits, limit_conflicts = _limits(kinds.get("limits_entered", ()), gone)
    readings, reading_conflicts, unfit = _readings(kinds, gone)
    header = head.body["job"] if head else {}
    decided = beside.decided(kinds, gone)
    work, work_conflicts = intended(kinds, gone)
    extent, extent_event = beside.route(kinds.get("route_chosen", ()), gone)
    return Job(
        id=str(header.get("id", "")), header=header, engine=(engine.body.get("engine") or {}) if engine else {},
        gauges=gauges, parts=parts, settings=settings, limits=limits, readings=readings,
        waived=_each(waived, kinds, "waived", gone), notes=_each(_note, kinds, "noted", gone),
        photos=_each(beside.photo, kinds, "photo_added", gone),
        checks=_each(beside.zero_check, kinds, "zero_checked", gone),
        comparisons=_each(beside.comparison, kinds, "gauges_compared", gone),
        decisions=decided.decisions, earlier=decided.earlier, answers=decided.answers,
        extent=extent, extent_event=extent_event,
        questions=tuple(one for one in readings if one.state == "asked" and one.meaning is None),
        conflicts=(*conflicts, *gauge_conflicts, *part_conflicts, *setting_conflicts, *limit_conflicts,
                   *reading_conflicts, *work_conflicts),
        waiting=(*_waiting(ordered, ids), *_unset(readings, settings)),
        kept=(*kept, *refused, *unfit), taken_back=tuple(sorted(gone & ids)),
        seq=max((event.seq for event in ordered), default=0), engine_event=engine.id if engine else None,
        header_event=head.id if head else None, **work, **together(kinds, gone),
    )


def _numbered(events: Iterable[Event]) -> list[Event]:
    ordered = sorted(events, key=lambda event: event.seq)
    if ordered and ordered[-1].seq == 0:
        return [replace(event, seq=count) for count, event in enumerate(ordered, 1)]
    return ordered


def _sorted_out(ordered: Sequence[Event]) -> tuple[dict[str, list[Event]], set[str], list[Kept]]:
    kinds: dict[str, list[Event]] = {}
    ids: set[str] = set()
    kept: list[Kept] = []
    for event in ordered:
        why = ("an event with this id came before",) if event.id in ids else problems(event)
        ids.add(event.id)
        if why:
            kept.append(Kept(event.id, event.kind, "; ".join(why)))
        else:
            kinds.setdefault(event.kind, []).append(event)
    return kinds, ids, kept


def _gone(kinds: ByKind) -> tuple[frozenset[str], list[Conflict], list[Kept]]:
    opened = {event.id for event in kinds.get("job_opened", ())[:1]}
    take_backs = [event for event in kinds.get("taken_back", ()) if event.body["event"] not in opened]
    refused = [Kept(event.id, event.kind, "the opening of a job cannot be taken back; open another job instead")
               for event in kinds.get("taken_back", ()) if event.body["event"] in opened]
    gone, circle = holding(take_backs)
    conflicts = [Conflict("circle", min(circle), tuple(sorted(circle)),
                          "these take-backs take back each other in a circle; none of them holds")] if circle else []
    return gone, conflicts, refused


def _engines(kinds: ByKind) -> list[Event]:
    opened = [event for event in kinds.get("job_opened", ()) if event.body.get("engine")]
    return sorted([*opened[:1], *kinds.get("engine_described", ())], key=lambda event: event.seq)


def _gauges(entries: Sequence[Event],
            gone: frozenset[str]) -> tuple[dict[str, tuple[GaugeRevision, ...]], list[Conflict]]:
    gauges: dict[str, tuple[GaugeRevision, ...]] = {}
    conflicts: list[Conflict] = []
    for gauge, revisions in _grouped(entries, "gauge").items():
        state = latest.states(revisions, gone)
        conflicts += latest.stale(gauge, revisions, state, lambda event: f"a revision of gauge {event.body['gauge']}")
        gauges[gauge] = tuple(
            GaugeRevision(gauge, number, event.body["fields"], event.id, event.seq, event.at, event.by, word)
            for number, (event, word) in enumerate(zip(revisions, state, strict=True), 1)
        )
    return gauges, conflicts


def _parts(entries: Sequence[Event], gone: frozenset[str]) -> tuple[dict[str, Part], list[Conflict]]:
    parts: dict[str, Part] = {}
    conflicts: list[Conflict] = []
    for name, several in _grouped(entries, "part").items():
        state = latest.states(several, gone)
        conflicts += latest.stale(name, several, state, lambda event: f"part {event.body['part']}")
        event = latest.current(several, state)
        if event:
            parts[name] = Part(name, event.body["kind"], event.body.get("at"), event.body.get("new", False), event.id)
    return parts, conflicts


def _settings(entries: Sequence[Event], gone: frozenset[str]) -> tuple[dict[str, Setting], list[Conflict]]:
    """A setting is made once. A second one by the same name would rewrite old readings, so it only opens a conflict."""
    settings: dict[str, Setting] = {}
    conflicts: list[Conflict] = []
    for event in entries:
        body = event.body
        first = settings.get(body["setting"])
        if event.id in gone:
            continue
        if first:
            conflicts.append(Conflict("one name twice", body["setting"], (first.event, event.id),
                                      f"setting '{body['setting']}' was made twice; give the second its own name"))
            continue
        settings[body["setting"]] = Setting(
            body["setting"], body["gauge"], body["set_to"], body["unit"], body.get("with"), body.get("s"),
            event.id, event.seq, event.at, event.by)
    return settings, conflicts


def _limits(entries: Sequence[Event], gone: frozenset[str]) -> tuple[LimitsText | None, list[Conflict]]:
    state = latest.states(entries, gone)
    event = latest.current(entries, state)
    sheet = LimitsText(event.body["name"], event.body["text"], event.body["hash"], event.id) if event else None
    return sheet, latest.stale("limits", entries, state, lambda one: f"limit sheet {one.body['name']}")


def _readings(kinds: ByKind, gone: frozenset[str]) -> tuple[tuple[Reading, ...], list[Conflict], tuple[Kept, ...]]:
    entries = kinds.get("reading_taken", ())
    by_id = {event.id: event for event in entries}
    told = answers(by_id, kinds.get("question_answered", ()), gone)
    corrected = corrections(by_id, gone)
    revisions = _revision_at(kinds)
    readings = tuple(reading(event, revisions(event), told, corrected, gone) for event in entries)
    return readings, [*told.conflicts, *corrected.conflicts], told.kept


def _revision_at(kinds: ByKind) -> Callable[[Event], int | None]:
    """The number of gauge revisions that came before an event, for readings that do not name theirs."""
    seqs = {gauge: [event.seq for event in several]
            for gauge, several in _grouped(kinds.get("gauge_entered", ()), "gauge").items()}

    def revision(event: Event) -> int | None:
        known = seqs.get(event.body.get("gauge") or "")
        return max(1, bisect_right(known, event.seq)) if known else None
    return revision


def _each(make: Callable[[Event], Made], kinds: ByKind, kind: str, gone: frozenset[str]) -> tuple[Made, ...]:
    return tuple(make(event) for event in kinds.get(kind, ()) if event.id not in gone)


def _grouped(entries: Iterable[Event], key: str) -> dict[str, list[Event]]:
    groups: dict[str, list[Event]] = {}
    for event in entries:
        groups.setdefault(event.body[key], []).append(event)
    return groups


def _waiting(ordered: Iterable[Event], ids: set[str]) -> Iterator[Waiting]:
    for event in ordered:
        needs = event.body.get(POINTS[event.kind]) if event.kind in POINTS else None
        for need in needs if isinstance(needs, list | tuple) else (needs,):
            if isinstance(need, str) and need not in ids:
                yield Waiting(event.id, need)


def _unset(readings: Sequence[Reading], settings: Mapping[str, Setting]) -> Iterator[Waiting]:
    """Readings of a comparing gauge whose setting has not come, or was taken back: their size is not known."""
    for one in readings:
        if one.setting is not None and one.setting not in settings:
            yield Waiting(one.id, one.setting)


def waived(event: Event) -> Waived:
    """One place, or the rest of a series, that was left out."""
    body = event.body
    return Waived(body["characteristic"], body["place"], body.get("round", AS_FOUND), body.get("scope", "place"),
                  body.get("reason", "not measured"), event.id, event.seq, event.at, event.by)


def _note(event: Event) -> Note:
    return Note(event.body["about"], event.body["text"], event.id, event.seq, event.at, event.by)
