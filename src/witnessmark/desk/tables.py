"""A record as flat tables, for whoever reckons with it elsewhere: readings with their verdicts, events, bolts.

A column is of one kind: text, number (the digits as they were written), whole, or flag. An empty cell is None.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from witnessmark.desk.state import State
from witnessmark.judge.result import Result
from witnessmark.record.event import Event, canonical
from witnessmark.record.job import Reading

Cell = str | int | bool | None


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its name and its kind (text, number, whole, flag)."""

    name: str
    kind: str = "text"


@dataclass(frozen=True, slots=True)
class Flat:
    """A table: its columns, and rows of one cell for each."""

    name: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]


def table(state: State, events: Sequence[Event], name: str) -> Flat:
    """The table of one of `TABLES`. Raises KeyError for another name."""
    return TABLES[name](state, events)


def _made(name: str, columns: Mapping[str, str], rows: Iterable[Mapping[str, Cell]]) -> Flat:
    wanted = tuple(Column(one, kind) for one, kind in columns.items())
    return Flat(name, wanted, tuple(tuple(row.get(one.name) for one in wanted) for row in rows))


READINGS = {
    "number": "whole", "id": "text", "characteristic": "text", "place": "text", "round": "text", "part": "text",
    "raw": "text", "value": "number", "low": "number", "high": "number", "unit": "text", "says": "text",
    "method": "text", "gauge": "text", "gauge_revision": "whole", "setting": "text", "assumed": "text",
    "at": "text", "by": "text", "device": "text", "state": "text", "supersedes": "text", "superseded_by": "text",
    "reason": "text", "note": "text", "temperature": "text", "photos": "whole", "verdict": "text",
    "chance_within": "number", "limit_low": "number", "limit_high": "number", "limit_unit": "text",
    "limit_document": "text", "limit_page": "text",
}  # fmt: skip


def _readings(state: State, _: Sequence[Event]) -> Flat:
    """One row for each reading; the verdict is that of the value that the reading counts in."""
    values: dict[tuple[str, str], Result] = {}
    for result in state.judgement.results:
        for source in result.sources if result.verdict else ():
            values.setdefault((source.reading, result.characteristic), result)
    rows = (_reading(one, values.get((one.id, one.characteristic))) for one in state.job.readings)
    return _made("readings", READINGS, rows)


def _reading(one: Reading, result: Result | None) -> Mapping[str, Cell]:
    meaning = one.meaning or {}
    look = meaning.get("kind") == "look"
    return {
        "number": one.seq, "id": one.id, "characteristic": one.characteristic, "place": one.place, "round": one.round,
        "part": one.part, "raw": one.raw, "value": _digits(meaning.get("value")), "low": _digits(meaning.get("low")),
        "high": _digits(meaning.get("high")), "unit": _text(meaning.get("unit")),
        "says": _text(meaning.get("says")) if look else None, "method": one.method, "gauge": one.gauge,
        "gauge_revision": one.gauge_revision, "setting": one.setting, "assumed": ", ".join(one.assumed) or None,
        "at": one.at or None, "by": one.by or None, "device": one.device or None, "state": one.state,
        "supersedes": one.supersedes, "superseded_by": one.superseded_by, "reason": one.reason,
        "note": one.note or None, "temperature": _pairs(one.temperature), "photos": len(one.photos),
        **(_verdict(result) if result else {}),
    }  # fmt: skip


def _verdict(result: Result) -> Mapping[str, Cell]:
    held = result.against
    chance = None if result.p_within is None else f"{result.p_within:.6g}"
    if held is None:
        return {"verdict": result.verdict, "chance_within": chance}
    return {
        "verdict": result.verdict, "chance_within": chance, "limit_low": _digits(held.low_text),
        "limit_high": _digits(held.high_text), "limit_unit": held.unit or None,
        "limit_document": held.document or None, "limit_page": held.page or None,
    }  # fmt: skip


EVENTS = {"number": "whole", "id": "text", "kind": "text", "at": "text", "received_at": "text", "by": "text",
          "device": "text", "device_seq": "whole", "body": "text", "received": "text", "sha256": "text"}  # fmt: skip


def _events(_: State, events: Sequence[Event]) -> Flat:
    """One row for each event; `body` is its content as JSON, `sha256` that of its canonical bytes."""
    return _made("events", EVENTS, (_event(one) for one in events))


def _event(one: Event) -> Mapping[str, Cell]:
    import json
    from hashlib import sha256

    packed = json.dumps(one.body, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return {
        "number": one.seq, "id": one.id, "kind": one.kind, "at": one.at or None,
        "received_at": one.received_at or None, "by": one.by or None, "device": one.device or None,
        "device_seq": one.device_seq, "body": packed, "received": one.received or None,
        "sha256": sha256(canonical(one)).hexdigest(),
    }  # fmt: skip


BOLTS = {"number": "whole", "id": "text", "run": "text", "joint": "text", "way": "text", "bolt": "text", "what": "text",
         "stage": "whole", "wrench": "text", "angle_by": "text", "final_torque": "number", "unit": "text",
         "why": "text", "how": "text", "note": "text", "at": "text", "by": "text"}  # fmt: skip
WHAT = {"bolt_turned": "turned", "bolt_doubted": "in doubt", "bolt_settled": "settled"}


def _bolts(state: State, _: Sequence[Event]) -> Flat:
    """One row for everything that was done at a bolt, in its order."""
    runs = {one.event: one for one in state.job.assembly if one.kind == "tightening_begun"}
    rows = []
    for one in state.job.assembly:
        if one.kind in WHAT:
            body, begun = one.body, runs[one.body["run"]].body
            rows.append({
                "number": one.seq, "id": one.event, "run": body["run"], "joint": begun["joint"], "way": begun["way"],
                "bolt": body["bolt"], "what": WHAT[one.kind], "stage": int(body["stage"]) if "stage" in body else None,
                "wrench": body.get("wrench"), "angle_by": body.get("angle_by"),
                "final_torque": _digits(body.get("final_torque")), "unit": body.get("unit"), "why": body.get("why"),
                "how": body.get("how"), "note": body.get("note"), "at": one.at or None, "by": one.by or None,
            })  # fmt: skip
    return _made("bolts", BOLTS, rows)


TABLES: Mapping[str, Callable[[State, Sequence[Event]], Flat]] = {
    "readings": _readings, "events": _events, "bolts": _bolts}


def _digits(value: Any) -> str | None:
    """The digits of a decimal number as they were written; a fraction, or what is no number, is left to `raw`."""
    from decimal import Decimal, InvalidOperation

    try:
        return str(value) if value not in (None, "") and Decimal(str(value)).is_finite() else None
    except InvalidOperation:
        return None


def _text(value: Any) -> str | None:
    return None if value in (None, "") else str(value)


def _pairs(data: Mapping[str, Any] | None) -> str | None:
    return ", ".join(f"{key} {data[key]}" for key in sorted(data)) if data else None
