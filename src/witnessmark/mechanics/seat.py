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


def seat_width(
    seat_width: Length, seat_feed: Length, relief_top_feed: Length, relief_bottom_feed: Length,
    seat_tangent: Number, top_tangent: Number, bottom_tangent: Number,
) -> Length:  # fmt: skip
    """Width of the seat along its face after cuts with all three cutters, all fed along the valve axis [mm].

    In section the seat is the lowest of three lines. The seat cutter pushes its line into the head, and its two ends
    run outward along the top relief and inward along the bottom relief; a relief cutter brings its own end back.
    Tangents are of the angles from the plane of the head, so top < seat < bottom. Both reliefs are taken to bound the
    band as it is found.

    Source: derived from the intersections of the lines.
    """
    require(
        (top_tangent < seat_tangent) & (seat_tangent < bottom_tangent),
        "the seat's angle must lie between that of its top relief and that of its bottom relief: check the three "
        "angles, counted from the plane of the head",
    )
    outer = (seat_feed - relief_top_feed) / (seat_tangent - top_tangent)
    inner = (seat_feed - relief_bottom_feed) / (bottom_tangent - seat_tangent)
    width = seat_width + (outer + inner) * (1 + seat_tangent * seat_tangent) ** 0.5
    require(
        width > 0,
        "relief cuts of {top:g} and {bottom:g} mm leave nothing of a band of {width:g} mm: feed the seat cutter too",
        top=relief_top_feed,
        bottom=relief_bottom_feed,
        width=seat_width,
    )
    return width


def contact_gap(seat_width: Length, interference: Number) -> Length:
    """Gap at the far edge of a band whose valve face is cut flatter or steeper by `interference` [rad] [mm].

    Contact begins at one edge, so what the blue shows is narrower than what was cut.

    Source: derived, for a small angle.
    """
    return seat_width * interference
