"""A large invented job for timing: sixteen cylinders, sixty-four valves, every station read; and the same in GTC.

GTC (a general uncertainty library from the registry) is the baseline: it is given the same readings with the same
shared sources and asked for the same u, degrees of freedom and chance of each reading and each derived value.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import inf, sqrt
from typing import Any

import numpy as np

from benchmarks import heads
from benchmarks.heads import Held, Tool
from witnessmark.engine.layout import Layout, layout, stations
from witnessmark.engine.place import location
from witnessmark.limits.limit import Sheet
from witnessmark.record.job import Job, Reading, Setting

ENGINE = {**heads.ENGINE, "layout": "v", "cylinders": "16"}
MICROMETER = Tool("micrometer", 0.001, 0.0012, U=0.003, n=20)
SIZES = {
    "stem_diameter": (5.955, MICROMETER), "lobe_height": (39.7, MICROMETER), "base_circle": (30.2, MICROMETER),
    "guide_bore": (6.01, Tool("dial_bore", 0.002, 0.0015, U=0.004, n=15)),
    "installed_height": (38.0, Tool("spring_height_gauge", 0.02, 0.02, U=0.04)),
    "spring_solid_height": (25.4, Tool("caliper", 0.01, 0.01, U=0.02)),
    "valve_lift": (9.4, Tool("indicator", 0.001, 0.002, U=0.004)),
    "tall_height": (38.0, Tool("caliper", 0.01, 0.01, U=0.02)),
    "tall_load": (300.0, Tool("spring_tester", 1.0, 1.0, U=3.0)),
    "short_height": (28.5, Tool("caliper", 0.01, 0.01, U=0.02)),
    "short_load": (690.0, Tool("spring_tester", 1.0, 1.0, U=3.0)),
    "spring_free_length": (48.5, Tool("caliper", 0.01, 0.01, U=0.02)),
    "margin": (1.15, Tool("caliper", 0.01, 0.01, U=0.02)),
    "seat_width": (1.4, Tool("graticule", 0.1, 0.03, U=0.04)),
    "seat_runout": (0.02, Tool("indicator", 0.001, 0.002, U=0.004)),
    "seat_recession": (0.3, Tool("depth_gauge", 0.01, 0.008, U=0.01)),
    "stem_height": (44.0, Tool("depth_gauge", 0.01, 0.008, U=0.01)),
    "lash_shim": (2.6, MICROMETER), "stem_runout": (0.01, Tool("lever_indicator", 0.002, 0.0015, U=0.004)),
    "spring_squareness": (0.8, Tool("taper_gauge", 0.1, 0.05, U=0.1)),
    "cam_journal_diameter": (24.96, MICROMETER),
}  # fmt: skip
LIMITS = {
    "stem_diameter": (5.94, None, "worst"), "stem_guide_clearance": (None, 0.08, "worst"),
    "margin": (0.8, None, "each"),
    "seat_width": (1.0, 1.8, "each"), "seat_runout": (None, 0.05, "each"), "stem_height": (43.75, 44.25, "each"),
    "spring_free_length": (47.5, None, "each"), "installed_height": (37.8, 38.3, "each"),
    "lobe_lift": (9.35, None, "worst"), "cam_journal_diameter": (24.94, None, "worst"),
    "tall_load": (285.0, None, "each"),
    "coil_bind_clearance": (1.0, None, "each"), "spring_rate": (30.0, None, "each"), "seat_load": (250.0, None, "each"),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Large:
    """The job, its layout, sheet and gauges."""

    job: Job
    layout: Layout
    sheet: Sheet
    held: Sequence[Held]


def made(repeats: int = 1, settings: int = 0, seed: int = 5) -> Large:
    """Every station read `repeats` times; `settings` further settings of the bore gauge, each used in turn."""
    rng = np.random.default_rng(seed)
    plan = layout(ENGINE)
    held, readings = [], []
    for n, (name, (size, tool)) in enumerate(SIZES.items()):
        one = heads.taken_up(tool, f"G{n}", rng)
        if name == "guide_bore":
            one = heads.set_with(one, held[0], 6.0, rng)
        held.append(one)
        places = stations(plan, heads.catalogue().characteristics[name])
        true = size + rng.normal(0, tool.u, len(places))
        readings += [r for _ in range(repeats) for r in heads.numbers(one, name, places, true, rng)]
    limits = heads.sheet([heads.limit(name, low, high, rule) for name, (low, high, rule) in LIMITS.items()])
    job = replace(heads.job(held, readings), engine=ENGINE)
    return Large(_set_often(job, settings) if settings else job, plan, limits, held)


def _set_often(job: Job, settings: int) -> Job:
    first = next(iter(job.settings.values()))
    every = {f"s{n}": Setting(f"s{n}", first.gauge, first.set_to, first.unit, first.with_, None, f"s{n}", n)
             for n in range(settings)}  # fmt: skip
    turn = [replace(r, setting=f"s{n % settings}") if r.setting else r for n, r in enumerate(job.readings)]
    return replace(job, settings=every, readings=tuple(turn))


def with_gtc(large: Large) -> list[tuple[float, float, float]]:
    """u, degrees of freedom and chance below a limit of every reading and every derived value, in GTC."""
    from GTC import ureal

    tools = {one.name: one for one in large.held}
    shared = {name: ureal(0, one.tool.U / 2) if one.tool.U else 0.0 for name, one in tools.items()}
    warmth = {name: ureal(0, heads.WARMTH / sqrt(3)) for name in tools}
    act = {one.name: ureal(0, one.tool.u) for one in large.held if one.set_to is not None}
    found: dict[tuple[str, str], Any] = {}
    for reading in large.job.readings:
        found[reading.characteristic, reading.place] = _read(reading, tools, shared, warmth, act)
    values = [*found.values(), *_derived(found)]
    return [_asked(value) for value in values]


def _read(reading: Reading, tools: Any, shared: Any, warmth: Any, act: Any) -> Any:
    from GTC import ureal

    name = str(reading.gauge)
    held, tool = tools[name], tools[name].tool
    seen = float(str((reading.meaning or {})["value"])) + (held.set_to or 0.0)
    known = inf if tool.n is None else tool.n - 1
    value = ureal(seen, sqrt(tool.s**2), known) + ureal(0, tool.step / sqrt(12)) + shared[name]
    if tool.kind != "spring_tester":
        value = value + seen * heads.expansion(reading.characteristic) * warmth[name]
    return value + act[name] + shared[held.master] if name in act else value


def _derived(found: Any) -> list[Any]:
    values = []
    for (name, place), value in found.items():
        here = location(place)
        if name == "guide_bore":
            values.append(value - found["stem_diameter", place])
        elif name == "lobe_height":
            values.append(value - found["base_circle", here])
        elif name == "installed_height":
            rate = (found["short_load", here] - found["tall_load", here]) / (
                found["tall_height", here] - found["short_height", here]
            )
            seat = rate * (found["spring_free_length", here] - value)
            bind = value - found["valve_lift", here] - found["spring_solid_height", here]
            values += [rate, seat, bind, seat + rate * found["valve_lift", here]]
    return values


def _asked(value: Any) -> tuple[float, float, float]:
    from GTC import dof, uncertainty
    from GTC import value as middle
    from scipy.special import ndtr, stdtr

    u, nu = uncertainty(value), dof(value)
    z = (middle(value) - 1.0) / u
    return u, nu, float(ndtr(z) if nu == inf else stdtr(nu, z))
