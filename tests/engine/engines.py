"""The four invented engines of the house, as a job file describes them."""

from witnessmark.engine.layout import Layout, layout

TERN = {  # Tern 2.0, invented: inline four, sixteen valves, buckets with shims, millimetre
    "layout": "inline",
    "cylinders": "4",
    "valves": {"inl": ["f", "r"], "exh": ["f", "r"]},
    "gear": "bucket_shim",
    "head": "aluminium",
}
EGRET = {  # Egret 5.0, invented: pushrod V8, inch
    "layout": "v",
    "cylinders": "8",
    "valves": {"inl": "1", "exh": "1"},
    "gear": "pushrod_hydraulic",
    "head": "iron",
    "block": "iron",
}
WREN = {"layout": "inline", "cylinders": "1", "valves": {"inl": "1", "exh": "1"}, "gear": "rocker"}
PETREL = {  # Petrel 1.6, invented: inline four, one overhead camshaft, finger followers
    "layout": "inline",
    "cylinders": "4",
    "valves": {"inl": "1", "exh": "1"},
    "gear": "finger_hydraulic",
}


def tern(**changes: object) -> Layout:
    """The Tern, with keys of its description changed."""
    return layout({**TERN, **changes})


def egret(**changes: object) -> Layout:
    """The Egret, with keys of its description changed."""
    return layout({**EGRET, **changes})
