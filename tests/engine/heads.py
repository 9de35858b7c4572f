"""Heads with figures of their own, for tests of the whole geometry."""

from math import pi, radians

import numpy as np

from witnessmark.catalogue.entry import DRIVES
from witnessmark.engine.described import layout
from witnessmark.engine.model import Model, evaluate
from witnessmark.engine.quantity import NEW
from witnessmark.engine.shape import GEARS, LAYOUTS
from witnessmark.engine.state import State, blank
from witnessmark.engine.tables import geometry
from witnessmark.engine.work import Cut, amounts, worked

SIXTEEN = {"layout": "inline", "cylinders": "4", "valves": {"inl": ["f", "r"], "exh": ["f", "r"]},
           "gear": "bucket_shim", "head": "aluminium", "drive": "chain"}  # fmt: skip


def head(described=None, **values) -> tuple[Model, State]:
    """The engine of the worked ledger: four cylinders of 86 by 86, 16 valves, buckets with shims; `values` besides."""
    model = geometry(layout(described or SIXTEEN))
    state = blank(model.axes, tuple(model.quantities.values()))
    inlet = model.axes.inlet
    bore_area = pi / 4 * 86.0**2
    known = {
        "bore": 86.0, "stroke": 86.0, "rod_length": 143.0, "chamber_volume": 44_000.0, "chamber_area": 0.78 * bore_area,
        "gasket_thickness": 1.10, "gasket_bore": 87.0, "deck_clearance": 0.20, "crown_volume": 4000.0,
        "valve_head_diameter": np.where(inlet, 33.0, 28.0), "valve_angle": radians(15), "valve_lash": 0.20,
        "target_lash": 0.20, "lash_shim": 2.60, "spring_rate": 30.0, "spring_free_length": 48.0,
        "installed_height": 38.0, "valve_lift": 9.5, "spring_solid_height": 26.0, "cam_sprocket_radius": 50.0,
        "crank_sprocket_radius": 25.0, "drive_centre_distance": 400.0, "margin": 1.15, "stem_height": 44.0,
        "seat_width": 1.28, "ptv_axial": np.where(inlet, 1.62, 1.94), "head_height": 133.0, "head_flatness": 0.06,
        "seat_recession": 1.0, "hla_preload": 1.0, "rocker_ratio": 1.6, "rocker_arm": 35.0, "retainer_seal_gap": 12.0,
        "seat_runout": 0.02, "hole_spare": 5.0, "tip_to_groove": 4.0, "stem_diameter": 5.97, "guide_bore": 6.01,
        "stem_guide_clearance": 0.04, "base_circle": 32.0, "tensioner_extension": 5.0, "tensioner_ratio": 0.5,
    }  # fmt: skip
    known |= values
    return model, state.with_values(**{name: value for name, value in known.items() if name in state.values})


PLAIN = {"length": 2.0, "volume": 2000.0, "area": 400.0, "ratio": 0.5, "angle_plane": 0.1, "angle_crank": 0.05,
         "rate": 30.0, "force": 250.0}  # fmt: skip
KINDS = tuple((kind, gear, drive) for kind in LAYOUTS for gear in GEARS for drive in DRIVES)


def kind_of(kind: str, gear: str, drive: str) -> dict:
    """An engine of four cylinders as a job file describes it; two valves a side where buckets allow it."""
    each = ["f", "r"] if gear.startswith("bucket") else "1"
    return {"layout": kind, "cylinders": "4", "valves": {"inl": each, "exh": each}, "gear": gear, "drive": drive}


def whole(described=None, **values) -> tuple[Model, State]:
    """As `head`, with nothing left unknown: what it does not state has a size of its kind."""
    model, state = head(described, **{"relief_top_angle": radians(30), "relief_bottom_angle": radians(60), **values})
    fill = {
        name: np.where(np.isnan(row), PLAIN[model.quantities[name].dimension], row)
        for name, row in state.values.items() if not name.startswith("lift_at") and np.isnan(row).any()
    }  # fmt: skip
    fill.pop("tight_span_angle", None)
    return model, state.with_values(**fill)


def after(model: Model, state: State, *cuts: tuple[str, str, float]) -> dict[str, np.ndarray]:
    """Results after cuts (operation, location or "all", amount)."""
    made = []
    for operation, where, amount in cuts:
        places = model.axes.locations[model.operations[operation].axis]
        made += [Cut(operation, place, amount) for place in (places if where == "all" else (where,))]
    return evaluate(model, worked(model, state.values, amounts(model, tuple(made))))


__all__ = ["KINDS", "NEW", "after", "head", "kind_of", "whole"]
