"""Numbers to text: no digit that the gauge did not resolve, and never across a limit.

Rounding is half-up (away from zero), done on the exact fraction: so the shop rounds with a pencil, and a value half-way
between two graduations is shown the same way on each of two neighbours, which half-even would not do. A float stands
for the shortest decimal that gives it, since that is the number somebody wrote.
"""

from fractions import Fraction
from math import ceil, floor, isfinite

from witnessmark.quantity.number import written
from witnessmark.quantity.unit import Unit, unit

Value = float | int | Fraction

MOST_DECIMALS = 12


def exact(value: Value) -> Fraction:
    """The value as a fraction; a float as the shortest decimal that gives it. Raises ValueError for what is no
    number."""
    if isinstance(value, Fraction):
        return value
    number = float(value) if not isinstance(value, int) else value
    if not isfinite(number):
        raise ValueError(f"{number} cannot be shown as a number; find out where it came from")
    return Fraction(repr(number))


def decimals(step: Value, step_unit: str, unit_shown: str, *, dimension: str = "") -> int:
    """Decimals to show in `unit_shown` for a gauge whose last digit is `step` in `step_unit`.

    In the same family of units the decimals of the step itself. A step of 0.001 to 0.01 mm shows 0.0001 in, up to
    0.1 mm 0.001 in; 0.0001 in shows 0.001 mm, 0.0005 and 0.001 in show 0.01 mm, 1/64 in 0.1 mm. Other units: the
    power of ten next below the step.
    """
    source = unit(step_unit, dimension)
    shown = unit(unit_shown, dimension or source.dimension)
    size = exact(step) * source.factor / shown.factor
    if size <= 0:
        raise ValueError(f"a step of {step} {step_unit} is no step; enter the size of the gauge's last digit")
    if source.dimension == "length" and source.family == "metric" and shown.family == "inch":
        return _inch_decimals(exact(step) * source.factor, shown)
    if source.family == shown.family and (source.family != "other" or source.name == shown.name):
        return _own_decimals(size)
    return max(0, _tens(size))


def show(value_inside: Value, unit_shown: str, step: Value, step_unit: str = "", *, dimension: str = "") -> str:
    """A value, given in the unit used inside, in `unit_shown`, with the decimals that `step` in `step_unit` allows.

    The step is in `unit_shown` where no other unit is named.
    """
    shown = unit(unit_shown, dimension)
    places = decimals(step, step_unit or unit_shown, unit_shown, dimension=dimension)
    return _rounded(shown.outside(exact(value_inside)), places)


def show_against(
    value_inside: Value, limit_inside: Value, unit_shown: str, step: Value, step_unit: str = "", *, dimension: str = ""
) -> tuple[str, str]:
    """Value and limit as texts, with digits added until both lie to each other as the numbers do.

    Should twelve decimals not part them, the value's last digit is moved away from the limit by one.
    """
    shown = unit(unit_shown, dimension)
    value, limit = shown.outside(exact(value_inside)), shown.outside(exact(limit_inside))
    places = decimals(step, step_unit or unit_shown, unit_shown, dimension=dimension)
    for more in range(places, max(MOST_DECIMALS, places) + 1):
        texts = _rounded(value, more), _rounded(limit, more)
        if _side(*map(Fraction, texts)) == _side(value, limit):
            return texts
    nudged = Fraction(texts[1]) + Fraction(_side(value, limit), 10**more)
    return _rounded(nudged, more), texts[1]


def show_doubt(u_inside: Value, unit_shown: str, *, dimension: str = "") -> str:
    """A standard or expanded uncertainty with at most two significant digits (JCGM 100:2008, 7.2.6)."""
    size = exact(u_inside) / unit(unit_shown, dimension).factor
    if size < 0:
        raise ValueError(f"a doubt of {u_inside} is below zero; find out where it came from")
    if size == 0:
        return "0"
    places = _tens(size) + 1
    if _scaled(size, places) >= 100:  # 0.0996 -> 0.10, not 0.100
        places -= 1
    return written(Fraction(_scaled(size, places)) / Fraction(10) ** places, Fraction(1, 10 ** max(places, 0)))


def show_chance(p: Value) -> str:
    """A chance with two decimals, rounded towards doubt: 0.9452 is `0.94`, 0.0549 is `0.06`; 1 alone is `1.00`."""
    if isinstance(p, float) and 0.99 < p < 1:  # the usual case of a good part, without exact arithmetic
        return "over 0.99"
    chance = exact(p)
    if not 0 <= chance <= 1:
        raise ValueError(f"a chance of {p} does not lie between 0 and 1; find out where it came from")
    if Fraction(99, 100) < chance < 1:
        return "over 0.99"
    if 0 < chance < Fraction(1, 100):
        return "under 0.01"
    hundredths = chance * 100
    whole = floor(hundredths) if chance > Fraction(1, 2) else ceil(hundredths)
    return written(Fraction(whole, 100), Fraction(1, 100))


def _inch_decimals(step_mm: Fraction, shown: Unit) -> int:
    inch = unit("in", "length")
    shift = _tens(shown.factor / inch.factor)  # thou: 3 decimals fewer than inch
    if step_mm > Fraction("0.1"):
        return max(0, _tens(step_mm / inch.factor) - shift)
    if step_mm < Fraction("0.001"):
        return max(0, 4 + _tens(step_mm) - 3 - shift)
    return max(0, (4 if step_mm <= Fraction("0.01") else 3) - shift)


def _own_decimals(size: Fraction) -> int:
    """Decimals of a step as written: 0.002 has 3, 0.25 has 2; of an endless or long one (1/3, 1/64) those that tell
    it apart."""
    coarse = _tens(size)
    for places in range(max(0, coarse), max(0, coarse) + 3):
        if (size * 10**places).denominator == 1:
            return places
    return max(0, coarse + 1)


def _tens(size: Fraction) -> int:
    """n, where 10^-n is the power of ten at or next below the size."""
    places, size = 0, abs(size)
    while size < 1:
        size, places = size * 10, places + 1
    while size >= 10:
        size, places = size / 10, places - 1
    return places


def _scaled(value: Fraction, places: int) -> int:
    """Value x 10^places, half-up, away from zero."""
    scaled = abs(value) * Fraction(10) ** places
    whole = (2 * scaled.numerator + scaled.denominator) // (2 * scaled.denominator)
    return -whole if value < 0 else whole


def _rounded(value: Fraction, places: int) -> str:
    return written(Fraction(_scaled(value, places), 10**places), Fraction(1, 10**places))


def _side(value: Fraction, limit: Fraction) -> int:
    return (value > limit) - (value < limit)
