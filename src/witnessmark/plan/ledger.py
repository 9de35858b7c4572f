"""The ledger: every characteristic before, predicted and after intended work, against the limit that then holds.

All of it comes from the one geometry. What each operation adds is found by doing them one after the other in working
order, so the terms of a row always sum to what it moves, whatever bends or kinks there are on the way.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from witnessmark.catalogue.entry import Catalogue
from witnessmark.engine.model import Model, evaluate, why_not
from witnessmark.engine.predict import Predicted, predict
from witnessmark.engine.state import Floats, State
from witnessmark.engine.work import Amounts, Cut, amounts, worked
from witnessmark.judge.result import OUT, VERDICTS, WITHIN, Against
from witnessmark.limits.sheet import Sheet
from witnessmark.metrology.conform import judge
from witnessmark.metrology.doubt import doubt
from witnessmark.metrology.guard import guards
from witnessmark.plan.held import Spot, held_against, renewed, spots
from witnessmark.plan.result import Ledger, LedgerRow

GROUPS = ("gap", "valve", "seat", "spring", "piston", "compression", "timing", "head", "fasteners", "fits")
NOTHING = 1e-9  # mm, N: what the arithmetic leaves of no movement at all
CONTRADICTS = 3.0  # standard uncertainties between gauge and geometry that no chance explains
USUAL_TOLERANCE = 0.005  # mm: half of a hundredth, where the shop's list says nothing of its machine

After = Mapping[tuple[str, str], tuple[float, float]]  # (characteristic, location) -> value and u read after the work


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """What the rows of one ledger draw on."""

    model: Model
    state: State
    sheet: Sheet | None
    before: Predicted
    predicted: Predicted
    along: Mapping[str, Floats]  # results after none, one, two ... operations (operations + 1, n)
    operations: tuple[str, ...]
    fresh: Mapping[str, np.ndarray]
    after: After
    work: Amounts


def ledger(
    model: Model, state: State, cuts: tuple[Cut, ...], sheet: Sheet | None, catalogue: Catalogue,
    tolerances: Mapping[str, float] | None = None, after: After | None = None,
    only: Callable[[Spot], bool] | None = None,
) -> Ledger:  # fmt: skip
    """What intended work makes of every characteristic. `tolerances` are standard uncertainties by operation [inside].

    `only` leaves rows out that nobody will look at.

    KeyError for work that this engine has no place for; the message says which.
    """
    work = amounts(model, cuts)
    return ledger_of(model, state, work, sheet, catalogue, tolerances, after, only)


def ledger_of(
    model: Model, state: State, work: Amounts, sheet: Sheet | None, catalogue: Catalogue,
    tolerances: Mapping[str, float] | None = None, after: After | None = None,
    only: Callable[[Spot], bool] | None = None,
) -> Ledger:  # fmt: skip
    """As `ledger`, of amounts along their axes."""
    names = tuple(name for name in model.operations if name in work)
    predicted = predict(model, state, work, slack(model, work, tolerances or {}))
    before = predict(model, state, {}) if names else predicted
    scene = Scene(model, state, sheet, before, predicted, _along(model, state, work, names), names,
                  renewed(model, work), after or {}, work)  # fmt: skip
    wanted = [spot for spot in spots(model, catalogue) if only is None or only(spot)]
    found = _rows(scene, [_line(scene, spot) for spot in wanted], catalogue)
    order = {name: n for n, name in enumerate(GROUPS)}
    rows = tuple(sorted(found, key=lambda row: order.get(row.group, len(GROUPS))))
    crossed = tuple(row for row in rows if row.verdict == OUT and row.verdict_before != OUT and row.moved)
    return Ledger(rows, crossed, _unknown(rows))


def slack(model: Model, work: Amounts, tolerances: Mapping[str, float]) -> dict[str, Floats]:
    """Standard uncertainty of each amount; nothing where nothing is done and for a part that is put in."""
    return {
        name: np.where(np.asarray(row) != 0, tolerances.get(name, USUAL_TOLERANCE), 0.0)
        for name, row in work.items() if not model.operations[name].switch
    }  # fmt: skip


def _along(model: Model, state: State, work: Amounts, names: tuple[str, ...]) -> dict[str, Floats]:
    steps = len(names) + 1
    growing = {name: np.where(np.arange(steps)[:, None] > n, work[name], 0.0) for n, name in enumerate(names)}
    values = {name: row[None, :] for name, row in state.values.items()}
    found = evaluate(model, worked(model, values, growing))
    return {name: np.broadcast_to(value, (steps, value.shape[-1])) for name, value in found.items()}


@dataclass(frozen=True, slots=True, eq=False)
class _Line:
    """A spot with its values, before its verdict: all verdicts are worked out in one go."""

    spot: Spot
    before: float
    predicted: float
    u_before: float
    u: float
    was: Against | None
    held: Against | None


def _line(scene: Scene, spot: Spot) -> _Line:
    name, n = spot.characteristic, spot.element
    fresh = bool(scene.fresh[name][n]) if name in scene.fresh else False
    was = held_against(scene.sheet, spot, new=False)
    held = held_against(scene.sheet, spot, new=True) if fresh else was
    before, predicted = (float(one.values[name][n]) for one in (scene.before, scene.predicted))
    u_before, u = (float(one.u[name][n]) for one in (scene.before, scene.predicted))
    return _Line(spot, before, predicted, u_before, u, was, held)


def _rows(scene: Scene, lines: Sequence[_Line], catalogue: Catalogue) -> Iterator[LedgerRow]:
    was = verdicts([(one.before, one.u_before, one.was) for one in lines])
    then = verdicts([(one.predicted, one.u, one.held) for one in lines])
    whys: dict[tuple[str, bool], str] = {}
    for line, before, after in zip(lines, was, then, strict=True):
        name, n = line.spot.characteristic, line.spot.element
        read = scene.after.get((name, line.spot.location))
        terms = _terms(scene, name, n)
        lost = bool(np.isnan(line.predicted))
        if lost and line.held is None and np.isnan(line.before):
            continue  # nobody knows it and nobody asks for it
        yield LedgerRow(
            characteristic=name, location=line.spot.location, group=scene.model.laws[name].group,
            before=_known(line.before), predicted=_known(line.predicted), after=read[0] if read else None,
            u_before=None if np.isnan(line.before) else line.u_before, u=None if lost else line.u,
            u_after=read[1] if read else None, verdict_before=before[0], verdict=after[0], p_within=after[1],
            against=line.held, guard=after[2], moved=bool(terms) or lost != bool(np.isnan(line.before)),
            unexplained=_unexplained(read, _known(line.predicted), line.u), terms=terms,
            unknown=_why(scene, name, n, whys) if lost else "",
            origin=scene.state.origin.get(name, ("",) * (n + 1))[n],
            dimension=catalogue.characteristics[name].quantity,
        )  # fmt: skip


def _known(value: float) -> float | None:
    return None if np.isnan(value) else float(value)


Verdict = tuple[str, float | None, float | None]


def verdicts(rows: Sequence[tuple[float, float, Against | None]]) -> list[Verdict]:
    """Verdict, chance of holding and guard of values with their doubt; nothing without a value or a limit.

    What is not doubtful at all holds or does not: its chance is 1 or 0.
    """
    found: list[Verdict] = [("", None, None)] * len(rows)
    asked = [n for n, (value, _, held) in enumerate(rows) if not np.isnan(value) and _limited(held)]
    ends = {n: _ends(rows[n][2]) for n in asked}
    for n in asked:
        if rows[n][1] == 0.0:
            holds = not (rows[n][0] < ends[n][0] or rows[n][0] > ends[n][1])
            found[n] = (WITHIN, 1.0, 0.0) if holds else (OUT, 0.0, 0.0)
    doubtful = [n for n in asked if rows[n][1] > 0.0]
    if doubtful:
        known = doubt([rows[n][0] for n in doubtful], [rows[n][1] for n in doubtful])
        low, high = np.array([ends[n] for n in doubtful]).T
        codes, chances = judge(known, low, high)
        bands = guards(known, low, high).within
        for at, n in enumerate(doubtful):
            found[n] = (VERDICTS[int(codes[at])], float(chances[at]), _known(bands[at]))
    return found


def _limited(held: Against | None) -> bool:
    return held is not None and (held.low is not None or held.high is not None)


def _ends(held: Against | None) -> tuple[float, float]:
    assert held is not None
    return (np.nan if held.low is None else held.low), (np.nan if held.high is None else held.high)


def _terms(scene: Scene, name: str, n: int) -> tuple[tuple[str, float], ...]:
    steps = np.diff(scene.along[name][:, n])
    found = [(what, float(by)) for what, by in zip(scene.operations, steps, strict=True) if abs(by) > NOTHING]
    return tuple(sorted(found, key=lambda term: -abs(term[1])))


def _unexplained(read: tuple[float, float] | None, predicted: float | None, u: float) -> float | None:
    if read is None or predicted is None:
        return None
    apart = read[0] - predicted
    return apart if abs(apart) > CONTRADICTS * np.hypot(read[1], u) else None


def _why(scene: Scene, name: str, n: int, told: dict[tuple[str, bool], str]) -> str:
    """Why a value is not known; told once for the inlet and once for the exhaust side of each characteristic."""
    inlet = scene.model.laws[name].axis == "valve" and bool(scene.model.axes.inlet[n])
    if (name, inlet) not in told:
        values = worked(scene.model, scene.state.values, scene.work)
        told[name, inlet] = why_not(scene.model, values, name, n, scene.predicted.values)
    return told[name, inlet]


def _unknown(rows: tuple[LedgerRow, ...]) -> tuple[tuple[str, str], ...]:
    found: dict[str, str] = {}
    for row in rows:
        if row.unknown:
            found.setdefault(row.characteristic, row.unknown)
    return tuple(found.items())
