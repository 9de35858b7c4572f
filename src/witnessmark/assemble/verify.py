"""What an engine that runs again says: compression against what it should give, leaks as areas, what readings hint at.

Pressures in MPa by gauge unless called air, which is absolute; angles of the crank [rad]; lengths in mm. Findings are
names with their facts and no sentences; a hint is never a verdict, since verdicts stand against entered limits alone.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import hypot, radians
from typing import Any

from witnessmark.mechanics.cranking import EXPONENT, cranking_range, lowest_share, stroke_left, wet_gain
from witnessmark.mechanics.leakage import equivalent_diameter, leak_area, leak_loss, reading_of
from witnessmark.mechanics.spread import Part, Spread
from witnessmark.mechanics.volume import cranking_pressure

CLOSING_DOUBT = radians(5.0)  # between a checking lift and the closing in earnest; judgement
K = 2.0  # standard uncertainties to the end of a band
EVEN, WANTED = 0.75, 0.85  # lowest over highest: the usual line, and what many want; common practice
MARKED = 0.10  # of the dry reading: less of a gain by oil says nothing; judgement
BUILDS = 0.45  # first stroke over highest: below, it builds up slowly; judgement
GOOD, FAIR = 0.10, 0.20  # loss on an orifice of one millimetre; common practice
OTHERS = (1.016, 1.524)  # mm: 0.040 and 0.060 in, the two orifices of FAA AC 43.13-1B


@dataclass(frozen=True, slots=True)
class Expecting:
    """What the expected pressure of one cylinder rests on. `ratio_u` is a standard uncertainty."""

    ratio: float
    ratio_u: float
    closes: float  # of the inlet, after bottom dead centre
    stroke: float
    rod_length: float
    air: float


@dataclass(frozen=True, slots=True)
class Finding:
    """One hint: its name, the cylinders that it speaks of, and its numbers."""

    name: str
    places: tuple[str, ...] = ()
    facts: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Cylinder:
    """What was read at one cylinder; None where nothing was. `u` is of the dry reading, `loss` a part of the supply."""

    place: str
    dry: float | None = None
    u: float = 0.0
    first: float | None = None
    wet: float | None = None
    wet_u: float = 0.0
    loss: float | None = None
    expected: Spread | None = None
    bank: str = ""


@dataclass(frozen=True, slots=True)
class Leak:
    """A leak by its size. `others` are (orifice, cylinder gauge, loss) of other sets at the same supply."""

    loss: float
    area: float
    low: float
    high: float
    diameter: float
    others: tuple[tuple[float, float, float], ...]


def expected_cranking(of: Expecting) -> Spread:
    """Cranking pressure that a cylinder should give, with the band that exponent, closing and ratio leave [MPa].

    Each cause is put at both of its ends alone, and the bows are added in quadrature: nobody has measured the exponent
    or the closing in earnest, and it is not likely that all stand at their worst together.
    """
    left = stroke_left(of.closes, 2 * of.rod_length / of.stroke)
    found = cranking_range(of.ratio, of.air, left)

    def at(ratio: float, share: Any) -> float:
        return float(cranking_pressure(ratio, of.air, share, EXPONENT[1]))

    later, sooner = (stroke_left(of.closes + sign * CLOSING_DOUBT, 2 * of.rod_length / of.stroke) for sign in (1, -1))
    parts = (
        *found.made_of,
        Part("closing of the inlet", at(of.ratio, later), at(of.ratio, sooner)),
        Part("compression ratio", at(of.ratio - K * of.ratio_u, left), at(of.ratio + K * of.ratio_u, left)),
    )
    middle = float(found.middle)
    low, high = (hypot(*(float(end) - middle for end in ends)) for ends in zip(*((p.low, p.high) for p in parts),
                                                                              strict=True))  # fmt: skip
    return Spread(middle - low, middle, middle + high, parts)


def leak(
    supply: float, cylinder: float, orifice: float, air: float, u: float = 0.0, others: Sequence[float] = OTHERS
) -> Leak:
    """A leak from both gauges and the orifice; `u` is the standard uncertainty of one gauge against the other.

    The ends are those at which the cylinder gauge would stand K times u away. Raises OutsideLaw for gauges exchanged.
    """
    area = float(leak_area(supply, cylinder, orifice, air))
    tight = float(leak_area(supply, min(cylinder + K * u, supply), orifice, air))
    wide = float(leak_area(supply, max(cylinder - K * u, 1e-6), orifice, air))
    told = []
    for other in others:
        if abs(other - orifice) > 0.01:
            there = float(reading_of(area, supply, other, air))
            told.append((other, there, float(leak_loss(supply, min(there, supply)))))
    return Leak(float(leak_loss(supply, cylinder)), area, tight, wide, float(equivalent_diameter(area)), tuple(told))


def findings(cylinders: Sequence[Cylinder]) -> tuple[Finding, ...]:
    """What the readings of an engine hint at, the gravest first; nothing where nothing is remarkable."""
    read = [one for one in cylinders if one.dry is not None]
    found = [*_uneven(cylinders, read), *_all_low(read), *_all_high(read)]
    most = max((one.dry or 0.0 for one in read), default=0.0)
    for one in read:
        found += [*_building(one), *_wet(one, _is_low(one, most))]
    return tuple(found)


def spread_of(cylinders: Sequence[Cylinder]) -> float | None:
    """Lowest over highest dry reading; None with fewer than two."""
    read = [one.dry for one in cylinders if one.dry]
    return float(lowest_share(read)) if len(read) > 1 else None


def _uneven(cylinders: Sequence[Cylinder], read: Sequence[Cylinder]) -> list[Finding]:
    share = spread_of(read)
    if share is None or share >= WANTED:
        return []
    most = max(one.dry or 0.0 for one in read)
    low = tuple(one.place for one in read if (one.dry or 0.0) < WANTED * most)
    pairs = [(a.place, b.place) for a, b in pairwise(cylinders) if {a.place, b.place} <= set(low) and a.bank == b.bank]
    name = "uneven" if share < EVEN else "somewhat uneven"
    found = [Finding(name, low, {"share": share, "line": EVEN if share < EVEN else WANTED})]
    return found + [Finding("two neighbours low", pair) for pair in pairs if len(low) == 2]


def _all_low(read: Sequence[Cylinder]) -> list[Finding]:
    """Every cylinder below its band: with good leakage it is no wear."""
    banded = [one for one in read if one.expected is not None]
    if not banded or any((one.dry or 0.0) + K * one.u >= _end(one, "low") for one in banded):
        return []
    losses = [one.loss for one in read if one.loss is not None]
    tight = len(losses) == len(read) and max(losses) <= FAIR
    share = sum((one.dry or 0.0) / one.expected.middle for one in banded if one.expected) / len(banded)
    name = "all low and tight" if tight else "all low" if losses else "all low, leakage not read"
    return [Finding(name, tuple(one.place for one in banded), {"share": share})]


def _all_high(read: Sequence[Cylinder]) -> list[Finding]:
    banded = [one for one in read if one.expected is not None]
    if not banded or any((one.dry or 0.0) - K * one.u <= _end(one, "high") for one in banded):
        return []
    return [Finding("all high", tuple(one.place for one in banded))]


def _end(one: Cylinder, end: str) -> float:
    return float(getattr(one.expected, end))


def _building(one: Cylinder) -> list[Finding]:
    if one.first is None or not one.dry or one.first / one.dry >= BUILDS:
        return []
    return [Finding("builds up slowly", (one.place,), {"share": one.first / one.dry})]


def _is_low(one: Cylinder, most: float) -> bool:
    dry = one.dry or 0.0
    return dry < WANTED * most or (one.expected is not None and dry < _end(one, "low"))


def _wet(one: Cylinder, low: bool) -> list[Finding]:
    """What oil on the piston changed: more than the doubt of two readings, and more than a tenth of the dry one.

    That nothing changed is told of a low cylinder alone: a good one has nothing to gain.
    """
    if one.wet is None or not one.dry:
        return []
    gain = float(wet_gain(one.dry, one.wet))
    facts = {"gain": gain, "share": gain / one.dry}
    if gain < -K * hypot(one.u, one.wet_u):
        return [Finding("wet is lower", (one.place,), facts)]
    marked = gain > max(K * hypot(one.u, one.wet_u), MARKED * one.dry)
    if not marked and not low:
        return []
    return [Finding("wet gains" if marked else "wet gains nothing", (one.place,), facts)]


def centre_after(found: float, moved: float, *, inlet: bool) -> float:
    """Lobe centreline once the camshaft runs `moved` later: an inlet's is counted after top, an exhaust's before it."""
    return found + moved if inlet else found - moved


def closing_after(found: float, moved: float) -> float:
    """Closing of the inlet, after bottom dead centre, once the camshaft runs `moved` later."""
    return found + moved
