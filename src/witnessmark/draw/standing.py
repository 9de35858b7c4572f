"""The drawings of what stands still: casting, seats and guides, springs and seals, fasteners; by name and by use."""

from collections.abc import Callable, Mapping

from witnessmark.draw.cam_line import cam_bore, cam_cap, cam_line
from witnessmark.draw.chamber import chamber
from witnessmark.draw.ends import cam_margin, cover_step, dowel_room, inlet_side, nozzle
from witnessmark.draw.guide_fit import guide_fit, guide_height, guide_hole, guide_od
from witnessmark.draw.head_faces import finish, fire_ring, removed, upper_face
from witnessmark.draw.head_look import cracks, pressure_test
from witnessmark.draw.pocket import spring_pocket
from witnessmark.draw.port_seal import seal_test
from witnessmark.draw.retainer import retainer_keeper, retainer_seal, rotator, stem_seal
from witnessmark.draw.running import compression, leak_down, oil_pressure
from witnessmark.draw.scene import Ask, Scene
from witnessmark.draw.seat_form import seat_angle, seat_contact, seat_removed
from witnessmark.draw.seat_gap import seat_gap
from witnessmark.draw.seat_insert import seat_insert
from witnessmark.draw.spring_placed import coil_bind, open_load, seat_load, spring_rate
from witnessmark.draw.thread import bolt_hole, necking, stretch
from witnessmark.draw.turning import angle, torque

STANDING: Mapping[str, Callable[[Ask], Scene]] = {
    "cracks": cracks, "pressure_test": pressure_test, "chamber": chamber, "cam_bore": cam_bore,
    "cam_line": cam_line, "cam_cap": cam_cap, "finish": finish, "fire_ring": fire_ring, "upper_face": upper_face,
    "seat_insert": seat_insert,
    "guide_height": guide_height, "seat_angle": seat_angle, "seat_contact": seat_contact, "seal_test": seal_test,
    "seat_seal_test": seal_test,
    "retainer_seal": retainer_seal, "stem_seal": stem_seal, "spring_pocket": spring_pocket,
    "retainer_keeper": retainer_keeper, "necking": necking, "torque": torque, "angle": angle, "stretch": stretch,
    "bolt_hole": bolt_hole, "compression": compression, "leak_down": leak_down, "oil_pressure": oil_pressure,
}  # fmt: skip
"""Scenes by the drawing's name in the catalogue."""

STANDING_BY: Mapping[str, Callable[[Ask], Scene]] = {
    "spring_rate": spring_rate, "seat_load": seat_load, "open_load": open_load, "coil_bind_clearance": coil_bind,
    "guide_hole": guide_hole, "guide_od": guide_od, "guide_fit": guide_fit, "guide_height": guide_height,
    "deck_removed": removed, "manifold_face_removed": removed, "upper_face_removed": removed, "rotator": rotator,
    "spring_side_clearance": spring_pocket,
    "seat_removed": seat_removed, "seat_and_face_removed": seat_removed,
    "manifold_face_cut": inlet_side, "manifold_drop": inlet_side, "port_mismatch": inlet_side,
    "dowel_room": dowel_room, "cover_step": cover_step, "injector_protrusion": nozzle, "cam_line_margin": cam_margin,
    "seat_leak_gap": seat_gap, "contact_gap": seat_gap,
}  # fmt: skip
"""Scenes by characteristic, where it is measured in another setting than its drawing's name says."""
