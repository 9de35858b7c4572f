"""Readings from their events: superseded, asked, answered or counted, the same whatever the order they came in."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from witnessmark.record.event import Event
from witnessmark.record.job import ASKED, COUNTED, MEASURE_AGAIN, SUPERSEDED, TAKEN_BACK, Conflict, Kept, Reading
from witnessmark.record.takeback import parents

AS_FOUND = "as found"


@dataclass(frozen=True, slots=True)
class Told:
    """What the answers say: the answer by reading, contradictions, and answers that do not fit their question."""

    answer: Mapping[str, int]
    conflicts: tuple[Conflict, ...]
    kept: tuple[Kept, ...]


def answers(readings: Mapping[str, Event], answered: Sequence[Event], gone: frozenset[str]) -> Told:
    """Sort the answers that still hold to their questions. Two different ones contend and none is taken."""
    given: dict[str, dict[int, str]] = {}
    kept: list[Kept] = []
    for event in answered:
        reading = readings.get(str(event.body["reading"]))
        if event.id in gone or reading is None:
            continue
        question = reading.body.get("question")
        if question is None or event.body["answer"] >= len(question["answers"]):
            kept.append(Kept(event.id, event.kind, f"reading '{reading.id}' has no question with such an answer"))
            continue
        given.setdefault(reading.id, {}).setdefault(event.body["answer"], event.id)
    conflicts = tuple(
        Conflict("two answers", one, tuple(sorted(choices.values())),
                 f"the question about reading '{one}' has two answers; take one back")
        for one, choices in given.items() if len(choices) > 1
    )
    single = {one: next(iter(choices)) for one, choices in given.items() if len(choices) == 1}
    return Told(single, conflicts, tuple(kept))


@dataclass(frozen=True, slots=True)
class Corrected:
    """Who superseded whom, which readings contend, and the conflicts that say so."""

    by: Mapping[str, str]
    contending: frozenset[str]
    conflicts: tuple[Conflict, ...]


def corrections(readings: Mapping[str, Event], gone: frozenset[str]) -> Corrected:
    """Follow each correction to the reading that it stands for. Two that hold for one reading contend: neither counts.

    A correction of a correction that was taken back stands for the reading before it.
    """
    parent, circle = parents(readings)
    by: dict[str, list[str]] = {}
    for one in parent:
        if one not in gone:
            for aim in _aims(one, parent, gone):
                by.setdefault(aim, []).append(one)
    conflicts: list[Conflict] = []
    contending: set[str] = set()
    for aim, several in by.items():
        if len(several) > 1 and (aim not in gone or aim not in parent):
            tips = sorted(_tip(one, by) for one in several)
            contending.update(tips)
            conflicts.append(Conflict("two corrections", aim, tuple(tips),
                                      f"reading '{aim}' was corrected more than once; take back all but one"))
    if circle:
        conflicts.append(Conflict("circle", min(circle), tuple(sorted(circle)),
                                  "these readings supersede each other in a circle; take one back and enter it again"))
    return Corrected({aim: min(several) for aim, several in by.items()}, frozenset(contending), tuple(conflicts))


def _aims(one: str, parent: Mapping[str, str], gone: frozenset[str]) -> list[str]:
    """What `one` stands for: its parent, and past parents that were taken back."""
    aims = []
    here = one
    while here in parent:
        here = parent[here]
        aims.append(here)
        if here not in gone:
            break
    return aims


def _tip(one: str, by: Mapping[str, list[str]]) -> str:
    while by.get(one):
        one = min(by[one])
    return one


def reading(event: Event, revision: int | None, told: Told, corrected: Corrected, gone: frozenset[str]) -> Reading:
    """One reading as it stands now. `revision` is that of its gauge when the event does not say."""
    body = event.body
    answer = told.answer.get(event.id)
    meaning, state = _standing(event, answer, corrected, gone)
    return Reading(
        id=event.id, seq=event.seq, characteristic=body["characteristic"], place=body["place"], part=body.get("part"),
        round=body.get("round", AS_FOUND), gauge=body.get("gauge"),
        gauge_revision=body.get("gauge_revision") or revision, setting=body.get("setting"), raw=body["raw"],
        meaning=meaning, assumed=tuple(body.get("assumed", ())), note=body.get("note") or "", at=event.at, by=event.by,
        device=event.device, supersedes=body.get("supersedes"), superseded_by=corrected.by.get(event.id),
        reason=body.get("reason"), temperature=body.get("temperature"), question=body.get("question"), state=state,
        answered=answer, reader=body.get("reader", "1"), received_at=event.received_at,
        method=body.get("method") or None, photos=tuple(body.get("photos", ())), mark=body.get("mark"),
    )


def _standing(event: Event, answer: int | None, corrected: Corrected,
              gone: frozenset[str]) -> tuple[Mapping[str, Any] | None, str]:
    question, meaning = event.body.get("question"), event.body.get("meaning")
    again = False
    if question is not None:
        chosen = question["answers"][answer] if answer is not None else {}
        meaning, again = chosen.get("meaning"), chosen.get("do") == "measure again"
    if event.id in gone:
        return meaning, TAKEN_BACK
    if event.id in corrected.by:
        return meaning, SUPERSEDED
    if event.id in corrected.contending or (meaning is None and not again):
        return meaning, ASKED
    return meaning, MEASURE_AGAIN if again else COUNTED
