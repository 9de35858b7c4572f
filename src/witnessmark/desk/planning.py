"""The plan of a job: its engine as found, its limits, its prices and what the user asked, put to the planner."""

from collections.abc import Mapping
from contextlib import nullcontext
from typing import Any

from witnessmark.desk.bench import Refused
from witnessmark.desk.cuts import cuts, model_of
from witnessmark.desk.geometry import state_of
from witnessmark.desk.prices import prices_of
from witnessmark.desk.state import State
from witnessmark.engine.model import Model
from witnessmark.engine.state import State as Engine
from witnessmark.plan.bench import Bench
from witnessmark.plan.milp import Quiet
from witnessmark.plan.offers import Wish
from witnessmark.plan.plan import plan
from witnessmark.plan.result import Planned

AS_FOUND = "as found"
WANTED = 0.97  # chance asked that all holds at the first try, where the user asked for none
REMOVED = {"skim": "deck_removed", "tip_grind": "tip_removed", "seat_cut": "seat_removed"}  # what counts from before


def bench_of(state: State, quiet: Quiet = nullcontext) -> Bench:
    """All that a plan of this job is made of. Raises Refused while the engine is not described."""
    model = model_of(state)
    engine = state_of(state)
    results = tuple(one for one in state.judgement.results if one.round == AS_FOUND)
    return Bench(
        model, engine, state.sheet, prices_of(state), state.catalogue, results, wish_of(state),
        _wanted(state.job.plan_asked), _removed(model, engine), quiet=quiet,
    )  # fmt: skip


def plan_of_job(state: State, quiet: Quiet = nullcontext) -> Planned:
    """The plan of a job, worked out once for each state of it."""
    key = ("planned", state.job.plan_asked_event, *state.evidence)
    return state.memory.once(key, lambda: plan(bench_of(state, quiet)))


def wish_of(state: State) -> Wish:
    """What the user pinned and forbade. Raises Refused for what cannot be meant."""
    asked = state.job.plan_asked
    pins = tuple((one.operation, one.location, one.amount) for one in cuts(state, asked.get("pins") or ()))
    forbid = tuple((str(one["operation"]), "" if one["place"] == "all" else str(one["place"]))
                   for one in asked.get("forbid") or ())  # fmt: skip
    return Wish(pins, forbid)


def _wanted(asked: Mapping[str, Any]) -> float:
    """The chance asked for. Raises Refused for what is no chance, such as a percentage."""
    text = asked.get("wanted")
    if text in (None, ""):
        return WANTED
    try:
        value = float(str(text).replace(",", "."))
    except ValueError:
        value = float("nan")
    if not 0 < value < 1:
        raise Refused(f"a chance of {str(text)[:20]} cannot be asked for: write 0.97 where it shall hold in 97 of 100")
    return value


def wanted_of(state: State) -> float:
    """The chance that is asked for."""
    return _wanted(state.job.plan_asked)


def _removed(model: Model, engine: Engine) -> dict[tuple[str, str], float]:
    """What was taken off before counts against what may ever come off."""
    found: dict[tuple[str, str], float] = {}
    for operation, quantity in REMOVED.items():
        if operation not in model.operations or quantity not in engine.values:
            continue
        axis = model.operations[operation].axis
        for place, value in zip(model.axes.locations[axis], engine.values[quantity], strict=True):
            if value > 0:
                found[operation, place] = float(value)
    return found
