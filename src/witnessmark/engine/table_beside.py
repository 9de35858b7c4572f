"""What stands beside the head and moves with it: manifold, dowels, nozzles, cover, the line of the camshaft, the sweep
of a rocker, how long a valve stays open. Nobody looks at these while the cut is made, and each is found at assembly.
"""

from math import pi
from typing import Any

import numpy as np

from witnessmark.engine.law import Consequence
from witnessmark.engine.operation import Working
from witnessmark.engine.quantity import FOUND, GIVEN, NEW, Quantity
from witnessmark.engine.table_drive import OVERHEAD
from witnessmark.engine.table_gear import LASHED, PUSHRODS, ROCKERS
from witnessmark.mechanics import gear, lash, manifold, seat, sink
from witnessmark.mechanics.law import Number

ARMS = (*ROCKERS, *PUSHRODS)
FROM_MEMORY = "value from memory"
LIGHT_ALLOY, ALIKE = 0.00092, 0.0  # (23 - 11.5) millionths for each of 80 kelvin; iron grows as its shaft does


def _of(
    name: str, axis: str, kind: str, term: str, usual: float | None = None, why: str = "", gears: tuple[str, ...] = (),
    dimension: str = "length", reads: tuple[str, str] | None = None,
) -> Quantity:  # fmt: skip
    return Quantity(name, axis, dimension, kind, term, usual, why, gears, reads=reads)


QUANTITIES: tuple[Quantity, ...] = (
    _of("cam_bore_alignment", "cam", FOUND, "alignment of the cam bores"),
    _of("cam_line_play", "cam", FOUND, "least play of the camshaft in its bores", reads=("cam_oil_clearance", "least")),
    _of("new_cam_line_play", "cam", NEW, "least play of a camshaft in new bores or with new journals"),
    _of("cam_line_size", "cam", FOUND, "diameter of the cam journals", gears=OVERHEAD,
        reads=("cam_journal_diameter", "least")),
    _of("bore_growth", "cam", GIVEN, "how much more the bores grow than the journals, of their size", LIGHT_ALLOY,
        "a light-alloy head on a steel shaft, 80 kelvin warmer; derived", OVERHEAD, "ratio"),
    _of("face_angle_read", "valve", FOUND, "angle of the valve's face as read", dimension="angle_plane",
        reads=("face_angle", "")),
    _of("seat_angle_read", "valve", FOUND, "angle of the seat as read", dimension="angle_plane",
        reads=("seat_angle", "")),
    _of("ramp_lift", "valve", GIVEN, "lift of the quieting ramp for each degree of the camshaft", 0.01, FROM_MEMORY,
        LASHED),
    _of("rocker_arm", "valve", GIVEN, "arm of the rocker, pivot to pad", gears=ARMS),
    _of("tip_above_square", "valve", GIVEN, "how much the tip stands above square to the arm at half lift", 0.0,
        "taken as square at half lift", ARMS),
    _of("tip_sweep", "valve", FOUND, "width of the contact path on the tip", gears=ARMS),
    _of("tip_sweep_offset", "valve", FOUND, "offset of the contact path on the tip", gears=ARMS),
    _of("dowel_room", "bank", FOUND, "depth to spare over the dowels"),
    _of("cover_step", "bank", FOUND, "how far the timing cover stands above the block", 0.0, "taken as level"),
    _of("injector_protrusion", "chamber", FOUND, "how far the nozzle stands out of the face"),
)  # fmt: skip


def _straight(cam_bore_alignment: Number, straightened: Number) -> Number:
    return np.maximum(cam_bore_alignment - straightened, 0.0)


def _margin(cam_line_play: Number, cam_bore_alignment: Number) -> Number:
    return manifold.bow_that_binds(cam_line_play) - cam_bore_alignment


def _warm(cam_line_play: Number, cam_line_size: Number, bore_growth: Any) -> Number:
    return manifold.hot_clearance(cam_line_play, cam_line_size, bore_growth, 0.0, 1.0)


def _edge(seat_width: Number, face_angle_read: Number, seat_angle_read: Number) -> Number:
    return seat.contact_gap(seat_width, np.abs(face_angle_read - seat_angle_read))


def _lost(valve_lash: Number, target_lash: Number, ramp_lift: Number) -> Number:
    return lash.duration_lost(valve_lash - target_lash, ramp_lift * 180 / pi)


def _rise(
    valve_sunk: Number, tip_ground: Number, new_valve_longer: Number, cap_added: Number
) -> Number:
    """How much higher the tip stands after the work [mm]. Source: derived."""
    return sink.stem_height(0.0 * valve_sunk, valve_sunk, tip_ground, new_valve_longer, cap_added)


def _wider(rocker_arm: Number, valve_lift: Number, tip_above_square: Number, above_pivot: Number) -> Number:
    """How much wider the pad's path becomes as the tip rises against the pivot [mm]."""
    swing = gear.swing(valve_lift, rocker_arm)
    before = gear.tip_sweep(rocker_arm, swing, tip_above_square)
    return gear.tip_sweep(rocker_arm, swing, tip_above_square + above_pivot) - before


def _wider_where_moved(
    rocker_arm: Number, valve_lift: Number, tip_above_square: Number, above_pivot: Number
) -> Number:
    """Nothing while the tip stays where it is, whatever the arm."""
    still = above_pivot == 0
    arm, lift = (np.where(still, 1.0, size) for size in (rocker_arm, valve_lift))
    return np.where(still, 0.0, _wider(arm, lift, tip_above_square, above_pivot))


def _drawn_in(tip_sweep_offset: Number, path_wider: Number) -> Number:
    """A path that widens does so towards the pivot: its far end is where the arm is square [mm]. Source: derived."""
    return tip_sweep_offset - path_wider / 2


def _over_pivot(tip_rise: Number, pivot_raised: Number) -> Number:
    return tip_rise - pivot_raised


def _over_fixed_pivot(tip_rise: Number) -> Number:
    return tip_rise


def _law(
    name: str, axis: str, function: Any, group: str, gears: tuple[str, ...] = (), **renamed: str
) -> Consequence:
    return Consequence(name, axis, function, gears, renamed=tuple(renamed.items()), group=group)


_V = {"total": "head_approach", "half_angle": "v_half_angle", "face_angle": "inlet_face_angle"}

LAWS: tuple[Consequence, ...] = (
    _law("manifold_face_cut", "bank", manifold.face_cut, "head", (), **_V),
    _law("manifold_drop", "bank", manifold.manifold_drop, "head", (), **_V),
    _law("port_mismatch", "bank", manifold.port_mismatch, "head", (), **_V),
    _law("cam_bore_alignment", "cam", _straight, "head", OVERHEAD),
    _law("cam_line_margin", "cam", _margin, "head", OVERHEAD, cam_bore_alignment="=cam_bore_alignment"),
    _law("cam_clearance_warm", "cam", _warm, "fits", OVERHEAD),
    _law("dowel_room", "bank", sink.taken, "head", found="dowel_room", less="head_approach"),
    _law("cover_step", "bank", sink.added, "head", found="cover_step", more="block_decked"),
    _law("injector_protrusion", "chamber", sink.added, "head", found="injector_protrusion", more="skimmed"),
    _law("seat_leak_gap", "valve", sink.seat_leak_gap, "seat", seat_runout="=seat_runout"),
    _law("contact_gap", "valve", _edge, "seat", seat_width="=seat_width"),
    _law("opening_lost", "valve", _lost, "timing", LASHED, valve_lash="=valve_lash"),
    _law("tip_rise", "valve", _rise, ""),
    _law("above_pivot", "valve", _over_pivot, "", PUSHRODS),
    _law("above_pivot", "valve", _over_fixed_pivot, "", ROCKERS),
    _law("path_wider", "valve", _wider_where_moved, "", ARMS, valve_lift="=valve_lift"),
    _law("tip_sweep", "valve", sink.added, "gap", ARMS, found="tip_sweep", more="path_wider"),
    _law("tip_sweep_offset", "valve", _drawn_in, "gap", ARMS),
)  # fmt: skip

OPERATIONS: tuple[Working, ...] = ()
