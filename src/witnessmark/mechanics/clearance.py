"""Fits: a bore less what runs in it, what is pressed in less its bore, both on the diameter, read at the same station.

Units, shapes and errors as in `spring`.
"""

from witnessmark.mechanics.law import Length, require


def stem_guide_clearance(guide_bore: Length, stem_diameter: Length) -> Length:
    """Clearance of a stem in its guide, on the diameter [mm]. A negative answer is an answer: the stem does not enter.

    Source: derived. The two are read at the same height and in the same direction; the smallest bore less the largest
    stem, from different stations, would be a clearance that exists nowhere.
    """
    return guide_bore - stem_diameter


def rocker_shaft_clearance(rocker_bore: Length, rocker_shaft_diameter: Length) -> Length:
    """Clearance of a rocker on its shaft, on the diameter [mm].

    Source: derived. Shaft and bore wear on the side that the load presses; both are read in that direction there.
    """
    return rocker_bore - rocker_shaft_diameter


def lifter_bore_clearance(lifter_bore: Length, lifter_diameter: Length) -> Length:
    """Clearance of a lifter in its bore, on the diameter [mm].

    Source: derived; level by level and direction by direction.
    """
    return lifter_bore - lifter_diameter


def bucket_clearance(bucket_bore: Length, bucket_diameter: Length) -> Length:
    """Clearance of a bucket tappet in its bore, on the diameter [mm].

    Source: derived; level by level and direction by direction.
    """
    return bucket_bore - bucket_diameter


def cam_oil_clearance(cam_bore_diameter: Length, cam_journal_diameter: Length) -> Length:
    """Oil clearance of a camshaft journal, on the diameter, its cap tightened [mm].

    Holds for bore and shaft at one temperature. Where the bore is light alloy, the running clearance is larger than the
    cold one.

    Source: derived; width by width and direction by direction.
    """
    return cam_bore_diameter - cam_journal_diameter


def guide_fit(guide_od: Length, guide_hole: Length) -> Length:
    """Interference of a guide in the head, on the diameter [mm]. A negative answer is an answer: the guide is loose.

    Source: derived, as the least interference of ISO 286-1 is the least shaft less the greatest hole. Both parts at
    one temperature.
    """
    return guide_od - guide_hole


def seat_insert_fit(seat_insert_od: Length, seat_insert_bore: Length) -> Length:
    """Interference of a seat insert in its counterbore, on the diameter [mm]. Negative: the insert drops in.

    Source: derived, as `guide_fit`.
    """
    return seat_insert_od - seat_insert_bore


def rock_reading(clearance: Length, guide_length: Length, overhang: Length, bell: Length = 0) -> Length:
    """Whole swing that an indicator shows while a valve is rocked in its guide [mm].

    `overhang` is how far the stylus stands beyond the end of the guide. The stem leans on opposite edges, so it tilts
    by clearance over length, and the stylus goes from one side to the other: c (1 + 2 b / L). Where both ends have
    worn to a bell, the stem bears `bell` inside each of them: the bearing length shrinks by two of it, and the
    overhang grows by one.

    Source: derived, for a stiff stem in one plane; the tilt is small, its square is left out.
    """
    bearing = guide_length - 2 * bell
    require(
        bearing > 0,
        "a bell of {bell:g} mm at both ends leaves nothing of a guide_length of {length:g} mm: check both",
        bell=bell,
        length=guide_length,
    )
    return clearance * (1 + 2 * (overhang + bell) / bearing)
