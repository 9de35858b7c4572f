"""Running clearances: a bore less what runs in it, both on the diameter, read at the same station.

Units, shapes and errors as in `spring`.
"""

from witnessmark.mechanics.law import Length


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
