"""Feeler leaves: the gap is at least the leaf that enters and less than the leaf that does not.

    0.05            this leaf enters; the next leaf of the set is the stop
    0.05 0.06       this one enters, that one does not; on a pad without a space, 0.05*0.06
    0*, 0*0.03      not even the thinnest enters; nothing enters and 0.03 does not
    *4              the limit leaf does not enter

All of this is common practice, no source.
"""

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from witnessmark.quantity.number import written
from witnessmark.quantity.outcome import LONGEST, Asked, Unread, too_long
from witnessmark.quantity.read import read
from witnessmark.quantity.unit import unit as unit_named

NOTHING = Decimal(0)
APART = re.compile(r"\s+(?=[0-9.,])")


@dataclass(frozen=True, slots=True)
class Leaves:
    """What a set of leaves says of a gap, in the unit of the set.

    `enters` is the thickest leaf known to enter, 0 where none does; `stops` the thinnest known not to, None where
    even the thickest leaf enters. `by_limit` tells that the limit leaf itself was refused.
    """

    enters: Decimal
    stops: Decimal | None
    unit: str
    text: str
    by_limit: bool = False

    @property
    def low(self) -> Fraction:
        """The gap is at least this [mm]."""
        return unit_named(self.unit, "length").inside(Fraction(self.enters))

    @property
    def high(self) -> Fraction | None:
        """The gap is less than this [mm]; None: not known."""
        return None if self.stops is None else unit_named(self.unit, "length").inside(Fraction(self.stops))


Read = Leaves | Asked | Unread


def read_leaves(text: str, unit: str, leaves: tuple[Decimal, ...], limit: Decimal | None = None) -> Read:
    """Read what was typed at a set of leaves. `leaves` and `limit` are in `unit`, that of the set.

    Any text gives Leaves, a question or a sentence; it never raises. Raises UnknownUnit for an unknown `unit`.
    """
    unit_named(unit, "length")
    ordered = tuple(sorted({leaf for leaf in leaves if leaf > 0}))
    if len(text) > LONGEST:
        return too_long(text)
    if not ordered:
        return Unread(text, "This gauge has no leaves yet. Enter the thicknesses of its set first.", 0, len(text))
    if text.strip() == "*4":
        return _limit_leaf(text, unit, ordered, limit)
    spans = _spans(text)
    if len(spans) > 2:
        return Unread(
            text, "More than two leaves. Type the one that enters and the one that does not.", spans[2][0], spans[-1][1]
        )
    return _one(text, spans[0], unit, ordered) if len(spans) == 1 else _two(text, spans, unit, ordered)


def _limit_leaf(text: str, unit: str, leaves: tuple[Decimal, ...], limit: Decimal | None) -> Read:
    if limit is None:
        return Unread(
            text, "No limit is entered here, so there is no limit leaf. Type the leaf that enters.", 0, len(text)
        )
    if limit not in leaves:
        return Unread(
            text,
            f"The limit {limit} {unit} is no leaf of this set; {_nearest(Fraction(limit), leaves)}. "
            "Type the leaf that enters.",
            0,
            len(text),
        )
    thinner = [leaf for leaf in leaves if leaf < limit]
    return Leaves(thinner[-1] if thinner else NOTHING, limit, unit, text, by_limit=True)


def _spans(text: str) -> list[tuple[int, int]]:
    """Where the leaves stand: parted by `*`, else by blanks before a digit or a mark."""
    start, end = len(text) - len(text.lstrip()), len(text.rstrip())
    cuts = [(found.start(), found.end()) for found in re.finditer(r"\*", text)]
    if not cuts:
        cuts = [(found.start(), found.end()) for found in APART.finditer(text, start, max(start, end))]
    edges = [start, *(edge for cut in cuts for edge in cut), max(start, end)]
    return [(edges[i], max(edges[i], edges[i + 1])) for i in range(0, len(edges), 2)]


def _one(text: str, span: tuple[int, int], unit: str, leaves: tuple[Decimal, ...]) -> Read:
    leaf = _leaf(text, span, unit, leaves)
    if not isinstance(leaf, Decimal):
        return leaf
    if leaf == 0:
        return Unread(text, f"No leaf is 0. If not even the thinnest, {leaves[0]} {unit}, enters, type 0*.", *span)
    return Leaves(leaf, next((other for other in leaves if other > leaf), None), unit, text)


def _two(text: str, spans: list[tuple[int, int]], unit: str, leaves: tuple[Decimal, ...]) -> Read:
    enters = _leaf(text, spans[0], unit, leaves)
    if enters == 0 and not text[slice(*spans[1])].strip():
        return Leaves(NOTHING, leaves[0], unit, text)
    if not isinstance(enters, Decimal):
        return _not_asked(enters, spans[0])
    if not text[slice(*spans[1])].strip():
        return Unread(
            text, "After * comes the leaf that does not enter. Type it, or rub out the *.", spans[0][1], len(text)
        )
    stops = _leaf(text, spans[1], unit, leaves)
    if not isinstance(stops, Decimal):
        return _not_asked(stops, spans[1])
    if enters >= stops:
        what = "is the same leaf" if enters == stops else "is thinner"
        return Unread(
            text,
            f"The leaf that enters stands first, and {stops} {unit} after it {what}: were the two exchanged?",
            spans[0][0],
            spans[1][1],
        )
    return Leaves(enters, stops, unit, text)


def _not_asked(found: Asked | Unread, span: tuple[int, int]) -> Unread:
    """A question about one of two leaves cannot be answered with a whole entry, so the unit is asked for instead."""
    if isinstance(found, Unread):
        return found
    return Unread(found.text, f"{found.question} Type both leaves in full.", *span)


def _leaf(text: str, span: tuple[int, int], unit: str, leaves: tuple[Decimal, ...]) -> Decimal | Asked | Unread:
    """The leaf of the set that stands at `span`, or 0."""
    thickest = unit_named(unit, "length").inside(Fraction(leaves[-1]))
    found = read(text[slice(*span)], unit, plausible=(0.0, float(thickest)))
    if isinstance(found, Unread):
        return Unread(text, found.message, span[0] + found.start, span[0] + found.end)
    amounts = [answer.amount for answer in found.answers] if isinstance(found, Asked) else [found]
    sizes = [amount.to(unit) for amount in amounts]
    in_set = [leaf for leaf in (NOTHING, *leaves) if Fraction(leaf) in sizes]
    if len(in_set) == 1:
        return in_set[0]
    if in_set and isinstance(found, Asked):
        return Asked(text, found.question, found.answers)
    size = written(sizes[0], Fraction(1, 10**6)).rstrip("0").rstrip(".")
    return Unread(
        text, f"This set has no leaf {size} {unit}; {_nearest(sizes[0], leaves)}. Type one of the set.", *span
    )


def _nearest(size: Fraction, leaves: tuple[Decimal, ...]) -> str:
    """The leaves on both sides of a size."""
    around = [*[leaf for leaf in leaves if leaf < size][-1:], *[leaf for leaf in leaves if leaf > size][:1]]
    return f"the nearest {'are' if len(around) > 1 else 'is'} {' and '.join(map(str, around))}"
