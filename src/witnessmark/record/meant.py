"""The raw text of a reading turned into its meaning: a number, an interval of leaves, a deviation from a set size.

Exact numbers are written as decimals, and as a fraction where no decimal is exact, so that nothing is lost on the way.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from typing import Any

from witnessmark.quantity.amount import Amount
from witnessmark.quantity.interval import Leaves, read_leaves
from witnessmark.quantity.outcome import Asked, Unread
from witnessmark.quantity.read import read
from witnessmark.quantity.unit import spelled, unit

LEAVES, DIAL_BORE = "leaves", "dial_bore"
OF_KIND = {"protractor": "angle_plane", "angle_gauge": "angle_plane", "degree_wheel": "angle_crank"}
"""Kinds of gauge whose unit alone, degrees, does not say what they measure: angles of a part, or of the crank."""
REACH = 1  # mm; a comparing gauge sweeps no more than this about the size that it was set to (common practice)

Meaning = dict[str, str | None]


@dataclass(frozen=True, slots=True)
class Meant:
    """What became of a raw text: a meaning, or a question with its answers, or neither and a sentence why."""

    meaning: Meaning | None = None
    question: Mapping[str, Any] | None = None
    assumed: tuple[str, ...] = ()
    why: str = ""
    span: tuple[int, int] = (0, 0)  # of the characters at fault, where it cannot be read


@dataclass(frozen=True, slots=True)
class InHand:
    """The gauge in hand as far as reading needs it. `set_to` is the size of a comparing gauge, None where not set."""

    kind: str = ""
    unit: str = ""
    leaves: tuple[Decimal, ...] = field(default=())
    set_to: Amount | None = None


def meant(
    raw: str,
    gauge: InHand,
    *,
    dimension: str = "",
    plausible: tuple[float, float] | None = None,
    limit: Decimal | None = None,
) -> Meant:
    """Read `raw` with the gauge in hand. Any text gives a Meant; it raises nothing.

    `dimension` is what is wanted here, `plausible` the values that this place may have (inside units), `limit` the
    limit leaf in the unit of the gauge.
    """
    name = gauge.unit or _written_unit(raw)
    if not name:
        return Meant(why="no gauge is named, so nothing says which unit this is; write the unit after the number")
    if gauge.kind == LEAVES:
        return _leaves(raw, name, gauge.leaves, limit)
    found = read(raw, name, dimension=dimension or OF_KIND.get(gauge.kind) or unit(name).dimension, plausible=plausible)
    if isinstance(found, Unread):
        return Meant(why=found.message, span=(found.start, found.end))
    if isinstance(found, Asked):
        answers = [take(answer.label, _number(answer.amount)) for answer in found.answers]
        return Meant(question={"kind": "meaning", "text": found.question, "answers": [*answers, MEASURE_AGAIN]},
                     why=f"{found.question} Write it so that it has one meaning, or add `question:`")
    assumed = (found.assumed,) if found.assumed else ()
    if gauge.kind != DIAL_BORE:
        return Meant(_number(found), assumed=assumed)
    return _compared(raw, found, gauge.set_to, assumed)


MEASURE_AGAIN: Mapping[str, Any] = {"label": "measure again", "meaning": None, "do": "measure again"}


def take(label: str, meaning: Meaning) -> dict[str, Any]:
    """An answer that takes a meaning."""
    return {"label": label, "meaning": meaning, "do": "take"}


def exact(value: Fraction) -> str:
    """The number as a decimal without an end of zeros, or as a fraction where no decimal is exact."""
    rest = value.denominator
    for factor in (2, 5):
        while rest % factor == 0:
            rest //= factor
    if rest != 1:
        return f"{value.numerator}/{value.denominator}"
    places = 0
    while (value * 10**places).denominator != 1:
        places += 1
    digits = str(abs(int(value * 10**places))).zfill(places + 1)
    sign = "-" if value < 0 else ""
    return f"{sign}{digits[:-places]}.{digits[-places:]}" if places else f"{sign}{digits}"


def _number(amount: Amount, kind: str = "number") -> Meaning:
    step = None if amount.step is None else exact(amount.step)
    return {"kind": kind, "value": _digits(amount), "unit": amount.unit, "step": step}


def _digits(amount: Amount) -> str:
    """The value with the zeros that were written, since they say how far the gauge resolved."""
    text = exact(amount.value)
    if amount.step is None or "/" in text:
        return text
    step = exact(amount.step)
    places = len(step.partition(".")[2]) if "/" not in step and amount.step.numerator == 1 else 0
    whole, _, decimals = text.partition(".")
    return f"{whole}.{decimals.ljust(places, '0')}" if places > len(decimals) else text


def _leaves(raw: str, name: str, leaves: tuple[Decimal, ...], limit: Decimal | None) -> Meant:
    if not any(one.dimension == "length" for one in spelled(name)):
        return Meant(why=f"a set of leaves is marked in a unit of length, not in {name}; correct its unit")
    found = read_leaves(raw, name, leaves, limit)
    if isinstance(found, Leaves):
        stops = None if found.stops is None else str(found.stops)
        return Meant({"kind": "interval", "low": str(found.enters), "high": stops, "unit": found.unit})
    if isinstance(found, Unread):
        return Meant(why=found.message, span=(found.start, found.end))
    return Meant(why=found.question)


def _compared(raw: str, found: Amount, set_to: Amount | None, assumed: tuple[str, ...]) -> Meant:
    """A comparing gauge shows how far the bore is from the set size; some write the size itself."""
    signed = raw.strip()[:1] in {"+", "-", "−"}
    if set_to is None:
        if signed:
            return Meant(why="a deviation from a set size, but no setting is named; add `setting:`, or write the size")
        return Meant(_number(found), assumed=assumed)
    if abs(found.inside_exact) <= REACH:
        return Meant(_number(found, "deviation"), assumed=assumed)
    if abs(found.inside_exact - set_to.inside_exact) <= REACH:
        return Meant(_number(found), assumed=assumed)
    return Meant(why=f"neither a deviation nor a size within {REACH} mm of the set size {set_to.text}; measure again")


def _written_unit(raw: str) -> str:
    """The unit that stands after the number, or "" where none does."""
    end = max((place for place, sign in enumerate(raw, 1) if sign.isdigit() or sign.isnumeric()), default=0)
    found = spelled(raw[end:].strip().lstrip("."))
    return found[0].name if found else ""
