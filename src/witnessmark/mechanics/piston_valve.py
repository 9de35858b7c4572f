"""Room between piston and valve, along the valve's axis, and what cuts and timing do to it.

`approach` is how far the head has come nearer to the piston along the cylinder, `retard` how much later the camshaft
runs, in radians of the CRANK. A later camshaft helps the inlet valve and robs the exhaust valve, which stays open
longer while the piston comes up. Units, shapes and errors as in `spring`.
"""

from collections.abc import Sequence

from witnessmark.mechanics.crank import piston_drop, piston_speed
from witnessmark.mechanics.law import Angle, Length, Number, Pure

HALF_DEGREE = 0.008726646259971648  # rad


def ptv_axial(
    ptv_axial: Length, head_approach: Length, valve_sunk: Length, retard: Angle, ptv_crank_angle: Angle,
    stroke: Length, rod_length: Length, valve_cosine: Pure, side: Pure,
) -> Length:  # fmt: skip
    """Least room along the valve's axis after cuts, to first order in the timing [mm].

    `side` is +1 for an inlet valve and -1 for an exhaust valve; `ptv_crank_angle` is how far from top dead centre the
    two stand nearest. A pocket floor square to the valve takes cos of the valve's angle of what the head comes down.
    Optimistic by the second order, up to 0.014 mm for three degrees: where the lift curve is known, `ptv_by_curve`
    finds the least room anew.

    Source: derived: at the nearest point the room does not change with the angle, so a shift of the camshaft changes it
    by the piston's speed there.
    """
    timing = 0.0 * retard if _nothing(retard) else piston_speed(ptv_crank_angle, stroke, rod_length) * retard
    return ptv_axial - head_approach * valve_cosine + valve_sunk + side * valve_cosine * timing


def _nothing(retard: Number) -> bool:
    from numpy import all as every

    return bool(every(retard == 0))


def ptv_by_curve(
    ptv_axial: Length, head_approach: Length, valve_sunk: Length, retard: Angle, stroke: Length, rod_length: Length,
    valve_cosine: Pure, angles: Sequence[float], lifts: Sequence[Length],
) -> Length:  # fmt: skip
    """Least room along the valve's axis with the lift curve known around top dead centre [mm].

    `angles` are crank angles from top dead centre [rad, rising], `lifts` the lift at each of them; between them a cubic
    runs. The room over the angle is found before and after, half a degree apart, and its least value by a parabola
    through the three lowest points; what was read before fixes where the curve of the piston stands.

    Source: derived.
    """
    import numpy as np

    fine = np.arange(angles[0], angles[-1] + HALF_DEGREE / 2, HALF_DEGREE)
    curve = np.stack(np.broadcast_arrays(*lifts), axis=-1)
    first = fine.reshape(-1, *(1,) * max(np.ndim(stroke), np.ndim(rod_length)))
    drop = np.moveaxis(piston_drop(first, stroke, rod_length), 0, -1)
    fall = drop * np.asarray(valve_cosine)[..., None]
    before = _least(fall - _between(angles, curve, fine, 0.0 * np.asarray(retard)[..., None]))
    after = _least(fall - _between(angles, curve, fine, np.asarray(retard)[..., None]))
    return ptv_axial + after - before - head_approach * valve_cosine + valve_sunk


def _between(angles: Sequence[float], curve: Number, fine: Number, later: Number) -> Number:
    """Lift (..., fine) of a curve that runs later: cubic through evenly spaced knots, flat beyond them."""
    import numpy as np

    step = angles[1] - angles[0]
    at = np.clip((fine - later - angles[0]) / step, 0, len(angles) - 1)
    left = np.clip(at.astype(int), 0, len(angles) - 2)
    t = at - left
    whole = np.broadcast_to(curve, (*np.broadcast_shapes(curve.shape[:-1], at.shape[:-1]), curve.shape[-1]))
    index = np.broadcast_to(left, (*whole.shape[:-1], left.shape[-1]))

    def knot(offset: int) -> Number:
        return np.take_along_axis(whole, np.clip(index + offset, 0, len(angles) - 1), axis=-1)

    y0, y1 = knot(0), knot(1)
    m0, m1 = (y1 - knot(-1)) / 2, (knot(2) - y0) / 2  # Catmull-Rom: slopes from the neighbours
    return (2 * t**3 - 3 * t**2 + 1) * y0 + (t**3 - 2 * t**2 + t) * m0 + (3 * t**2 - 2 * t**3) * y1 + (t**3 - t**2) * m1


def _least(room: Number) -> Number:
    """The least of a row, by a parabola through its three lowest neighbours."""
    import numpy as np

    at = np.clip(np.argmin(np.where(np.isnan(room), np.inf, room), axis=-1), 1, room.shape[-1] - 2)[..., None]
    a, b, c = (np.take_along_axis(room, at + d, axis=-1)[..., 0] for d in (-1, 0, 1))
    bend = a - 2 * b + c
    return np.where(bend > 0, b - (a - c) ** 2 / (8 * np.where(bend > 0, bend, 1.0)), np.minimum(np.minimum(a, b), c))
