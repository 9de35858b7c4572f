"""The drawings of what moves: valves, followers and lash, camshaft and timing drive, by name and by characteristic."""

from collections.abc import Callable, Mapping

from witnessmark.draw.cam import lift
from witnessmark.draw.camshaft import end_play, heel_runout, lobe_taper, oil_clearance, timing
from witnessmark.draw.drive import belt, chain, chain_slack, gear_backlash, sprocket, tensioner
from witnessmark.draw.lifter import adjuster, adjuster_leakdown, bucket, lifter, lifter_foot
from witnessmark.draw.rocker import pushrod, rocker_pad, rocker_ratio, rocker_shaft, tip_sweep
from witnessmark.draw.scene import Ask, Scene
from witnessmark.draw.valve_face import face_angle, face_runout, valve_head
from witnessmark.draw.valve_tip import groove, tip, valve_length

MOVING: Mapping[str, Callable[[Ask], Scene]] = {
    "face_runout": face_runout, "face_angle": face_angle, "valve_head": valve_head, "valve_length": valve_length,
    "tip": tip, "groove": groove, "rocker_shaft": rocker_shaft, "rocker_ratio": rocker_ratio,
    "rocker_pad": rocker_pad, "tip_sweep": tip_sweep, "pushrod": pushrod, "lifter": lifter,
    "lifter_foot": lifter_foot, "bucket": bucket, "adjuster": adjuster, "adjuster_leakdown": adjuster_leakdown,
    "end_play": end_play, "heel_runout": heel_runout, "lobe_taper": lobe_taper, "timing": timing, "chain": chain,
    "chain_slack": chain_slack, "tensioner": tensioner, "sprocket": sprocket, "belt": belt,
    "gear_backlash": gear_backlash,
}  # fmt: skip
"""Scenes by the drawing's name in the catalogue."""

MOVING_BY: Mapping[str, Callable[[Ask], Scene]] = {
    "face_runout": face_runout, "face_removed": face_angle, "valve_neck": valve_length, "tip_squareness": tip,
    "tip_removed": tip, "tip_to_groove": groove, "base_circle_runout": heel_runout, "lobe_taper": lobe_taper,
    "valve_lift": lift, "cam_end_play": end_play,
    "cam_oil_clearance": oil_clearance, "cam_clearance_warm": oil_clearance,
}  # fmt: skip
"""Scenes by characteristic, where it is measured in another setting than its drawing's name says."""
