"""What a gauge in good order shows on an invented head in good order, characteristic by characteristic."""

from collections.abc import Mapping

# In the unit in which the hand reads it: mm, N, degrees, degrees of the crank, N·m, kPa, mL, s; roughness in µm.
CLEAN: Mapping[str, str] = {
    "valve_lash": "0.18 0.20", "valve_lift": "9.200", "lash_shim": "2.500", "follower_lift": "5.750",
    "rocker_bore": "16.040", "rocker_shaft_diameter": "16.000", "rocker_pad": "0.020", "tip_sweep": "0.800",
    "tip_sweep_offset": "0.100", "pushrod_length": "200.000", "pushrod_runout": "0.050", "lifter_bore": "22.040",
    "lifter_diameter": "22.000", "lifter_crown": "0.050", "bucket_bore": "30.040", "bucket_diameter": "30.000",
    "hla_preload": "1.000", "hla_leakdown": "30",
    "head_flatness": "0.03 0.04", "head_flatness_local": "0.03 0.04", "fire_ring_erosion": "0.020",
    "manifold_face_flatness": "0.04 0.05", "manifold_face_removed": "0.100", "upper_face_flatness": "0.03 0.04",
    "upper_face_removed": "0.050", "head_height": "132.900", "deck_removed": "0.100", "deck_finish": "0.800",
    "chamber_volume": "44.000", "deck_to_cam_height": "110.000", "cam_bore_diameter": "25.000",
    "cam_bore_alignment": "0.03 0.04", "seat_insert_bore": "32.000", "seat_insert_od": "32.080",
    "seat_insert_depth": "7.000",
    "stem_diameter": "5.960", "stem_runout": "0.010", "face_runout": "0.010", "face_angle": "45.5", "margin": "1.300",
    "valve_head_diameter": "33.000", "valve_length": "100.000", "tip_condition": "0.010", "tip_squareness": "0.010",
    "tip_removed": "0.100", "tip_to_groove": "3.500", "face_removed": "0.100",
    "guide_bore": "6.000", "stem_wobble": "0.100", "guide_hole": "11.000", "guide_od": "11.030", "guide_height": "14.000",
    "seat_angle": "45", "relief_angle_top": "30", "relief_angle_bottom": "60", "seat_width": "1.300",
    "seat_contact": "0.800", "seat_runout": "0.020", "seat_recession": "0.500", "seat_removed": "0.200",
    "stem_height": "44.000",
    "spring_free_length": "48.000", "spring_squareness": "0.800", "tall_height": "38.000", "tall_load": "200.000",
    "short_height": "29.000", "short_load": "470.000", "spring_solid_height": "26.000", "installed_height": "38.000",
    "retainer_seal_gap": "13.200", "spring_side_clearance": "0.20 0.25",
    "lobe_height": "45.000", "base_circle": "35.500", "cam_journal_diameter": "24.960", "cam_runout": "0.010",
    "cam_end_play": "0.100", "base_circle_runout": "0.010", "lobe_opens": "28", "lobe_closes": "71",
    "equal_lift_first": "76.5", "equal_lift_second": "146.5",
    "chain_length_new": "152.400", "chain_length": "152.400", "chain_slack": "6.000", "chain_lost_motion": "3",
    "tensioner_extension": "8.000", "sprocket_wear": "0.500", "gear_backlash": "0.100",
    "bolt_length": "110.000", "bolt_full_diameter": "9.900", "bolt_least_diameter": "9.900", "hole_depth": "60.000",
    "bolt_reach": "55.000", "snug_torque": "20", "tightening_torque": "60", "tightening_angle": "90",
    "bolt_stretch": "0.120",
    "gasket_thickness": "1.200", "deck_clearance": "0.400", "dowel_room": "1.000", "cover_step": "0.050",
    "injector_protrusion": "2.000",
    "cranking_compression": "1300", "cranking_first": "800", "cranking_wet": "1320", "leak_down_supply": "550",
    "leak_down_cylinder": "522.5", "oil_pressure": "200",
}  # fmt: skip
# What is worked out from them, in the unit inside, about which the limits of the sheet lie.
WORKED_OUT = {
    "rocker_ratio": 1.6, "rocker_shaft_clearance": 0.04, "lifter_bore_clearance": 0.04, "bucket_clearance": 0.04,
    "deck_to_cam_parallelism": 0.0, "cam_bore_roundness": 0.0, "seat_insert_fit": 0.08, "stem_taper": 0.0,
    "stem_guide_clearance": 0.04, "guide_fit": 0.03, "seat_and_face_removed": 0.3, "spring_rate": 30.0,
    "seat_load": 300.0, "open_load": 576.0, "coil_bind_clearance": 2.8, "retainer_seal_clearance": 4.0,
    "lobe_lift": 9.5, "cam_journal_form": 0.0, "cam_oil_clearance": 0.04, "lobe_taper": 0.0, "duration": 4.8695,
    "lobe_centreline": 1.94604, "chain_elongation": 0.0, "gear_backlash_spread": 0.0, "bolt_necking": 0.0,
    "hole_spare": 5.0, "leak_down": 0.05,
}  # fmt: skip
# The unit in which CLEAN is written, by dimension; a gauge that reads in another one is turned round.
READ_IN: Mapping[str, str] = {
    "length": "mm", "force": "N", "rate": "N/mm", "angle_plane": "deg", "angle_crank": "deg crank", "angle_cam": "deg cam",
    "pressure": "kPa", "volume": "mL", "time": "s", "ratio": "1", "torque": "N·m", "none": "",
}  # fmt: skip
ROUGH = {"deck_finish": "µm"}  # a roughness is read in micrometres, in an inch shop as well
