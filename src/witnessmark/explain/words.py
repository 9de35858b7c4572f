"""Numbers of a result in words: values with the digits that the gauge resolved, limits as entered, verdicts."""

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from witnessmark.catalogue.entry import Catalogue, Characteristic
from witnessmark.engine.place import shown, valve_kind
from witnessmark.judge.assemble import TOLD_IN
from witnessmark.judge.result import CLOSE, OUT, Against, Result
from witnessmark.quantity.show import show, show_against, show_chance, show_doubt

SIDES = {"inl": "Inlet", "exh": "Exhaust"}
# Angles are told in degrees, of crank or cam where it is one of these; a burette has millilitres on both sides of the
# Atlantic, and a ratio is a bare number.
METRIC = TOLD_IN
IMPERIAL = {**METRIC, "length": "in", "force": "lbf", "rate": "lbf/in", "pressure": "psi", "torque": "lbf·ft"}
BARE = ("1", "")
TENTH = 0.00254  # mm, the shop's tenth: 0.0001 in
UNIT_WORDS = {"mm": "millimetre", "in": "inch", "N": "newton", "lbf": "pound-force", "deg": "degree", "1": "",
              "deg crank": "degree of crank", "deg cam": "degree of cam", "kPa": "kilopascal", "mL": "millilitre",
              "s": "second", "N·m": "newton metre", "µm": "micrometre", "µin": "microinch",
              "lbf·ft": "pound-force foot"}  # fmt: skip


def unit_shown(quantity: str, display: str) -> str:
    """The unit in which a quantity is shown where lengths are shown in `display` (mm or in); "" for no quantity."""
    return (IMPERIAL if display == "in" else METRIC).get(quantity, "")


def unit_of(what: Characteristic | Result, display: str) -> str:
    """The unit in which a characteristic or a result is shown; a roughness in µm or µin, never with zeros before it."""
    if what.fine:
        return "µin" if display == "in" else "µm"
    return unit_shown(what.quantity, display)


def with_unit(text: str, result: Result, display: str) -> str:
    """A number with its unit behind it; a ratio stays bare."""
    name = unit_of(result, display)
    return text if name in BARE else f"{text} {name}"


@dataclass(frozen=True, slots=True)
class Shown:
    """How one result writes its numbers in the unit on display."""

    result: Result
    unit: str

    def number(self, value: float) -> str:
        """A value of this result with the digits that its gauge resolved."""
        r = self.result
        return _number(value, self.unit, r.step, r.step_unit, r.quantity)

    def distance(self, value: float) -> str:
        """How far apart two values are; never nothing when they are not the same."""
        text = self.number(value)
        return text if value == 0 or text.strip("0.") else self.doubt(value)

    def doubt(self, u: float) -> str:
        """A doubt of this result, two digits at most."""
        return _doubt(u, self.unit, self.result.quantity)

    def cure(self, U: float) -> str:
        """A doubt that is wanted: in inch a small one is named in the shop's tenths, `0.4 tenth`."""
        if self.unit == "in" and U < TENTH:
            return f"{float(f'{U / TENTH:.1g}'):g} tenth"
        return f"U {self.doubt(U)}"


# A head shows few different numbers, many times over: graduations, one doubt for each gauge. So each is written once.


@lru_cache(maxsize=4096)
def _number(value: float, unit: str, step: str, step_unit: str, quantity: str) -> str:
    return show(value, unit, Fraction(step), step_unit, dimension=quantity)


@lru_cache(maxsize=4096)
def _doubt(u: float, unit: str, quantity: str) -> str:
    return show_doubt(u, unit, dimension=quantity)


@lru_cache(maxsize=4096)
def _against(value: float, limit: float, unit: str, step: str, step_unit: str, quantity: str) -> str:
    return show_against(value, limit, unit, Fraction(step), step_unit, dimension=quantity)[0]


def shown_in(result: Result, display: str) -> Shown:
    """The writer for one result."""
    return Shown(result, unit_of(result, display))


def value_words(result: Result, display: str = "mm") -> str:
    """The value as shown: `5.941`, `(0.074)` when worked out, `0.04–0.05` for leaves, `crack 12 mm` for a look.

    What was looked at has its unit with it, since it stands between words.
    """
    if result.says:
        return _said(result, display)
    write = shown_in(result, display)
    if result.interval is not None:
        low, high = result.interval
        return f"{write.number(low)}–{write.number(high)}" if high is not None else f"over {write.number(low)}"
    if result.value is None:
        return "–"
    limit = _near_limit(result)
    if limit is not None and result.verdict:
        text = _against(result.value, limit, write.unit, result.step, result.step_unit, result.quantity)
    else:
        text = write.number(result.value)
    return f"({text})" if result.derived else text


def _said(result: Result, display: str) -> str:
    """An answer, and how much of it where that was said."""
    if result.value is None:
        return result.says
    return with_unit(f"{result.says} {shown_in(result, display).number(result.value)}", result, display)


def _near_limit(result: Result) -> float | None:
    held = result.against
    ends = [end for end in (held.low, held.high) if end is not None] if held else []
    return min(ends, key=lambda end: abs(end - (result.value or 0.0)), default=None)


def limit_words(against: Against | None, result: Result, display: str = "mm", *, beside: bool = False) -> str:
    """`least 5.940`, `most 0.05`, `37.8 to 38.3`; `no limit yet` where none was entered.

    `beside` the value it gets as many digits as part the two; in the head of a row it has those of the gauge.
    """
    if against is None or (against.low is None and against.high is None and not against.accept):
        return "no limit yet"
    if against.low is None and against.high is None:
        return " or ".join(against.accept)
    low, high = (
        _end(end, text, against.unit, result, display, beside=beside)
        for end, text in ((against.low, against.low_text), (against.high, against.high_text))
    )
    band = _range_words(low, high)
    return f"{' or '.join(against.accept)}, {band}" if against.accept else band


def end_words(result: Result, display: str, *, low: bool) -> str:
    """One end of the limit: `least 5.940` or `most 0.05`."""
    held = result.against
    assert held is not None
    if low:
        return f"least {_end(held.low, held.low_text, held.unit, result, display, beside=True)}"
    return f"most {_end(held.high, held.high_text, held.unit, result, display, beside=True)}"


def target_words(against: Against | None, result: Result, display: str = "mm") -> str:
    """The limit for new or machined work, in the same words; empty where none was entered."""
    if against is None or (against.new_low is None and against.new_high is None):
        return ""
    return _range_words(_end(against.new_low, against.new_low_text, against.unit, result, display),
                        _end(against.new_high, against.new_high_text, against.unit, result, display))  # fmt: skip


def _range_words(low: str, high: str) -> str:
    if low and high:
        return f"{low} to {high}"
    return f"least {low}" if low else f"most {high}"


def _end(value: float | None, text: str, unit: str, result: Result, display: str, *, beside: bool = False) -> str:
    """A limit as it was written where it is shown in its own unit, else converted like the values beside it."""
    if value is None:
        return ""
    write = shown_in(result, display)
    if text and unit == write.unit:
        return text
    if not beside or result.value is None or value != _near_limit(result):
        return write.number(value)
    return show_against(
        result.value, value, write.unit, Fraction(result.step), result.step_unit, dimension=result.quantity
    )[1]


def verdict_words(result: Result, display: str = "mm") -> tuple[str, str]:
    """The verdict word and the small line under it: `out`, `by 0.009`; `within`, `so far, 5 of 6`."""
    if result.suspect:
        return result.verdict or "no limit yet", "zero check"
    if not result.verdict:
        return ("no limit yet", "" if result.complete else f"{result.read} of {result.needed}")
    if not result.decided:
        return result.verdict, f"so far, {result.read} of {result.needed}"
    write = shown_in(result, display)
    if result.verdict == OUT and result.beyond:
        return result.verdict, f"by {write.number(result.beyond)}"
    if result.verdict == CLOSE:
        return result.verdict, settle_words(result, display)
    return result.verdict, ""


def settle_words(result: Result, display: str = "mm") -> str:
    """The cheapest cure in a few words: `2 more readings`, `needs U 0.001`, `leaf 0.25`."""
    cure = result.settle
    if cure is None:
        return ""
    if cure.kind == "repeats" and cure.repeats is not None:
        return f"{cure.repeats} readings would settle"
    if cure.kind == "leaf":
        own = cure.leaf_unit == unit_of(result, display)
        return f"leaf {cure.leaf}" if own else f"leaf {cure.leaf} {cure.leaf_unit}"
    if cure.kind == "method":
        return f"{cure.method_term} would settle"
    if cure.kind == "material":
        return "say what the head is made of"
    if cure.kind == "amount":
        return "say how much"
    if result.says:
        return "look again"
    if cure.kind == "gauge" and cure.U:
        return f"needs {shown_in(result, display).cure(cure.U)}"
    return "stands on the limit"


OVER_PLACES = {"all": "all places", "inl": "all Inl", "exh": "all Exh"}  # where a spread is taken over


def where(result: Result) -> str:
    """The place of a result as shown, or over which places a spread is taken."""
    return OVER_PLACES.get(result.location) or shown(result.location)


def heading(entry: Characteristic, place: str) -> str:
    """`Inlet stem diameter` for a place at a valve, else the term."""
    side = SIDES.get(valve_kind(place), "")
    text = f"{side} {entry.term}" if side else entry.term
    return text[:1].upper() + text[1:]


def accessible(result: Result, catalogue: Catalogue, display: str = "mm") -> str:
    """The name of a mark for those who hear it: place, value, unit, verdict, limit, chance."""
    write = shown_in(result, display)
    unit = "" if result.says else UNIT_WORDS.get(write.unit, write.unit)
    parts = [f"{where(result)} {value_words(result, display)} {unit}".rstrip()]
    word, small = verdict_words(result, display)
    parts.append(word)
    if small:
        parts.append(small)
    if result.against is not None and result.verdict:
        parts.append(limit_words(result.against, result, display))
    if result.p_within is not None and result.verdict == CLOSE:
        parts.append(f"chance {show_chance(result.p_within)}")
    return f"{catalogue.characteristics[result.characteristic].term}, {', '.join(parts)}"
