"""What is usual for a characteristic, in words and as a dotted bracket: a help against slips, never a limit."""

from dataclasses import dataclass
from fractions import Fraction

from witnessmark.catalogue.entry import NOTHING, Characteristic
from witnessmark.desk.sheets.limits_blanks import preferred
from witnessmark.desk.state import State
from witnessmark.draw.shape import Drawing
from witnessmark.draw.usual import usual_bracket
from witnessmark.explain.words import unit_of
from witnessmark.quantity.unit import unit

FINE = 0.05  # mm; a range that ends below it is told in µm, or in thou


@dataclass(frozen=True, slots=True)
class Usual:
    """`3.9 to 14.5 mm`, and the bracket with the entered limits across it."""

    words: str
    drawing: Drawing


def usual_of(state: State, known: Characteristic, shown_in: str) -> Usual | None:
    """What is usual for a characteristic, shown in millimetre or inch; None where nothing is known."""
    if known.usual is None or known.quantity == NOTHING:
        return None
    words = usual_words(known, shown_in)
    limits = state.sheet.index.get(known.id, ()) if state.sheet else ()
    ends = [end for limit in limits if not limit.of_spread and limit.kind in ("service", "given")
            for end in (limit.low, limit.high) if end is not None]  # fmt: skip
    entered = f", {len(ends)} entered ends of limits drawn across it" if ends else ""
    return Usual(words, usual_bracket(known.usual, ends, f"usual {words}{entered}"))


def usual_words(known: Characteristic, shown_in: str) -> str:
    """`3.9 to 14.5 mm`, without digits that nobody needs."""
    assert known.usual is not None
    name = preferred(known.quantity, shown_in)
    if known.fine:
        name = unit_of(known, shown_in)
    elif known.quantity == "length" and max(map(abs, known.usual)) < FINE:
        name = "thou" if shown_in == "in" else "µm"
    of = unit(name, known.quantity)
    low, high = (_plain(float(of.outside(Fraction(end)))) for end in known.usual)
    return f"{low} to {high} {'' if name == '1' else name}".strip()


def _plain(value: float) -> str:
    if value == 0:
        return "0"
    text = f"{value:.3g}" if abs(value) < 1000 else f"{value:.0f}"
    return text if "e" not in text else f"{value:.6f}".rstrip("0")
