"""A judgement as plain data, for machines: values in the unit of the limit, each row with its reason.

The keys are contract: scripts rely on them.
"""

from collections.abc import Mapping
from math import isfinite
from typing import Any

from witnessmark.desk.state import State
from witnessmark.explain.compared import compared_words
from witnessmark.explain.why import why
from witnessmark.explain.words import METRIC
from witnessmark.judge.compared import Compared, comparisons
from witnessmark.judge.result import Missing, Result, Settle
from witnessmark.quantity.unit import unit

INCH_SHOP = ("in", "thou", "tenths", "psi", "lbf·ft", "lbf·in")  # limits in these are told in a shop's inch units


def judgement(state: State) -> dict[str, Any]:
    """`results`, `missing`, `summary`, and the open `questions` of a job."""
    judged, problem = state.judged
    return {
        "job": state.job.id,
        "results": [row(result) for result in judged.results],
        "extent": state.job.extent,
        "comparisons": [_comparison(found) for found in comparisons(state.job)],
        "missing": [_missing(missing) for missing in judged.missing],
        "summary": judged.summary,
        "questions": [
            {"reading": one.id, "characteristic": one.characteristic, "place": one.place, "raw": one.raw,
             "text": one.question["text"] if one.question else "two corrections contend"}
            for one in state.job.questions
        ],
        "problems": [*state.problems, *([problem] if problem else [])],
    }  # fmt: skip


def row(result: Result) -> dict[str, Any]:
    """One result; values in the unit of its limit, or in mm, N, degrees ... where there is none.

    What is only looked at has no unit: `unit` is then null.
    """
    held = result.against
    name = (held.unit if held else "") or METRIC.get(result.quantity, "")
    scale = float(unit(name, result.quantity).factor) if name else 1.0
    return {
        "characteristic": result.characteristic,
        "location": result.location,
        "round": result.round,
        "rule": result.rule,
        "value": scaled(result.value, scale),
        "interval": [scaled(end, scale) for end in result.interval] if result.interval else None,
        "unit": name or None,
        "u": scaled(result.u, scale),
        "dof": result.dof,
        "verdict": result.verdict or None,
        "p_within": result.p_within,
        "limit": _limit(result, scale),
        "gauge": list(result.gauges),
        "settle_with": _settle(result.settle, scale),
        "why": why(result, "in" if name in INCH_SHOP else "mm"),
        "stations": list(result.stations),
        "complete": result.complete,
        "read": result.read,
        "needed": result.needed,
        "floor": scaled(result.floor, scale),
        "p_if_at_limit": list(result.p_if_at_limit) if result.p_if_at_limit else None,
        "assumed": list(result.assumed),
        "questions": list(result.questions),
        "says": result.says or None,
        "method": result.method or None,
        "photos": list(result.photos),
        "suspect": list(result.suspect),
        "extent": result.extent,
        "near": result.near,
        "overdue": list(result.overdue),
        "budget": [{"source": line.source, "u": scaled(line.u, scale), "dof": line.dof, "shared": line.shared}
                   for line in result.budget],
    }  # fmt: skip


def _limit(result: Result, scale: float) -> Mapping[str, Any] | None:
    held = result.against
    if held is None or not result.verdict:
        return None
    return {
        "low": scaled(held.low, scale), "high": scaled(held.high, scale), "kind": held.kind,
        "source": {"document": held.document, "page": held.page}, "doubt": held.bearer,
        "accept": list(held.accept), "to_check": held.to_check,
    }  # fmt: skip


def _settle(cure: Settle | None, scale: float) -> list[dict[str, Any]]:
    if cure is None or cure.kind == "none":
        return []
    if cure.kind == "repeats":
        return [{"repeats": cure.repeats, "chance": cure.chance}]
    if cure.kind == "method":
        return [{"method": cure.method, "chance": None}]
    if cure.kind == "material":
        return [{"material": True, "chance": None}]
    if cure.kind == "amount":
        return [{"amount": True, "chance": None}]
    if cure.kind == "leaf":
        return [{"leaf": cure.leaf, "chance": 1.0}]
    return [{"gauge": cure.gauge, "U": scaled(cure.U, scale), "chance": None}]


def _comparison(found: Compared) -> dict[str, Any]:
    """Two gauges on one part: what they read as it was written, the score, and what follows."""
    one = found.comparison
    return {
        "first": one.first, "second": one.second, "on": one.on, "first_read": one.first_read,
        "second_read": one.second_read, "unit": one.unit,
        "E_n": found.score if found.score is not None and isfinite(found.score) else None, "agree": found.agree,
        "why": compared_words(found),
    }  # fmt: skip


def _missing(missing: Missing) -> dict[str, Any]:
    return {"characteristic": missing.characteristic, "place": missing.place, "round": missing.round,
            "waived": missing.waived or None}  # fmt: skip


def scaled(value: float | None, scale: float) -> float | None:
    """To 12 digits, so that 0.2345 in, once 5.9563 mm, is 0.2345 again."""
    return None if value is None else float(f"{value / scale:.12g}")
