"""The drawings of what moves: valves, followers and lash, camshaft and timing drive, by name and by characteristic."""

from collections.abc import Callable, Mapping

from witnessmark.draw.scene import Ask, Scene
from witnessmark.draw.valve_face import face_angle, face_runout, valve_head
from witnessmark.draw.valve_tip import groove, tip, valve_length

MOVING: Mapping[str, Callable[[Ask], Scene]] = {
    "face_runout": face_runout, "face_angle": face_angle, "valve_head": valve_head, "valve_length": valve_length,
    "tip": tip, "groove": groove,
}  # fmt: skip
"""Scenes by the drawing's name in the catalogue."""

MOVING_BY: Mapping[str, Callable[[Ask], Scene]] = {
    "face_runout": face_runout, "face_removed": face_angle, "valve_neck": valve_length, "tip_squareness": tip,
    "tip_removed": tip, "tip_to_groove": groove,
}  # fmt: skip
"""Scenes by characteristic, where it is measured in another setting than its drawing's name says."""
