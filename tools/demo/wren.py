"""Wren 125, the third demo: a single with screw-adjusted rockers, measured with what a small shop owns.

Its lesson: a caliper and a micrometer of hundredths leave much too close to call. And the caliper was found off its
zero at the end, so what it read last is asked for once more.
"""

from demo.kit import FACE, Bench, stations

VALVES = ("inl-1", "exh-1")
HEIGHTS = ("top/along", "top/across", "middle/along", "middle/across", "bottom/along", "bottom/across")


def job() -> str:
    """The job file."""
    bench = Bench(125, "2026-11-12", 16, ("T. B.",))
    head(bench)
    stems(bench)
    seats(bench)
    rocking(bench)
    springs(bench)
    return HEAD + GEOMETRY + "readings:\n" + bench.clocked() + BESIDE + WORK


def head(bench: Bench) -> None:
    """By eye only: there is no penetrant in the shop."""
    bench.look("head_cracks", stations(["chamber-1"], ("between-seats", "seat-to-plug", "deck")), "none", "eye")
    bench.gaps("head_flatness", stations(["gasket-face"], FACE), "L-1", "0.03 0.04",
               {"gasket-face/diagonal-2": "0.04 0.06", "gasket-face/front-end": "0.02 0.03"})
    bench.gaps("valve_lash", VALVES, "L-1", "0.04 0.06", {"exh-1": "0.10 0.12"})


def stems(bench: Bench) -> None:
    """A micrometer of hundredths on stems that wear in thousandths; guides by small-hole gauge over the same."""
    for valve, least in (("inl-1", 5.47), ("exh-1", 5.45)):
        for station in HEIGHTS:
            worn = station in {"inl-1": ("bottom/along",), "exh-1": ("top/along", "bottom/along")}[valve]
            bench.read("stem_diameter", f"{valve}/{station}", "M-1", f"{least if worn else least + 0.01:.2f}")
    for valve, most in (("inl-1", 5.52), ("exh-1", 5.53)):
        for station in HEIGHTS[:2] + HEIGHTS[4:] if valve == "exh-1" else HEIGHTS:
            inner = {"top": 0.0, "middle": 0.01, "bottom": 0.0}[station.partition("/")[0]]
            bench.read("guide_bore", f"{valve}/{station}", "S-1", f"{most - inner:.2f}")


def seats(bench: Bench) -> None:
    """Margins, the width of the seats, liquid in the ports."""
    bench.each("margin", VALVES, "C-1", (0.9, 0.05, 0.02), {"inl-1": "0.92", "exh-1": "0.52"})
    bench.each("seat_width", stations(VALVES, "12"), "G-1", (1.2, 0.05, 0.1), {"exh-1/2": "1.5"})
    bench.look("seat_seal_test", VALVES, "holds", "liquid", {"exh-1": "says: slow, method: liquid, note: damp after a minute"})


def rocking(bench: Bench) -> None:
    """Rockers, their shafts and pads; the cam lobes."""
    for valve, bore in (("inl-1", "10.01"), ("exh-1", "10.03")):
        for station in ("along", "across"):
            bench.read("rocker_bore", f"{valve}/{station}", "S-1", bore)
    for valve, worn in (("inl-1", ("9.98", "9.98")), ("exh-1", ("9.96", "9.97"))):
        for station, size in zip(("along", "across"), worn, strict=True):
            bench.read("rocker_shaft_diameter", f"{valve}/{station}", "M-1", size)
    bench.each("rocker_pad", VALVES, "I-1", (0.02, 0.0, 0.01), {"exh-1": "0.09"})
    for place, size in (("cam/lobe-inl-1/front", "26.18"), ("cam/lobe-inl-1/rear", "26.18"),
                        ("cam/lobe-exh-1/front", "25.91"), ("cam/lobe-exh-1/rear", "25.92")):  # fmt: skip
        bench.read("lobe_height", place, "M-1", size, "id: last-of-cam" if place.endswith("exh-1/rear") else "")


def springs(bench: Bench) -> None:
    """After the caliper was checked in between: springs, chain tensioner and bolts. Two bolts are still in the block."""
    bench.read("spring_free_length", "inl-1", "C-1", "34.30")
    bench.read("spring_free_length", "exh-1", "C-1", "33.62")
    bench.read("installed_height", "inl-1", "C-1", "28.54")
    bench.read("tensioner_extension", "drive", "C-1", "9.80")
    bench.each("bolt_length", ("bolt-1", "bolt-2"), "C-1", (96.1, 0.02, 0.02))
    bench.read("cam_end_play", "cam", "I-1", "0.012", "question: inch_or_mm")


LIMITS = """\
# Limit sheet of an invented engine. Every figure, document and page in it is made up.
format: witnessmark-limits-1
sheet: {name: W-125, document: Wren owner's workshop sheet (invented), invented: yes, doubt: must be proven good}
limits:
  head_cracks:
    - {accept: [none], page: 3}
  head_flatness:
    - {service: {high: 0.05}, unit: mm, page: 3}
  valve_lash:
    - {for: inl, service: {low: 0.03, high: 0.07}, unit: mm, page: 2}
    - {for: exh, service: {low: 0.05, high: 0.09}, unit: mm, page: 2}
  stem_diameter:
    - {for: inl, service: {low: 5.465}, new: {low: 5.475, high: 5.490}, unit: mm, page: 4}
    - {for: exh, service: {low: 5.450}, new: {low: 5.460, high: 5.475}, unit: mm, page: 4}
  guide_bore:
    - {service: {high: 5.530}, new: {low: 5.500, high: 5.512}, unit: mm, page: 4}
  stem_guide_clearance:
    - {for: inl, service: {high: 0.060}, unit: mm, stations: worst, page: 4}
    - {for: exh, service: {high: 0.080}, unit: mm, stations: worst, page: 4}
  margin:
    - {service: {low: 0.5}, unit: mm, page: 4}
  seat_width:
    - {service: {low: 0.9, high: 1.5}, unit: mm, page: 4}
  seat_seal_test:
    - {accept: [holds], page: 4}
  rocker_bore:
    - {service: {high: 10.030}, new: {low: 10.000, high: 10.015}, unit: mm, page: 5}
  rocker_shaft_clearance:
    - {service: {high: 0.060}, new: {low: 0.010, high: 0.035}, unit: mm, page: 5}
  rocker_pad:
    - {service: {high: 0.05}, unit: mm, page: 5}
  lobe_height:
    - {for: inl, service: {low: 26.00}, unit: mm, page: 5}
    - {for: exh, service: {low: 25.92}, unit: mm, page: 5}
  cam_end_play:
    - {service: {high: 0.60}, unit: mm, page: 5, to_check: yes}
  spring_free_length:
    - {service: {low: 33.6}, unit: mm, page: 6}
  installed_height:
    - {service: {high: 28.6}, unit: mm, page: 6}
  tensioner_extension:
    - {service: {high: 12}, unit: mm, page: 6}
  bolt_length:
    - {service: {high: 96.5}, unit: mm, page: 6}
  ptv_axial:
    - {for: inl, service: {low: 0.80}, unit: mm, page: 7}
    - {for: exh, service: {low: 1.00}, unit: mm, page: 7}
  cam_timing:
    - {service: {low: -2.0, high: 2.0}, unit: deg crank, page: 7}
  compression_ratio:
    - {service: {low: 8.6, high: 9.4}, unit: "1", page: 7}
  squish:
    - {service: {low: 0.7, high: 1.3}, unit: mm, page: 7}
operations:
  skim: {allowed: unknown}
  seat_cut: {allowed: yes, page: 4}
  face_grind: {allowed: up to, most: 0.20, unit: mm, page: 4}
  lash_adjust: {allowed: yes, page: 2}
  tip_grind: {allowed: no, page: 4}
  spring_shim: {allowed: up to, most: 0.50, unit: mm, page: 6}
"""

HEAD = """\
# A job that nobody did: works, engine, people and figures are invented. Written by tools/make_demo.py.
format: witnessmark-job-1
job:
  id: HL-0149
  engine: Wren 125
  invented: true
  works: Harbour Lane Engine Works
  customer: A private owner (invented)
  complaint: hard to start, ticks at idle
  engine_number: W125-20817
  distance: 31200 km
  received: 2026-11-11
engine:
  layout: inline
  cylinders: 1
  valves: {inl: 1, exh: 1}
  gear: rocker
  cams: 1
  cam_journals: 2
  head_bolts: 4
  head: aluminium
  block: iron
  drive: chain
  seal: umbrella
  fuel: petrol
  cooling: air
gauges:
  W-3: {kind: torque_wrench, unit: N·m, resolution: 0.5, permissible_error: 1, reads_from: 5, reads_to: 25, lever: 250 mm}
  C-1: {kind: caliper, unit: mm, resolution: 0.02, calibration: {U: 0.03, k: 2, date: 2024-06-01, due: 2026-06-01}, repeatability: {s: 0.012, n: 10}}
  M-1: {kind: micrometer_coarse, unit: mm, resolution: 0.01, calibration: {U: 0.006, k: 2, date: 2026-01-20, due: 2028-01-20}, repeatability: {s: 0.003, n: 10}}
  S-1: {kind: small_hole, unit: mm, resolution: 0.01, permissible_error: 0.010, repeatability: {s: 0.005, n: 10}, note: taken over M-1}
  L-1: {kind: leaves, unit: mm, set: [0.02, 0.03, 0.04, 0.06, 0.08, 0.10, 0.12, 0.15, 0.20, 0.25, 0.30], leaf_error: 0.003}
  I-1: {kind: indicator, unit: mm, resolution: 0.01, permissible_error: 0.02, repeatability: {s: 0.004, n: 10}}
  G-1: {kind: graticule, unit: mm, resolution: 0.1, permissible_error: 0.1, repeatability: {s: 0.05, n: 10}}
limits: wren-limits.yaml
prices: wren-prices.yaml
"""

GEOMETRY = """\
geometry:
  bore: {value: 52.00, unit: mm, u: 0.01, document: Wren owner's workshop sheet (invented), page: 7}
  stroke: {value: 58.00, unit: mm, document: Wren owner's workshop sheet (invented), page: 7}
  rod_length: {value: 100.0, unit: mm, document: Wren owner's workshop sheet (invented), page: 7}
  chamber_volume: {value: 14.2, unit: mL, u: 0.1, note: burette and plate}
  chamber_area: {value: 1490, unit: mm2, u: 15}
  deck_clearance: {value: 0.10, unit: mm, u: 0.02}
  crown_volume: {value: -1.0, unit: mL, u: 0.05, document: Wren owner's workshop sheet (invented), page: 7}
  gasket_thickness: {value: 0.90, unit: mm, u: 0.02, document: Wren owner's workshop sheet (invented), page: 7}
  gasket_bore: {value: 53.0, unit: mm, document: Wren owner's workshop sheet (invented), page: 7}
  valve_head_diameter:
    - {for: inl, value: 26.0, unit: mm, u: 0.05}
    - {for: exh, value: 22.0, unit: mm, u: 0.05}
  valve_angle: {value: 30, unit: deg, document: Wren owner's workshop sheet (invented), page: 7}
  rocker_ratio: {value: 1.20, unit: "1", u: 0.01, document: Wren owner's workshop sheet (invented), page: 5}
  head_height: {value: 88.10, unit: mm, u: 0.03, note: caliper over both faces}
  spring_rate: {value: 24, unit: N/mm, u: 0.6, document: Wren owner's workshop sheet (invented), page: 6}
  spring_solid_height: {value: 19.5, unit: mm, u: 0.1, document: Wren owner's workshop sheet (invented), page: 6}
  installed_height: {for: exh, value: 28.50, unit: mm, u: 0.03, document: Wren owner's workshop sheet (invented), page: 6}
  valve_lift: {value: 6.5, unit: mm, u: 0.05, document: Wren owner's workshop sheet (invented), page: 5}
  ptv_axial:
    - {for: inl, value: 1.15, unit: mm, u: 0.05, note: clay}
    - {for: exh, value: 1.40, unit: mm, u: 0.05, note: clay}
  cam_sprocket_radius: {value: 24.0, unit: mm}
  crank_sprocket_radius: {value: 12.0, unit: mm}
  drive_centre_distance: {value: 160, unit: mm}
  tight_span: {value: 159.5, unit: mm}
  tensioner_ratio: {value: 0.5, unit: "1"}
"""

WORK = """\
work:
  - {operation: seat_cut, place: exh-1, amount: 0.05, unit: mm}
"""

PRICES = """\
# Price list of an invented works. Every figure and part number in it is made up.
format: witnessmark-prices-1
sheet: {name: HL-11, date: 2026-11-03, invented: yes, currency: EUR}
work:
  seat_cut: {cost: 18, minutes: 20, least: 0.03, most: 0.40, step: 0.01, tolerance: 0.01, unit: mm}
  relief_top: {cost: 6, minutes: 6, least: 0.03, most: 0.80, step: 0.01, tolerance: 0.02, unit: mm}
  relief_bottom: {cost: 6, minutes: 6, least: 0.03, most: 0.80, step: 0.01, tolerance: 0.02, unit: mm}
  face_grind: {cost: 8, minutes: 6, least: 0.02, most: 0.20, step: 0.01, tolerance: 0.01, unit: mm}
  lash_adjust: {cost: 2, minutes: 5, tolerance: 0.01, unit: mm}
  spring_shim: {cost: 2, minutes: 3, tolerance: 0.01, unit: mm}
  skim: {cost: 55, minutes: 30, least: 0.03, most: 0.30, step: 0.01, tolerance: 0.01, unit: mm, wait: 1}
  guide_replace: {cost: 16, minutes: 18}
  valve_replace: {cost: 0, minutes: 5}
  spring_replace: {cost: 0, minutes: 4}
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
  - {id: head, fits: head_replace, cost: 210.00, number: invented, wait: 9,
     brings: {installed_height: {value: 28.40, u: 0.05, unit: mm}, seat_width: {value: 1.2, u: 0.05, unit: mm},
              chamber_volume: {value: 14.2, u: 0.1, unit: mL}}}
  - {id: camshaft, fits: cam_replace, cost: 160.00, number: invented, wait: 3}
  - {id: drive-kit, fits: drive_replace, cost: 74.00, number: invented, wait: 2}
  - {id: valve-inl, fits: valve_replace, for: inl, cost: 14.00, number: W125-311 (invented), wait: 3, unit: mm,
     brings: {stem_diameter: {value: 5.483, u: 0.002}, margin: {value: 0.95, u: 0.03}}}
  - {id: valve-exh, fits: valve_replace, for: exh, cost: 16.00, number: W125-312 (invented), wait: 3, unit: mm,
     brings: {stem_diameter: {value: 5.468, u: 0.002}, margin: {value: 0.95, u: 0.03}}}
  - {id: guide, fits: guide_replace, cost: 6.50, number: W125-321 (invented), unit: mm, brings: {guide_bore: {value: 5.506, u: 0.003}}}
  - {id: spring, fits: spring_replace, cost: 5.00, number: W125-341 (invented), wait: 3,
     brings: {spring_free_length: {value: 34.40, u: 0.05, unit: mm}, spring_rate: {value: 24, u: 0.4, unit: N/mm}}}
stock:
  spring_shim: {unit: mm, sizes: [0.25, 0.50], cost: 0.50, most: 0.50}
one_time: {head_gasket: 11.00, stem_seal: 1.60, cover_gasket: 4.00}
"""

BESIDE = """\
zero_checks:
  - {gauge: C-1, found: 0.00, unit: mm, against: closed, when: before, allowed: 0.02, at: 2026-11-12T15:58:00Z, by: "T. B."}
  - {gauge: M-1, found: 0.00, unit: mm, against: closed, when: before, allowed: 0.01, at: 2026-11-12T15:58:30Z, by: "T. B."}
  - {gauge: C-1, found: 0.00, unit: mm, against: closed, when: between, allowed: 0.02, follows: last-of-cam, at: 2026-11-12T16:08:00Z, by: "T. B."}
  - {gauge: C-1, found: 0.06, unit: mm, against: closed, when: after, allowed: 0.02, at: 2026-11-12T16:30:00Z, by: "T. B."}
decisions:
  - {id: dec-1, characteristic: rocker_pad, place: exh-1, decision: replaced, operation: follower_replace, why: hollow that a nail catches in, at: 2026-11-12T16:40:00Z, by: "T. B."}
customer:
  - {about: [dec-1], answer: "no", said_by: owner (invented), note: wants a used one tried first, at: 2026-11-12T17:10:00Z, by: "T. B."}
"""
