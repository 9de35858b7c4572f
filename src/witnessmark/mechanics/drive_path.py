"""What a head that comes nearer does to the cam drive: how late the camshaft runs, how much chain hangs free.

Only the tight span counts, the one by which the crankshaft pulls: its links are fixed between two marked teeth. Angles
of the CRANK unless named. Units, shapes and errors as in `spring`.
"""

from witnessmark.mechanics.law import Angle, Length, Number, Pure, require


def span_lean(crank_sprocket_radius: Length, cam_sprocket_radius: Length, drive_centre_distance: Length) -> Angle:
    """Angle between the tight span and the line of centres of a plain drive of two sprockets [rad].

    Source: derived: the span is the common tangent of both pitch circles.
    """
    from numpy import arcsin

    sine = (cam_sprocket_radius - crank_sprocket_radius) / drive_centre_distance
    require((sine > -1) & (sine < 1), "sprockets of these radii do not stand {C:g} mm apart: check the three",
            C=drive_centre_distance)  # fmt: skip
    return arcsin(sine)


def retard(approach: Length, cam_sprocket_radius: Length, span_cosine: Pure) -> Angle:
    """How much later the camshaft runs, in radians of the CRANK, when its sprocket comes nearer by `approach` [rad].

    `span_cosine` is that of the angle between the tight span and the way of the approach. The chain between the marks
    keeps its length, so the camshaft must turn back by what the span has become shorter; the crank turns twice as far.

    Source: derived: the points of contact wander, and contribute nothing to first order.
    """
    require(
        cam_sprocket_radius > 0,
        "cam_sprocket_radius {radius:g} mm must be above nothing: is it half the pitch diameter?",
        radius=cam_sprocket_radius,
    )
    return 2 * approach * span_cosine / cam_sprocket_radius


def slack_gained(approach: Length, span_cosine: Pure) -> Length:
    """Free chain that both spans together give to the tensioner [mm].

    It comes out further after a skim: that is no wear of the chain.

    Source: derived; both spans lean alike.
    """
    return 2 * approach * span_cosine


def path_retard(
    radii: Number, spans: Number, moves: Number, last: int
) -> Angle:
    """Crank angle by which a camshaft runs late in a drive of any layout [rad].

    `spans` (n, 2) are unit vectors of the tight spans from crank to that camshaft, in order; `moves` (n + 1, 2) how far
    the sprocket, idler or rail end at each end of them has moved [mm]; `radii[last]` is the camshaft's pitch radius.
    Idlers on the block do not move, a rail carried by the head moves with it.

    Source: derived, first order: each span becomes longer by what its ends move apart along it.
    """
    import numpy as np

    apart = np.diff(np.asarray(moves, float), axis=0)
    longer = (apart * np.asarray(spans, float)).sum()
    return -2 * longer / radii[last]


def second_bank(half_angle: Angle) -> Pure:
    """What the head of the first bank adds to the second one's approach, with one drive round both banks [1].

    Both heads cut alike, the second camshaft runs late by 1 + 2 sin of half the V as much as the first.

    Source: derived, for spans along the banks.
    """
    from numpy import sin

    return 2 * sin(half_angle)
