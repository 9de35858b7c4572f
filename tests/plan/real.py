"""Real heads with few valves and few choices, for tests of the planner on the geometry itself."""

from dataclasses import replace

import numpy as np

from engine.heads import head
from plan.toys import COST, offer, problem
from witnessmark.plan.held import Spot
from witnessmark.plan.margins import HIGH, LOW, Edge, Margins
from witnessmark.plan.problem import Rule

LIMITS = {"stem_height": (43.75, 44.25), "seat_width": (1.0, 1.6), "margin": (0.8, np.inf), "ptv_axial": (1.6, np.inf),
          "seat_runout": (-np.inf, 0.05)}  # fmt: skip
ONE_EACH = {"layout": "inline", "cylinders": "1", "valves": {"inl": "1", "exh": "1"}, "gear": "bucket_shim",
            "head": "aluminium", "drive": "chain"}  # fmt: skip
THREE = {**ONE_EACH, "valves": {"inl": ["f", "r"], "exh": "1"}}


def few(seed, described=ONE_EACH, u0=0.008, **ranges):
    """An invented head of one cylinder with its problem: five choices at each valve, and a skim."""
    stream = np.random.default_rng(seed)
    model, state = head(described)
    n = model.axes.size("valve")
    state = state.with_values(
        stem_height=stream.uniform(43.7, 44.5, n), seat_width=stream.uniform(1.1, 1.9, n),
        margin=stream.uniform(0.75, 1.3, n), ptv_axial=stream.uniform(1.5, 2.2, n), new_stem_height=43.95,
        new_margin=1.2, seat_runout=stream.uniform(0.01, 0.08, n), new_seat_runout=0.01,
    )  # fmt: skip
    state = replace(state, own={name: np.full(n, u0) for name in ("stem_height", "seat_width", "margin", "ptv_axial")})
    usual = {"seat_cut": (0.05, 0.60, 0.05), "face_grind": (0.05, 0.20, 0.05), "tip_grind": (0.05, 0.25, 0.05),
             "relief_top": (0.1, 0.6, 0.1), "skim": (0.05, 0.15, 0.05)} | ranges  # fmt: skip
    places = model.axes.locations["valve"]
    names = ("seat_cut", "face_grind", "tip_grind", "relief_top", "valve_replace")
    offers = [offer(name, where, v, *usual.get(name, (1.0, 1.0, None)), COST[name] + 0.37 * v)
              for name in names for v, where in enumerate(places)]  # fmt: skip
    offers.append(offer("skim", model.axes.locations["bank"][0], 0, *usual["skim"], COST["skim"]))
    at = {(one.operation, one.element): k for k, one in enumerate(offers)}
    rules = []
    for v in range(n):
        rules += [Rule((at["face_grind", v], at["valve_replace", v])), Rule((at["tip_grind", v], at["valve_replace", v])),
                  Rule((at["relief_top", v],), needs=(at["seat_cut", v],))]  # fmt: skip
    edges = []
    for name, (low, high) in LIMITS.items():
        for v, where in enumerate(places):
            for side, limit in ((LOW, low), (HIGH, high)):
                if np.isfinite(limit):
                    edges.append(Edge(f"{name}@{where} {side}", Spot(name, v, where), side, limit, limit, 0.5, False))
    deck = stream.uniform(0.02, 0.08)
    edges.append(Edge("head_flatness@head high", Spot("head_flatness", 0, "head"), HIGH, 0.05, 0.05, 0.05, False))
    state = state.with_values(head_flatness=deck, new_head_flatness=0.02)
    margins = Margins(model, state, tuple(offers), tuple(edges), np.zeros(len(edges)))
    made = problem(offers, rules, margins, len(edges))
    return replace(made, rows=tuple(edge.id for edge in edges), scale=np.array([edge.scale for edge in edges]))
