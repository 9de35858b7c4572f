"""What stands beside the readings: photos, checks of gauges, decisions, the customer's answers, the chosen route."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from witnessmark.record.event import Event
from witnessmark.record.job import Comparison, CustomerAnswer, Decision, Photo, ZeroCheck
from witnessmark.record.order import Key, basis, keys, last

FULL = "full"

ByKind = Mapping[str, Sequence[Event]]


def photo(event: Event) -> Photo:
    """A photo of the store and what it shows."""
    body = event.body
    about: Mapping[str, Any] = body["about"]
    return Photo(
        body["photo"], body["type"], body["bytes"], body["width"], body["height"], about.get("characteristic"),
        about.get("place"), about.get("round"), body.get("note") or "", body.get("mark"), *_made(event))


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
    standing: list[Decision] = []
    earlier: list[Decision] = []
    for row in _rows(entries).values():
        held = last(row, gone, rank)
        for one in row:
            if one.id not in gone:
                made = _decision(one, basis(one, row, gone), _answer_to(one, answered, gone, rank))
                (standing if one is held else earlier).append(made)
    for decisions in (standing, earlier):
        decisions.sort(key=lambda one: rank[one.event])
    said = sorted((one for one in answered if one.id not in gone), key=lambda one: rank[one.id])
    return Decided(tuple(standing), tuple(earlier), tuple(map(_answer, said)))


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


def _answer_to(one: Event, answered: Sequence[Event], gone: frozenset[str], rank: Mapping[str, Key]) -> str | None:
    about = [answer for answer in answered
             if one.id in answer.body["about"] or (not answer.body["about"] and rank[answer.id] > rank[one.id])]
    held = last(about, gone, rank)
    return held.id if held else None


def _decision(event: Event, based_on: str | None, answer: str | None) -> Decision:
    body = event.body
    return Decision(body["characteristic"], body["place"], body["round"], body["decision"], body.get("operation"),
                    body["why"], answer, based_on, *_made(event))


def _answer(event: Event) -> CustomerAnswer:
    body = event.body
    return CustomerAnswer(tuple(body["about"]), body["answer"], body.get("ceiling"), body.get("currency"),
                          body.get("said_by"), body.get("note") or "", *_made(event))


def _made(event: Event) -> tuple[str, int, str, str]:
    return event.id, event.seq, event.at, event.by
