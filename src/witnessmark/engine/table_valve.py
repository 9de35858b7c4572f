"""The geometry of valves, guides, seats and springs: quantities, laws and operations along the valve axis."""

from math import radians
from typing import Any

import numpy as np

from witnessmark.engine.law import Consequence
from witnessmark.engine.operation import Changes, Working
from witnessmark.engine.quantity import FOUND, GIVEN, NEW, WORK, Quantity
from witnessmark.mechanics import seat, sink, spring
from witnessmark.mechanics.law import Number

COMMON = "common practice, no source"


def _found(name: str, term: str, dimension: str = "length", usual: float | None = None, why: str = "") -> Quantity:
    return Quantity(name, "valve", dimension, FOUND, term, usual, why)


def _new(name: str, term: str, dimension: str = "length", usual: float | None = None, why: str = "") -> Quantity:
    return Quantity(f"new_{name}", "valve", dimension, NEW, term, usual, why)


def _work(name: str, term: str) -> Quantity:
    return Quantity(name, "valve", "length", WORK, term)


def _angle(name: str, term: str, degrees: float) -> Quantity:
    return Quantity(name, "valve", "angle_plane", GIVEN, term, radians(degrees), COMMON)


QUANTITIES: tuple[Quantity, ...] = (
    _found("stem_height", "stem height"),
    _found("installed_height", "installed height"),
    _found("seat_recession", "valve recession"),
    _found("margin", "valve margin"),
    _found("seat_width", "seat width"),
    _found("seat_runout", "seat runout"),
    _found("face_runout", "face runout"),
    _found("stem_runout", "stem runout"),
    _found("stem_diameter", "stem diameter"),
    _found("guide_bore", "guide bore"),
    _found("stem_guide_clearance", "stem to guide clearance"),
    _found("guide_height", "guide height"),
    _found("valve_head_diameter", "diameter of the valve head"),
    _found("valve_length", "valve length"),
    _found("tip_to_groove", "land from tip to keeper groove"),
    _found("tip_removed", "tip ground off before", usual=0.0, why="nobody wrote of an earlier grind"),
    _found("face_removed", "face ground off before", usual=0.0, why="nobody wrote of an earlier grind"),
    _found("seat_removed", "seat cut before", usual=0.0, why="nobody wrote of an earlier cut"),
    _found("retainer_seal_gap", "gap from retainer to seal"),
    _found("spring_free_length", "free length of the spring"),
    _found("spring_rate", "spring rate", "rate"),
    _found("spring_solid_height", "solid height of the spring"),
    _found("valve_lift", "valve lift"),
    _angle("seat_angle", "seat angle", 45),
    _angle("face_angle", "face angle", 45),
    _angle("relief_top_angle", "angle of the top relief", 30),
    _angle("relief_bottom_angle", "angle of the bottom relief", 60),
    Quantity("valve_angle", "valve", "angle_plane", GIVEN, "angle of the valve to the cylinder", 0.0,
             "taken as upright"),
    _new("stem_diameter", "stem diameter of a new valve"),
    _new("margin", "margin of a new valve"),
    _new("valve_length", "length of a new valve"),
    _new("guide_bore", "bore of a new guide"),
    _new("seat_width", "width of the band after cutting a new seat"),
    _new("seat_runout", "runout of a fresh seat", usual=0.02, why="what a piloted cutter leaves; " + COMMON),
    _new("face_runout", "runout of a fresh face", usual=0.01, why="what a face grinder leaves; " + COMMON),
    _new("stem_runout", "runout of a new stem", usual=0.01, why=COMMON),
    _new("seat_drop", "how much lower a valve sits in a new insert", usual=0.0, why="cut back to where it sat"),
    _new("spring_free_length", "free length of a new spring"),
    _new("spring_rate", "rate of a new spring", "rate"),
    _new("spring_solid_height", "solid height of a new spring"),
    _work("seat_feed", "feed of the seat cutter"),
    _work("relief_top_feed", "feed of the top relief cutter"),
    _work("relief_bottom_feed", "feed of the bottom relief cutter"),
    _work("face_ground", "metal ground off the face"),
    _work("tip_ground", "metal ground off the tip"),
    _work("cap_added", "cap put on the tip"),
    _work("spring_shim_added", "shims put under the spring"),
    _work("guide_pressed", "how far the guide was pressed down"),
    _work("new_valve_drop", "how much lower a new valve sits"),
    _work("new_valve_longer", "how much longer a new valve stands"),
)  # fmt: skip


def _cosine(face_angle: Number) -> Number:
    return np.cos(face_angle)


def _sine(seat_angle: Number) -> Number:
    return np.sin(seat_angle)


def _width(
    seat_width: Number, seat_feed: Number, relief_top_feed: Number, relief_bottom_feed: Number, seat_angle: Number,
    relief_top_angle: Number, relief_bottom_angle: Number,
) -> Number:  # fmt: skip
    tangents = (np.tan(angle) for angle in (seat_angle, relief_top_angle, relief_bottom_angle))
    return seat.seat_width(seat_width, seat_feed, relief_top_feed, relief_bottom_feed, *tangents)


def _sunk(seat_feed: Number, face_axial: Number, new_valve_drop: Number, cast_drop: Number) -> Number:
    return sink.valve_sunk(seat_feed, face_axial, new_valve_drop + cast_drop)


def _ground_back(tip_ground: Number, seat_feed: Number, face_axial: Number) -> Number:
    """How much more came off the tip than cuts of seat and face had raised it [mm]. Source: derived."""
    return tip_ground - seat_feed - face_axial


def _law(name: str, function: Any, group: str = "", **renamed: str) -> Consequence:
    return Consequence(name, "valve", function, renamed=tuple(renamed.items()), group=group)


LAWS: tuple[Consequence, ...] = (
    _law("face_cosine", _cosine),
    _law("seat_sine", _sine),
    _law("face_axial", sink.face_axial),
    _law("valve_sunk", _sunk),
    _law("stem_height", sink.stem_height, "valve"),
    _law("ground_back", _ground_back),
    _law("margin", sink.margin, "valve"),
    _law("tip_to_groove", sink.tip_to_groove, "valve"),
    _law("tip_removed", sink.added, "valve", found="tip_removed", more="tip_ground"),
    _law("face_removed", sink.added, "seat", found="face_removed", more="face_axial"),
    _law("valve_head_diameter", sink.same, "valve", found="valve_head_diameter"),
    _law("stem_runout", sink.same, "valve", found="stem_runout"),
    _law("seat_removed", sink.added, "seat", found="seat_removed", more="seat_feed"),
    _law("seat_and_face_removed", seat.seat_and_face_removed, "seat",
         seat_removed="=seat_removed", face_removed="=face_removed"),
    _law("seat_width", _width, "seat"),
    _law("seat_recession", sink.seat_recession, "seat"),
    _law("seat_runout", sink.same, "seat", found="seat_runout"),
    _law("face_runout", sink.same, "seat", found="face_runout"),
    _law("installed_height", sink.installed_height, "spring"),
    _law("spring_free_length", sink.same, "spring", found="spring_free_length"),
    _law("spring_rate", sink.same, "spring", found="spring_rate"),
    _law("seat_load", spring.seat_load, "spring", installed_height="=installed_height"),
    _law("open_load", spring.open_load, "spring"),
    _law("coil_bind_clearance", spring.coil_bind_clearance, "spring", installed_height="=installed_height"),
    _law("guide_height", sink.taken, "valve", found="guide_height", less="guide_pressed"),
    _law("retainer_seal_gap", sink.retainer_seal_gap, "spring"),
    _law("retainer_seal_clearance", spring.retainer_seal_clearance, "spring", retainer_seal_gap="=retainer_seal_gap"),
    _law("stem_diameter", sink.same, "fits", found="stem_diameter"),
    _law("guide_bore", sink.same, "fits", found="guide_bore"),
    _law("stem_guide_clearance", sink.same, "fits", found="stem_guide_clearance"),
)  # fmt: skip


def mixed(amount: Number, old: Number, new: Number) -> Number:
    """The old value where nothing is put in, the new one where a part is; neither asks for the other.

    Between 0 and 1 it goes from one to the other, so that slopes see what a part would do.
    """
    return np.where(amount == 0, old, np.where(amount == 1, new, old + amount * (new - old)))


def or_old(new: Number, old: Number) -> Number:
    """What a new part would have; as the old one where nobody said."""
    return np.where(np.isnan(new), old, new)


def seat_cut(amount: Number, seat_feed: Number, seat_runout: Number, new_seat_runout: Number) -> Changes:
    """The seat cutter goes in by the amount, along the valve axis, and leaves a seat that is true to its guide."""
    fresh = np.where(amount > 0, new_seat_runout, seat_runout)
    return {"seat_feed": seat_feed + amount, "seat_runout": fresh}


def relief_top(amount: Number, relief_top_feed: Number) -> Changes:
    """The flatter cutter narrows the band from outside."""
    return {"relief_top_feed": relief_top_feed + amount}


def relief_bottom(amount: Number, relief_bottom_feed: Number) -> Changes:
    """The steeper cutter narrows the band from inside."""
    return {"relief_bottom_feed": relief_bottom_feed + amount}


def face_grind(amount: Number, face_ground: Number, face_runout: Number, new_face_runout: Number) -> Changes:
    """Metal off normal to the face."""
    return {"face_ground": face_ground + amount, "face_runout": np.where(amount > 0, new_face_runout, face_runout)}


def tip_grind(amount: Number, tip_ground: Number) -> Changes:
    """Metal off the tip, along the stem."""
    return {"tip_ground": tip_ground + amount}


def lash_cap(amount: Number, cap_added: Number) -> Changes:
    """A hard cap on the tip of the stem."""
    return {"cap_added": cap_added + amount}


def spring_shim(amount: Number, spring_shim_added: Number) -> Changes:
    """Hard shims under the spring."""
    return {"spring_shim_added": spring_shim_added + amount}


def guide_replace(
    amount: Number, guide_bore: Number, new_guide_bore: Number, stem_guide_clearance: Number, stem_diameter: Number,
    seat_runout: Number,
) -> Changes:  # fmt: skip
    """A new guide, finished to size. Its axis is a new one: how the seat runs to it nobody knows before it is cut."""
    return {
        "guide_bore": mixed(amount, guide_bore, new_guide_bore),
        "stem_guide_clearance": mixed(amount, stem_guide_clearance, new_guide_bore - stem_diameter),
        "seat_runout": mixed(amount, seat_runout, np.nan * seat_runout),
    }


def guide_ream(amount: Number, guide_bore: Number, stem_guide_clearance: Number, stem_diameter: Number) -> Changes:
    """The old guide opened for a thicker stem: the amount is its new bore. A reamer follows the bore that is there."""
    return {
        "guide_bore": np.where(amount > 0, amount, guide_bore),
        "stem_guide_clearance": np.where(amount > 0, amount - stem_diameter, stem_guide_clearance),
    }


def guide_knurl(
    amount: Number, guide_bore: Number, new_guide_bore: Number, stem_guide_clearance: Number, stem_diameter: Number
) -> Changes:
    """The old guide raised inside and reamed to the bore of a new one; its axis stays, and it wears sooner."""
    return {
        "guide_bore": mixed(amount, guide_bore, new_guide_bore),
        "stem_guide_clearance": mixed(amount, stem_guide_clearance, new_guide_bore - stem_diameter),
    }


def guide_set(amount: Number, guide_height: Number, guide_pressed: Number) -> Changes:
    """The guide pressed to height: the amount is how high it then stands over the spring seat."""
    return {"guide_pressed": np.where(amount > 0, guide_height - amount, guide_pressed)}


def seat_insert(
    amount: Number, seat_width: Number, new_seat_width: Number, seat_removed: Number, new_valve_drop: Number,
    new_seat_drop: Number, seat_runout: Number, new_seat_runout: Number,
) -> Changes:  # fmt: skip
    """A new insert, cut until the valve sits where the shop wants it; what was cut before no longer counts."""
    return {
        "seat_width": mixed(amount, seat_width, new_seat_width),
        "seat_removed": mixed(amount, seat_removed, 0.0 * seat_removed),
        "new_valve_drop": new_valve_drop + mixed(amount, 0.0 * amount, new_seat_drop),
        "seat_runout": mixed(amount, seat_runout, new_seat_runout),
    }


def valve_replace(
    amount: Number, margin: Number, new_margin: Number, valve_length: Number, new_valve_length: Number,
    tip_removed: Number, face_removed: Number, face_ground: Number, tip_ground: Number, stem_diameter: Number,
    new_stem_diameter: Number, guide_bore: Number, stem_guide_clearance: Number, new_valve_drop: Number,
    new_valve_longer: Number, stem_runout: Number, new_stem_runout: Number, face_runout: Number,
    new_face_runout: Number,
) -> Changes:  # fmt: skip
    """A new valve in the same seat and guide.

    Its face is whole again, so its cone stands further from the head's plane by what the old margin had lost, and it
    sits lower by as much. Its tip is whole again: it stands longer by what both lengths say, or by what had been ground
    off the old tip where a length is not known. What was ground off the old valve goes with it.

    Source: derived: face to tip is the length less the margin.
    """
    drop = new_margin - margin
    longer = np.where(np.isnan(new_valve_length - valve_length), tip_removed, new_valve_length - valve_length)
    return {
        "margin": mixed(amount, margin, new_margin),
        "face_ground": mixed(amount, face_ground, 0.0 * face_ground),
        "tip_ground": mixed(amount, tip_ground, 0.0 * tip_ground),
        "tip_removed": mixed(amount, tip_removed, 0.0 * tip_removed),
        "face_removed": mixed(amount, face_removed, 0.0 * face_removed),
        "stem_diameter": mixed(amount, stem_diameter, new_stem_diameter),
        "stem_guide_clearance": mixed(amount, stem_guide_clearance, guide_bore - new_stem_diameter),
        "new_valve_drop": new_valve_drop + mixed(amount, 0.0 * amount, drop),
        "new_valve_longer": new_valve_longer + mixed(amount, 0.0 * amount, longer),
        "stem_runout": mixed(amount, stem_runout, new_stem_runout),
        "face_runout": mixed(amount, face_runout, new_face_runout),
    }


def spring_replace(
    amount: Number, spring_free_length: Number, new_spring_free_length: Number, spring_rate: Number,
    new_spring_rate: Number, spring_solid_height: Number, new_spring_solid_height: Number,
) -> Changes:  # fmt: skip
    """New springs; rate and solid height are those of the old ones where nobody said otherwise."""
    return {
        "spring_free_length": mixed(amount, spring_free_length, new_spring_free_length),
        "spring_rate": mixed(amount, spring_rate, or_old(new_spring_rate, spring_rate)),
        "spring_solid_height": mixed(amount, spring_solid_height, or_old(new_spring_solid_height, spring_solid_height)),
    }


GUIDES: tuple[Working, ...] = (
    Working("guide_replace", "valve", guide_replace, switch=True, renews=("guide_bore", "stem_guide_clearance")),
    Working("guide_ream", "valve", guide_ream, sets=True, renews=("guide_bore", "stem_guide_clearance")),
    Working("guide_knurl", "valve", guide_knurl, switch=True, renews=("guide_bore", "stem_guide_clearance")),
    Working("guide_set", "valve", guide_set, sets=True, renews=("guide_height",)),
    Working("seat_insert", "valve", seat_insert, switch=True, renews=("seat_width", "seat_runout")),
)
VALVES: tuple[Working, ...] = (
    Working("valve_replace", "valve", valve_replace, switch=True,
            renews=("stem_diameter", "stem_guide_clearance", "margin", "stem_runout", "face_runout")),
    Working("seat_cut", "valve", seat_cut, renews=("seat_width", "seat_runout")),
    Working("relief_top", "valve", relief_top),
    Working("relief_bottom", "valve", relief_bottom),
    Working("face_grind", "valve", face_grind, renews=("face_runout",)),
    Working("tip_grind", "valve", tip_grind),
    Working("lash_cap", "valve", lash_cap),
    Working("spring_replace", "valve", spring_replace, switch=True, renews=("spring_free_length", "spring_rate")),
    Working("spring_shim", "valve", spring_shim),
    Working("spring_cup", "valve", spring_shim),
)  # fmt: skip
OPERATIONS: tuple[Working, ...] = (*GUIDES, *VALVES)

__all__ = ["LAWS", "OPERATIONS", "QUANTITIES", "mixed", "or_old"]
