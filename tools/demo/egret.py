"""Egret 5.0, the second demo: a V8 in inches, pushrods and hydraulic lifters, walked on the quick route.

Its lesson: the worst places first. Guides are rocked before a bore gauge goes in, and only the doubtful ones are bored
out with it; the left bank is read, the right one half.
"""

from demo.kit import FACE, Bench, stations

LEFT, RIGHT = "1357", "2468"
INL, EXH = "inl", "exh"


def valves(numbers: str) -> list[str]:
    return [f"{side}-{number}" for side in (INL, EXH) for number in numbers]


ALL = [f"{side}-{number}" for bank in (LEFT, RIGHT) for side in (INL, EXH) for number in bank]
WOBBLE = {"exh-3": "0.0105", "exh-5": "0.0080", "inl-7": "0.0070", "exh-6": "0.0120"}


def job() -> str:
    """The job file."""
    bench = Bench(50, "2026-11-18", 8, ("A. T.", "R. K."))
    faces(bench)
    rocked(bench)
    valves_and_seats(bench)
    springs(bench)
    gear(bench)
    return HEAD + GEOMETRY + "readings:\n" + bench.clocked() + BESIDE + WORK


def faces(bench: Bench) -> None:
    """Powder over the iron, air into the jackets, straight-edge over both decks."""
    bench.look("head_cracks", stations([f"chamber-{n}" for n in LEFT + RIGHT], ("between-seats", "seat-to-plug", "deck")),
               "none", "magnetic_dry",
               {"chamber-6/between-seats": "says: crack, how_much: 0.25, unit: in, method: magnetic_dry, mark: {x: 0.5, y: 0.4}"})
    bench.look("jacket_pressure_test", ["left/head", "right/head"], "holds", "pressure_air",
               {"right/head": "says: unsure, how_much: 20, unit: psi, method: pressure_air, note: one blanking plate wept"})
    bench.gaps("head_flatness", stations(["left/gasket-face"], FACE), "L-1", "0.0015 0.002",
               {"left/gasket-face/diagonal-1": "0.002 0.0025"})
    bench.gaps("head_flatness", stations(["right/gasket-face"], FACE), "L-1", "0.002 0.0025",
               {"right/gasket-face/diagonal-2": "0.004 0.005", "right/gasket-face/inlet-edge": "0.003 0.004"})


def rocked(bench: Bench) -> None:
    """Each guide is rocked; where the swing is doubtful a bore gauge goes in, set in a ring of 0.3430."""
    bench.each("stem_wobble", [f"{one}/along" for one in ALL], "R-1", (0.0034, 0.0004, 0.0005),
               {f"{one}/along": swing for one, swing in WOBBLE.items()})
    for one, most in (("exh-3", 18), ("exh-5", 11), ("inl-7", 10)):
        for station in ("top/along", "top/across", "middle/along", "middle/across", "bottom/along", "bottom/across"):
            less = {"top": 3, "middle": 8, "bottom": 0}[station.partition("/")[0]] + 2 * station.endswith("across")
            bench.read("guide_bore", f"{one}/{station}", "B-1", f"{(most - less) / 10000:+.4f}", "setting: ring")


def valves_and_seats(bench: Bench) -> None:
    """Stems at their worst heights, margins, seats with the pilot in."""
    for one in ALL:
        middle = 0.3412 if one.startswith(INL) else 0.3404
        for station in ("top/along", "bottom/along"):
            worn = {"exh-3": 0.0007, "inl-7": 0.0009}.get(one, 0.0) if station.startswith("bottom") else 0.0
            bench.read("stem_diameter", f"{one}/{station}", "M-1", f"{bench.draw(middle, 0.0001) - worn:.4f}")
    bench.each("margin", ALL, "C-1", (0.062, 0.004, 0.001), {"exh-3": "0.028", "exh-8": "0.034"})
    bench.each("seat_angle", valves(LEFT), "P-1", (45.0, 0.12, 0.25), {"exh-5": "43.50"})
    for side, width in ((INL, 0.07), (EXH, 0.09)):
        at = [f"{one}/1" for one in ALL if one.startswith(side)]
        bench.each("seat_width", at, "G-1", (width, 0.002, 0.005), {"exh-3/1": "0.125", "exh-5/1": "0.105"})
    bench.each("seat_runout", ALL, "R-1", (0.0008, 0.0002, 0.0005), {"exh-3": "0.0045", "exh-6": "0.0020"})


def springs(bench: Bench) -> None:
    """The left bank's springs, single with a damper; heights are those of the book."""
    left = valves(LEFT)
    bench.each("spring_free_length", left, "C-1", (1.990, 0.003, 0.001), {"exh-7": "1.948"})
    bench.each("tall_load", left, "T-1", (79, 1.2, 1), {"exh-7": "66", "inl-3": "72"})
    bench.each("short_load", left, "T-1", (202, 2.0, 1), {"exh-7": "184"})
    bench.each("installed_height", left, "C-1", (1.703, 0.006, 0.001), {"exh-3": "1.742"})


def gear(bench: Bench) -> None:
    """Rockers, pushrods and lifters of the left bank, each kept with its valve."""
    left = valves(LEFT)
    bench.each("rocker_pad", left, "R-1", (0.0015, 0.0003, 0.0005), {"exh-3": "0.0070"})
    bench.each("pushrod_length", left[:-1], "C-1", (7.796, 0.002, 0.001))
    bench.read("pushrod_length", left[-1], "C-1", "198.02", "question: inch_or_mm")
    bench.each("pushrod_runout", left, "R-1", (0.0060, 0.0012, 0.0005), {"inl-5": "0.0310"})
    for one in left:
        for station in ("upper/along", "lower/along"):
            bench.read("lifter_bore", f"{one}/{station}", "B-2", f"{bench.draw(0.0004, 0.0001):+.4f}", "setting: bore")
    for one in left:
        for station in ("upper/along", "lower/along"):
            bench.read("lifter_diameter", f"{one}/{station}", "M-2", f"{bench.draw(0.8423, 0.0001):.4f}")
    bench.each("lifter_crown", left, "R-2", (0.0018, 0.0002, 0.0001), {"exh-5": "-0.0008", "inl-1": "0.0006"})
    bench.each("hla_preload", left, "D-1", (0.040, 0.004, 0.001), {"exh-3": "0.071", "inl-7": "0.058"})


LIMITS = """\
# Limit sheet of an invented engine. Every figure, document and page in it is made up.
format: witnessmark-limits-1
sheet: {name: EG-5, document: Egret service book (invented), invented: yes, doubt: must be proven good}
limits:
  head_cracks:
    - {accept: [none], page: 6-4}
  jacket_pressure_test:
    - {accept: [holds], page: 6-4}
  head_flatness:
    - {service: {high: 0.004}, unit: in, page: 6-5}
  stem_wobble:
    - {service: {high: 0.0079}, unit: in, page: 6-7}
  stem_diameter:
    - {for: inl, service: {low: 0.3405}, new: {low: 0.3410, high: 0.3417}, unit: in, stations: worst, page: 6-8}
    - {for: exh, service: {low: 0.3397}, new: {low: 0.3402, high: 0.3409}, unit: in, stations: worst, page: 6-8}
  margin:
    - {service: {low: 0.031}, unit: in, page: 6-8}
  stem_guide_clearance:
    - {for: inl, service: {high: 0.0040}, new: {low: 0.0010, high: 0.0027}, unit: in, stations: worst, page: 6-7}
    - {for: exh, service: {high: 0.0050}, new: {low: 0.0015, high: 0.0032}, unit: in, stations: worst, page: 6-7}
  seat_angle:
    - {service: {low: 44.0, high: 46.0}, unit: deg, page: 6-9}
  seat_width:
    - {for: inl, service: {low: 0.050, high: 0.090}, unit: in, page: 6-9}
    - {for: exh, service: {low: 0.070, high: 0.110}, unit: in, page: 6-9}
  seat_runout:
    - {service: {high: 0.002}, unit: in, page: 6-9}
  spring_free_length:
    - {service: {low: 1.960}, unit: in, page: 6-10}
  tall_height:
    - {given: 1.700, unit: in, page: 6-10}
  short_height:
    - {given: 1.250, unit: in, page: 6-10}
  tall_load:
    - {service: {low: 71}, new: {low: 76, high: 84}, unit: lbf, page: 6-10}
  short_load:
    - {service: {low: 190}, new: {low: 194, high: 210}, unit: lbf, page: 6-10}
  installed_height:
    - {service: {low: 1.660, high: 1.730}, unit: in, page: 6-10}
  rocker_pad:
    - {service: {high: 0.005}, unit: in, page: 6-12}
  pushrod_length:
    - {service: {low: 7.780, high: 7.810}, unit: in, page: 6-12}
  pushrod_runout:
    - {service: {high: 0.015}, unit: in, page: 6-12}
  lifter_bore_clearance:
    - {service: {high: 0.0025}, new: {low: 0.0007, high: 0.0020}, unit: in, page: 6-13}
  lifter_crown:
    - {service: {low: 0.0005}, unit: in, page: 6-13, to_check: yes}
  hla_preload:
    - {service: {low: 0.020, high: 0.060}, unit: in, page: 6-13}
  ptv_axial:
    - {for: inl, service: {low: 0.060}, unit: in, page: 6-14}
    - {for: exh, service: {low: 0.080}, unit: in, page: 6-14}
  compression_ratio:
    - {service: {low: 8.9, high: 9.5}, unit: "1", page: 6-14}
  squish:
    - {service: {low: 0.035, high: 0.060}, unit: in, page: 6-14}
operations:
  skim: {allowed: up to, most: 0.010, unit: in, page: 6-5}
  seat_cut: {allowed: yes, page: 6-9}
  face_grind: {allowed: up to, most: 0.010, unit: in, page: 6-8}
  tip_grind: {allowed: no, page: 6-8}
  spring_shim: {allowed: up to, most: 0.060, unit: in, page: 6-10}
  guide_ream: {allowed: yes, page: 6-7}
  gasket: {allowed: yes, page: 6-14}
  pushrod_replace: {allowed: yes, page: 6-12}
  pivot_shim: {allowed: unknown}
"""

HEAD = """\
# A job that nobody did: works, engine, people and figures are invented. Written by tools/make_demo.py.
format: witnessmark-job-1
job:
  id: HL-0151
  engine: Egret 5.0
  invented: true
  works: Harbour Lane Engine Works
  customer: Fenside Pumping Station (invented)
  complaint: misses on cylinder 3, uses oil
  engine_number: E50-00932
  casting_number: E50-2201 both
  hours: 6120 h
  received: 2026-11-16
route: quick
engine:
  layout: v
  cylinders: 8
  valves: {inl: 1, exh: 1}
  gear: pushrod_hydraulic
  head: iron
  block: iron
  banks: {left: [1, 3, 5, 7], right: [2, 4, 6, 8]}
  drive: chain
  seal: ring
  fuel: petrol
  cooling: liquid
gauges:
  M-1: {kind: micrometer, unit: in, resolution: 0.0001, calibration: {U: 0.0001, k: 2, date: 2026-02-10, due: 2027-02-10, certificate: HL-C-41}, repeatability: {s: 0.00005, n: 20}}
  M-2: {kind: micrometer, unit: in, resolution: 0.0001, calibration: {U: 0.0001, k: 2, date: 2026-02-10, due: 2027-02-10, certificate: HL-C-42}, repeatability: {s: 0.00005, n: 20}}
  B-1: {kind: dial_bore, unit: in, resolution: 0.0001, permissible_error: 0.0002, repeatability: {s: 0.00006, n: 15}, note: set in ring HL-R-343}
  B-2: {kind: dial_bore, unit: in, resolution: 0.0001, permissible_error: 0.0002, repeatability: {s: 0.00006, n: 15}}
  L-1: {kind: leaves, unit: in, set: [0.001, 0.0015, 0.002, 0.0025, 0.003, 0.004, 0.005, 0.006, 0.007, 0.008, 0.009, 0.010, 0.012, 0.015], leaf_error: 0.00005}
  W-2: {kind: torque_wrench, unit: lbf·ft, resolution: 1, permissible_error: 3, reads_from: 15, reads_to: 100, lever: 16 in}
  C-1: {kind: caliper, unit: in, resolution: 0.001, calibration: {U: 0.001, k: 2, date: 2026-01-14, due: 2027-01-14}, repeatability: {s: 0.0005, n: 15}}
  D-1: {kind: depth_gauge, unit: in, resolution: 0.001, calibration: {U: 0.001, k: 2, date: 2026-01-14, due: 2027-01-14}, repeatability: {s: 0.0006, n: 12}}
  R-1: {kind: indicator, unit: in, resolution: 0.0005, calibration: {U: 0.0003, k: 2, date: 2026-05-20, due: 2027-05-20}, repeatability: {s: 0.0001, n: 15}}
  R-2: {kind: lever_indicator, unit: in, resolution: 0.0001, calibration: {U: 0.0001, k: 2, date: 2026-05-20, due: 2027-05-20}, repeatability: {s: 0.00005, n: 15}}
  G-1: {kind: graticule, unit: in, resolution: 0.005, calibration: {U: 0.002, k: 2, date: 2024-09-01, due: 2026-09-01}, repeatability: {s: 0.0015, n: 10}}
  P-1: {kind: protractor, unit: deg, resolution: 0.25, calibration: {U: 0.3, k: 2, date: 2026-04-02, due: 2028-04-02}, repeatability: {s: 0.15, n: 10}}
  T-1: {kind: spring_tester, unit: lbf, resolution: 1, calibration: {U: 1, k: 2, date: 2026-06-30, due: 2027-06-30, certificate: HL-C-47}, repeatability: {s: 0.4, n: 10}}
settings:
  - {id: ring, gauge: B-1, set_to: 0.3430}
  - {id: bore, gauge: B-2, set_to: 0.8430, with: M-2}
limits: egret-limits.yaml
prices: egret-prices.yaml
"""

GEOMETRY = """\
geometry:
  bore: {value: 4.000, unit: in, u: 0.0005, document: Egret service book (invented), page: 6-2}
  stroke: {value: 3.000, unit: in, document: Egret service book (invented), page: 6-2}
  rod_length: {value: 5.090, unit: in, document: Egret service book (invented), page: 6-2}
  chamber_volume: {value: 60.0, unit: mL, u: 0.2, note: burette and plate}
  chamber_area: {value: 10.05, unit: in2, u: 0.05, note: 0.8 of the bore}
  deck_clearance: {value: 0.010, unit: in, u: 0.0005}
  crown_volume: {value: 5.0, unit: mL, u: 0.1, document: Egret service book (invented), page: 6-2}
  gasket_thickness: {value: 0.040, unit: in, u: 0.0005, document: Egret service book (invented), page: 6-14}
  gasket_bore: {value: 4.100, unit: in, document: Egret service book (invented), page: 6-14}
  valve_head_diameter:
    - {for: inl, value: 1.840, unit: in, u: 0.002}
    - {for: exh, value: 1.540, unit: in, u: 0.002}
  valve_angle: {value: 20, unit: deg, document: Egret service book (invented), page: 6-2}
  rocker_ratio: {value: 1.60, unit: "1", u: 0.01, document: Egret service book (invented), page: 6-12}
  pushrod_angle: {value: 10, unit: deg, document: Egret service book (invented), page: 6-2}
  lifter_angle: {value: 4, unit: deg, document: Egret service book (invented), page: 6-2}
  v_half_angle: {value: 45, unit: deg, document: Egret service book (invented), page: 6-2}
  inlet_face_angle: {value: 0, unit: deg, document: Egret service book (invented), page: 6-2}
  pushrod_length: {value: 7.796, unit: in, u: 0.002, document: Egret service book (invented), page: 6-12}
  valve_lift: {value: 0.440, unit: in, u: 0.002, document: Egret service book (invented), page: 6-11}
  spring_free_length: {value: 2.020, unit: in, u: 0.010, document: Egret service book (invented), page: 6-10}
  spring_rate: {value: 270, unit: lbf/in, u: 4, document: Egret service book (invented), page: 6-10}
  spring_solid_height: {value: 1.150, unit: in, u: 0.005, document: Egret service book (invented), page: 6-10}
  hla_preload: {place: right/head, value: 0.041, unit: in, u: 0.004, note: "by the turns of the pivot nut, not read"}
  ptv_axial:
    - {for: inl, value: 0.110, unit: in, u: 0.002, note: clay}
    - {for: exh, value: 0.135, unit: in, u: 0.002, note: clay}
"""

WORK = """\
work:
  - {operation: skim, place: right/head, amount: 0.006, unit: in}
  - {operation: guide_replace, place: exh-3}
  - {operation: valve_replace, place: exh-3}
"""

PRICES = """\
# Price list of an invented works. Every figure and part number in it is made up.
format: witnessmark-prices-1
sheet: {name: HL-12, date: 2026-11-03, invented: yes, currency: GBP}
work:
  seat_cut: {cost: 12, minutes: 15, least: 0.001, most: 0.020, step: 0.001, tolerance: 0.0005, unit: in}
  relief_top: {cost: 4, minutes: 5, least: 0.001, most: 0.040, step: 0.001, tolerance: 0.001, unit: in}
  relief_bottom: {cost: 4, minutes: 5, least: 0.001, most: 0.040, step: 0.001, tolerance: 0.001, unit: in}
  face_grind: {cost: 6, minutes: 5, least: 0.001, most: 0.012, step: 0.001, tolerance: 0.0005, unit: in}
  spring_shim: {cost: 2, minutes: 3, tolerance: 0.0005, unit: in}
  skim: {cost: 65, minutes: 45, least: 0.002, most: 0.015, step: 0.001, tolerance: 0.0005, unit: in, wait: 1}
  gasket: {cost: 0, minutes: 0}
  guide_replace: {cost: 14, minutes: 18}
  valve_replace: {cost: 0, minutes: 5}
  spring_replace: {cost: 0, minutes: 4}
  pushrod_replace: {cost: 0, minutes: 2, tolerance: 0.001, unit: in}
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
  cam_replace: {cost: 40, minutes: 60}
  drive_replace: {cost: 50, minutes: 70}
  time_cam: {cost: 25, minutes: 40}
parts:
  - {id: head, fits: head_replace, cost: 620.00, number: invented, wait: 9,
     brings: {installed_height: {value: 1.695, u: 0.003, unit: in}, seat_width: {value: 0.080, u: 0.003, unit: in},
              chamber_volume: {value: 60.0, u: 0.2, unit: mL}}}
  - {id: camshaft, fits: cam_replace, cost: 160.00, number: invented, wait: 3}
  - {id: drive-kit, fits: drive_replace, cost: 74.00, number: invented, wait: 2}
  - {id: valve-inl, fits: valve_replace, for: inl, cost: 18.50, number: E50-311 (invented), wait: 2, unit: in,
     brings: {stem_diameter: {value: 0.3414, u: 0.0001}, margin: {value: 0.060, u: 0.002}}}
  - {id: valve-exh, fits: valve_replace, for: exh, cost: 23.00, number: E50-312 (invented), wait: 2, unit: in,
     brings: {stem_diameter: {value: 0.3406, u: 0.0001}, margin: {value: 0.060, u: 0.002}}}
  - {id: guide-inl, fits: guide_replace, for: inl, cost: 6.00, number: E50-321 (invented), unit: in,
     brings: {guide_bore: {value: 0.3432, u: 0.0001}}}
  - {id: guide-exh, fits: guide_replace, for: exh, cost: 6.00, number: E50-322 (invented), unit: in,
     brings: {guide_bore: {value: 0.3430, u: 0.0001}}}
  - {id: spring, fits: spring_replace, cost: 5.40, number: E50-341 (invented), wait: 1,
     brings: {spring_free_length: {value: 2.020, u: 0.005, unit: in}, spring_rate: {value: 270, u: 3, unit: lbf/in},
              spring_solid_height: {value: 1.150, u: 0.002, unit: in}}}
stock:
  pushrod_replace: {unit: in, sizes: [7.736, 7.766, 7.796, 7.826], cost: 8.50, wait: 1}
  spring_shim: {unit: in, sizes: [0.015, 0.030, 0.060], cost: 0.45, most: 0.060}
  gasket: {unit: in, sizes: [0.040, 0.052], cost: 38, tolerance: 0.001}
one_time: {head_gasket: 38.00, head_bolt: 2.10, stem_seal: 1.20, inlet_gasket: 24.00}
"""

BESIDE = """\
zero_checks:
  - {gauge: M-1, found: 0.0000, unit: in, against: closed, when: before, allowed: 0.0001, at: 2026-11-18T07:55:00Z, by: "A. T."}
  - {gauge: M-2, found: 0.0001, unit: in, against: standard 1.0000, when: before, allowed: 0.0001, at: 2026-11-18T07:56:00Z, by: "A. T."}
comparisons:
  - {first: M-1, second: M-2, on: stem of the new valve, first_read: 0.3414, second_read: 0.3415, unit: in, at: 2026-11-18T07:58:00Z, by: "A. T."}
decisions:
  - {id: dec-1, characteristic: stem_guide_clearance, place: exh-3, decision: replaced, operation: guide_replace, why: "worn at both ends, and the stem with it", at: 2026-11-18T10:30:00Z, by: "R. K."}
  - {id: dec-2, characteristic: head_cracks, place: chamber-6, decision: look again, why: pressure test of the right head once more with another plate, at: 2026-11-18T10:31:00Z, by: "R. K."}
"""
