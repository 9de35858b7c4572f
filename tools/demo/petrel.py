"""Petrel 1.6, the fourth demo: an inline four with one camshaft, finger followers on hydraulic pivots, and a belt.

Its lesson: limits that hang together. On one exhaust valve the seat was cut within what the book allows and the face
ground within what the book allows, and both together are past what it allows for both.
"""

from demo.kit import FACE, ROUND, Bench, stations

VALVES = [f"{side}-{number}" for side in ("inl", "exh") for number in range(1, 5)]
LOBES = [f"cam/lobe-{valve}" for valve in VALVES]
JOURNALS = [f"cam/journal-{n}" for n in range(1, 6)]


def job() -> str:
    """The job file."""
    bench = Bench(16, "2026-11-20", 7, ("J. M.", "A. T."))
    casting(bench)
    valves(bench)
    followers(bench)
    camshaft(bench)
    return HEAD + GEOMETRY + "readings:\n" + bench.clocked() + BESIDE + WORK


def casting(bench: Bench) -> None:
    """Penetrant and pressure, faces, what earlier cuts took, bores of the camshaft in line."""
    bench.look("head_cracks", stations([f"chamber-{n}" for n in range(1, 5)], ("between-seats", "seat-to-plug", "deck")),
               "none", "penetrant", {"chamber-2/seat-to-plug": "says: unsure, method: penetrant, note: bleeds once; wiped and gone"})
    bench.look("jacket_pressure_test", ["head"], "holds", "pressure_warm",
               {"head": "says: holds, how_much: 200, unit: kPa, method: pressure_warm"})
    bench.gaps("head_flatness", stations(["gasket-face"], FACE), "L-2", "0.02 0.03",
               {"gasket-face/diagonal-1": "0.03 0.04", "gasket-face/exhaust-edge": "0.04 0.05"})
    heights = dict(zip(stations(["head"], [f"height-{n}" for n in range(1, 6)]),
                       ("119.06", "119.05", "119.02", "119.03", "119.04"), strict=True))  # fmt: skip
    bench.each("head_height", heights, "H-2", (119.04, 0, 0.01), heights)
    bench.read("deck_removed", "gasket-face", "H-2", "0.17")
    bench.gaps("cam_bore_alignment", JOURNALS, "L-2", "0.02 0.03", {"cam/journal-3": "0.04 0.05"})


def valves(bench: Bench) -> None:
    """Stems, guides, what was taken from seats and faces, stem heights, seals, retainers."""
    for valve in VALVES:
        middle = 6.976 if valve.startswith("inl") else 6.961
        for station in ("top/along", "top/across", "middle/along", "middle/across", "bottom/along", "bottom/across"):
            worn = 0.019 if valve == "exh-2" and station.startswith("bottom") else 0.0
            bench.read("stem_diameter", f"{valve}/{station}", "M-3", f"{bench.draw(middle, 0.002) - worn:.3f}")
    bench.each("stem_wobble", stations(VALVES, ("along", "across")), "R-3", (0.21, 0.03, 0.01), {"exh-2/along": "0.62"})
    bench.each("margin", VALVES, "C-4", (1.12, 0.05, 0.01), {"exh-3": "0.84"})
    bench.each("face_removed", VALVES, "D-2", (0.11, 0.03, 0.01), {"exh-3": "0.46", "exh-1": "0.31"})
    bench.each("seat_removed", VALVES, "D-2", (0.18, 0.04, 0.01), {"exh-3": "0.62", "exh-1": "0.57", "inl-4": "0.79"})
    bench.each("seat_recession", VALVES, "D-2", (1.05, 0.05, 0.01), {"exh-3": "1.81", "inl-4": "1.62"})
    bench.each("stem_height", VALVES, "D-2", (46.20, 0.05, 0.01), {"exh-3": "46.98", "inl-4": "46.71"})
    bench.look("seat_seal_test", VALVES[:6], "holds", "vacuum", {"exh-2": "says: leaks, how_much: 30, unit: kPa, method: vacuum"})
    bench.look("retainer_keeper", VALVES, "seated", "by_hand", {"exh-3": "says: sunk, how_much: 0.8, unit: mm, method: by_hand"})
    bench.each("spring_free_length", VALVES[:6], "C-4", (44.6, 0.1, 0.01))
    bench.read("spring_free_length", "exh-3", "C-4", "1.752", "question: inch_or_mm")


def followers(bench: Bench) -> None:
    """Pads and pivots of the fingers, the travel that the pivots have left."""
    bench.look("follower_pivot", VALVES, "polished", "by_hand", {"inl-2": "says: grooved, method: feel", "exh-4": "says: dull, method: eye"})
    bench.each("rocker_pad", VALVES, "I-2", (0.018, 0.004, 0.002), {"inl-2": "0.084"})
    bench.each("hla_preload", VALVES, "D-2", (1.42, 0.06, 0.01), {"exh-3": "2.38", "inl-4": "1.92"})
    bench.each("hla_leakdown", VALVES[:4], "W-1", (31, 4, 1), {"inl-2": "9"})


def camshaft(bench: Bench) -> None:
    """Journals of two bearings, runout, lobes of the inlet side, play along; the belt."""
    bench.each("cam_journal_diameter", stations(JOURNALS[:3], ROUND), "M-26", (25.958, 0.002, 0.001),
               {"cam/journal-2/rear/along": "25.936"})
    bench.each("cam_journal_diameter", stations(JOURNALS[3:4], ROUND[:2]), "M-26", (25.956, 0.002, 0.001))
    bench.each("cam_runout", JOURNALS[1:4], "I-2", (0.012, 0.003, 0.002))
    bench.each("lobe_height", stations(LOBES[:4], ("front", "rear")), "M-26", (38.46, 0.006, 0.001),
               {"cam/lobe-inl-2/front": "38.102", "cam/lobe-inl-2/rear": "38.161"})
    bench.each("base_circle", LOBES[:4], "M-26", (31.98, 0.004, 0.001))
    bench.read("cam_end_play", "cam", "I-2", "0.118")
    bench.look("belt_condition", ["drive/belt", "drive/tensioner"], "sound", "by_hand",
               {"drive/belt": "says: oiled, method: by_hand, note: from the front seal"})
    bench.look("thread_and_hole", [f"bolt-{n}" for n in range(1, 7)], "clean", "thread_gauge",
               {"bolt-4": "says: wet, method: eye", "bolt-6": "says: pulled up, method: thread_gauge"})


LIMITS = """\
# Limit sheet of an invented engine. Every figure, document and page in it is made up.
format: witnessmark-limits-1
sheet: {name: P-16, document: Petrel repair manual (invented), invented: yes, doubt: even}
limits:
  head_cracks:
    - {accept: [none], page: 11-02}
  jacket_pressure_test:
    - {accept: [holds], page: 11-02}
  head_flatness:
    - {service: {high: 0.05}, unit: mm, page: 11-03}
  head_height:
    - {service: {low: 119.00}, new: {low: 119.15, high: 119.25}, unit: mm, page: 11-03}
  deck_removed:
    - {service: {high: 0.20}, unit: mm, page: 11-03}
  cam_bore_alignment:
    - {service: {high: 0.05}, unit: mm, page: 11-04}
  stem_diameter:
    - {for: inl, service: {low: 6.960}, new: {low: 6.970, high: 6.985}, unit: mm, stations: worst, page: 11-05}
    - {for: exh, service: {low: 6.945}, new: {low: 6.955, high: 6.970}, unit: mm, stations: worst, page: 11-05}
  stem_wobble:
    - {service: {high: 0.50}, unit: mm, page: 11-05}
  margin:
    - {service: {low: 0.8}, unit: mm, page: 11-05}
  face_removed:
    - {service: {high: 0.50}, unit: mm, page: 11-06}
  seat_removed:
    - {service: {high: 0.80}, unit: mm, page: 11-06}
  seat_and_face_removed:
    - {service: {high: 1.00}, unit: mm, page: 11-06}
  seat_recession:
    - {service: {high: 1.90}, unit: mm, page: 11-06}
  stem_height:
    - {service: {low: 45.90, high: 46.80}, unit: mm, page: 11-06}
  seat_seal_test:
    - {accept: [holds], page: 11-06}
  retainer_keeper:
    - {accept: [seated], page: 11-07}
  spring_free_length:
    - {service: {low: 44.0}, unit: mm, page: 11-07}
  follower_pivot:
    - {accept: [polished], page: 11-08}
  rocker_pad:
    - {service: {high: 0.05}, unit: mm, page: 11-08}
  hla_preload:
    - {service: {low: 0.80, high: 2.00}, unit: mm, page: 11-08}
  hla_leakdown:
    - {service: {low: 12}, unit: s, page: 11-08}
  cam_journal_diameter:
    - {service: {low: 25.935}, new: {low: 25.950, high: 25.965}, unit: mm, page: 11-09}
  cam_journal_form:
    - {service: {high: 0.02}, unit: mm, page: 11-09}
  cam_runout:
    - {service: {high: 0.03}, unit: mm, page: 11-09}
  lobe_height:
    - {service: {low: 38.20}, unit: mm, page: 11-09}
  lobe_lift:
    - {service: {low: 6.30}, unit: mm, page: 11-09}
  cam_end_play:
    - {service: {high: 0.20}, new: {low: 0.05, high: 0.15}, unit: mm, page: 11-09}
  belt_condition:
    - {accept: [sound], page: 11-10}
  thread_and_hole:
    - {accept: [clean], page: 11-11}
  ptv_axial:
    - {for: inl, service: {low: 1.00}, unit: mm, page: 11-12}
    - {for: exh, service: {low: 1.30}, unit: mm, page: 11-12}
  cam_timing:
    - {service: {low: -1.5, high: 1.5}, unit: deg crank, page: 11-12}
  compression_ratio:
    - {service: {low: 9.2, high: 9.9}, unit: "1", page: 11-12}
  squish:
    - {service: {low: 0.9, high: 1.6}, unit: mm, page: 11-12}
operations:
  skim: {allowed: up to, most: 0.20, unit: mm, page: 11-03}
  seat_cut: {allowed: up to, most: 0.80, unit: mm, page: 11-06}
  face_grind: {allowed: up to, most: 0.50, unit: mm, page: 11-06}
  tip_grind: {allowed: up to, most: 0.30, unit: mm, page: 11-06}
  gasket: {allowed: yes, page: 11-12}
  seat_insert: {allowed: yes, page: 11-06}
  spring_shim: {allowed: no, page: 11-07}
  line_bore: {allowed: no, page: 11-04}
  lash_cap: {allowed: unknown}
"""

HEAD = """\
# A job that nobody did: works, engine, people and figures are invented. Written by tools/make_demo.py.
format: witnessmark-job-1
job:
  id: HL-0153
  engine: Petrel 1.6
  invented: true
  works: Harbour Lane Engine Works
  customer: Weir Road Taxis (invented)
  complaint: rattles warm, low on cylinder 3
  engine_number: P16-118204
  head_number: P16-11-0440
  casting_number: P16-11
  distance: 241700 km
  received: 2026-11-19
engine:
  layout: inline
  cylinders: 4
  valves: {inl: 1, exh: 1}
  gear: finger_hydraulic
  cams: 1
  head: aluminium
  block: iron
  drive: belt
  seal: positive
  fuel: petrol
  cooling: liquid
gauges:
  M-3: {kind: micrometer, unit: mm, resolution: 0.001, calibration: {U: 0.002, k: 2, date: 2026-03-02, due: 2027-03-01, certificate: HL-C-34}, repeatability: {s: 0.0012, n: 20}}
  M-26: {kind: micrometer, unit: mm, resolution: 0.001, calibration: {U: 0.002, k: 2, date: 2026-03-02, due: 2027-03-01, certificate: HL-C-35}, repeatability: {s: 0.0012, n: 20}}
  L-2: {kind: leaves, unit: mm, set: [0.02, 0.03, 0.04, 0.05, 0.06, 0.07, 0.08, 0.10, 0.12, 0.15, 0.20, 0.25, 0.30], leaf_error: 0.002}
  W-04: {kind: torque_wrench, unit: N·m, resolution: 1, permissible_error: 2, reads_from: 10, reads_to: 60, lever: 400 mm}
  A-04: {kind: angle_gauge, unit: deg, resolution: 1, permissible_error: 4}
  C-4: {kind: caliper, unit: mm, resolution: 0.01, calibration: {U: 0.02, k: 2, date: 2026-01-14, due: 2027-01-14}, repeatability: {s: 0.01, n: 15}}
  D-2: {kind: depth_gauge, unit: mm, resolution: 0.01, calibration: {U: 0.010, k: 2, date: 2025-10-30, due: 2026-10-30}, repeatability: {s: 0.008, n: 12}}
  H-2: {kind: height_gauge, unit: mm, resolution: 0.01, calibration: {U: 0.012, k: 2, date: 2025-12-01, due: 2026-12-01}, repeatability: {s: 0.006, n: 12}}
  I-2: {kind: lever_indicator, unit: mm, resolution: 0.002, calibration: {U: 0.004, k: 2, date: 2026-05-20, due: 2027-05-20}, repeatability: {s: 0.0015, n: 15}}
  R-3: {kind: indicator, unit: mm, resolution: 0.01, calibration: {U: 0.010, k: 2, date: 2026-05-20, due: 2027-05-20}, repeatability: {s: 0.004, n: 15}}
  W-1: {kind: stopwatch, unit: s, resolution: 1, permissible_error: 1, repeatability: {s: 0.5, n: 10}}
limits: petrel-limits.yaml
prices: petrel-prices.yaml
"""

GEOMETRY = """\
geometry:
  bore: {value: 79.00, unit: mm, u: 0.01, document: Petrel repair manual (invented), page: 10-01}
  stroke: {value: 81.40, unit: mm, document: Petrel repair manual (invented), page: 10-01}
  rod_length: {value: 133.00, unit: mm, document: Petrel repair manual (invented), page: 10-01}
  chamber_volume: {value: 38.0, unit: mL, u: 0.15, note: burette and plate}
  chamber_area: {value: 3725, unit: mm2, u: 20}
  deck_clearance: {value: 0.10, unit: mm, u: 0.01}
  crown_volume: {value: 2.0, unit: mL, u: 0.05, document: Petrel repair manual (invented), page: 10-01}
  gasket_thickness: {value: 1.20, unit: mm, u: 0.01, document: Petrel repair manual (invented), page: 11-12}
  gasket_bore: {value: 80.0, unit: mm, document: Petrel repair manual (invented), page: 11-12}
  valve_head_diameter:
    - {for: inl, value: 38.0, unit: mm, u: 0.05}
    - {for: exh, value: 32.0, unit: mm, u: 0.05}
  valve_angle: {value: 8, unit: deg, document: Petrel repair manual (invented), page: 10-01}
  rocker_ratio: {value: 1.60, unit: "1", u: 0.01, document: Petrel repair manual (invented), page: 11-08}
  cam_normal_angle: {value: 3, unit: deg, document: Petrel repair manual (invented), page: 11-08}
  plunger_angle: {value: 4, unit: deg, document: Petrel repair manual (invented), page: 11-08}
  guide_bore: {value: 7.010, unit: mm, u: 0.008, note: "rocked, not bored: taken from the new size"}
  seat_width:
    - {for: inl, value: 1.4, unit: mm, u: 0.1}
    - {for: exh, value: 1.7, unit: mm, u: 0.1}
  seat_runout: {value: 0.03, unit: mm, u: 0.01}
  installed_height: {value: 36.0, unit: mm, u: 0.2, document: Petrel repair manual (invented), page: 11-07}
  spring_rate: {value: 31, unit: N/mm, u: 0.6, document: Petrel repair manual (invented), page: 11-07}
  spring_solid_height: {value: 24.0, unit: mm, u: 0.1, document: Petrel repair manual (invented), page: 11-07}
  valve_lift: {value: 9.6, unit: mm, u: 0.05, document: Petrel repair manual (invented), page: 11-09}
  valve_length: {value: 108.00, unit: mm, u: 0.02}
  ptv_axial:
    - {for: inl, value: 1.55, unit: mm, u: 0.04, note: check springs and indicator}
    - {for: exh, value: 1.90, unit: mm, u: 0.04, note: check springs and indicator}
  cam_sprocket_radius: {value: 57.3, unit: mm, document: Petrel repair manual (invented), page: 11-10}
  crank_sprocket_radius: {value: 28.65, unit: mm, document: Petrel repair manual (invented), page: 11-10}
  drive_centre_distance: {value: 320, unit: mm, document: Petrel repair manual (invented), page: 11-10}
  tight_span: {value: 318.7, unit: mm, document: Petrel repair manual (invented), page: 11-10}
"""

WORK = """\
work:
  - {operation: valve_replace, place: exh-3}
  - {operation: tip_grind, place: exh-3, amount: 0.20, unit: mm}
"""

PRICES = """\
# Price list of an invented works. Every figure and part number in it is made up.
format: witnessmark-prices-1
sheet: {name: HL-11, date: 2026-11-03, invented: yes, currency: EUR}
work:
  seat_cut: {cost: 18, minutes: 20, least: 0.03, most: 0.60, step: 0.01, tolerance: 0.01, unit: mm}
  relief_top: {cost: 6, minutes: 6, least: 0.03, most: 1.20, step: 0.01, tolerance: 0.02, unit: mm}
  relief_bottom: {cost: 6, minutes: 6, least: 0.03, most: 1.20, step: 0.01, tolerance: 0.02, unit: mm}
  face_grind: {cost: 8, minutes: 6, least: 0.02, most: 0.30, step: 0.01, tolerance: 0.01, unit: mm}
  tip_grind: {cost: 4, minutes: 4, least: 0.02, most: 0.30, step: 0.01, tolerance: 0.01, unit: mm}
  skim: {cost: 85, minutes: 50, least: 0.03, most: 0.40, step: 0.01, tolerance: 0.01, unit: mm, wait: 1}
  gasket: {cost: 0, minutes: 0}
  guide_replace: {cost: 16, minutes: 18}
  seat_insert: {cost: 38, minutes: 45, wait: 1}
  valve_replace: {cost: 0, minutes: 5}
  cam_replace: {cost: 40, minutes: 60}
  drive_replace: {cost: 60, minutes: 80}
  seal_replace: {cost: 1, minutes: 2}
  bolt_replace: {cost: 0, minutes: 6}
  bolt_tighten: {cost: 0, minutes: 15}
  thread_chase: {cost: 2, minutes: 4}
  thread_insert: {cost: 14, minutes: 20}
  crack_repair: {cost: 110, minutes: 120, wait: 3}
  thrust_plate: {cost: 12, minutes: 15}
  rocker_replace: {cost: 24, minutes: 12}
  follower_replace: {cost: 18, minutes: 8}
  adjuster_clean: {cost: 3, minutes: 10}
  head_replace: {cost: 30, minutes: 150, wait: 9}
  time_cam: {cost: 25, minutes: 40}
parts:
  - {id: head, fits: head_replace, cost: 690.00, number: invented, wait: 9,
     brings: {stem_height: {value: 46.20, u: 0.05, unit: mm}, seat_recession: {value: 1.00, u: 0.05, unit: mm},
              installed_height: {value: 36.0, u: 0.1, unit: mm}, chamber_volume: {value: 38.0, u: 0.1, unit: mL}}}
  - {id: valve-inl, fits: valve_replace, for: inl, cost: 22.00, number: P16-311 (invented), wait: 2, unit: mm,
     brings: {stem_diameter: {value: 6.977, u: 0.002}, margin: {value: 1.15, u: 0.03}, valve_length: {value: 108.00, u: 0.02}}}
  - {id: valve-exh, fits: valve_replace, for: exh, cost: 26.00, number: P16-312 (invented), wait: 2, unit: mm,
     brings: {stem_diameter: {value: 6.962, u: 0.002}, margin: {value: 1.15, u: 0.03}, valve_length: {value: 108.00, u: 0.02}}}
  - {id: guide, fits: guide_replace, cost: 8.00, number: P16-321 (invented), unit: mm, brings: {guide_bore: {value: 7.008, u: 0.003}}}
  - {id: insert, fits: seat_insert, cost: 12.00, number: P16-331 (invented), wait: 2, unit: mm,
     brings: {seat_width: {value: 1.60, u: 0.05}, seat_drop: {value: 0.45, u: 0.03}}}
  - {id: camshaft, fits: cam_replace, cost: 185.00, number: P16-401 (invented), wait: 3, unit: mm,
     brings: {base_circle: {value: 32.00, u: 0.005}, valve_lift: {value: 9.60, u: 0.02}}}
  - {id: belt-kit, fits: drive_replace, cost: 92.00, number: P16-501 (invented), wait: 1}
stock:
  gasket: {unit: mm, sizes: [1.20, 1.50], cost: 52, tolerance: 0.02}
one_time: {head_gasket: 52.00, head_bolt: 3.60, stem_seal: 1.90, cam_seal: 9.00}
"""

BESIDE = """\
zero_checks:
  - {gauge: D-2, found: 0.00, unit: mm, against: surface plate, when: before, allowed: 0.02, at: 2026-11-20T06:58:00Z, by: "J. M."}
  - {gauge: D-2, found: 0.01, unit: mm, against: surface plate, when: after, allowed: 0.02, at: 2026-11-20T09:40:00Z, by: "A. T."}
decisions:
  - {id: dec-1, characteristic: seat_and_face_removed, place: exh-3, decision: replaced, operation: valve_replace, why: "each cut alone was allowed, both together are not", at: 2026-11-20T10:05:00Z, by: "J. M."}
  - {id: dec-2, characteristic: belt_condition, place: drive, decision: replaced, operation: drive_replace, why: oil on the belt; front seal first, at: 2026-11-20T10:06:00Z, by: "J. M."}
  - {id: dec-3, characteristic: rocker_pad, place: inl-2, decision: replaced, operation: follower_replace, why: "pad hollow, lobe worn with it", at: 2026-11-20T10:07:00Z, by: "J. M."}
customer:
  - {answer: "yes", ceiling: "480", currency: EUR, said_by: Weir Road Taxis (invented), at: 2026-11-20T11:20:00Z, by: "J. M."}
"""
