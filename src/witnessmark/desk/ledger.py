"""The ledger of a job: what its intended work, or work that somebody asks about, does to every characteristic."""

from collections.abc import Callable, Mapping
from typing import Any

from witnessmark.desk.cuts import model_of
from witnessmark.desk.geometry import state_of
from witnessmark.desk.prices import prices_of
from witnessmark.desk.report import INCH_SHOP, scaled
from witnessmark.desk.state import State
from witnessmark.engine.work import Cut
from witnessmark.explain.consequence import why_row
from witnessmark.explain.words import METRIC
from witnessmark.plan.held import Spot
from witnessmark.plan.ledger import After, ledger
from witnessmark.plan.result import Ledger, LedgerRow
from witnessmark.quantity.unit import unit
from witnessmark.record.shape import BACK


def ledger_of_job(
    state: State, cuts: tuple[Cut, ...], only: Callable[[Spot], bool] | None = None
) -> Ledger:
    """The ledger of the job's round `as found`, with what was read after machining beside it.

    Raises Refused while the engine is not described.
    """
    model = model_of(state)
    return ledger(model, state_of(state), cuts, state.sheet, state.catalogue, tolerances(state), after(state),
                  only)  # fmt: skip


def tolerances(state: State) -> dict[str, float]:
    """Standard uncertainty of each operation's amount, from the shop's price list."""
    prices = prices_of(state)
    return {name: one.tolerance for name, one in prices.work.items() if one.tolerance} if prices else {}


def after(state: State) -> After:
    """What was read in the round `back from machining`: value and standard uncertainty by characteristic and place."""
    if not any(one.round == BACK for one in state.job.readings):
        return {}  # nothing to judge for
    return {
        (one.characteristic, one.location): (one.value, one.u or 0.0)
        for one in state.judgement.results if one.round == BACK and one.value is not None
    }  # fmt: skip


def ledger_data(state: State, found: Ledger) -> dict[str, Any]:
    """Plain data for machines: rows, what is crossed, what is not known."""
    return {
        "job": state.job.id,
        "rows": [row_data(state, row) for row in found.rows],
        "crossed": [{"characteristic": row.characteristic, "location": row.location} for row in found.crossed],
        "unknown": [{"characteristic": name, "why": why} for name, why in found.unknown],
    }


def row_data(state: State, row: LedgerRow) -> dict[str, Any]:
    """One row; values in the unit of its limit, or in mm, N, degrees ... where there is none."""
    held = row.against
    name = (held.unit if held else "") or METRIC.get(row.dimension, "")
    scale = float(unit(name, row.dimension).factor) if name else 1.0
    return {
        "characteristic": row.characteristic, "location": row.location, "group": row.group,
        "before": scaled(row.before, scale), "predicted": scaled(row.predicted, scale),
        "after": scaled(row.after, scale), "unit": name or None, "u": scaled(row.u, scale),
        "u_before": scaled(row.u_before, scale), "verdict_before": row.verdict_before or None,
        "verdict": row.verdict or None, "p_within": row.p_within, "limit": _limit(row, scale), "moved": row.moved,
        "unexplained": scaled(row.unexplained, scale),
        "terms": [{"operation": what, "by": scaled(by, scale)} for what, by in row.terms],
        "unknown": row.unknown or None, "origin": row.origin or None,
        "why": why_row(row, state.catalogue, "in" if name in INCH_SHOP else "mm"),
    }  # fmt: skip


def _limit(row: LedgerRow, scale: float) -> Mapping[str, Any] | None:
    held = row.against
    if held is None or not row.verdict:
        return None
    return {"low": scaled(held.low, scale), "high": scaled(held.high, scale), "kind": held.kind,
            "source": {"document": held.document, "page": held.page}}  # fmt: skip
