"""Invented heads of any number of valves with every limit and choice of the plan's benchmarks; derived, as toys."""

from functools import lru_cache
from math import pi, radians

import numpy as np

from witnessmark.engine.described import layout
from witnessmark.engine.model import Model
from witnessmark.engine.state import State, blank
from witnessmark.engine.tables import geometry
from witnessmark.plan.held import Spot
from witnessmark.plan.margins import HIGH, LOW, Edge, Margins, Offer
from witnessmark.plan.problem import Problem, Rule

LIMITS = {"stem_height": (43.75, 44.25), "seat_width": (1.0, 1.6), "margin": (0.8, np.inf), "ptv_axial": (1.6, np.inf),
          "seat_runout": (-np.inf, 0.05)}  # fmt: skip
WORK = {"seat_cut": (0.03, 0.60, 18.0), "relief_top": (0.02, 0.90, 6.0), "face_grind": (0.03, 0.30, 9.0),
        "tip_grind": (0.02, 0.30, 7.0), "valve_replace": (1.0, 1.0, 31.0)}  # fmt: skip
TOLERANCE = 0.005


def described(cylinders: int) -> dict[str, object]:
    """Four valves to a cylinder, buckets with shims; one head up to six cylinders, else a V."""
    kind = "inline" if cylinders <= 6 else "v"
    return {"layout": kind, "cylinders": str(cylinders), "valves": {"inl": ["f", "r"], "exh": ["f", "r"]},
            "gear": "bucket_shim", "head": "aluminium", "drive": "chain"}  # fmt: skip


def engine(words: dict[str, object]) -> tuple[Model, State]:
    """An engine of 86 by 86 with everything known that its limits ask for."""
    model = geometry(layout(words))
    state = blank(model.axes, tuple(model.quantities.values()))
    inlet = model.axes.inlet
    known = {
        "bore": 86.0, "stroke": 86.0, "rod_length": 143.0, "chamber_volume": 44_000.0,
        "chamber_area": 0.78 * pi / 4 * 86.0**2, "gasket_thickness": 1.10, "gasket_bore": 87.0, "deck_clearance": 0.20,
        "crown_volume": 4000.0, "valve_head_diameter": np.where(inlet, 33.0, 28.0), "valve_angle": radians(15),
        "valve_lash": 0.20, "lash_shim": 2.60, "spring_rate": 30.0, "spring_free_length": 48.0, "valve_lift": 9.5,
        "installed_height": 38.0, "margin": 1.15, "stem_height": 44.0, "seat_width": 1.28, "ptv_axial": 1.9,
        "head_height": 133.0, "head_flatness": 0.02, "seat_runout": 0.02, "new_stem_height": 43.95, "new_margin": 1.3,
        "new_seat_runout": 0.01, "new_head_flatness": 0.02, "cam_sprocket_radius": 50.0, "crank_sprocket_radius": 25.0,
        "drive_centre_distance": 400.0, "tensioner_extension": 5.0, "tensioner_ratio": 0.5,
    }  # fmt: skip
    return model, state.with_values(**{name: value for name, value in known.items() if name in state.values})


@lru_cache(maxsize=1)
def cylinder() -> tuple[Model, State]:
    """One cylinder with an inlet and an exhaust valve."""
    return engine({**described(1), "valves": {"inl": "1", "exh": "1"}})


def margins_of(model: Model, state: State) -> Margins:
    """Rooms at every limit with every choice at every valve open, and a skim of each head."""
    places = model.axes.locations["valve"]
    offers = [_offer(name, where, v) for v, where in enumerate(places) for name in WORK]
    for head, where in enumerate(model.axes.locations["bank"]):
        offers.append(Offer(f"skim@{where}", "skim", where, head, 0.03, 0.20, 0.01, 85.0, 40.0, "metal", TOLERANCE))
    edges = []
    for name, ends in LIMITS.items():
        for v, where in enumerate(places):
            for side, limit in zip((LOW, HIGH), ends, strict=True):
                if np.isfinite(limit):
                    edge = Edge(f"{name}@{where} {side}", Spot(name, v, where), side, limit, limit, 0.5, False)
                    edges.append(edge)
    return Margins(model, state, tuple(offers), tuple(edges), np.zeros(len(edges)))


def _offer(name: str, where: str, v: int) -> Offer:
    least, most, cost = WORK[name]
    part = name == "valve_replace"
    return Offer(f"{name}@{where}", name, where, v, least, most, None if part else 0.01, cost + 0.01 * v, 10.0,
                 "part" if part else "metal", 0.0 if part else TOLERANCE)  # fmt: skip


def open_at(model: Model, margins: Margins) -> Problem:
    """The problem of some rooms: what excludes what, what needs what."""
    at = {(one.operation, one.element): n for n, one in enumerate(margins.offers)}
    rules, groups = [], []
    for v in range(model.axes.size("valve")):
        rules += [Rule((at[name, v], at["valve_replace", v])) for name in ("face_grind", "tip_grind")]
        rules.append(Rule((at["relief_top", v],), (at["seat_cut", v],)))
        groups.append(tuple(at[name, v] for name in WORK))
    m = len(margins.edges)
    return Problem(margins.offers, tuple(rules), margins, tuple(edge.id for edge in margins.edges),
                   np.array([edge.scale for edge in margins.edges]), np.zeros(m, bool), tuple(groups))  # fmt: skip
