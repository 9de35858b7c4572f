"""What was said of a part that is looked at, held against the answers that may stand.

    within   the answer is accepted, and how much lies within what may be
    out      it is not
    too close to call   the answer is a doubt; or it is good by a method that finds too little to prove soundness, where
                        nothing but sound is accepted; or how much was not said and the limit asks for it

Source  common practice, no source; "none found" is worth what the method can find.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from witnessmark.catalogue.entry import Catalogue, Characteristic, Method
from witnessmark.judge.result import CLOSE, OUT, WITHIN, Settle, Source
from witnessmark.judge.rows import Row
from witnessmark.limits.sheet import Limit
from witnessmark.quantity.unit import spelled
from witnessmark.record.job import Reading

ANY = "any"
_WORST_FIRST = (OUT, CLOSE, WITHIN, "")
_SORTS = ("bad", "doubt", "good")


@dataclass(frozen=True, slots=True)
class Said:
    """One station as it stands: the answer, how much [inside unit] if that was said, the method, and what follows."""

    place: str
    readings: tuple[Reading, ...]
    says: str
    amount: float | None
    method: str
    verdict: str
    reason: str

    @property
    def last(self) -> Reading:
        """The reading that stands."""
        return self.readings[-1]


@dataclass(frozen=True, slots=True)
class LookMark:
    """One judged row of looks; `deciding` is its worst station."""

    row: Row
    said: tuple[Said, ...]
    deciding: Said
    settle: Settle | None


def look_mark(row: Row, catalogue: Catalogue, material: str) -> LookMark:
    """The mark of a row. `material` is that of the head, on which a method must work to prove anything."""
    wanted = material if row.entry.group == "head" else ANY
    proving = [method for name in row.entry.methods
               if (method := catalogue.methods.get(name)) is not None and _proves(method, wanted)]  # fmt: skip
    said = tuple(_said(row, place, readings, proving) for place, readings in row.looks)
    says = row.entry.says
    deciding = min(said, key=lambda one: (_WORST_FIRST.index(one.verdict), _SORTS.index(says.get(one.says, "doubt"))))
    unsaid = not wanted and any(method.proves for name in row.entry.methods if (method := catalogue.methods.get(name)))
    return LookMark(row, said, deciding, _settle(deciding, proving, catalogue.methods, unsaid=unsaid))


def sources(mark: LookMark) -> list[Source]:
    """Every reading behind the mark, those that a later one of the same station replaced as well."""
    return [
        Source(reading.id, one.place, _amount(mark.row.entry, reading), None, reading.raw, None,
               verdict=one.verdict if reading is one.last else "", says=str((reading.meaning or {}).get("says") or ""),
               method=reading.method or "")
        for one in mark.said for reading in one.readings
    ]  # fmt: skip


def _proves(method: Method, material: str) -> bool:
    fits = material == ANY or ANY in method.materials or material in method.materials
    return method.proves and fits


def _said(row: Row, place: str, readings: Sequence[Reading], proving: Sequence[Method]) -> Said:
    last = readings[-1]
    says = str((last.meaning or {}).get("says") or "")
    method = last.method or next(iter(row.entry.methods), "")
    amount = _amount(row.entry, last)
    verdict, reason = "", "no limit"
    if row.limit is not None:
        sound = method in {each.id for each in proving}
        verdict, reason = verdict_of(row.entry.says, row.limit, says, amount, proves=sound)
    return Said(place, tuple(readings), says, amount, method, verdict, reason)


def verdict_of(
    answers: Mapping[str, str], limit: Limit, says: str, amount: float | None, *, proves: bool
) -> tuple[str, str]:
    """Verdict and name of its reason. An answer that the catalogue does not have is a doubt."""
    sort = answers.get(says, "doubt")
    bounded = limit.low is not None or limit.high is not None
    accepted = says in limit.accept if limit.accept else sort == "good" or (bounded and sort == "bad")
    if not accepted:
        return (CLOSE, "look doubt") if sort == "doubt" else (OUT, "look out")
    if bounded and amount is not None and _outside(limit, amount):
        return OUT, "look amount out"
    if bounded and amount is None and sort != "good":
        return CLOSE, "look amount unsaid"
    if sort == "good" and not proves and _wants_soundness(answers, limit):
        return CLOSE, "look unproven"
    return WITHIN, "look within"


def _wants_soundness(answers: Mapping[str, str], limit: Limit) -> bool:
    return bool(limit.accept) and all(answers.get(answer) == "good" for answer in limit.accept)


def _outside(limit: Limit, amount: float) -> bool:
    return (limit.low is not None and amount < limit.low) or (limit.high is not None and amount > limit.high)


def _amount(entry: Characteristic, reading: Reading) -> float | None:
    """How much was said [inside unit]; None where nothing was, or in a unit that does not measure this."""
    meaning = reading.meaning or {}
    name, value = str(meaning.get("unit") or ""), meaning.get("value")
    known = next((one for one in spelled(name) if one.dimension == entry.quantity), None) if value is not None else None
    return float(known.inside(Fraction(str(value)))) if known else None


def _settle(deciding: Said, proving: Sequence[Method], methods: Mapping[str, Method], *, unsaid: bool) -> Settle | None:
    """`unsaid`: nobody said of what the head is made, so what proves on one metal counts for nothing yet."""
    if deciding.verdict != CLOSE:
        return None
    if deciding.reason == "look amount unsaid":
        return Settle("amount")
    used = methods.get(deciding.method)
    if unsaid and deciding.reason == "look unproven" and used is not None and used.proves:
        return Settle("material")
    other = next((method for method in proving if method.id != deciding.method), None)
    if other is not None:
        return Settle("method", method=other.id, method_term=other.term)
    return Settle("material" if unsaid else "none")
