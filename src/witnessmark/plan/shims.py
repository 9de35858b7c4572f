"""What is set after re-measuring: lash shims for the whole head, a screw's lash, a plunger's travel.

The sizes here are what the prediction asks for. They are ordered as a set that covers what the doubt leaves open, and
chosen for good once the lash has been measured again.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from witnessmark.engine.model import Model, evaluate
from witnessmark.engine.predict import predict
from witnessmark.engine.state import State
from witnessmark.engine.work import Amounts, worked
from witnessmark.fit.cover import cover, step_of
from witnessmark.fit.fault import MOST_SIZE
from witnessmark.fit.lash import STAYS, Assignment, assign
from witnessmark.fit.stack import Travel, travel
from witnessmark.limits.sheet import Sheet
from witnessmark.plan.held import Spot, held_against
from witnessmark.plan.ledger import slack
from witnessmark.plan.prices import Stock

KAPPA = 1.645


@dataclass(frozen=True, slots=True)
class Shims:
    """Lash shims of a head: who gets which, what to have at hand for each valve, valves whose shim nobody has read."""

    assignment: Assignment
    has: Mapping[str, float | None]  # place -> what lies there now
    u: Mapping[str, float]  # of what each place needs
    cover: Mapping[str, tuple[float, ...]]  # sizes to have at hand
    unread: tuple[str, ...]
    cost_each: float
    unit: str

    @property
    def cost(self) -> float:
        """Of what is bought."""
        return self.cost_each * sum(self.assignment.bought.values())


@dataclass(frozen=True, slots=True)
class Left:
    """Travel of one adjuster after the work."""

    place: str
    preload: float
    travel: Travel


def shims(
    model: Model, state: State, work: Amounts, sheet: Sheet | None, stock: Stock | None,
    tolerances: Mapping[str, float],
) -> Shims | None:  # fmt: skip
    """The shims of a head after work; None where the gear has none, the shop no sizes, or nothing is known."""
    if "lash_shim_needed" not in model.laws or stock is None:
        return None
    found = predict(model, state, work, slack(model, work, tolerances))
    places = model.axes.locations["valve"]
    base = found.values["lash_shim"] + found.values["valve_lash"]
    wanted, now = found.values["lash_shim_needed"], state.values["lash_shim"]
    # what no shim can be is a slip of the hand, and asks to be read again like what was not read
    known = [n for n in range(len(places)) if 0 < now[n] < MOST_SIZE and abs(wanted[n]) < MOST_SIZE]
    unread = tuple(places[n] for n in range(len(places)) if n not in known)
    sizes = [size for size in stock.sizes if size < MOST_SIZE]
    shelf = {size: count for size, count in stock.on_hand.items() if size < MOST_SIZE}
    if not known or not sizes:
        return None
    needed, own = ({n: float(row[n]) for n in known} for row in (wanted, now))
    u = {n: float(found.u["lash_shim_needed"][n]) for n in known}
    half = step_of(sizes) / 2
    windows, sure = (
        {n: _window(sheet, places[n], n, float(base[n]), needed[n], half, kappa * u[n]) for n in known}
        for kappa in (0.0, KAPPA)
    )
    # as surely as may be asked, where a size exists that is sure; else inside the limit
    sure = {n: sure[n] if any(sure[n][0] <= size <= sure[n][1] for size in sizes) else windows[n] for n in known}
    chosen = assign(
        [places[n] for n in known], list(needed.values()), [sure[n][0] for n in known],
        [sure[n][1] for n in known], list(own.values()), shelf, sizes,
    )  # fmt: skip
    covers = {places[n]: cover(needed[n], KAPPA * u[n], *windows[n], sizes) for n in known}
    return Shims(chosen, {places[n]: own[n] for n in known}, {places[n]: u[n] for n in known}, covers, unread,
                 stock.cost, stock.unit)  # fmt: skip


def _window(
    sheet: Sheet | None, place: str, element: int, base: float, needed: float, half: float, guard: float = 0.0
) -> tuple[float, float]:  # fmt: skip
    """Thickness that keeps the lash inside its limit, by `guard`; on a side without one within half a step of sizes."""
    held = held_against(sheet, Spot("valve_lash", element, place), new=False)
    low = base - held.high + guard if held is not None and held.high is not None else None
    high = base - held.low - guard if held is not None and held.low is not None else None
    return (
        max(-MOST_SIZE, low if low is not None else min(needed, needed if high is None else high) - half),
        min(MOST_SIZE, high if high is not None else max(needed, needed if low is None else low) + half),
    )


def with_shims(model: Model, work: Amounts, found: Shims | None) -> dict[str, np.ndarray]:
    """The work with every shim that changes its place."""
    done = dict(work)
    if found is None:
        return done
    row = np.array(done.get("lash_shim", np.zeros(model.axes.size("valve"))))
    for one in found.assignment.given:
        if one.source != STAYS:
            row[model.axes.index("valve", one.place)] = one.size
    if np.any(row):
        done["lash_shim"] = row
    return done


def screwed(model: Model, state: State, work: Amounts) -> dict[str, np.ndarray]:
    """The work with every screw turned to its target lash, where both are known."""
    done = dict(work)
    if "lash_adjust" not in model.operations or "target_lash" not in state.values:
        return done
    lash = evaluate(model, worked(model, state.values, work))["valve_lash"]
    turn = np.nan_to_num(state.values["target_lash"] - lash)
    if np.any(turn):
        done["lash_adjust"] = turn
    return done


def adjusters(model: Model, state: State, work: Amounts, sheet: Sheet | None) -> tuple[Left, ...]:
    """What is left of every plunger whose travel has limits."""
    if "hla_preload" not in model.laws:
        return ()
    preload = evaluate(model, worked(model, state.values, work))["hla_preload"]
    found = []
    for n, place in enumerate(model.axes.locations["valve"]):
        held = held_against(sheet, Spot("hla_preload", n, place), new=False)
        if held is not None and held.low is not None and held.high is not None and not np.isnan(preload[n]):
            found.append(Left(place, float(preload[n]), travel(float(preload[n]), held.low, held.high)))
    return tuple(found)
