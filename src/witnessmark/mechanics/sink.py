"""What a valve that sits deeper, a new valve or a ground tip does to everything that stands on its stem.

    valve_sunk    how far the valve has gone up into the head: seat feed, and what came off its face, along its axis

Units, shapes and errors as in `spring`. Every law starts from what was read before the work, so no length of the head
need be known that nobody can measure.
"""

from witnessmark.mechanics.law import Length, require


def face_axial(face_ground: Length, face_cosine: Length) -> Length:
    """Metal that was ground off normal to a face, counted along the valve's axis [mm]. Source: derived."""
    return face_ground / face_cosine


def valve_sunk(seat_feed: Length, face_axial: Length, new_valve_drop: Length) -> Length:
    """How far the valve has moved up into the head [mm].

    `new_valve_drop` is how much lower a new valve sits than the old one did, since its face is whole again.

    Source: derived: seat and face lie in one line along the axis.
    """
    return seat_feed + face_axial - new_valve_drop


def stem_height(
    stem_height: Length, valve_sunk: Length, tip_ground: Length, new_valve_longer: Length, cap_added: Length
) -> Length:
    """Height of the stem's tip over the spring seat [mm]. Source: derived."""
    return stem_height + valve_sunk - tip_ground + new_valve_longer + cap_added


def installed_height(installed_height: Length, valve_sunk: Length, spring_shim_added: Length) -> Length:
    """Height of the spring with the valve shut [mm]: the retainer rises with the valve, a shim lifts the seat.

    Grinding the tip does nothing here, so what brings the stem back does not bring the spring back.

    Source: derived.
    """
    return installed_height + valve_sunk - spring_shim_added


def seat_recession(seat_recession: Length, valve_sunk: Length, skimmed: Length) -> Length:
    """Depth of the valve under the gasket face [mm]: a skim takes the face away and the valve comes out of it.

    Source: derived.
    """
    return seat_recession + valve_sunk - skimmed


def margin(margin: Length, face_axial: Length) -> Length:
    """Cylindrical edge left on the head of the valve [mm]: what a face loses along the axis, the margin loses.

    Source: derived from the two planes that bound the edge.
    """
    left = margin - face_axial
    require(
        left > 0,
        "a margin of {margin:g} mm is gone when the face loses {face:g} mm along the axis: take another valve",
        margin=margin,
        face=face_axial,
    )
    return left


def tip_to_groove(tip_to_groove: Length, tip_ground: Length) -> Length:
    """Land from the tip to the keeper groove [mm]. Source: derived."""
    left = tip_to_groove - tip_ground
    require(
        left > 0,
        "grinding {ground:g} mm off the tip reaches the keeper groove, which is {land:g} mm away",
        ground=tip_ground,
        land=tip_to_groove,
    )
    return left


def retainer_seal_gap(retainer_seal_gap: Length, valve_sunk: Length, guide_pressed: Length) -> Length:
    """Gap from the retainer down to the seal with the valve shut [mm]; the seal goes down with its guide.

    Source: derived.
    """
    return retainer_seal_gap + valve_sunk + guide_pressed


def added(found: Length, more: Length) -> Length:
    """What was counted before, and what this work adds to the count [mm]. Source: derived."""
    return found + more


def taken(found: Length, less: Length) -> Length:
    """What was there before, less what this work takes [mm]. Source: derived."""
    return found - less


def same(found: Length) -> Length:
    """A size that only another part changes. Source: derived."""
    return found


def seat_leak_gap(seat_runout: Length, seat_sine: Length) -> Length:
    """Widest gap between face and seat, normal to the face, where the seat runs out against its guide [mm].

    An indicator that shows TIR stands for an axis that is off by half of it; at the seat the valve meets the cone
    shifted by that, on one side in, on the other out.

    Source: derived: TIR times the sine of the seat's angle from the plane of the head.
    """
    return seat_runout * seat_sine
