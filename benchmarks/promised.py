"""The table of the claim: every cell with its false verdicts, the worst named; and what is printed, not promised."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np

from benchmarks.cells import OUT, WITHIN, Cell
from benchmarks.claim import ERRORS, MOST, Count, clustered, simulate, tempted
from benchmarks.heads import Tool
from benchmarks.table import Paper, percent

SEED = 20261125
HEADS = {"value": 600, "narrow": 1500, "many": 240, "form": 100}  # so that 3 sampling errors are about 1.5 %
LEAVES = (0.05, 0.10, 0.12, 0.14, 0.16, 0.18, 0.20, 0.22, 0.24, 0.26, 0.28, 0.30, 0.32, 0.36)
MICROMETER = Tool("micrometer", 0.001, 0.0012, U=0.003)
INCH_MICROMETER = Tool("micrometer", 0.0001, 0.00005, U=0.00012, unit="in")
BORE = Tool("dial_bore", 0.002, 0.0015, permissible=0.004)
INCH_BORE = Tool("dial_bore", 0.0001, 0.00006, permissible=0.0002, unit="in")
INDICATOR = Tool("indicator", 0.01, 0.004, U=0.01)
LEVER = Tool("lever_indicator", 0.002, 0.0015, permissible=0.003)
CALIPER = Tool("caliper", 0.02, 0.015, U=0.03)
DEPTH = Tool("depth_gauge", 0.01, 0.008, U=0.02, n=12)
FEELERS = Tool("leaves", 0.02, 0.0, leaves=LEAVES, leaf_error=0.002)


def value_cells() -> list[Cell]:
    """Single stations: each gauge kind, how s is known, how it compares with the step, narrow limits."""
    bare = Tool("micrometer", 0.001, 0.0001)
    return [
        Cell("micrometer, low limit", "lash_shim", 2.6, MICROMETER, side="low"),
        Cell("micrometer, inch", "base_circle", 32.0, INCH_MICROMETER, side="low"),
        Cell("usual micrometer assumed", "lash_shim", 2.6, replace(MICROMETER, assumed=True), side="low"),
        Cell("caliper, low limit", "spring_free_length", 47.5, CALIPER, side="low"),
        Cell("indicator, high limit", "seat_runout", 0.05, INDICATOR),
        Cell("lever indicator, permissible error", "stem_runout", 0.03, LEVER),
        Cell("depth gauge, s from 12", "seat_recession", 0.5, DEPTH),
        Cell("bore gauge set, s known", "guide_bore", 6.03, BORE),
        Cell("bore gauge set, inch", "guide_bore", 8.0, INCH_BORE),
        Cell("s from 10 displayed repeats", "margin", 1.2, Tool("micrometer", 0.001, 0.0012, U=0.003, n=10)),
        Cell("s from 5 displayed repeats", "margin", 1.2, Tool("micrometer", 0.001, 0.0012, U=0.003, n=5)),
        Cell("s from the repeats of the job", "valve_lift", 9.5, Tool("indicator", 0.001, 0.0012, U=0.002, n=0),
             repeats=2, side="low"),
        Cell("three repeats, s known", "stem_height", 44.0, Tool("depth_gauge", 0.01, 0.02, U=0.01), repeats=3),
        Cell("s much less than the step", "spring_squareness", 1.5, Tool("micrometer", 0.01, 0.0005, U=0.004)),
        Cell("s half a step", "installed_height", 38.0, Tool("spring_height_gauge", 0.02, 0.01, U=0.01)),
        Cell("s three steps", "spring_solid_height", 24.0, Tool("caliper", 0.01, 0.03, U=0.01)),
        Cell("step alone, s much less", "tall_height", 40.0, bare),
        Cell("leaves, any place of the limit", "valve_lash", 0.20, FEELERS),
    ]  # fmt: skip


def narrow_cells() -> list[Cell]:
    """Two limits so near each other that the doubt reaches over both."""
    return [
        Cell("two-sided, 0.5 u wide", "short_height", 30.0, CALIPER, side=0.5),
        Cell("two-sided, 2 u wide", "installed_height", 38.0, CALIPER, side=2.0),
        Cell("two-sided, 5 u wide", "spring_solid_height", 24.0, CALIPER, side=5.0),
        Cell("two-sided, 5 u, s from 10", "tall_height", 40.0, replace(CALIPER, n=10), side=5.0),
        Cell("two-sided, 2 u, step rules", "stem_height", 44.0, Tool("depth_gauge", 0.02, 0.001, U=0.004), side=2.0),
    ]  # fmt: skip


def many_cells() -> list[Cell]:
    """Several stations at once, and values worked out from others."""
    clearance = {"judged": "stem_guide_clearance", "partner": ("stem_diameter", 5.95, MICROMETER)}
    return [
        Cell("worst of 6, one at the limit", "stem_diameter", 5.94, MICROMETER, "worst", "low", tempts=WITHIN),
        Cell("worst of 6, all at the limit", "stem_diameter", 5.94, MICROMETER, "worst", "low", tempts=OUT),
        Cell("worst of 6, own noise rules", "stem_diameter", 5.94, Tool("micrometer", 0.001, 0.003, U=0.001),
             "worst", "low", tempts=OUT),
        Cell("worst of 2, inch", "lobe_height", 40.0, INCH_MICROMETER, "worst", "low", tempts=OUT),
        Cell("mean of 6", "stem_diameter", 5.94, MICROMETER, "mean", "low"),
        Cell("mean of 6, bore gauge", "guide_bore", 6.03, BORE, "mean"),
        Cell("clearance, each, bore gauge set by the stem's micrometer", "guide_bore", 0.05, BORE, **clearance),
        Cell("clearance, worst of 6, all at the limit", "guide_bore", 0.05, BORE, "worst", tempts=OUT, **clearance),
        Cell("lift = nose less heel, one micrometer", "lobe_height", 9.4, MICROMETER, side="low", judged="lobe_lift",
             partner=("base_circle", 30.0, MICROMETER)),
    ]  # fmt: skip


def form_cells() -> list[Cell]:
    """Taper over two sets of three, out-of-round over four."""
    noisy = Tool("micrometer", 0.001, 0.0015, U=0.003)
    return [
        Cell(f"{name}, {words}", reads, limit, tool, judged=judged, form=size, tempts=tempts)
        for name, judged, reads, size, limit, tool in (
            ("taper, 2 x 3", "stem_taper", "stem_diameter", 5.95, 0.010, noisy),
            ("taper, 2 x 3, inch", "stem_taper", "stem_diameter", 8.7, 0.010, INCH_MICROMETER),
            ("out-of-round, 4", "cam_journal_form", "cam_journal_diameter", 24.96, 0.008, noisy),
            ("out-of-round, 4, s from 15", "cam_journal_form", "cam_journal_diameter", 24.96, 0.008,
             replace(noisy, n=15)),
        )
        for words, tempts in (("least shape", WITHIN), ("greatest shape", OUT))
    ]  # fmt: skip


def on_graduations(wanted: Sequence[Cell]) -> list[Cell]:
    """The same with the limit on a graduation and half-way between two: printed, not promised."""
    return [
        replace(cell, name=f"{cell.name} | {words}", where=where, promised=False)
        for cell in wanted
        for where, words in (("on", "on a leaf" if cell.tool.leaves else "on a graduation"), ("half", "half-way"))
        if cell.tool.unit == "mm"
    ]


def claim(paper: Paper, quick: bool) -> dict[str, Count]:
    """Simulate and print every cell; the goal is that none is above 5 % by more than its sampling error allows."""
    heads_of = {"value": 60, "narrow": 60, "many": 25, "form": 6} if quick else HEADS
    paper.heading("The claim, at the limit: false verdicts per verdict")
    paper.say("Truth exactly at the limit; gauges drawn afresh for each head; limit anywhere between two graduations.")
    parts = {"value": value_cells(), "narrow": narrow_cells(), "many": many_cells(), "form": form_cells()}
    found: dict[str, Count] = {}
    rows: list[tuple[float, Cell, str, float, float]] = []
    table = []
    for seed, (kind, wanted) in enumerate(parts.items()):
        for cell, count in zip(wanted, simulate(wanted, heads_of[kind], SEED + seed), strict=True):
            found[cell.name] = count
            table.append(_row(cell, count))
            for which in tempted(cell):
                rate, error = count.rate(which)
                rows.append(((rate - MOST) / max(error, 1e-9) if error else -99.0, cell, which, rate, error))
    paper.table(("cell", "heads", "verdicts", "false within", "±", "false out", "±", "design effect"), table)
    _goal(paper, rows)
    _graduations(paper, quick)
    return found


def _row(cell: Cell, count: Count) -> tuple[object, ...]:
    shown: list[object] = []
    for which in (WITHIN, OUT):
        rate, error = count.rate(which)
        shown += [percent(rate), percent(error)] if which in tempted(cell) else ["-", "-"]
    effects = [count.design_effect(which) for which in tempted(cell)]
    return (cell.name, len(count.judged), sum(count.judged), *shown, f"{np.nanmax([*effects, 0.0]):.1f}")


def _goal(paper: Paper, rows: Sequence[tuple[float, Cell, str, float, float]]) -> None:
    highest = max(rows, key=lambda row: row[3])
    surest = max(rows, key=lambda row: row[0])
    paper.say(f"highest rate: {highest[1].name}, false {highest[2]}: {percent(highest[3])} ± {percent(highest[4])}")
    red = [f"{cell.name} ({which})" for z, cell, which, _, _ in rows if z > ERRORS]
    paper.goal(
        f"false verdicts at the limit, over {len(rows)} cells",
        f"worst cell '{surest[1].name}', false {surest[2]} {percent(surest[3])} ± {percent(surest[4])}"
        + (f"; red: {', '.join(red)}" if red else ""),
        f"≤ 5 % (red above it by {ERRORS:g} sampling errors)",
        not red,
    )


def _graduations(paper: Paper, quick: bool) -> None:
    names = ("micrometer, low limit", "caliper, low limit", "indicator, high limit", "s much less than the step",
             "s half a step", "s three steps", "step alone, s much less", "leaves, any place of the limit")  # fmt: skip
    wanted = on_graduations([cell for cell in value_cells() if cell.name in names])
    paper.say("\nPrinted, not promised: the limit always on a graduation (on a leaf), or always half-way")
    table = [_row(cell, count) for cell, count in
             zip(wanted, simulate(wanted, 40 if quick else 300, SEED + 7), strict=True)]  # fmt: skip
    paper.table(("cell", "heads", "verdicts", "false within", "±", "false out", "±", "design effect"), table)


def reliability(paper: Paper, quick: bool) -> None:
    """Truths spread evenly: of those given a chance near p, how many hold."""
    kinds = {"micrometer": Cell("spread", "lash_shim", 2.6, MICROMETER, side="low", spread=4.0),
             "caliper": Cell("spread", "spring_free_length", 47.5, CALIPER, side="low", spread=4.0),
             "bore gauge": Cell("spread", "margin", 6.03, BORE, spread=4.0),
             "s from 10": Cell("spread", "seat_recession", 0.5, replace(DEPTH, n=10), spread=4.0)}  # fmt: skip
    counts = simulate(list(kinds.values()), 60 if quick else 500, SEED + 11)
    paper.heading("Reliability: of the values given a chance p, how many hold (truths evenly within 4 u of the limit)")
    edges = (0.0, 0.02, 0.1, 0.3, 0.5, 0.7, 0.85, 0.95, 0.98, 1.0001)
    rows = []
    for name, count in zip(kinds, counts, strict=True):
        head, p, holds = (np.array(column) for column in zip(*[(h, p, t) for h, p, t, _ in count.each], strict=True))
        for low, high in pairwise(edges):
            at = (p >= low) & (p < high)
            n = np.bincount(head[at], minlength=len(count.judged))
            held = np.bincount(head[at], holds[at], len(count.judged))
            rate, error = clustered(held.astype(int), n)
            said = float(p[at].mean()) if at.any() else float("nan")
            rows.append(
                (name, f"{low:.2f}-{min(high, 1):.2f}", int(at.sum()), f"{said:.3f}", f"{rate:.3f}", f"{error:.3f}")
            )
    paper.table(("gauge", "p given", "values", "mean p", "held", "±"), rows)


def not_promised(paper: Paper, quick: bool, found: Mapping[str, Count]) -> None:
    """What a shop would see: worn sets of valves, one gauge for ever, sixteen verdicts at once."""
    number = 60 if quick else 400
    paper.heading("Printed and not promised")
    rows = []
    wears = ("fresh", "long in service", "neglected")
    wanted = [Cell(f"{name}", reads, size, tool, side=side, wear=name) for name in wears
              for reads, size, tool, side in (("lash_shim", 2.6, MICROMETER, "low"),
                                              ("spring_free_length", 47.5, CALIPER, "low"),
                                              ("stem_runout", 0.03, LEVER, "high"))]  # fmt: skip
    for cell, count in zip(wanted, simulate(wanted, number, SEED + 13), strict=True):
        verdicts = [(t, v) for _, _, t, v in count.each]
        share = {
            word: sum(v == word for _, v in verdicts) / len(verdicts) for word in ("within", "out", "too close to call")
        }
        false = {word: sum(v == word and t != (word == "within") for t, v in verdicts) for word in ("within", "out")}
        rows.append((cell.name, cell.tool.kind, *(percent(share[w], 1) for w in share),
                     *(percent(false[w] / len(verdicts), 3) for w in false)))  # fmt: skip
    paper.say("False verdicts per verdict in sets of valves that are worn in three invented ways")
    paper.table(("set", "gauge", "within", "out", "too close", "false within", "false out"), rows)
    _fixed(paper, number)
    paper.say("Sixteen verdicts exactly at the limit: share of heads with at least one false")
    shown = [
        name
        for name in ("micrometer, low limit", "caliper, low limit", "worst of 6, all at the limit")
        if name in found
    ]
    paper.table(("cell", "any false within", "any false out"),
                [(name, percent(found[name].any_in_a_head(WITHIN), 1), percent(found[name].any_in_a_head(OUT), 1))
                 for name in shown])  # fmt: skip


def _fixed(paper: Paper, number: int) -> None:
    paper.say("One fixed gauge: its shared errors stand for ever at so many of their standard uncertainties")
    wanted = [Cell(f"{z:+.0f} u", "lash_shim", 2.6, MICROMETER, side="low", fixed=float(z)) for z in (-2, -1, 0, 1, 2)]
    counts = simulate(wanted, number, SEED + 17)
    paper.table(("calibration at", "false within", "false out"),
                [(cell.name, percent(count.rate(WITHIN)[0]), percent(count.rate(OUT)[0]))
                 for cell, count in zip(wanted, counts, strict=True)])  # fmt: skip
