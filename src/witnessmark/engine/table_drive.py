"""The geometry of the cam drive: how late a camshaft runs after cuts and wear, and what its tensioner gets."""

from typing import Any

import numpy as np

from witnessmark.engine.law import Consequence
from witnessmark.engine.operation import Changes, Working
from witnessmark.engine.quantity import FOUND, GIVEN, NEW, WORK, Quantity
from witnessmark.engine.shape import GEARS
from witnessmark.engine.table_valve import mixed
from witnessmark.mechanics import drive, drive_path
from witnessmark.mechanics.law import Number

OVERHEAD = tuple(gear for gear in GEARS if not gear.startswith("pushrod"))
IN_BLOCK = tuple(gear for gear in GEARS if gear.startswith("pushrod"))
FLEXIBLE = ("chain", "belt")


def _q(
    name: str, dimension: str, kind: str, term: str, usual: float | None = None, why: str = "",
    drives: tuple[str, ...] = (),
) -> Quantity:  # fmt: skip
    return Quantity(name, "cam", dimension, kind, term, usual, why, (), drives)


QUANTITIES: tuple[Quantity, ...] = (
    Quantity("cam_timing", "cam", "angle_crank", FOUND, "cam timing", optional=True),
    _q("cam_sprocket_radius", "length", GIVEN, "pitch radius of the cam sprocket", drives=FLEXIBLE),
    _q("crank_sprocket_radius", "length", GIVEN, "pitch radius of the crank sprocket", drives=FLEXIBLE),
    _q("drive_centre_distance", "length", GIVEN, "distance of the sprockets' centres", drives=FLEXIBLE),
    _q("tight_span_angle", "angle_plane", GIVEN, "lean of the tight span's last free part", drives=FLEXIBLE),
    _q("tight_span", "length", GIVEN, "length of the tight span", drives=FLEXIBLE),
    _q("drive_over_other_bank", "ratio", GIVEN, "share of the other head in this one's drive", 0.0,
       "taken as a drive of its own", FLEXIBLE),
    _q("chain_elongation", "ratio", FOUND, "elongation of the chain", 0.0, "taken as that of a new chain", FLEXIBLE),
    _q("new_chain_elongation", "ratio", NEW, "elongation of a new chain", 0.0, "new", FLEXIBLE),
    _q("tensioner_extension", "length", FOUND, "extension of the tensioner", drives=FLEXIBLE),
    _q("tensioner_ratio", "ratio", GIVEN, "extension of the tensioner for each mm of slack", drives=FLEXIBLE),
    _q("new_tensioner_extension", "length", NEW, "extension of a new tensioner", drives=FLEXIBLE),
    _q("cam_lowered", "length", WORK, "how far the cam line has come down"),
    _q("timed", "angle_crank", WORK, "what the sprocket was set early by"),
    _q("elongation_lost", "ratio", WORK, "elongation that went with the old chain", drives=FLEXIBLE),
)  # fmt: skip


def _span_cosine(
    crank_sprocket_radius: Number, cam_sprocket_radius: Number, drive_centre_distance: Number, tight_span_angle: Number
) -> Number:
    """Of the angle entered, as with rails, where the last free part counts; else of the plain drive; else upright."""
    described = ~np.isnan(crank_sprocket_radius + cam_sprocket_radius + drive_centre_distance)
    crank, cam, centres = (
        np.where(described, size, harmless)
        for size, harmless in ((crank_sprocket_radius, 1.0), (cam_sprocket_radius, 1.0), (drive_centre_distance, 3.0))
    )
    plain = drive_path.span_lean(crank, cam, centres)  # of equal sprockets, which is upright, where none is described
    return np.cos(np.where(np.isnan(tight_span_angle), plain, tight_span_angle))


def _other(head_approach: Number) -> Number:
    """The approach of the other head of a V; of an engine with one head its own, whose share is nothing."""
    return head_approach[..., ::-1]


def _cam_approach(
    head_approach: Number, other_approach: Number, drive_over_other_bank: Number, cam_lowered: Number,
    span_cosine: Number,
) -> Number:  # fmt: skip
    """How much shorter the tight path has become [mm]."""
    return (head_approach + cam_lowered) * span_cosine + drive_over_other_bank * other_approach


def _retard(path_shortened: Number, cam_sprocket_radius: Number) -> Number:
    """Nothing while the path is as long as it was, whatever the sprocket."""
    same = path_shortened == 0
    moved = drive_path.retard(path_shortened, np.where(same, 1.0, cam_sprocket_radius), 1.0)
    return np.where(same, 0.0, moved)


def _worn(chain_elongation: Number, tight_span: Number, cam_sprocket_radius: Number) -> Number:
    """Nothing for a chain as new, whatever the drive."""
    new = chain_elongation == 0
    span, radius = (np.where(new, 1.0, size) for size in (tight_span, cam_sprocket_radius))
    return np.where(new, 0.0, drive.chain_retard(chain_elongation, span, radius))


def _timing(
    cam_timing: Number, cam_retard: Number, wear_retard: Number, renewed_advance: Number, timed: Number
) -> Number:
    """How late the camshaft runs [crank rad]: as found, later by cuts, earlier by a new chain and by the sprocket.

    Found with a degree wheel, it has the wear of the chain in it; where nobody looked, it was set right when it was
    built and is as late as the chain has grown.
    """
    found = np.where(np.isnan(cam_timing), wear_retard + renewed_advance, cam_timing)
    return found + cam_retard - renewed_advance - timed


def _moved(cam_retard: Number, timed: Number, renewed_advance: Number) -> Number:
    """How much later than found the camshaft runs after this work [crank rad]; a new chain lets it run earlier."""
    return cam_retard - timed - renewed_advance


def _plain_moved(cam_retard: Number, timed: Number) -> Number:
    return cam_retard - timed


def _plain_timing(cam_timing: Number, timed: Number) -> Number:
    return np.where(np.isnan(cam_timing), 0.0, cam_timing) - timed


def _no_retard(timed: Number) -> Number:
    return 0.0 * timed


def _down(head_approach: Number, cam_lowered: Number) -> Number:
    """How far the camshaft has come nearer to the crankshaft [mm]."""
    return head_approach + cam_lowered


def _tensioner(tensioner_extension: Number, slack_gained: Number, tensioner_ratio: Number) -> Number:
    return np.where(slack_gained == 0, tensioner_extension, tensioner_extension + tensioner_ratio * slack_gained)


def _law(name: str, function: Any, gears: tuple[str, ...], drives: tuple[str, ...], group: str = "") -> Consequence:
    return Consequence(name, "cam", function, gears, drives, group=group)


LAWS: tuple[Consequence, ...] = (
    Consequence("other_approach", "bank", _other),
    _law("span_cosine", _span_cosine, (), FLEXIBLE),
    _law("path_shortened", _cam_approach, OVERHEAD, FLEXIBLE),
    _law("cam_retard", _retard, OVERHEAD, FLEXIBLE),
    _law("cam_retard", _no_retard, IN_BLOCK, FLEXIBLE),
    _law("cam_retard", _no_retard, (), ("gear",)),
    _law("wear_retard", _worn, (), FLEXIBLE),
    Consequence("renewed_advance", "cam", _worn, (), FLEXIBLE, renamed=(("chain_elongation", "elongation_lost"),)),
    _law("timing_moved", _moved, (), FLEXIBLE),
    _law("timing_moved", _plain_moved, (), ("gear",)),
    _law("cam_timing", _timing, (), FLEXIBLE, "timing"),
    _law("cam_timing", _plain_timing, (), ("gear",), "timing"),
    _law("cam_down", _down, OVERHEAD, FLEXIBLE),
    Consequence("slack_gained", "cam", drive_path.slack_gained, OVERHEAD, FLEXIBLE,
                renamed=(("approach", "cam_down"),)),
    _law("tensioner_extension", _tensioner, OVERHEAD, FLEXIBLE, "timing"),
)  # fmt: skip


def line_bore(
    amount: Number, cam_lowered: Number, cam_bore_alignment: Number, cam_line_play: Number, new_cam_line_play: Number
) -> Changes:  # fmt: skip
    """The caps lose the amount; bored back to size, the line comes down by half of it and is straight."""
    bored = amount > 0
    return {
        "cam_lowered": cam_lowered + amount / 2,
        "cam_bore_alignment": np.where(bored, 0.0, cam_bore_alignment),
        "cam_line_play": np.where(bored, new_cam_line_play, cam_line_play),
    }


def drive_replace(
    amount: Number, chain_elongation: Number, new_chain_elongation: Number, tensioner_extension: Number,
    new_tensioner_extension: Number, elongation_lost: Number,
) -> Changes:  # fmt: skip
    """New chain or belt with sprockets, guides and tensioner."""
    return {
        "chain_elongation": mixed(amount, chain_elongation, new_chain_elongation),
        "elongation_lost": elongation_lost + mixed(amount, 0.0 * amount, chain_elongation - new_chain_elongation),
        "tensioner_extension": mixed(amount, tensioner_extension, new_tensioner_extension),
    }


def time_cam(amount: Number, timed: Number) -> Changes:
    """The camshaft set early against its drive, in degrees of the crank."""
    return {"timed": timed + amount}


OPERATIONS: tuple[Working, ...] = (
    Working("line_bore", "cam", line_bore, renews=("cam_bore_alignment",)),
    Working("drive_replace", "engine", drive_replace, switch=True, renews=("tensioner_extension",), acts="cam",
            drives=FLEXIBLE),
    Working("time_cam", "cam", time_cam),
)  # fmt: skip
