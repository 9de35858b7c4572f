"""Key points of one torque-angle trace: rundown, snug, elastic line, yield, end; each with its doubt or a reason.

Angles in degrees, torques in newton millimetres; every threshold is a share, so any unit of torque gives the same
angles. A point that is not in the trace is never guessed. θ − θ₀ from the elastic origin θ₀ goes with the tension of
the bolt whatever its friction is. Slope thresholds: common practice, no source. Doubts: derived from the scatter about
the fitted line.
"""

from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
WINDOW = 6.0  # degrees of the sliding regression; 3 to 10 are usual
FEWEST = 12  # different angles below which no slope is worth telling
FLAT, SNUG, PLATEAU, YIELD = 0.1, 0.4, 0.6, 0.5  # shares of the elastic slope
CLEAR = 0.1  # of the range of torque: an elastic part that rises less is scatter
SUSTAINED = 4.0  # degrees for which the slope must stay low before it is called yield


@dataclass(frozen=True, slots=True)
class Point:
    """A key point: its angle, the torque there and the standard doubt of the angle; or why it is not there."""

    angle: float | None
    torque: float | None = None
    doubt: float | None = None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class KeyPoints:
    """What one trace says. `prevailing` and `slope` are None where the trace does not show them.

    `slope` is the median of the plateau; `fitted` that of the line through the elastic part, which meets `origin`.
    """

    prevailing: float | None
    slope: float | None
    fitted: float | None
    alignment: Point
    snug: Point
    origin: Point
    yielded: Point
    end: Point


@dataclass(frozen=True, slots=True)
class Noise:
    """What makes the place of a bend doubtful: standard doubt of a slope, elastic slope, window, step of the angle."""

    of_slope: float
    slope: float
    window: float
    step: float

    def doubt(self, bend: float) -> float:
        """Degrees of doubt of a place in a bend over which the slope changes by the elastic one in `bend` degrees."""
        wide = max(bend, self.window)
        return sqrt((self.of_slope / self.slope * wide) ** 2 + (self.window / 40) ** 2 + self.step**2 / 12)


def cleaned(angle: Floats, torque: Floats) -> tuple[Floats, Floats]:
    """Angles in rising order, each once, with the mean of the torques read there."""
    if angle.shape != torque.shape or angle.ndim != 1:
        raise ValueError("angle and torque must be two lists of the same length; give one torque for each angle")
    if not (np.isfinite(angle).all() and np.isfinite(torque).all()):
        raise ValueError("a trace holds a value that is no number; leave that point out")
    places, which, count = np.unique(angle, return_inverse=True, return_counts=True)
    return places, np.bincount(which, torque, len(places)) / count


def slopes(angle: Floats, torque: Floats, window: float = WINDOW) -> Floats:
    """Slope of the line fitted to the window about each angle; not a number at the ends and across gaps."""
    first = np.searchsorted(angle, angle - window / 2 - 1e-9, "left")
    after = np.searchsorted(angle, angle + window / 2 + 1e-9, "right")
    x, y = angle - angle.mean(), torque - torque.mean()
    n = (after - first).astype(float)
    sx, sy, sxx, sxy = (_between(values, first, after) for values in (x, y, x * x, x * y))
    spread = sxx - sx * sx / n
    wide = (angle[after - 1] - angle[first] >= 0.7 * window) & (n >= 4)
    wide &= (angle - angle[first] >= 0.3 * window) & (angle[after - 1] - angle >= 0.3 * window)
    found = np.full(len(angle), np.nan)
    found[wide] = ((sxy - sx * sy / n)[wide]) / spread[wide]
    return found


def _between(values: Floats, first: NDArray[np.int64], after: NDArray[np.int64]) -> Floats:
    total = np.concatenate(([0.0], np.cumsum(values)))
    return np.asarray(total[after] - total[first])


def key_points(angle: Floats, torque: Floats, window: float = WINDOW) -> KeyPoints:
    """The key points of a trace."""
    x, y = cleaned(np.asarray(angle, float), np.asarray(torque, float))
    if len(x) < FEWEST:
        return _none(x, y, f"only {len(x)} different angles; a trace needs {FEWEST}")
    found = slopes(x, y, window)
    if not np.isfinite(found).any():
        return _none(x, y, f"no {window:g}° of the trace are without a gap")
    peak = int(np.nanargmax(found))
    if found[peak] <= 0:
        return _none(x, y, "the torque never rises")
    slope = float(found[peak])
    for _ in range(3):  # the peak stands out by its noise; the median of the plateau about it does not
        low, high = _run(found >= PLATEAU * slope, peak)
        slope = float(np.median(found[low : high + 1]))
    if slope * max(float(x[high] - x[low]), window) < CLEAR * float(np.ptp(y)):
        return _none(x, y, "the torque never rises clearly above its scatter")
    return _with_line(x, y, found, (low, high), slope, window)


def _none(x: Floats, y: Floats, why: str) -> KeyPoints:
    no = Point(None, reason=why)
    return KeyPoints(None, None, None, no, no, no, no, _end(x, y, why))


def _end(x: Floats, y: Floats, why: str) -> Point:
    if not len(x):
        return Point(None, reason=why)
    step = float(np.median(np.diff(x))) if len(x) > 1 else 0.0
    return Point(float(x[-1]), float(y[-1]), step / sqrt(12))


def _run(true: NDArray[np.bool_], at: int) -> tuple[int, int]:
    """First and last place of the unbroken run of True about a place."""
    breaks = np.flatnonzero(~true)
    before, behind = breaks[breaks < at], breaks[breaks > at]
    return (int(before[-1]) + 1 if len(before) else 0), (int(behind[0]) - 1 if len(behind) else len(true) - 1)


def _with_line(x: Floats, y: Floats, found: Floats, run: tuple[int, int], slope: float, window: float) -> KeyPoints:
    low, high = run
    trim = window / 2 if x[high] - x[low] > 2 * window else 0.0  # its ends lean on the bends beside it
    part = (x >= x[low] + trim) & (x <= x[high] - trim)
    px, py = x[part], y[part]
    steep = _steep(px, py, slope)
    fit = float(py.mean()) + steep * (x - px.mean())
    scatter = float(np.std(py - fit[part]))
    step = float(np.median(np.diff(x)))
    held = max(window / step, 4.0)
    noise = Noise(scatter / window * sqrt(12 / held), slope, window, step)
    snug = _last_low(x, y, found, low, SNUG, noise, "the trace begins after snug")
    alignment = _last_low(x, y, found, low, FLAT, noise, "the trace begins after the rundown")
    flat = y[x <= alignment.angle - window / 2] if alignment.angle is not None else y[:0]
    prevailing = float(flat.mean()) if len(flat) >= 4 else None
    origin = Point(None, reason="no flat beginning, so no prevailing torque to meet")
    if prevailing is not None:
        at = float(px.mean()) + (prevailing - float(py.mean())) / steep
        spread = float(np.sum((px - px.mean()) ** 2)) or 1.0
        share = 1 / len(px) + 1 / len(flat) + (at - float(px.mean())) ** 2 / spread
        origin = Point(at, prevailing, scatter * sqrt(share) / steep)
    return KeyPoints(prevailing, slope, steep, alignment, snug, origin,
                     _yield(x, y, found, high, noise), _end(x, y, ""))  # fmt: skip


def _steep(x: Floats, y: Floats, slope: float) -> float:
    """The slope of the line through the elastic part; the median where its few points give another."""
    away = x - x.mean()
    found = float(away @ y / (away @ away)) if len(x) > 2 else slope
    return found if 0.8 < found / slope < 1.25 else slope


def _last_low(x: Floats, y: Floats, found: Floats, low: int, share: float, noise: Noise, why: str) -> Point:
    """The angle from which the slope stays above a share of the elastic one, up to the elastic part."""
    least = share * noise.slope
    below = np.flatnonzero(found[:low] <= least)
    if not len(below):
        return Point(None, reason=why)
    before = int(below[-1])
    at = before + 1 + int(np.argmax(np.isfinite(found[before + 1 :])))
    if x[at] - x[before] > SUSTAINED:
        return Point(None, reason="a gap in the trace lies where the slope rises")
    angle, doubt = _crossing(x, found, before, at, least), noise.doubt(_bend(x, found, low))
    above = np.flatnonzero((found[:before] > least) & (x[:before] > x[before] - 3 * doubt))
    if len(above) and above[0]:  # noise takes the slope up and down through it: the middle of where it does
        angle = (angle + _crossing(x, found, int(above[0]) - 1, int(above[0]), least)) / 2
    return Point(angle, float(np.interp(angle, x, y)), doubt)


def _bend(x: Floats, found: Floats, low: int) -> float:
    """Over how many degrees the slope rises from none to all, from where it passes a fifth and three fifths."""
    top = found[low]
    at = [np.flatnonzero(found[:low] <= share / PLATEAU * top) for share in (0.2, PLATEAU)]
    return float(x[at[1][-1]] - x[at[0][-1]]) / 0.4 if len(at[0]) and len(at[1]) else 0.0


def _crossing(x: Floats, found: Floats, before: int, at: int, level: float) -> float:
    """The angle between two points at which the slope passes a level."""
    rise = found[at] - found[before]
    share = (level - found[before]) / rise if rise else 1.0
    return float(x[before] + min(max(share, 0.0), 1.0) * (x[at] - x[before])) if np.isfinite(share) else float(x[at])


def _yield(x: Floats, y: Floats, found: Floats, high: int, noise: Noise) -> Point:
    """The first angle behind the elastic part where the slope is low and stays so."""
    tail = np.arange(high + 1, len(x))
    tail = tail[np.isfinite(found[tail])]
    level = YIELD * noise.slope
    lows = found[tail] <= level
    if not lows.any():
        return Point(None, reason="the slope has not fallen to half; not tightened to yield")
    last = np.where(lows, len(tail), np.arange(len(tail)))
    ends = np.minimum.accumulate(last[::-1])[::-1]
    until = x[tail[np.minimum(ends, len(tail)) - 1]]
    long = lows & (until - x[tail] >= SUSTAINED - 1e-9)
    if not long.any():
        return Point(None, reason=f"the slope is not low for {SUSTAINED:g}° together")
    at = int(tail[int(np.argmax(long))])
    known = np.flatnonzero(np.isfinite(found[:at]))
    if x[at] - x[known[-1]] > SUSTAINED:
        return Point(None, reason="a gap in the trace lies where the slope falls")
    angle = _crossing(x, found, int(known[-1]), at, level)
    return Point(angle, float(np.interp(angle, x, y)), noise.doubt(float(angle - x[high]) / (PLATEAU - YIELD)))
