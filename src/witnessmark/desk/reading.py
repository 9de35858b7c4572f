"""One value typed or sent at a station: read in the unit of the gauge in hand, held against its neighbours, kept.

What cannot be read, has two meanings or looks like a slip is kept as an open question and never counted unasked.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

from witnessmark.catalogue.entry import Characteristic
from witnessmark.desk.bench import Bench, InUse
from witnessmark.desk.state import State
from witnessmark.engine.place import shown
from witnessmark.explain import slip as words
from witnessmark.judge.around import around, band, meant_value
from witnessmark.judge.slip import Slip, Typed, decimals, slip
from witnessmark.limits.sheet import limit_for
from witnessmark.quantity.amount import Amount
from witnessmark.quantity.show import show
from witnessmark.quantity.unit import unit
from witnessmark.record.meant import MEASURE_AGAIN, InHand, Meant, exact, meant, take

READER = "1"  # of text; kept with each reading, so that a later reader does not rewrite old evidence
SWING = 0.3  # mm, within which deviations from a well chosen set size stay; judgement
MOVED = {10.0: 1, 0.1: -1, 100.0: 2, 0.01: -2}


@dataclass(frozen=True, slots=True)
class Read:
    """What became of a text.

    status   kept | asked (a slip: kept, walk on) | which (two meanings: stay) | unread (stay)
    """

    status: str
    meaning: Mapping[str, Any] | None
    question: Mapping[str, Any] | None
    assumed: tuple[str, ...]
    message: str
    span: tuple[int, int] | None = None


def read(state: State, bench: Bench, use: InUse, text: str) -> Read:
    """Read a text at a station with the gauge in use."""
    entry = state.catalogue.characteristics[bench.characteristic]
    known = around(state.job, state.sheet, state.catalogue, bench.characteristic, bench.place, bench.round)
    offset = _set_to(use)
    found = meant(
        text,
        in_hand(use),
        dimension=_dimension(use, entry),
        plausible=_band(known, offset),
        limit=_limit(state, bench, use),
    )
    if found.meaning is None:
        return _not_read(found, text, bench.place)
    told = _slip(state, bench, use, found, known)
    if told is None:
        return Read("kept", found.meaning, None, found.assumed, "")
    question = slip_question(told, found.meaning, bench.place, text.strip(), offset)
    return Read("asked", found.meaning, question, found.assumed, question["text"])


def in_hand(use: InUse) -> InHand:
    """The gauge in use, as the reader of text needs it."""
    set_to = use.setting
    amount = None
    if set_to is not None:
        value = Fraction(set_to.set_to)
        amount = Amount(value, set_to.unit, None, set_to.set_to)
    return InHand(use.kind, use.unit, use.leaves, amount)


def _dimension(use: InUse, entry: Characteristic) -> str:
    return entry.quantity if use.kind != "leaves" else "length"


def _set_to(use: InUse) -> float:
    if use.kind != "dial_bore" or use.setting is None:
        return 0.0
    return float(Fraction(use.setting.set_to) * unit(use.setting.unit).factor)


def _band(known: Any, offset: float) -> tuple[float, float] | None:
    """Values that the number typed may have; a gauge that shows deviations has them about nothing."""
    found = band(known)
    return None if found is None or offset else found


def _limit(state: State, bench: Bench, use: InUse) -> Decimal | None:
    """The limit leaf in the unit of the gauge."""
    limit = limit_for(state.sheet, bench.characteristic, bench.place, "service") if state.sheet else None
    if limit is None or limit.high is None:
        return None
    value = round(limit.high / float(unit(use.unit).factor), 6)
    return Decimal(str(value))


def _not_read(found: Meant, text: str, place: str) -> Read:
    """The question that is kept names the place and what came, since it may be answered from anywhere."""
    came = f"{shown(place)} came as {text.strip()[:40]}: "
    if found.question is not None:
        words = str(found.question["text"])
        return Read("which", None, {**found.question, "text": came + words}, (), words)
    question = {"kind": "unread", "text": came + found.why, "answers": [MEASURE_AGAIN]}
    return Read("unread", None, question, (), found.why, found.span if text else None)


def _slip(state: State, bench: Bench, use: InUse, found: Meant, known: Any) -> Slip | None:
    meaning: Mapping[str, Any] = found.meaning or {}
    if meaning["kind"] == "interval" or "/" in str(meaning["value"]):
        return None
    offset = _set_to(use) if meaning["kind"] == "deviation" else 0.0
    if meaning["kind"] == "deviation":  # the set size was chosen for this bore, so it says more than any usual range
        known = replace(known, low=None, high=None, usual=(offset - SWING, offset + SWING))
    entry = state.catalogue.characteristics[bench.characteristic]
    written = unit(meaning["unit"], _dimension(use, entry))
    typed = Typed(
        number=float(meaning["value"]),
        factor=float(written.factor),
        offset=offset,
        decimals=decimals(str(meaning["value"])),
        gauge_decimals=use.decimals if meaning["unit"] == use.unit else None,
        length=entry.quantity == "length" and not entry.fine,
        inch=written.family == "inch",
    )
    return slip(typed, known)


def slip_question(told: Slip, meaning: Mapping[str, Any], place: str, raw: str, offset: float) -> dict[str, Any]:
    """The question about a slip with its answers; the raw text is never changed by any of them."""
    name = str(meaning["unit"])
    shown_in = "mm" if told.kind == "inch" else name
    step = str(meant_instead(told, meaning).get("step") or "0.001")  # a moved point moves the last digit too
    value = told.centre if told.kind == "unlike" else told.value
    then = show(
        value - (offset if told.kind == "point" and offset else 0.0),
        shown_in,
        Fraction(step),
        str(meant_instead(told, meaning)["unit"]),
    )
    first, second = words.labels(told, then, raw, name)
    answers = [take(first, meant_instead(told, meaning))]
    if second:
        answers.append(take(second, dict(meaning)))
    return {
        "kind": "slip",
        "text": words.sentence(told, shown(place), raw, then, shown_in),
        "answers": [*answers, MEASURE_AGAIN],
    }


def meant_instead(told: Slip, meaning: Mapping[str, Any]) -> dict[str, Any]:
    """The meaning that the slip would give: the same digits in another unit, or with the point moved."""
    new = dict(meaning)
    if told.kind in ("inch", "mm", "thou"):
        new["unit"] = "in" if told.kind == "inch" else told.kind
    elif told.kind == "point":
        power = Fraction(10) ** MOVED[told.times]
        new["value"] = _moved(str(meaning["value"]), MOVED[told.times])
        new["step"] = exact(Fraction(str(meaning["step"])) * power) if meaning.get("step") else None
    return new


def _moved(value: str, places: int) -> str:
    return format(Decimal(value).scaleb(places), "f")


def value_of(state: State, meaning: Mapping[str, Any], setting: str | None, gauge: str) -> float | None:
    """The value of a meaning in inside units; None for an interval."""
    return meant_value(state.job, meaning, setting, gauge)
