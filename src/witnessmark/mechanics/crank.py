"""Crank, rod and piston: where the piston stands at a crank angle, and how fast it moves with it.

Angles of the CRANK from top dead centre [rad]. Units, shapes and errors as in `spring`.
"""

from witnessmark.mechanics.law import Angle, Length, Number, require

SHORT_ROD = "a rod of {rod:g} mm is shorter than the throw: the distance of its centres is meant"


def piston_drop(angle: Angle, stroke: Length, rod_length: Length) -> Length:
    """How far the piston stands below its top [mm].

    Source: derived from the triangle crank, rod, line of stroke; exact, not the two-term series of many books.
    """
    from numpy import cos, sin, sqrt

    throw = stroke / 2
    require(rod_length > throw, SHORT_ROD, rod=rod_length)
    return throw * (1 - cos(angle)) + rod_length - sqrt(rod_length * rod_length - (throw * sin(angle)) ** 2)


def piston_speed(angle: Angle, stroke: Length, rod_length: Length) -> Number:
    """How far the piston goes for each radian of the crank [mm/rad].

    Source: derived, the slope of `piston_drop`; Khurmi, Theory of Machines, ch. 15, has worked examples.
    """
    from numpy import cos, sin, sqrt

    throw = stroke / 2
    require(rod_length > throw, SHORT_ROD, rod=rod_length)
    lean = throw * sin(angle)
    return lean * (1 + throw * cos(angle) / sqrt(rod_length * rod_length - lean * lean))


def deck_clearance(deck_height: Length, stroke: Length, rod_length: Length, pin_height: Length) -> Length:
    """How far the piston's crown stops below the deck [mm]; negative where it stands proud.

    `pin_height` is from the pin's centre to the crown. Source: derived; the stack of centre lines.
    """
    return deck_height - (stroke / 2 + rod_length + pin_height)
