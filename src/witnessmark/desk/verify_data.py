"""The verification of a job as plain data for machines: pressures in kPa, areas in mm²."""

from typing import Any

from witnessmark.assemble.verify import findings, spread_of
from witnessmark.desk.conditions import unread
from witnessmark.desk.ledger import row_data
from witnessmark.desk.report import scaled
from witnessmark.desk.state import State
from witnessmark.desk.verify import Tried, verified
from witnessmark.explain.verified import finding_words

KPA = 0.001  # MPa


def verification_data(state: State) -> dict[str, Any]:
    """Conditions, cylinders with what is expected of them, hints, and every row that was read after the work.

    Raises Refused while the engine is not described.
    """
    found = verified(state)
    cylinders = [one.cylinder for one in found.tried]
    return {
        "job": state.job.id, "conditions": dict(state.job.conditions), "seen": state.job.conditions_event,
        "unread": list(unread(state)),
        "air": {"pressure": scaled(found.air.pressure, KPA), "unit": "kPa", "origin": found.air.origin},
        "cylinders": [_cylinder(one) for one in found.tried], "lowest_over_highest": spread_of(cylinders),
        "hints": [{"name": one.name, "places": list(one.places), "facts": dict(one.facts), "why": finding_words(one)}
                  for one in findings(cylinders)],
        "rows": [row_data(state, row) for row in found.ledger.rows if row.after is not None],
    }  # fmt: skip


def _cylinder(one: Tried) -> dict[str, Any]:
    made, band, size = one.cylinder, one.cylinder.expected, one.leak
    return {
        "place": made.place, "unit": "kPa", "dry": scaled(made.dry, KPA), "u": scaled(made.u, KPA),
        "first": scaled(made.first, KPA), "wet": scaled(made.wet, KPA), "before": scaled(one.before, KPA),
        "expected": {"low": scaled(band.low, KPA), "middle": scaled(band.middle, KPA), "high": scaled(band.high, KPA)}
        if band else None,
        "not_expected": one.why or None, "loss": made.loss,
        "leak": {"area": size.area, "low": size.low, "high": size.high, "diameter": size.diameter, "unit": "mm²",
                 "others": [{"orifice": orifice, "loss": loss} for orifice, _, loss in size.others]} if size else None,
        "no_leak": one.leak_why or None,
    }  # fmt: skip
