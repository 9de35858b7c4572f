"""A plan, and the use of the parts on the shelf, as plain data for machines. The keys are contract."""

from typing import Any

from witnessmark.desk.cuts import cuts, model_of
from witnessmark.desk.geometry import state_of
from witnessmark.desk.ledger import tolerances
from witnessmark.desk.prices import prices_of
from witnessmark.desk.report import scaled
from witnessmark.desk.state import State
from witnessmark.engine.work import Amounts, amounts
from witnessmark.explain.planned import conflict_words, questions_words, why_item
from witnessmark.explain.words import METRIC
from witnessmark.judge.result import Against
from witnessmark.plan.offers import SET_LATER
from witnessmark.plan.result import Item, LedgerRow, Plan, Planned
from witnessmark.plan.shims import Shims, adjusters, shims
from witnessmark.quantity.unit import unit

MM = 25.4


def plan_data(state: State, planned: Planned) -> dict[str, Any]:
    """`status`, `cost`, `operations`, `predicted`, `alternatives`, `conflict`, and what must be asked first."""
    best = planned.plans[0] if planned.plans else None
    display = _display(state)
    return {
        "job": state.job.id,
        "status": planned.status,
        **(_plan(state, best) if best else _nothing()),
        "alternatives": [{"name": one.name, "kind": one.kind, "status": one.status, **_plan(state, one)}
                         for one in planned.plans[1:]],
        "conflict": [] if planned.conflict is None else [
            {"kind": planned.conflict.kind, "words": list(conflict_words(planned.conflict, state.catalogue, display)),
             "limits": [{"characteristic": row.characteristic, "location": row.location, "side": row.side,
                         "limit": row.limit, "gives": row.gives} for row in planned.conflict.rows],
             "measure_better": [{"characteristic": name, "location": where, "U": U}
                                for name, where, U in planned.conflict.measure_better],
             "would_do": list(planned.conflict.asks)}],
        "questions": list(questions_words(planned.questions, state.catalogue, display)),
        "missing": [{"characteristic": one.characteristic, "locations": list(one.places), "why": one.why}
                    for one in planned.missing],
        "rests_on": list(planned.rests_on),
    }  # fmt: skip


def _display(state: State) -> str:
    prices = prices_of(state)
    inch = prices is not None and any(one.unit == "in" for one in prices.stock.values())
    return "in" if inch else "mm"


def _nothing() -> dict[str, Any]:
    return {"name": None, "gap": None, "bound": None, "cost": None, "currency": None, "minutes": None,
            "operations": [], "predicted": [], "first_pass_yield": None, "unsure": []}  # fmt: skip


def _plan(state: State, one: Plan) -> dict[str, Any]:
    return {
        "name": one.name, "gap": round(one.gap, 2), "bound": round(one.bound, 2), "cost": round(one.cost, 2),
        "currency": one.currency, "minutes": one.minutes,
        "operations": [_item(state, item) for item in one.items],
        "predicted": [predicted(row) for row in one.predicted],
        "first_pass_yield": one.first_pass_yield, "unsure": list(one.unsure),
    }  # fmt: skip


def _item(state: State, item: Item) -> dict[str, Any]:
    name = None if item.amount is None else _display(state)
    scale = MM if name == "in" else 1.0
    return {"operation": item.operation, "location": item.location, "amount": scaled(item.amount, scale), "unit": name,
            "least": scaled(item.least, scale), "most": scaled(item.most, scale), "cost": item.cost,
            "minutes": item.minutes, "why": why_item(item, state.catalogue, _display(state))}  # fmt: skip


def predicted(row: LedgerRow) -> dict[str, Any]:
    """One predicted value; `margin` is the room to the nearer end of its limit."""
    held = row.against
    name = (held.unit if held else "") or METRIC.get(row.dimension, "")
    scale = float(unit(name, row.dimension).factor) if name else 1.0
    return {"characteristic": row.characteristic, "location": row.location, "before": scaled(row.before, scale),
            "after": scaled(row.predicted, scale), "unit": name or None, "verdict": row.verdict or None,
            "margin": scaled(margin(row.predicted, held), scale), "p_within": row.p_within}  # fmt: skip


def margin(value: float | None, held: Against | None) -> float | None:
    """Room to the nearer end of a limit; below nothing outside of it; None without either."""
    if value is None or held is None:
        return None
    rooms = [value - held.low] if held.low is not None else []
    rooms += [held.high - value] if held.high is not None else []
    return min(rooms, default=None)


def fit_of_job(state: State) -> Shims | None:
    """The lash shims for the work that was ordered, else for the intended work. Raises Refused without an engine."""
    model = model_of(state)
    entries = state.job.order["work"] if state.job.order else state.job.work
    known = [one for one in entries if one["operation"] in model.operations and one["operation"] not in SET_LATER]
    return fit_after(state, amounts(model, cuts(state, known)))


def fit_after(state: State, work: Amounts) -> Shims | None:
    """The lash shims after some work, which sets none of them itself."""
    model, engine, prices = model_of(state), state_of(state), prices_of(state)
    stock = prices.stock.get("lash_shim") if prices else None
    return shims(model, engine, work, state.sheet, stock, tolerances(state))


def fit_data(state: State) -> dict[str, Any]:
    """What goes where, what is bought, what to have at hand, which adjusters have travel left."""
    found = fit_of_job(state)
    model, engine = model_of(state), state_of(state)
    entries = state.job.order["work"] if state.job.order else state.job.work
    known = [one for one in entries if one["operation"] in model.operations and one["operation"] not in SET_LATER]
    work = amounts(model, cuts(state, known))
    scale = MM if found is not None and found.unit == "in" else 1.0
    return {
        "job": state.job.id,
        "for": "order" if state.job.order else "intended work" if state.job.work else "as found",
        "unit": found.unit if found else "mm",
        "shims": [] if found is None else [
            {"location": one.place, "has": scaled(found.has[one.place], scale), "needed": scaled(one.needed, scale),
             "u": scaled(found.u[one.place], scale), "gets": scaled(one.size, scale), "from": one.source,
             "came_from": one.came_from or None, "at_hand": [scaled(size, scale) for size in found.cover[one.place]]}
            for one in found.assignment.given],
        "buy": [] if found is None else [
            {"size": scaled(size, scale), "quantity": count} for size, count in found.assignment.bought.items()],
        "cost": found.cost if found else 0.0,
        "chains": [] if found is None else [list(chain) for chain in found.assignment.chains],
        "unfit": [] if found is None else [
            {"location": one.place, "needed": scaled(one.needed, scale), "too_thick": scaled(one.too_thick, scale),
             "too_thin": scaled(one.too_thin, scale), "why": one.why} for one in found.assignment.unfit],
        "unread": list(found.unread) if found else [],
        "adjusters": [{"location": one.place, "preload": one.preload, "inward": one.travel.inward,
                       "outward": one.travel.outward} for one in adjusters(model, engine, work, state.sheet)],
        "note": "after re-measuring",
    }  # fmt: skip


