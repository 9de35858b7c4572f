"""Speed of geometry and plan: one state, growth from 4 to 64 valves, whole plans, the same instance elsewhere."""

from dataclasses import replace
from statistics import median

import numpy as np

from benchmarks import valves
from benchmarks.heads import catalogue
from benchmarks.table import Paper
from benchmarks.timing import shown, timed
from witnessmark.engine.model import evaluate
from witnessmark.plan.milp import Ask, _Columns, ask
from witnessmark.plan.problem import Linear, Problem, linear
from witnessmark.plan.solve import KAPPA, money, solve

Case = tuple[Problem, Linear]


def run(paper: Paper, quick: bool) -> None:
    """Every table of the plan's speed."""
    paper.heading("Geometry and plan: speed")
    runs = 3 if quick else 7
    geometry(paper, runs)
    growth(paper, 1 if quick else 3)
    whole(paper, 1 if quick else 3)
    elsewhere(paper, 1 if quick else 3)


def case(cylinders: int, seed: int = 5) -> Case:
    """A worn head with every choice open at every valve, and its linear model."""
    model, state = valves.engine(valves.described(cylinders))
    stream = np.random.default_rng(seed)
    n = model.axes.size("valve")
    worn = {"stem_height": (43.8, 44.4), "seat_width": (1.1, 1.8), "margin": (0.85, 1.3), "ptv_axial": (1.55, 2.2),
            "seat_runout": (0.01, 0.07)}  # fmt: skip
    state = state.with_values(**{name: stream.uniform(*ends, n) for name, ends in worn.items()})
    state = replace(state, own={name: np.full(n, 0.012) for name in worn})
    problem = valves.open_at(model, valves.margins_of(model, state))
    return problem, linear(problem)


def geometry(paper: Paper, runs: int) -> None:
    """One state of sixteen valves to every characteristic; and ten thousand engines tried on one plan."""
    model, state = valves.engine(valves.described(4))
    once = timed(lambda: evaluate(model, state.values), 20 * runs)
    problem, known = case(4)
    found = solve(problem, model=known, proof=False)
    assert found.amounts is not None
    amounts = found.amounts
    trials = timed(lambda: problem.geometry.sample(amounts, 10_000, 3), runs)
    paper.table(("work on 16 valves", "least / median / most"), [
        ("state to every characteristic", shown(once)), ("10,000 engines tried on one plan", shown(trials)),
    ])  # fmt: skip
    paper.goal("state to all characteristics of 16 valves", f"{1000 * median(once):.2f} ms", "under 1 ms",
               median(once) < 1e-3)  # fmt: skip
    paper.goal("10,000 yield trials", f"{median(trials):.2f} s", "under 1 s", median(trials) < 1.0)


def growth(paper: Paper, runs: int) -> None:
    """A proven plan, made as sure as 0.97, of 4 to 64 valves with five choices at each and a skim of each head."""
    rows = []
    for cylinders in (1, 2, 4, 8, 16):
        problem, model = case(cylinders)
        making = timed(lambda problem=problem: linear(problem), runs)
        plain = timed(lambda problem=problem, model=model: solve(problem, model=model), runs)
        found = solve(problem, model=model, wanted=0.97)
        surer = timed(lambda problem=problem, model=model: solve(problem, model=model, wanted=0.97), runs)
        gap = "-" if found.amounts is None else f"{found.gap:.2f}"
        rows.append((4 * cylinders, len(problem.offers), len(problem.rows), f"{median(making):.2f}",
                     f"{median(plain):.2f}", f"{median(surer):.2f}", found.status, gap,
                     "-" if found.chance is None else f"{found.chance:.3f}"))  # fmt: skip
    paper.table(("valves", "choices", "rows", "model s", "proven s", "as sure as asked s", "status", "gap", "chance"),
                rows)  # fmt: skip


def whole(paper: Paper, runs: int) -> None:
    """The plan of the Tern with all its alternatives and words; a V8 of 32 valves."""
    from witnessmark.desk.planning import bench_of
    from witnessmark.desk.state import state
    from witnessmark.plan.plan import plan
    from witnessmark.record.replay import replay
    from witnessmark.shell.demo import demo_events

    bench = bench_of(state(replay(demo_events("tern")), catalogue()))
    tern = timed(lambda: plan(bench), runs)
    worn = case(8)[0]
    eight = timed(lambda: solve(worn), runs)
    surer = timed(lambda: solve(worn, wanted=0.97), runs)
    gap = solve(worn, wanted=0.97).gap
    paper.goal("plan of the Tern, 16 valves, with its alternatives", f"{median(tern):.2f} s", "under 2 s",
               median(tern) < 2.0)  # fmt: skip
    proven = solve(worn).status == "optimal"
    paper.goal("plan of a V8, 32 valves, proven to the price step", f"{median(eight):.2f} s", "under 10 s",
               proven and median(eight) < 10.0)  # fmt: skip
    paper.say(f"the same made as sure as 0.97: {median(surer):.2f} s, with a gap of {gap:.2f} that is printed")


def elsewhere(paper: Paper, runs: int) -> None:
    """The same linear instance handed to bare HiGHS and, where it is installed, built and solved by PuLP with CBC."""
    rows = []
    for cylinders in (4, 8):
        problem, model = case(cylinders)
        usual = money(problem)
        asked = Ask(usual.price, usual.each, np.full(len(problem.rows), KAPPA))
        here = median(timed(lambda p=problem, m=model, a=asked: ask(p, m, a), runs))
        proven = median(timed(lambda p=problem, m=model: solve(p, model=m), runs))
        other = _pulp(_Columns(problem, model, asked), runs)
        rows.append((4 * cylinders, f"{here:.3f}", f"{proven:.3f}", "-" if other is None else f"{other:.3f}",
                     "-" if other is None else f"{other / here:.1f}",
                     "-" if other is None else f"{proven / other:.1f}"))  # fmt: skip
    paper.table(("valves", "HiGHS, asked once s", "verified and proven s", "PuLP with CBC s", "PuLP / asked once",
                 "proven / PuLP"), rows)  # fmt: skip


def _pulp(layout: _Columns, runs: int) -> float | None:
    try:
        import pulp
    except ImportError:
        return None
    matrix, low = layout.rows()

    def work() -> object:
        made = pulp.LpProblem("plan", pulp.LpMinimize)
        x = [pulp.LpVariable(f"x{n}", layout.low[n], layout.high[n], "Integer") for n in range(len(layout.cost))]
        made += pulp.lpSum(float(c) * v for c, v in zip(layout.cost, x, strict=True) if c)
        for row, least in zip(matrix, low, strict=True):
            at = np.flatnonzero(row)
            made += pulp.lpSum(float(row[n]) * x[n] for n in at) >= float(least)
        return made.solve(pulp.PULP_CBC_CMD(msg=False, threads=1))

    return median(timed(work, runs))
