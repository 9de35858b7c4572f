"""The geometry of the head's faces, the chamber and the piston under it: quantities, laws and operations."""

from math import pi, radians
from typing import Any

import numpy as np

from witnessmark.engine.law import Consequence
from witnessmark.engine.operation import Changes, Working
from witnessmark.engine.quantity import FOUND, GIVEN, NEW, WORK, Quantity
from witnessmark.engine.table_valve import COMMON
from witnessmark.mechanics import piston_valve, sink, volume
from witnessmark.mechanics.law import Number

KNOTS = tuple(range(-30, 35, 5))  # degrees of the crank from top dead centre at which a lift curve is entered
CURVE = tuple(f"lift_at_{'m' if knot < 0 else 'p'}{abs(knot):02d}" for knot in KNOTS)


def _q(
    name: str, axis: str, dimension: str, kind: str, term: str, usual: float | None = None, why: str = ""
) -> Quantity:
    return Quantity(name, axis, dimension, kind, term, usual, why)


QUANTITIES: tuple[Quantity, ...] = (
    _q("bore", "chamber", "length", GIVEN, "cylinder bore"),
    _q("stroke", "chamber", "length", GIVEN, "stroke"),
    _q("rod_length", "chamber", "length", GIVEN, "rod centre distance"),
    _q("chamber_volume", "chamber", "volume", FOUND, "chamber volume"),
    _q("chamber_area", "chamber", "area", GIVEN, "area of the chamber's mouth in the gasket face"),
    _q("chamber_area_slope", "chamber", "length", GIVEN, "how the mouth's area changes with the cut", 0.0,
       "taken with upright walls"),
    _q("deck_clearance", "chamber", "length", FOUND, "piston below the deck"),
    _q("crown_volume", "chamber", "volume", GIVEN, "dish in the piston's crown"),
    _q("crevice_volume", "chamber", "volume", GIVEN, "crevices above the ring", 0.0, "left out"),
    _q("pad_recess", "chamber", "length", GIVEN, "recess of the squish pad", 0.0, "taken as level with the face"),
    _q("gasket_thickness", "bank", "length", FOUND, "pressed thickness of the gasket"),
    _q("gasket_bore", "bank", "length", GIVEN, "bore of the gasket's fire ring"),
    _q("head_height", "bank", "length", FOUND, "head height"),
    _q("head_flatness", "bank", "length", FOUND, "flatness of the gasket face"),
    _q("manifold_face_flatness", "bank", "length", FOUND, "flatness of the manifold faces"),
    _q("deck_removed", "bank", "length", FOUND, "skimmed off before", 0.0, "nobody wrote of an earlier skim"),
    _q("deck_to_cam_height", "bank", "length", FOUND, "height of the cam line over the face"),
    _q("hole_spare", "bank", "length", FOUND, "depth to spare under the head bolts"),
    _q("v_half_angle", "bank", "angle_plane", GIVEN, "half the angle of the V"),
    _q("inlet_face_angle", "bank", "angle_plane", GIVEN, "tilt of the inlet face from upright"),
    _q("side", "valve", "ratio", GIVEN, "side of the valve: 1 inlet, -1 exhaust"),
    _q("ptv_axial", "valve", "length", FOUND, "piston to valve room"),
    _q("ptv_crank_angle", "valve", "angle_crank", GIVEN, "crank angle at which the piston is nearest", radians(10),
       COMMON),
    _q("new_head_flatness", "bank", "length", NEW, "flatness after a skim", 0.02, "what a good mill leaves; " + COMMON),
    _q("new_manifold_face_flatness", "bank", "length", NEW, "flatness after a manifold skim", 0.03, COMMON),
    _q("skimmed", "bank", "length", WORK, "skimmed off the gasket face"),
    _q("block_decked", "bank", "length", WORK, "cut off the deck of the block"),
    _q("gasket_change", "bank", "length", WORK, "change of the gasket's thickness"),
    _q("head_shim_added", "bank", "length", WORK, "shim under the head"),
    _q("straightened", "bank", "length", WORK, "bow taken out"),
    _q("manifold_skimmed", "bank", "length", WORK, "skimmed off the manifold faces"),
    *(Quantity(name, "valve", "length", GIVEN, f"lift at {knot} degrees of the crank from top", optional=True)
      for name, knot in zip(CURVE, KNOTS, strict=True)),
)  # fmt: skip


def _approach(
    skimmed: Number, block_decked: Number, gasket_change: Number, head_shim_added: Number, cast_higher: Number
) -> Number:
    """How far the head comes nearer to crankshaft and piston [mm]. Source: derived."""
    return skimmed + block_decked - gasket_change - head_shim_added - cast_higher


def _gasket(gasket_thickness: Number, gasket_change: Number, head_shim_added: Number) -> Number:
    """What lies between head and block [mm]. Source: derived."""
    return gasket_thickness + gasket_change + head_shim_added


def _flatness(head_flatness: Number, straightened: Number, skimmed: Number, new_head_flatness: Number) -> Number:
    """A skim as deep as the hollow leaves what the mill leaves; a shallower one the rest of the hollow [mm]."""
    rest = np.maximum(head_flatness - straightened, 0.0)
    return np.where(skimmed > 0, np.maximum(rest - skimmed, np.minimum(new_head_flatness, rest)), rest)


def _pocket(valve_head_diameter: Number, valve_sunk: Number, cast_pocket: Number) -> Number:
    """Volume that a sunk valve leaves open [mm3]; nothing while it is not moved, whatever its size."""
    deeper = valve_sunk + cast_pocket
    return np.where(deeper == 0, 0.0, pi / 4 * valve_head_diameter**2 * deeper)


def _chamber(
    chamber_volume: Number, chamber_area: Number, chamber_area_slope: Number, skimmed: Number, sunk_volume: Number
) -> Number:
    cut = np.where(skimmed == 0, 0.0, chamber_area)  # a mouth that nobody measured does not matter while nothing is cut
    return volume.chamber_volume(chamber_volume, cut, chamber_area_slope, skimmed, sunk_volume)


def _nothing(like: Number) -> Number:
    return 0.0 * like


def _ptv(
    ptv_axial: Number, head_approach: Number, valve_sunk: Number, retard: Number, ptv_crank_angle: Number,
    stroke: Number, rod_length: Number, valve_cosine: Number, side: Number, *lifts: Number,
) -> Number:  # fmt: skip
    """By the curve where it is entered, else to first order; the timing does not matter while it does not change."""
    plain = piston_valve.ptv_axial(
        ptv_axial, head_approach, valve_sunk, retard, ptv_crank_angle, stroke, rod_length, valve_cosine, side
    )
    known = ~np.isnan(sum(lifts))
    if not np.any(known) or np.all(retard == 0):  # a curve has no say while the camshaft keeps its time
        return plain
    angles = [radians(knot) for knot in KNOTS]
    curved = piston_valve.ptv_by_curve(
        ptv_axial, head_approach, valve_sunk, retard, stroke, rod_length, valve_cosine, angles, lifts
    )
    return np.where(known, curved, plain)


def _law(name: str, axis: str, function: Any, group: str = "", **renamed: str) -> Consequence:
    return Consequence(name, axis, function, renamed=tuple(renamed.items()), group=group)


LAWS: tuple[Consequence, ...] = (
    _law("head_approach", "bank", _approach),
    _law("gasket_thickness", "bank", _gasket, "compression"),
    _law("deck_clearance", "chamber", sink.taken, "compression", found="deck_clearance", less="block_decked"),
    _law("swept_volume", "chamber", volume.swept_volume),
    _law("pocket_volume", "valve", _pocket),
    Consequence("sunk_volume", "chamber", total="pocket_volume"),
    _law("chamber_volume", "chamber", _chamber, "compression"),
    _law("clearance_volume", "chamber", volume.clearance_volume, chamber_volume="=chamber_volume",
         gasket_thickness="=gasket_thickness", deck_clearance="=deck_clearance"),
    _law("compression_ratio", "chamber", volume.compression_ratio, "compression"),
    _law("squish", "chamber", volume.squish, "compression", gasket_thickness="=gasket_thickness",
         deck_clearance="=deck_clearance"),
    Consequence("ptv_axial", "valve", _ptv, group="piston", lists=CURVE, renamed=(("retard", "timing_moved"),)),
    _law("head_height", "bank", sink.taken, "head", found="head_height", less="skimmed"),
    _law("deck_removed", "bank", sink.added, "head", found="deck_removed", more="skimmed"),
    _law("deck_to_cam_height", "bank", sink.taken, "head", found="deck_to_cam_height", less="skimmed"),
    _law("head_flatness", "bank", _flatness, "head"),
    _law("manifold_face_flatness", "bank", _flatness, "head", head_flatness="manifold_face_flatness",
         straightened="no_work", skimmed="manifold_skimmed", new_head_flatness="new_manifold_face_flatness"),
    _law("no_work", "bank", _nothing, like="manifold_skimmed"),
    _law("hole_spare", "bank", sink.taken, "fasteners", found="hole_spare", less="head_approach"),
)  # fmt: skip


def skim(amount: Number, skimmed: Number) -> Changes:
    """Metal off the gasket face, normal to it."""
    return {"skimmed": skimmed + amount}


def block_deck(amount: Number, block_decked: Number) -> Changes:
    """Metal off the deck of the block."""
    return {"block_decked": block_decked + amount}


def gasket(amount: Number, gasket_thickness: Number, gasket_change: Number) -> Changes:
    """Another head gasket: the amount is its thickness when pressed."""
    return {"gasket_change": np.where(amount > 0, amount - gasket_thickness, gasket_change)}


def head_shim(amount: Number, head_shim_added: Number) -> Changes:
    """A plate of its own under the head."""
    return {"head_shim_added": head_shim_added + amount}


def straighten(amount: Number, straightened: Number) -> Changes:
    """Bow taken out of the whole casting: face and cam line come straight together."""
    return {"straightened": straightened + amount}


def manifold_skim(amount: Number, manifold_skimmed: Number) -> Changes:
    """Metal off the manifold faces."""
    return {"manifold_skimmed": manifold_skimmed + amount}


OPERATIONS: tuple[Working, ...] = (
    Working("straighten", "bank", straighten),
    Working("block_deck", "bank", block_deck),
    Working("skim", "bank", skim, renews=("head_flatness",)),
    Working("manifold_skim", "bank", manifold_skim, renews=("manifold_face_flatness",)),
    Working("gasket", "bank", gasket, sets=True),
    Working("head_shim", "bank", head_shim),
)  # fmt: skip
