"""Valve timing from the degree wheel: how long a valve is open, where its lobe stands, how two lobes stand together.

Every angle here is an angle of the CRANK [rad] unless its name says cam; the camshaft turns half as far. An event is
counted from the dead centre beside it, as books print it: inlet opens BEFORE top and closes AFTER bottom, exhaust opens
BEFORE bottom and closes AFTER top. An event on the other side of its dead centre is negative. All events of one lobe
belong to one checking lift; at another lift they are other numbers.

Units, shapes and errors as in `spring`; half a turn is pi, so exact fractions come out as floats.
"""

from math import pi

from witnessmark.mechanics.law import Angle, Length, require


def duration(lobe_opens: Angle, lobe_closes: Angle) -> Angle:
    """Crank angle through which a valve is lifted by more than the checking lift [rad].

    Inlet: opens before top, half a turn, closes after bottom. Exhaust: opens before bottom, half a turn, closes after
    top. The sum is the same, so one law serves both.

    Source: derived; US Army TM 9-8000 (valve timing) prints such events.
    """
    spent = lobe_opens + pi + lobe_closes
    require(
        (spent > 0) & (spent < 4 * pi),
        "lobe_opens {opens:g} rad and lobe_closes {closes:g} rad leave no opening within two turns of the crank: "
        "are both counted from the dead centre beside them?",
        opens=lobe_opens,
        closes=lobe_closes,
    )
    return spent


def lobe_centreline(equal_lift_first: Angle, equal_lift_second: Angle) -> Angle:
    """Crank angle of a lobe's middle from top dead centre: after it for an inlet, before it for an exhaust lobe [rad].

    The two arguments are the readings of the wheel at equal lifts on either side of full lift, both counted from the
    top dead centre at overlap and to the same side. Half their sum is the middle wherever the lobe is even about its
    nose near the lift that was chosen.

    Source: derived; common practice takes it at 1.25 mm (0.050 in) below full lift.
    """
    return (equal_lift_first + equal_lift_second) / 2


def inlet_centreline(opens: Angle, closes: Angle) -> Angle:
    """Middle between the events of an inlet lobe, after top dead centre [rad].

    `opens` is counted before top, `closes` after bottom dead centre.
    The middle of the events is the middle of the nose only if opening and closing flank are alike.

    Source: derived.
    """
    return duration(opens, closes) / 2 - opens


def exhaust_centreline(opens: Angle, closes: Angle) -> Angle:
    """Middle between the events of an exhaust lobe, before top dead centre [rad].

    `opens` is counted before bottom, `closes` after top dead centre.

    Source: derived, as for the inlet lobe.
    """
    return duration(opens, closes) / 2 - closes


def overlap(inlet_opens: Angle, exhaust_closes: Angle) -> Angle:
    """Crank angle in which inlet and exhaust of one cylinder are both open [rad]. Below nothing: never both.

    Source: derived; both events are counted from the same top dead centre.
    """
    return inlet_opens + exhaust_closes


def lobe_separation(inlet_centre: Angle, exhaust_centre: Angle) -> Angle:
    """Angle of the CAMSHAFT between the lobes of one cylinder, from their centrelines at the crank [cam rad].

    Source: derived: the two crank angles add up from centre to centre, and the camshaft turns half as far.
    """
    return (inlet_centre + exhaust_centre) / 2


def cam_advance(inlet_centre: Angle, exhaust_centre: Angle) -> Angle:
    """How far a camshaft stands before the place where its lobes lie evenly about top dead centre [crank rad].

    Below nothing it stands behind. Both centrelines are counted away from the top dead centre at overlap.

    Source: derived: an advance takes from the inlet's angle what it adds to the exhaust's.
    """
    return (exhaust_centre - inlet_centre) / 2


def event_angle(
    first_angle: Angle, first_lift: Length, second_angle: Angle, second_lift: Length, checking_lift: Length
) -> Angle:
    """Angle of the wheel at which a valve passes the checking lift, between two readings of the dial [rad].

    The flank is taken as straight between the readings, so they lie a few degrees apart and on either side of it.

    Source: derived; the straight line between two points.
    """
    below, above = first_lift - checking_lift, second_lift - checking_lift
    require(
        (below * above <= 0) & (first_lift != second_lift),
        "lifts of {first:g} and {second:g} mm do not lie on either side of {checking:g} mm: take readings that do",
        first=first_lift,
        second=second_lift,
        checking=checking_lift,
    )
    return first_angle - (second_angle - first_angle) * below / (above - below)
