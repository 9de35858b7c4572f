"""The geometry of the valve gear: what makes lash or plunger travel in each of its kinds."""

from typing import Any

import numpy as np

from witnessmark.engine.law import Consequence
from witnessmark.engine.operation import Changes, Working
from witnessmark.engine.quantity import FOUND, GIVEN, NEW, WORK, Quantity
from witnessmark.engine.table_valve import mixed
from witnessmark.mechanics import gear, lash, sink
from witnessmark.mechanics.law import Number

BUCKETS = ("bucket_shim", "bucket_shim_under")
ROCKERS = ("rocker", "rocker_hydraulic")
PUSHRODS = ("pushrod", "pushrod_hydraulic")
FINGERS = ("finger_hydraulic", "finger_screw")
SCREWS = ("rocker", "finger_screw", "pushrod")
LASHED = (*BUCKETS, *SCREWS)
HYDRAULIC = ("bucket_hydraulic", "finger_hydraulic", "rocker_hydraulic", "pushrod_hydraulic")
LEVERS = (*ROCKERS, *PUSHRODS, *FINGERS)


def _of(
    name: str, term: str, gears: tuple[str, ...] = (), kind: str = FOUND, dimension: str = "length",
    usual: float | None = None, why: str = "",
) -> Quantity:  # fmt: skip
    return Quantity(name, "valve", dimension, kind, term, usual, why, gears)


QUANTITIES: tuple[Quantity, ...] = (
    _of("valve_lash", "valve lash", LASHED),
    _of("target_lash", "lash to set", LASHED, GIVEN),
    _of("lash_shim", "lash shim", BUCKETS),
    _of("lash_shim_change", "change of the lash shim", BUCKETS, WORK),
    _of("lash_set", "what the screw let out", SCREWS, WORK),
    _of("hla_preload", "plunger travel used", HYDRAULIC),
    _of("rocker_ratio", "ratio of the lever", LEVERS, dimension="ratio"),
    _of("base_circle", "base circle"),
    _of("new_base_circle", "base circle of a new camshaft", kind=NEW),
    _of("base_lost", "metal off the base circle's radius", kind=WORK),
    _of("lift_lost", "lift lost with the camshaft", kind=WORK),
    _of("new_valve_lift", "valve lift of a new camshaft", kind=NEW),
    _of("cam_normal_angle", "angle of the lobe's contact to the pivot", ("finger_hydraulic",), GIVEN, "angle_plane",
        0.0, "taken as parallel"),
    _of("plunger_angle", "angle of the valve to the pivot", ("finger_hydraulic",), GIVEN, "angle_plane", 0.0,
        "taken as parallel"),
    _of("pushrod_angle", "lean of the pushrod to the cylinder", PUSHRODS, GIVEN, "angle_plane", 0.0,
        "taken as upright"),
    _of("lifter_angle", "lean of the lifter bore to the cylinder", PUSHRODS, GIVEN, "angle_plane", 0.0,
        "taken as upright"),
    _of("pivot_raised", "shims under the rocker pivot", PUSHRODS, WORK),
    _of("rod_longer", "how much longer the new pushrod is", PUSHRODS, WORK),
    _of("pushrod_length", "pushrod length", PUSHRODS),
)  # fmt: skip


def _law(name: str, function: Any, gears: tuple[str, ...], group: str = "", **renamed: str) -> Consequence:
    return Consequence(name, "valve", function, gears, renamed=tuple(renamed.items()), group=group)


def _cosine(angle: Number) -> Number:
    return np.cos(angle)


def _apart(pushrod_angle: Number, lifter_angle: Number) -> Number:
    return np.cos(pushrod_angle - lifter_angle)


def _needed(lash_shim: Number, valve_lash: Number, target_lash: Number) -> Number:
    return lash.shim_for_lash(lash_shim, valve_lash, target_lash)


def _on_diameter(base_lost: Number) -> Number:
    return 2 * base_lost


LAWS: tuple[Consequence, ...] = (
    _law("valve_lash", gear.direct_lash, BUCKETS, "gap"),
    _law("valve_lash", gear.rocker_lash, ("rocker",), "gap"),
    _law("valve_lash", gear.finger_lash, ("finger_screw",), "gap"),
    _law("valve_lash", gear.pushrod_lash, ("pushrod",), "gap"),
    _law("hla_preload", gear.direct_preload, ("bucket_hydraulic",), "gap"),
    _law("hla_preload", gear.rocker_preload, ("rocker_hydraulic",), "gap"),
    _law("hla_preload", gear.finger_preload, ("finger_hydraulic",), "gap",
         cam_normal_cosine="cam_normal_cosine", valve_cosine="plunger_cosine"),
    _law("hla_preload", gear.pushrod_preload, ("pushrod_hydraulic",), "gap"),
    _law("lash_shim", sink.added, BUCKETS, "gap", found="lash_shim", more="lash_shim_change"),
    _law("lash_shim_needed", _needed, BUCKETS, lash_shim="=lash_shim", valve_lash="=valve_lash"),
    _law("cam_normal_cosine", _cosine, ("finger_hydraulic",), angle="cam_normal_angle"),
    _law("plunger_cosine", _cosine, ("finger_hydraulic",), angle="plunger_angle"),
    _law("valve_cosine", _cosine, (), angle="valve_angle"),
    _law("pushrod_cosine", _cosine, PUSHRODS, angle="pushrod_angle"),
    _law("lifter_cosine", _apart, PUSHRODS),
    _law("pushrod_length", sink.added, PUSHRODS, "gap", found="pushrod_length", more="rod_longer"),
    _law("base_circle", sink.taken, (), found="base_circle", less="base_circle_lost"),
    _law("base_circle_lost", _on_diameter, ()),
    _law("valve_lift", gear.valve_lift, (), "spring"),
)  # fmt: skip


def lash_shim(amount: Number, lash_shim: Number, lash_shim_change: Number) -> Changes:
    """Another shim: the amount is its thickness."""
    return {"lash_shim_change": np.where(amount > 0, amount - lash_shim, lash_shim_change)}


def lash_adjust(amount: Number, lash_set: Number) -> Changes:
    """The screw lets out by the amount, counted where the lash is read."""
    return {"lash_set": lash_set + amount}


def cam_replace(
    amount: Number, base_circle: Number, new_base_circle: Number, valve_lift: Number, new_valve_lift: Number,
    base_lost: Number, lift_lost: Number,
) -> Changes:  # fmt: skip
    """Another camshaft: its base circles and lifts, as the old one's where nobody said otherwise."""
    lost = np.where(np.isnan(new_base_circle - base_circle), 0.0, (base_circle - new_base_circle) / 2)
    less = np.where(np.isnan(new_valve_lift - valve_lift), 0.0, valve_lift - new_valve_lift)
    return {"base_lost": base_lost + mixed(amount, 0.0 * amount, lost),
            "lift_lost": lift_lost + mixed(amount, 0.0 * amount, less)}  # fmt: skip


def new_journals(amount: Number, cam_line_play: Number, new_cam_line_play: Number) -> Changes:
    """The journals of another camshaft."""
    return {"cam_line_play": mixed(amount, cam_line_play, new_cam_line_play)}


def pivot_shim(amount: Number, pivot_raised: Number) -> Changes:
    """Shims under the rocker pivot."""
    return {"pivot_raised": pivot_raised + amount}


def pushrod_replace(amount: Number, pushrod_length: Number, rod_longer: Number) -> Changes:
    """Another pushrod: the amount is its length."""
    return {"rod_longer": np.where(amount > 0, amount - pushrod_length, rod_longer)}


OPERATIONS: tuple[Working, ...] = (
    Working("cam_replace", "cam", cam_replace, switch=True, renews=("base_circle", "valve_lift"), acts="valve",
            also=(("cam", new_journals),)),
    Working("pivot_shim", "valve", pivot_shim, gears=PUSHRODS),
    Working("pushrod_replace", "valve", pushrod_replace, sets=True, gears=PUSHRODS),
    Working("lash_shim", "valve", lash_shim, sets=True, gears=BUCKETS, renews=("lash_shim",)),
    Working("lash_adjust", "valve", lash_adjust, gears=SCREWS),
)  # fmt: skip
