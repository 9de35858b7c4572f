"""Valve seats: what is cut from seat and face, and how far that lets the valve sink.

Units, shapes and errors as in `spring`; angles in radian, counted from the plane of the head, so that a seat of
30 degrees is the flatter one.
"""

from witnessmark.mechanics.law import Length, Number, require

AXIAL_LIMIT = 0.0175  # cos of 89 degrees: beyond it a face is a wall, and what is ground off it does not sink a valve


def seat_and_face_removed(seat_removed: Length, face_removed: Length) -> Length:
    """What seat and face have lost together, both counted along the valve axis [mm].

    The valve sinks by the sum: stem height and installed height rise by it, whichever of the two was cut. Service
    books that cap each of the two and also their sum state three limits, and all of them bind. A part that was not cut
    counts nothing, and a reading of nothing may come out a little below nothing.

    Source: derived; separate and combined limits after US Army TM 5-3805-255-14.
    """
    return seat_removed + face_removed


def along_axis(normal: Length, cosine: Number) -> Length:
    """Sink of the valve along its axis from metal that was counted normal to a cone [mm].

    `cosine` is that of the cone's angle from the plane of the head. The feed of a seat cutter is along the axis
    already and needs no turning; the feed of a face grinder is often counted normal to the face.

    Source: derived from the cone.
    """
    require(
        cosine > AXIAL_LIMIT,
        "a cosine of {cosine:g} is that of a face beyond 89 degrees: is the angle counted from the plane of the head?",
        cosine=cosine,
    )
    return normal / cosine
