"""The scale of a verdict mark: which stretch of values a row shows, and where its walls stand.

A limit is a wall: what it forbids is hatched from the limit to the end of the scale. One scale serves a whole column,
so marks can be compared by eye; a value that lies off it gets an arrow, and the scale stays as it is.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import quantiles

ROW_SHARE = 12 / 55
"""Share of the width that lies beyond a single limit in a row: enough to see how far out a part is."""
CELL_SHARE = 0.45
"""The same in a cell, where the mark of a part that is out must lie wholly inside the wall."""


@dataclass(frozen=True, slots=True)
class Wall:
    """What a column of marks is held against, all in the unit of the values.

    `low`, `high` are the limits; `new_low`, `new_high` the target for new or machined work; `guard_low` and
    `guard_high` the values from which a part is `within` (the limit plus or minus the guard band). `settles` is false
    where the limits lie so close together that the gauge can prove nothing between them.
    """

    low: float | None = None
    high: float | None = None
    new_low: float | None = None
    new_high: float | None = None
    guard_low: float | None = None
    guard_high: float | None = None
    settles: bool = True


@dataclass(frozen=True, slots=True)
class Scale:
    """Values from `lo` to `hi` over `width` pixels."""

    lo: float
    hi: float
    width: float

    def x(self, value: float) -> float:
        """Where a value stands, in pixels from the left end; beyond the ends for a value off the scale."""
        return (value - self.lo) / (self.hi - self.lo) * self.width

    def clip(self, value: float) -> float:
        """The same, held at the ends."""
        return min(max(self.x(value), 0.0), self.width)

    def shows(self, value: float) -> bool:
        """Whether a value lies on the scale."""
        return self.lo <= value <= self.hi


def scale_for(walls: Sequence[Wall], values: Sequence[float] = (), width: float = 262, share: float = 0.0) -> Scale:
    """One scale for a column, from its limits first and its values only where the limits leave it open.

    `walls` holds one wall, or the inlet's and the exhaust's where each has one limit on the same side: both are then
    seen side by side. With two limits a quarter of the width lies beyond each. With one, `share` of the width does
    (the usual share of a row or cell if 0), and the other side reaches to the new limit or to most of the values.
    """
    lows = [wall.low for wall in walls if wall.low is not None]
    highs = [wall.high for wall in walls if wall.high is not None]
    beyond = share or (ROW_SHARE if width >= 120 else CELL_SHARE)
    if lows and highs:
        low, high = min(lows), max(highs)
        half = (high - low) / 2 or _least(high)
        return Scale(low - half, high + half, width)
    if lows:
        reach = _reach(max(lows), 1, walls, values)
        return Scale(min(lows) - reach * beyond / (1 - beyond), max(lows) + reach, width)
    if highs:
        reach = _reach(min(highs), -1, walls, values)
        return Scale(min(highs) - reach, max(highs) + reach * beyond / (1 - beyond), width)
    return _open(values, width)


def _reach(limit: float, side: int, walls: Sequence[Wall], values: Sequence[float]) -> float:
    """How far the clear side of a single limit must reach: to the new limit, else over most of the values."""
    targets = [side * (new - limit) for wall in walls for new in (wall.new_low, wall.new_high) if new is not None]
    if targets and max(targets) > 0:
        return max(targets) * 1.075
    guards = [abs(guard - limit) for wall in walls for guard in (wall.guard_low, wall.guard_high) if guard is not None]
    clear = sorted(side * (value - limit) for value in values if side * (value - limit) > 0)
    # The third quartile, not the largest: one slip must not squeeze its neighbours together.
    usual = quantiles(clear, n=4)[2] if len(clear) > 1 else (clear[0] if clear else 0.0)
    return max(1.25 * usual, 4 * max(guards, default=0.0)) or _least(limit)


def _open(values: Sequence[float], width: float) -> Scale:
    """Without a limit the scale holds the middle half of the values, twice over."""
    if not values:
        return Scale(0.0, 1.0, width)
    low, middle, high = quantiles(values, n=4) if len(values) > 1 else (values[0],) * 3
    half = 1.5 * (high - low) or _least(middle)
    return Scale(middle - half, middle + half, width)


def _least(value: float) -> float:
    return abs(value) * 0.01 or 1.0
