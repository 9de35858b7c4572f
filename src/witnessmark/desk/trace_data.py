"""Traces as plain data for machines: key points, the set, who is unlike the others, what it usually means."""

from typing import Any

from witnessmark.assemble.signature import said, signatures
from witnessmark.assemble.trace import KeyPoints, Point
from witnessmark.assemble.traces import MEASURES, TraceSet, measure

POINTS = (("alignment", "alignment"), ("snug", "snug"), ("origin", "origin"), ("yield", "yielded"), ("end", "end"))


def trace_data(all_: TraceSet) -> dict[str, Any]:
    """A set of traces as data. Angles in degrees, torques in N·mm."""
    return {
        "units": {"angle": "deg", "torque": "N·mm", "slope": "N·mm/deg"},
        "bolts": [{"bolt": one.bolt, "points": _points(one.points),
                   "measures": {name: measure(one, name) for name in MEASURES}} for one in all_.bolts],
        "set": {name: {"count": one.count, "median": one.median, "scaled_median_deviation": one.spread,
                       "least": one.low, "most": one.high} for name, one in all_.middles.items()},
        "unlike": [{"bolt": one.bolt, "measure": one.measure, "value": one.value, "others": one.median,
                    "spread": one.spread, "apart": one.apart} for one in all_.unlike],
        "signatures": [{"id": one.id, "bolt": one.bolt, "said": said(one), "means": one.means}
                       for one in signatures(all_)],
    }  # fmt: skip


def _points(points: KeyPoints) -> dict[str, Any]:
    told = {name: _point(getattr(points, field)) for name, field in POINTS}
    return {"prevailing": points.prevailing, "slope": points.slope, **told}


def _point(one: Point) -> dict[str, Any]:
    return {"angle": one.angle, "torque": one.torque, "doubt": one.doubt, "reason": one.reason or None}
