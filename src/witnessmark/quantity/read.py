"""Trade text to an exact amount; what has two believable meanings is asked back, never guessed.

How two meanings are told apart (`plausible` is the band of values that this place may have, in the unit used inside):

    5,952       a decimal comma. With exactly three digits after it, one to three before it and no point it might mark
                thousands: asked back when both values lie in the band, or when no band is given. When one lies in the
                band, it is that one; when none does, it is the decimal comma, which many pads send. `0,952` is never
                thousands.
    8 tenths    0.0008 in, the shop's tenth. Asked back when 0.8 mm lies in the band as well, or when no band is given.
    5/8         a bare fraction is inch, also with a millimetre gauge in hand, since nobody writes fractions of a
                millimetre; `assumed` says so. With a gauge that reads in thou it is asked back unless the band decides.
    12 deg      crank or cam is asked back unless the unit in hand says which.

All of this is common practice, no source.
"""

from dataclasses import replace
from fractions import Fraction

from witnessmark.quantity.amount import Amount
from witnessmark.quantity.number import Blot, Number, scan, written
from witnessmark.quantity.outcome import LONGEST, Answer, Asked, Unread, too_long
from witnessmark.quantity.unit import ANGLES, WORDS, Unit, UnknownUnit, hint, names, spelled

__all__ = ["Amount", "Answer", "Asked", "Unread", "read"]

Band = tuple[float, float] | None
Read = Amount | Asked | Unread


def read(text: str, unit: str, *, dimension: str = "length", plausible: Band = None) -> Read:
    """Read one entry. A bare number takes `unit`, that of the gauge in hand.

    Any text of up to 200 characters gives an Amount, a question or a sentence; it never raises. Raises UnknownUnit
    where `unit`, and ValueError where `dimension`, is not in the table: those come from a register or from code, not
    from the hand.
    """
    if dimension not in WORDS:
        raise ValueError(f"no dimension is called '{dimension}'; the table has {', '.join(WORDS)}")
    in_hand = _in_hand(unit, dimension)
    if len(text) > LONGEST:
        return too_long(text)
    try:
        number = scan(text)
        chosen, named = _unit(text, number, in_hand, dimension)
    except Blot as blot:
        return Unread(text, blot.message, blot.start, max(blot.end, min(blot.start + 1, len(text))))
    amount = Amount(number.value, chosen.name, number.step, text, chosen.dimension)
    if chosen.dimension == "angle":
        return _crank_or_cam(amount, dimension, in_hand)
    if number.thousands is not None:
        return _comma(amount, number.thousands, plausible)
    if named and chosen.name == "tenths":
        return _tenths(amount, plausible)
    if number.fraction and not named and dimension == "length":
        return _bare_fraction(amount, chosen, plausible)
    return amount


def _in_hand(name: str, dimension: str) -> Unit:
    """The unit of the gauge: what is wanted if it can be that, else whatever it is."""
    found = spelled(name)
    wanted = [unit for unit in found if unit.dimension == dimension]
    angles = [unit for unit in found if dimension in ANGLES and unit.dimension in ANGLES]
    if not found:
        raise UnknownUnit(f"no unit is called '{name[:40]}'{hint(name, dimension)}")
    return (wanted or angles or found)[0]


def _unit(text: str, number: Number, in_hand: Unit, dimension: str) -> tuple[Unit, bool]:
    """The unit written after the number, or the one in hand; and whether it was written. Raises Blot."""
    rest = text[number.end :].strip()
    start = number.end + len(text[number.end :]) - len(text[number.end :].lstrip())
    end = start + len(rest)
    if not rest:
        if not _fits(in_hand, dimension):
            raise Blot(
                f"{WORDS[dimension].capitalize()} is wanted here, and the gauge in hand reads {in_hand.name}. "
                f"Write the unit: {_choices(dimension)}.",
                0,
                number.end,
            )
        return in_hand, False
    found = spelled(rest)
    fitting = [unit for unit in found if _fits(unit, dimension)]
    if fitting:
        return fitting[0], True
    if found:
        raise Blot(
            f"{rest} measures {WORDS[found[0].dimension].split(' ', 1)[1]}, and {WORDS[dimension]} is wanted "
            f"here. Write {_choices(dimension)}.",
            start,
            end,
        )
    raise Blot(_stray(rest, dimension), start, _stray_end(rest, start, end))


def _fits(unit: Unit, dimension: str) -> bool:
    return (
        unit.dimension == dimension
        or (dimension in ANGLES and unit.dimension == "angle")
        or (dimension == "angle" and unit.dimension in ANGLES)
    )


def _choices(dimension: str) -> str:
    named = names(dimension) if dimension != "angle" else ("deg crank", "deg cam")
    return named[0] if len(named) == 1 else f"{', '.join(named[:-1])} or {named[-1]}"


def _stray(rest: str, dimension: str) -> str:
    """A sentence on characters after the number that are no unit."""
    if rest[0].isdigit():
        return "Two numbers. Keep one, or write a fraction as 1 5/8."
    if rest[0] in "oOlI|" and len(rest) > 1 and (rest[1].isdigit() or rest[1] in "oO.,"):
        return "A letter stands among the digits. Type 0 or 1 instead."
    if rest[0] in "/\u2044\u2215":
        return "A stroke without a whole number on each side. Write a fraction as 5/8, or rub it out."
    if rest[0] in "+-\u2212\u2013±":
        return "A sign after the number. Rub it out, or put it first."
    if rest[0] in ".,":
        return "A stray point. Rub it out."
    if rest[0] in "eE" and rest[1:].lstrip("+-\u2212").isdigit():
        return "No powers of ten. Write the number out, as 0.001."
    near = hint(rest, dimension)
    return f"No unit is called {rest[:40]!r}{near if near.endswith('?') else near + '.'}"


def _stray_end(rest: str, start: int, end: int) -> int:
    return start + 1 if rest[0] in "oOlI|/\u2044\u2215+-\u2212\u2013±.," and len(rest) > 1 else end


def _believable(amount: Amount, plausible: tuple[float, float]) -> bool:
    """Compared exactly; an end of the band may be infinite."""
    low, high = plausible
    return amount.inside_exact >= low and not amount.inside_exact > high


def _comma(amount: Amount, thousands: Fraction, plausible: Band) -> Read:
    whole = replace(amount, value=thousands, step=Fraction(1))
    if plausible is not None:
        meanings = [meaning for meaning in (amount, whole) if _believable(meaning, plausible)]
        if len(meanings) < 2:
            return (meanings or [amount])[0]
    return Asked(
        amount.text, "Is the comma a decimal comma, or does it mark thousands?", (_answer(amount), _answer(whole))
    )


def _tenths(amount: Amount, plausible: Band) -> Read:
    step = None if amount.step is None else amount.step / 10
    millimetre = Amount(amount.value / 10, "mm", step, amount.text)
    if plausible is not None and not (_believable(amount, plausible) and _believable(millimetre, plausible)):
        return amount
    inch = written(amount.to("in"), (amount.step or Fraction(1)) / 10000)
    return Asked(
        amount.text, "Tenths of a thou, or tenths of a millimetre?", (Answer(f"{inch} in", amount), _answer(millimetre))
    )


def _bare_fraction(amount: Amount, unit: Unit, plausible: Band) -> Read:
    inch = replace(amount, unit="in")
    if unit.name == "in":
        return amount
    if unit.family != "inch":
        return replace(inch, assumed=f"A fraction without a unit is inch, though the gauge in hand reads {unit.name}.")
    meanings = [inch, amount] if plausible is None else [one for one in (inch, amount) if _believable(one, plausible)]
    if len(meanings) == 1:
        return meanings[0]
    return Asked(
        amount.text, f"A fraction of an inch, or of the gauge's {unit.name}?", (_answer(inch), _answer(amount))
    )


def _crank_or_cam(amount: Amount, dimension: str, in_hand: Unit) -> Read:
    """The unit in hand says which, or it is asked; a wanted cam angle may have been read off the crank."""
    if in_hand.dimension in ("angle_crank", "angle_cam") and dimension in ("angle", in_hand.dimension):
        return replace(amount, unit=in_hand.name, dimension=in_hand.dimension)
    amounts = [replace(amount, unit=f"deg {shaft}", dimension=f"angle_{shaft}") for shaft in ("crank", "cam")]
    return Asked(amount.text, "Degrees of the crank, or of the cam?", tuple(map(_answer, amounts)))


def _answer(amount: Amount) -> Answer:
    if amount.step is not None and amount.step.numerator == 1 and not _decimal_step(amount.step):
        return Answer(f"{amount.text.strip()} {amount.unit}", amount)
    return Answer(f"{written(amount.value, amount.step or Fraction(1))} {amount.unit}", amount)


def _decimal_step(step: Fraction) -> bool:
    """Whether the step is a power of ten, so that the number was written in decimals."""
    return str(step.denominator).rstrip("0") == "1"
