"""Tern 2.0, the first demo: an inline four of sixteen valves that came in overheated; one of everything that happens.

The first 134 values are older than the rest and stand as they were: lessons are played on them.
"""

import random

from demo.kit import FACE, ROUND, Bench, entry, stations

CHANCE = random.Random(147)
VALVES = [f"{side}-{number}{position}" for side in ("inl", "exh") for number in range(1, 5) for position in "fr"]
STATIONS = [f"{height}/{way}" for height in ("top", "middle", "bottom") for way in ("along", "across")]
PEOPLE = ("J. M.", "R. K.")

# least stem diameter of each valve, and most clearance in its guide; the rest of a valve is drawn round them
STEM = {"inl-1f": 5.961, "inl-1r": 5.931, "inl-2f": 5.941, "inl-2r": 5.955, "inl-3f": 5.952, "inl-3r": 5.963,
        "exh-1f": 5.946, "exh-1r": 5.949, "exh-2f": 5.951, "exh-2r": 5.944, "exh-3f": 5.938, "exh-3r": 5.947,
        "exh-4f": 5.950, "exh-4r": 5.945}  # fmt: skip
CLEARANCE = {"inl-1f": 0.046, "inl-1r": 0.121, "inl-2f": 0.075, "inl-2r": 0.050, "inl-3f": 0.052, "inl-3r": 0.044,
             "inl-4f": 0.0, "inl-4r": 0.0, "exh-1f": 0.066, "exh-1r": 0.061, "exh-2f": 0.070, "exh-2r": 0.072,
             "exh-3f": 0.113, "exh-3r": 0.097, "exh-4f": 0.064, "exh-4r": 0.068}  # fmt: skip
RUNOUT = {"inl-1r": 0.060, "inl-3r": 0.044, "exh-3f": 0.049}
WIDTH = {"exh-3f": 2.3, "exh-1f": 1.9, "exh-2r": 1.9}
MARGIN = {"exh-3f": 0.71, "exh-4f": 0.82, "inl-1r": 0.95}
STEM_HEIGHT = {"exh-3f": 44.31}
INSTALLED = {"exh-3f": 38.37, "inl-1r": 38.28}
LASH = {"inl-1r": ("0.12", "0.14"), "exh-3f": ("0.14", "0.16"), "exh-1r": ("0.24", "0.26")}


def job() -> str:
    """The job file."""
    CHANCE.seed(147)
    first = Bench(1469, "2026-11-23", 15, ("J. M.",))
    casting(first)
    morning = "".join(clocked(list(readings())))
    return f"{HEAD}{GEOMETRY}readings:\n{first.clocked()}{morning}{noon().clocked()}{afternoon().clocked()}{BESIDE}{WORK}"


def noon() -> Bench:
    """The lash shims of every valve that the afternoon does not read again, and what the retainers leave the seals."""
    bench = Bench(1471, "2026-11-24", 12, ("R. K.",))
    for valve in VALVES:
        if valve not in ("inl-1r", "exh-1r", "exh-3f"):
            bench.read("lash_shim", valve, "M-07", f"{2.60 + bench.chance.randrange(-3, 4) * 0.02:.3f}")
    bench.each("retainer_seal_gap", VALVES, "D-01", (11.40, 0.05, 0.01))
    return bench


def afternoon() -> Bench:
    """What was looked at and measured after the first round: the cam line, springs, drive and bolts."""
    bench = Bench(1470, "2026-11-24", 13, ("R. K.", "J. M."))
    for place, shim in (("inl-1r", "2.662"), ("exh-1r", "2.581"), ("exh-3f", "2.704")):
        bench.read("lash_shim", place, "M-07", shim)
    cam_line(bench)
    moving(bench)
    fasteners(bench)
    return bench


def casting(bench: Bench) -> None:
    """Before anything else: penetrant over the four chambers, the jacket under air; then the face for the cover."""
    chambers = [f"chamber-{number}" for number in range(1, 5)]
    bench.look("head_cracks", stations(chambers, ("between-seats", "seat-to-plug", "deck")), "none", "penetrant",
               {"chamber-3/between-seats": "says: crack, how_much: 4, unit: mm, method: penetrant, mark: {x: 0.46, y: 0.38}, "
                "note: bridge between the exhaust seats"})  # fmt: skip
    bench.look("jacket_pressure_test", ["head"], "holds", "pressure_air",
               {"head": "says: holds, how_much: 150, unit: kPa, method: pressure_air, note: ten minutes in water at 20 degrees"})
    bench.gaps("upper_face_flatness", stations(["upper-face"], FACE), "L-04", "0.03 0.04",
               {"upper-face/diagonal-1": "0.05 0.06", "upper-face/inlet-edge": "0.04 0.05"})


def cam_line(bench: Bench) -> None:
    """Cam bores with their caps tightened, by a bore gauge set to 25.000; end play of both camshafts."""
    journals = [f"{cam}/journal-{n}" for cam in ("cam-inl", "cam-exh") for n in range(1, 6)]
    for place in stations(journals, ROUND):
        worn = 0.006 if place.startswith("cam-inl/journal-1") else 0.0
        deviation = round((bench.draw(0.014, 0.002) + worn) / 0.002) * 0.002
        bench.read("cam_bore_diameter", place, "B-25", f"{deviation:+.3f}", "setting: s2")
    bench.each("cam_end_play", ("cam-inl", "cam-exh"), "R-01", (0.13, 0.02, 0.001), {"cam-exh": "0.212"})


def moving(bench: Bench) -> None:
    """Blue at every seat, the old seals, and the springs of cylinders 2 and 3 on the tester."""
    seen = {"exh-3f": "says: high, method: blue", "inl-3r": "says: faint, method: blue, note: too little blue"}
    bench.look("seat_contact_position", VALVES, "centred", "blue", seen)
    seals = {"inl-1r": "says: torn, method: by_hand", "exh-3f": "says: hard, method: by_hand",
             "exh-1f": "says: seated, method: eye, note: spring still on"}  # fmt: skip
    bench.look("stem_seal", VALVES, "seated", "by_hand", seals)
    tested = [valve for valve in VALVES if valve[4] in "23"]
    bench.each("tall_load", tested, "T-01", (297, 3, 1), {"exh-3f": "262", "exh-2r": "279"})
    bench.each("short_load", tested, "T-01", (581, 4, 1), {"exh-3f": "534", "exh-2r": "566"})


def fasteners(bench: Bench) -> None:
    """The drive as far as it is in reach, and eight of the ten head bolts."""
    for n, length in enumerate(("153.26", "153.20", "153.24"), 1):
        bench.read("chain_length", f"drive/{n}", "C-03", length)
    bench.read("tensioner_extension", "drive", "C-03", "11.40")
    bench.look("sprocket_teeth", ["drive/cam"], "even", "lens")
    bolts = [f"bolt-{n}" for n in range(1, 9)]
    bench.each("bolt_length", bolts, "C-03", (110.22, 0.05, 0.01), {"bolt-7": "111.14"})
    bench.each("bolt_full_diameter", bolts, "M-C", (9.91, 0.005, 0.01))
    bench.each("bolt_least_diameter", bolts, "M-C", (9.89, 0.005, 0.01), {"bolt-7": "9.64"})


def readings():
    """Every reading as the mapping's inside, in the order in which the bench took them."""
    yield from flatness()
    yield from valves()
    yield from cams()


def flatness():
    """Straight-edge and leaves on the gasket face and the manifold faces; height at five places."""
    for line, gap in (("inlet-edge", "0.03 0.04"), ("exhaust-edge", "0.04 0.05"), ("front-end", "0.02 0.03"),
                      ("rear-end", "0.02 0.03"), ("diagonal-1", "0.06 0.07"), ("diagonal-2", "0.04 0.05")):  # fmt: skip
        yield entry("head_flatness", f"gasket-face/{line}", "L-04", gap)
    for face, gaps in (
        ("inlet-face", ("0.04 0.05", "0.05 0.06", "0.05 0.06")),
        ("exhaust-face", ("0.08 0.09", "0.10 0.12", "0.09 0.10")),
    ):
        for number, gap in enumerate(gaps, 1):
            yield entry("manifold_face_flatness", f"{face}/line-{number}", "L-04", gap)
    for number, height in enumerate(("132.84", "132.85", "132.84", "132.86", "132.85"), 1):
        yield entry("head_height", f"head/height-{number}", "H-01", height)


def valves():
    """Stems, guides, seats, margins, heights, springs, lash."""
    yield from stems()
    for valve in VALVES:
        yield entry("margin", valve, "C-03", f"{MARGIN.get(valve, draw(1.15, 0.06)):.2f}")
    yield from guides()
    for valve in VALVES:
        usual = 1.3 if valve.startswith("inl") else 1.7
        for station in "12":
            yield entry("seat_width", f"{valve}/{station}", "G-01", f"{WIDTH.get(valve, draw(usual, 0.03)):.1f}")
    for valve in VALVES:
        yield entry("seat_runout", valve, "R-01", f"{RUNOUT.get(valve, draw(0.022, 0.005)):.3f}")
    for valve in VALVES:
        yield entry("stem_height", valve, "D-01", f"{STEM_HEIGHT.get(valve, draw(44.0, 0.04)):.2f}")
    for valve in VALVES:
        yield entry("spring_free_length", valve, "C-03", f"{draw(47.9, 0.07):.2f}")
    for valve in VALVES:
        yield entry("installed_height", valve, "D-01", f"{INSTALLED.get(valve, draw(38.03, 0.04)):.2f}")
    for valve in VALVES[:-2]:
        usual = ("0.18", "0.20") if valve.startswith("inl") else ("0.28", "0.30")
        yield entry("valve_lash", valve, "L-04", " ".join(LASH.get(valve, usual)))


def stems():
    """Six stations a stem; two valves are not read yet, one reading is asked back, one corrected, one repeated."""
    for valve, least in STEM.items():
        worst = "middle/across" if valve != "inl-2r" else "bottom/along"
        for station in STATIONS:
            value = least if station == worst else least + abs(draw(0.006, 0.002))
            yield from stem(valve, station, f"{value:.3f}")


def stem(valve: str, station: str, raw: str):
    """One stem reading, with what happened to it."""
    place = f"{valve}/{station}"
    if place == "inl-2r/middle/across":
        yield entry("stem_diameter", place, "M-07", "0.2351", "question: inch_or_mm, id: asked-1")
    elif place == "exh-2f/top/along":
        yield entry("stem_diameter", place, "M-07", "5.591", "id: digits-1")
        yield f"id: digits-2, supersedes: digits-1, reason: misread, raw: {raw}"
    else:
        yield entry("stem_diameter", place, "M-07", raw)
        if place == "inl-2f/middle/across":
            yield entry("stem_diameter", place, "M-07", "5.942", 'note: "once more, stem wiped"')


def guides():
    """Guide bores as deviations from the set size 6.000; where the stem is missing the bore is read all the same."""
    for valve in VALVES:
        least = STEM.get(valve, 5.960)
        clearance = CLEARANCE[valve] or 0.048
        for station in STATIONS:
            inner = 0.0 if station == "middle/across" else abs(draw(0.007, 0.002))
            deviation = round((least + clearance - 6.0 - inner) / 0.002) * 0.002
            yield entry("guide_bore", f"{valve}/{station}", "B-02", f"{deviation:+.3f}", "setting: s1")


def cams():
    """Runout at the middle journals; diameters of the inlet camshaft only."""
    for cam in ("cam-inl", "cam-exh"):
        for journal in (2, 3, 4):
            yield entry("cam_runout", f"{cam}/journal-{journal}", "R-01", f"{abs(draw(0.012, 0.004)):.3f}")
    for journal in range(1, 6):
        for station in ("front/along", "front/across", "rear/along", "rear/across"):
            yield entry(
                "cam_journal_diameter", f"cam-inl/journal-{journal}/{station}", "M-25", f"{24.962 + draw(0, 0.002):.3f}"
            )


def draw(middle: float, spread: float) -> float:
    """One draw, kept within two and a half spreads."""
    return middle + max(-2.5, min(2.5, CHANCE.gauss(0, 1))) * spread


def clocked(lines: list[str]) -> list[str]:
    """Readings with their times, some eight seconds apart, one person in the morning and one after."""
    second = 0
    found = []
    for n, line in enumerate(lines):
        second += CHANCE.choice((6, 7, 8, 9, 12))
        hour, rest = divmod(second, 3600)
        at = f"2026-11-24T{9 + hour:02d}:{rest // 60:02d}:{rest % 60:02d}Z"
        person = PEOPLE[0] if n < len(lines) * 0.7 else PEOPLE[1]
        found.append(f'  - {{{line}, at: {at}, by: "{person}"}}\n')
    return found


LIMITS = """\
# Limit sheet of an invented engine. Every figure, document and page in it is made up.
format: witnessmark-limits-1
sheet: {name: TN-3, document: Tern workshop book (invented), invented: yes, doubt: must be proven good}
limits:
  head_flatness:
    - {service: {high: 0.05}, unit: mm, page: 40}
  manifold_face_flatness:
    - {place: inlet-face, service: {high: 0.10}, unit: mm, page: 40}
    - {place: exhaust-face, service: {high: 0.15}, unit: mm, page: 40}
  head_height:
    - {service: {low: 132.64}, new: {low: 132.95, high: 133.05}, unit: mm, page: 40}
  stem_diameter:
    - {for: inl, service: {low: 5.940}, new: {low: 5.965, high: 5.980}, unit: mm, stations: worst, page: 41}
    - {for: exh, service: {low: 5.925}, new: {low: 5.950, high: 5.965}, unit: mm, stations: worst, page: 41}
  margin:
    - {service: {low: 0.8}, unit: mm, page: 41}
  stem_guide_clearance:
    - {for: inl, service: {high: 0.080}, new: {low: 0.025, high: 0.055}, unit: mm, stations: worst, page: 42}
    - {for: exh, service: {high: 0.100}, new: {low: 0.040, high: 0.070}, unit: mm, stations: worst, page: 42}
  seat_width:
    - {for: inl, service: {low: 1.0, high: 1.6}, unit: mm, page: 43}
    - {for: exh, service: {low: 1.4, high: 2.0}, unit: mm, page: 43}
  seat_runout:
    - {service: {high: 0.05}, unit: mm, page: 43}
  stem_height:
    - {service: {low: 43.75, high: 44.25}, unit: mm, page: 44}
  spring_free_length:
    - {service: {low: 47.5}, unit: mm, page: 45}
  installed_height:
    - {service: {low: 37.8, high: 38.3}, unit: mm, page: 45}
  valve_lash:
    - {for: inl, service: {low: 0.15, high: 0.25}, unit: mm, page: 46}
    - {for: exh, service: {low: 0.25, high: 0.35}, unit: mm, page: 46}
  cam_runout:
    - {service: {high: 0.03}, unit: mm, page: 47}
  cam_journal_diameter:
    - {service: {low: 24.940}, new: {low: 24.957, high: 24.970}, unit: mm, page: 47}
  lobe_lift:
    - {service: {low: 9.35}, new: {low: 9.45, high: 9.55}, unit: mm, page: 48}
  head_cracks:
    - {accept: [none], page: 39}
  jacket_pressure_test:
    - {accept: [holds], page: 39}
  upper_face_flatness:
    - {service: {high: 0.10}, unit: mm, page: 40}
  cam_bore_diameter:
    - {service: {high: 25.041}, new: {low: 25.000, high: 25.021}, unit: mm, page: 47}
  cam_oil_clearance:
    - {service: {high: 0.080}, new: {low: 0.030, high: 0.064}, unit: mm, page: 47}
  cam_end_play:
    - {service: {high: 0.20}, new: {low: 0.08, high: 0.16}, unit: mm, page: 47}
  seat_contact_position:
    - {accept: [centred], page: 43}
  stem_seal:
    - {accept: [seated], page: 45}
  valve_lift:
    - {given: 9.50, unit: mm, page: 48}
  tall_height:
    - {given: 38.00, unit: mm, page: 45}
  short_height:
    - {given: 28.50, unit: mm, page: 45}
  tall_load:
    - {service: {low: 276}, new: {low: 291, high: 321}, unit: N, page: 45}
  short_load:
    - {service: {low: 548}, new: {low: 570, high: 612}, unit: N, page: 45}
  spring_solid_height:
    - {given: 26.00, unit: mm, page: 45}
  seat_load:
    - {service: {low: 265}, unit: N, page: 45}
  coil_bind_clearance:
    - {service: {low: 1.0}, unit: mm, page: 45}
  chain_length_new:
    - {given: 153.20, unit: mm, page: 49}
  chain_elongation:
    - {service: {high: 1.0}, unit: "%", page: 49, to_check: yes}
  tensioner_extension:
    - {service: {high: 15}, unit: mm, page: 49}
  sprocket_teeth:
    - {accept: [even], page: 49}
  bolt_length:
    - {service: {high: 110.6}, unit: mm, page: 50}
  bolt_necking:
    - {service: {high: 0.10}, unit: mm, page: 50}
  ptv_axial:
    - {for: inl, service: {low: 1.20}, unit: mm, page: 51}
    - {for: exh, service: {low: 1.60}, unit: mm, page: 51}
  cam_timing:
    - {service: {low: -1.0, high: 1.0}, unit: deg crank, page: 51}
  compression_ratio:
    - {service: {low: 9.8, high: 10.2}, unit: "1", page: 51}
  squish:
    - {service: {low: 1.0, high: 1.4}, unit: mm, page: 51}
operations:
  skim: {allowed: up to, most: 0.20, unit: mm, page: 40}
  manifold_skim: {allowed: up to, most: 0.30, unit: mm, page: 40}
  tip_grind: {allowed: up to, most: 0.20, unit: mm, page: 44}
  seat_cut: {allowed: yes, page: 43}
  face_grind: {allowed: up to, most: 0.20, unit: mm, page: 41}
  spring_shim: {allowed: up to, most: 0.50, unit: mm, page: 45}
  gasket: {allowed: yes, page: 51}
  head_shim: {allowed: no, page: 40}
  lash_cap: {allowed: no, page: 44}
  seat_insert: {allowed: yes, page: 43}
  straighten: {allowed: unknown}
"""

HEAD = """\
# A job that nobody did: works, engine, people and figures are invented. Written by tools/make_demo.py.
format: witnessmark-job-1
job:
  id: HL-0147
  engine: Tern 2.0
  invented: true
  works: Harbour Lane Engine Works
  customer: Quay Deliveries (invented)
  complaint: overheated, head off
  engine_number: T20-004711
  head_number: T20-1101-3
  casting_number: T20-1101
  distance: 184300 km
  received: 2026-11-20
engine:
  layout: inline
  cylinders: 4
  valves: {inl: [f, r], exh: [f, r]}
  gear: bucket_shim
  cams: 2
  head: aluminium
  block: iron
  seal: positive
  fuel: petrol
  cooling: liquid
gauges:
  M-07: {kind: micrometer, unit: mm, resolution: 0.001, calibration: {U: 0.002, k: 2, date: 2026-03-02, due: 2027-03-01, certificate: HL-C-31}, repeatability: {s: 0.0012, n: 20}}
  M-25: {kind: micrometer, unit: mm, resolution: 0.001, calibration: {U: 0.002, k: 2, date: 2026-03-02, due: 2027-03-01, certificate: HL-C-32}, repeatability: {s: 0.0012, n: 20}}
  B-02: {kind: dial_bore, unit: mm, resolution: 0.002, permissible_error: 0.004, repeatability: {s: 0.0015, n: 15}}
  L-04: {kind: leaves, unit: mm, set: [0.02, 0.03, 0.04, 0.05, 0.06, 0.07, 0.08, 0.09, 0.10, 0.12, 0.14, 0.16, 0.18, 0.20, 0.22, 0.24, 0.26, 0.28, 0.30, 0.32, 0.34, 0.36], leaf_error: 0.001}
  W-01: {kind: torque_wrench, unit: N·m, resolution: 1, permissible_error: 2, reads_from: 10, reads_to: 60, lever: 400 mm}
  A-01: {kind: angle_gauge, unit: deg, resolution: 1, permissible_error: 4}
  C-03: {kind: caliper, unit: mm, resolution: 0.01, calibration: {U: 0.02, k: 2, date: 2026-01-14}, repeatability: {s: 0.01, n: 15}}
  D-01: {kind: depth_gauge, unit: mm, resolution: 0.01, calibration: {U: 0.010, k: 2, date: 2026-01-14}, repeatability: {s: 0.008, n: 12}}
  H-01: {kind: height_gauge, unit: mm, resolution: 0.01, calibration: {U: 0.012, k: 2, date: 2025-11-30}, repeatability: {s: 0.006, n: 12}}
  R-01: {kind: indicator, unit: mm, resolution: 0.001, calibration: {U: 0.004, k: 2, date: 2026-05-20}, repeatability: {s: 0.002, n: 15}}
  G-01: {kind: graticule, unit: mm, resolution: 0.1, calibration: {U: 0.04, k: 2, date: 2024-09-01}, repeatability: {s: 0.03, n: 10}}
  B-25: {kind: dial_bore, unit: mm, resolution: 0.002, permissible_error: 0.004, repeatability: {s: 0.0015, n: 15}}
  M-C: {kind: micrometer_coarse, unit: mm, resolution: 0.01, calibration: {U: 0.006, k: 2, date: 2026-03-02, due: 2027-03-01, certificate: HL-C-33}, repeatability: {s: 0.003, n: 15}}
  T-01: {kind: spring_tester, unit: N, resolution: 1, calibration: {U: 5, k: 2, date: 2025-09-01, due: 2026-09-01, certificate: HL-C-18}, repeatability: {s: 1.5, n: 10}}
settings:
  - {id: s1, gauge: B-02, set_to: 6.000, with: M-07}
  - {id: s2, gauge: B-25, set_to: 25.000, with: M-25}
limits: tern-limits.yaml
prices: tern-prices.yaml
"""

GEOMETRY = """\
geometry:
  bore: {value: 86.00, unit: mm, u: 0.01, document: Tern workshop book (invented), page: 5}
  stroke: {value: 86.00, unit: mm, document: Tern workshop book (invented), page: 5}
  rod_length: {value: 143.00, unit: mm, document: Tern workshop book (invented), page: 5}
  chamber_volume: {value: 44.0, unit: mL, u: 0.1, note: burette and plate}
  chamber_area: {value: 4531, unit: mm2, u: 20, note: "0.78 of the bore, from a print of the face"}
  deck_clearance: {value: 0.20, unit: mm, u: 0.01, note: "depth gauge, over the pin"}
  crown_volume: {value: 4.0, unit: mL, u: 0.05, document: Tern workshop book (invented), page: 5}
  gasket_thickness: {value: 1.10, unit: mm, u: 0.01, document: Tern workshop book (invented), page: 51}
  gasket_bore: {value: 87.0, unit: mm, document: Tern workshop book (invented), page: 51}
  valve_head_diameter:
    - {for: inl, value: 33.0, unit: mm, u: 0.05}
    - {for: exh, value: 28.0, unit: mm, u: 0.05}
  valve_angle: {value: 15, unit: deg, document: Tern workshop book (invented), page: 5}
  seat_angle: {value: 45, unit: deg, document: Tern workshop book (invented), page: 43}
  face_angle: {value: 45, unit: deg, document: Tern workshop book (invented), page: 41}
  spring_rate: {value: 30.0, unit: N/mm, u: 0.4, document: Tern workshop book (invented), page: 45}
  valve_length:
    - {for: inl, value: 103.10, unit: mm, u: 0.02}
    - {for: exh, value: 102.60, unit: mm, u: 0.02}
  tip_to_groove: {value: 3.60, unit: mm, u: 0.02}
  ptv_axial:
    - {for: inl, value: 1.62, unit: mm, u: 0.03, note: check springs and indicator}
    - {for: exh, value: 1.94, unit: mm, u: 0.03, note: check springs and indicator}
  ptv_crank_angle: {value: 10, unit: deg crank}
  cam_sprocket_radius: {value: 50.0, unit: mm, note: pitch diameter 100}
  crank_sprocket_radius: {value: 25.0, unit: mm}
  drive_centre_distance: {value: 400, unit: mm}
  tight_span: {value: 399.2, unit: mm}
  tensioner_ratio: {value: 0.5, unit: "1"}
"""

WORK = """\
work:
  - {operation: skim, place: head, amount: 0.15, unit: mm}
  - {operation: seat_cut, place: exh-3f, amount: 0.20, unit: mm}
  - {operation: face_grind, place: exh-3f, amount: 0.05, unit: mm}
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
  spring_shim: {cost: 3, minutes: 3, tolerance: 0.01, unit: mm}
  lash_shim: {cost: 2, minutes: 4, tolerance: 0.005, unit: mm}
  skim: {cost: 85, minutes: 50, least: 0.03, most: 0.40, step: 0.01, tolerance: 0.01, unit: mm, wait: 1}
  manifold_skim: {cost: 60, minutes: 40, least: 0.03, most: 0.40, step: 0.01, tolerance: 0.02, unit: mm, wait: 1}
  straighten: {cost: 120, minutes: 90, tolerance: 0.04, unit: mm, wait: 2}
  gasket: {cost: 0, minutes: 0}
  guide_replace: {cost: 16, minutes: 18}
  seat_insert: {cost: 38, minutes: 45, wait: 1}
  valve_replace: {cost: 0, minutes: 5}
  spring_replace: {cost: 0, minutes: 4}
  drive_replace: {cost: 70, minutes: 90}
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
  time_cam: {cost: 25, minutes: 40}
parts:
  - {id: head, fits: head_replace, cost: 780.00, number: invented, wait: 9,
     brings: {head_height: {value: 133.00, u: 0.02, unit: mm}, stem_height: {value: 44.00, u: 0.03, unit: mm},
              installed_height: {value: 38.05, u: 0.03, unit: mm}, chamber_volume: {value: 44.0, u: 0.1, unit: mL}}}
  - {id: camshaft, fits: cam_replace, cost: 160.00, number: invented, wait: 3}
  - {id: valve-inl, fits: valve_replace, for: inl, cost: 29.00, number: T20-311 (invented), wait: 2, unit: mm,
     brings: {stem_diameter: {value: 5.972, u: 0.002}, margin: {value: 1.20, u: 0.03}, valve_length: {value: 103.10, u: 0.02}}}
  - {id: valve-exh, fits: valve_replace, for: exh, cost: 34.00, number: T20-312 (invented), wait: 2, unit: mm,
     brings: {stem_diameter: {value: 5.958, u: 0.002}, margin: {value: 1.20, u: 0.03}, valve_length: {value: 102.60, u: 0.02}}}
  - {id: guide-inl, fits: guide_replace, for: inl, cost: 9.50, number: T20-321 (invented), unit: mm,
     brings: {guide_bore: {value: 6.010, u: 0.002}}}
  - {id: guide-exh, fits: guide_replace, for: exh, cost: 9.50, number: T20-322 (invented), unit: mm,
     brings: {guide_bore: {value: 6.012, u: 0.002}}}
  - {id: insert-inl, fits: seat_insert, for: inl, cost: 14.00, number: T20-331 (invented), wait: 2, unit: mm,
     brings: {seat_width: {value: 1.30, u: 0.05}}}
  - {id: insert-exh, fits: seat_insert, for: exh, cost: 15.00, number: T20-332 (invented), wait: 2, unit: mm,
     brings: {seat_width: {value: 1.70, u: 0.05}}}
  - {id: spring, fits: spring_replace, cost: 7.20, number: T20-341 (invented), wait: 1,
     brings: {spring_free_length: {value: 48.00, u: 0.10, unit: mm}, spring_rate: {value: 30.2, u: 0.3, unit: N/mm},
              spring_solid_height: {value: 26.00, u: 0.05, unit: mm}}}
  - {id: chain-kit, fits: drive_replace, cost: 148.00, number: T20-501 (invented), wait: 2,
     brings: {tensioner_extension: {value: 6.0, u: 0.3, unit: mm}}}
stock:
  lash_shim: {unit: mm, from: 2.00, to: 3.00, step: 0.02, cost: 9.00, on_hand: {2.48: 1, 2.52: 2, 2.56: 1, 2.60: 3}}
  spring_shim: {unit: mm, sizes: [0.25, 0.50], cost: 0.60, most: 1.5}
  gasket: {unit: mm, sizes: [1.10, 1.40], cost: 64, tolerance: 0.02}
one_time: {head_gasket: 64.00, head_bolt: 4.20, stem_seal: 2.10, cover_gasket: 18.00, coolant: 22.00}
"""

# The springs of cylinders 1 and 4 stay where they are; then what was checked, decided and answered.
BESIDE = (
    "waived:\n"
    + "".join(
        f"  - {{characteristic: {name}, place: {valve}, reason: not measured}}\n"
        for name in ("tall_load", "short_load")
        for valve in VALVES
        if valve[4] in "14"
    )
    + """\
zero_checks:
  - {gauge: M-07, found: 0.000, against: closed, when: before, allowed: 0.002, at: 2026-11-24T08:58:00Z, by: "J. M."}
  - {gauge: M-25, found: 0.001, against: master 25.000 HL-E-25, when: before, allowed: 0.002, at: 2026-11-24T08:59:00Z, by: "J. M."}
  - {gauge: M-07, found: 0.001, against: closed, when: after, allowed: 0.002, at: 2026-11-24T13:40:00Z, by: "J. M."}
  - {gauge: M-25, found: 0.001, against: master 25.000 HL-E-25, when: after, allowed: 0.002, at: 2026-11-24T13:41:00Z, by: "J. M."}
decisions:
  - {id: dec-1, characteristic: stem_diameter, place: inl-1r, decision: replaced, operation: valve_replace, why: "worn in the middle, and its guide with it", at: 2026-11-24T13:50:00Z, by: "J. M."}
  - {id: dec-2, characteristic: seat_width, place: exh-3f, decision: machined, operation: seat_cut, why: wide and sunk; band lies high on the face, at: 2026-11-24T13:51:00Z, by: "J. M."}
  - {id: dec-3, characteristic: head_cracks, place: chamber-3, decision: look again, why: "hair of 4 mm; after the seats are cut, penetrant once more", at: 2026-11-24T13:52:00Z, by: "J. M."}
customer:
  - {about: [dec-1, dec-2], answer: "yes", ceiling: "620", currency: EUR, said_by: Quay Deliveries (invented), note: by telephone, at: 2026-11-24T14:05:00Z, by: "J. M."}
"""
)
