"""What stands beside the readings: photos, checks of gauges, decisions, the customer's answers, the chosen route."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from witnessmark.record.event import Event
from witnessmark.record.job import Comparison, CustomerAnswer, Decision, Photo, ZeroCheck
from witnessmark.record.order import Key, bases, keys, last
from witnessmark.record.shape import is_hash

FULL = "full"

ByKind = Mapping[str, Sequence[Event]]


def photo(event: Event) -> Photo:
    """A photo of the store and what it shows."""
    body = event.body
    about: Mapping[str, Any] = body["about"]
    return Photo(
        body["photo"], body["type"], body["bytes"], body["width"], body["height"], about.get("characteristic"),
        about.get("place"), about.get("round"), body.get("note") or "", body.get("mark"), *_made(event))


def photos_named(events: Iterable[Event]) -> tuple[str, ...]:
    """The hashes of all photos that events name, each once, in the order in which they are named first."""
    found: dict[str, None] = {}
    for event in events:
        several = event.body.get("photos") if event.kind == "reading_taken" else None
        named = (event.body.get("photo"),) if event.kind == "photo_added" else several
        found.update((photo, None) for photo in (named if isinstance(named, list | tuple) else ()) if is_hash(photo))
    return tuple(found)


def zero_check(event: Event) -> ZeroCheck:
    """A check of a gauge's zero."""
    body = event.body
    return ZeroCheck(body["gauge"], body["found"], body["unit"], body["against"], body["when"], body.get("allowed"),
                     body["passed"], *_made(event))


def comparison(event: Event) -> Comparison:
    """Two gauges on one thing."""
    body = event.body
    return Comparison(body["first"], body["second"], body["on"], body["first_read"], body["second_read"], body["unit"],
                      *_made(event))


@dataclass(frozen=True, slots=True)
class Decided:
    """What was decided and answered, each the earliest first; `earlier` was replaced by a later one of its row."""

    decisions: tuple[Decision, ...]
    earlier: tuple[Decision, ...]
    answers: tuple[CustomerAnswer, ...]


def decided(kinds: ByKind, gone: frozenset[str]) -> Decided:
    """One decision stands for each row, and one answer for each decision, the same in any order of arrival.

    An answer that names no decision is about all that were decided before it.
    """
    entries, answered = kinds.get("decided", ()), kinds.get("customer_answered", ())
    if not entries and not answered:
        return Decided((), (), ())
    rank = keys([*entries, *answered])
    entries, answered = (sorted(some, key=lambda one: rank[one.id]) for some in (entries, answered))
    covers = {one.id: _covers(one, entries, gone, rank) for one in answered}
    to: dict[str, list[Event]] = {}
    for one in answered:
        for about in covers[one.id]:
            to.setdefault(about, []).append(one)
    held = {here.id for row in _rows(entries).values() if (here := last(row, gone, rank))}
    based, answers_based = bases(entries, gone), bases(answered, gone)
    made = [_decision(one, based.get(one.id), last(to.get(one.id, ()), gone, rank))
            for one in entries if one.id not in gone]
    return Decided(
        tuple(one for one in made if one.event in held), tuple(one for one in made if one.event not in held),
        tuple(_answer(one, covers[one.id], answers_based.get(one.id)) for one in answered if one.id not in gone))


def route(chosen: Sequence[Event], gone: frozenset[str]) -> tuple[str, str | None]:
    """(extent of the route, id of the choice that holds); the full route where none was chosen."""
    held = last(chosen, gone, keys(chosen))
    return (held.body["extent"], held.id) if held else (FULL, None)


def _rows(entries: Sequence[Event]) -> dict[tuple[str, str, str], list[Event]]:
    rows: dict[tuple[str, str, str], list[Event]] = {}
    for one in entries:
        body = one.body
        rows.setdefault((body["characteristic"], body["place"], body["round"]), []).append(one)
    return rows


def _covers(answer: Event, entries: Sequence[Event], gone: frozenset[str], rank: Mapping[str, Key]) -> tuple[str, ...]:
    about = set(answer.body["about"])
    return tuple(one.id for one in entries if one.id not in gone
                 and (one.id in about if about else rank[one.id] < rank[answer.id]))


def _decision(event: Event, based_on: str | None, answer: Event | None) -> Decision:
    body = event.body
    return Decision(body["characteristic"], body["place"], body["round"], body["decision"], body.get("operation"),
                    body["why"], answer.id if answer else None, based_on, *_made(event))


def _answer(event: Event, covers: tuple[str, ...], based_on: str | None) -> CustomerAnswer:
    body = event.body
    return CustomerAnswer(tuple(body["about"]), body["answer"], body.get("ceiling"), body.get("currency"),
                          body.get("said_by"), body.get("note") or "", *_made(event), covers, based_on)


def _made(event: Event) -> tuple[str, int, str, str]:
    return event.id, event.seq, event.at, event.by
