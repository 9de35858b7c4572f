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
