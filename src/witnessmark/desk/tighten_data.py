"""A joint as plain data for machines: stages with their order, bolts with how they stand, cautions."""

from collections.abc import Mapping
from typing import Any

from witnessmark.assemble.stages import Run, Work, works
from witnessmark.desk.bench import Refused
from witnessmark.desk.bolts import bolts_of
from witnessmark.desk.clamp import clamp_of, warnings_of
from witnessmark.desk.sheets.tighten import standing_of
from witnessmark.desk.sheets.tighten_words import cautions, where_words
from witnessmark.desk.state import State
from witnessmark.desk.tighten import joints, run_now, words
from witnessmark.limits.procedure import Procedure
from witnessmark.mechanics.spread import Spread
from witnessmark.text.near import did_you_mean


def tighten_data(state: State, joint: str = "", way: str = "tighten") -> dict[str, Any]:
    """The stages, bolts and cautions of a joint; without a name the first of the limit sheet, which is told.

    Raises Refused where the limit sheet has no such joint.
    """
    known = joints(state)
    name = joint or next(iter(known), "")
    if name not in known:
        had = f"; the limit sheet has: {', '.join(known)}" if known else "; no joint is entered on the limit sheet"
        raise Refused(f"no joint is called '{name[:60]}'{did_you_mean(name, known) or had}" if name else
                      "the limit sheet says of no joint how it is tightened; enter `tightening:` on it")  # fmt: skip
    run = run_now(state, name)
    shown = run if run is not None and run.way == way else None
    procedure = shown.procedure if shown else known[name]
    stages = shown.works if shown else works(procedure, way)
    bolts = bolts_of(state, procedure)
    return {
        "joint": name, "term": procedure.term, "way": way, "stands": standing_of(state, name),
        "order_worked_out": procedure.worked_out,
        "source": {"document": procedure.document, "page": procedure.page},
        "stages": [_stage(one, shown) for one in stages],
        "bolts": [_bolt(procedure, shown, one) for one in procedure.order],
        "next": {"stage": shown.next[0], "bolt": shown.next[1]} if shown and shown.next else None,
        "stop": _stop(shown), "renew": {"count": bolts.order, "said": bolts.said, "why": bolts.why},
        "clamp": _clamp(procedure, str(shown.begun.body.get("threads") or "") if shown else ""),
        "warnings": list(warnings_of(state, name)),
        "cautions": [f"{term}: {text}" for term, text in cautions(state, procedure, shown)],
        "joints": list(known),
    }  # fmt: skip


def _stage(work: Work, run: Run | None) -> dict[str, Any]:
    stage = work.stage
    torque = stage.value if stage.kind in ("torque", "again") else None
    return {
        "kind": stage.kind, "torque": torque, "angle": stage.value if stage.kind == "angle" else None,
        "stretch": stage.value if stage.kind == "stretch" else None, "unit": stage.unit or None,
        "group": stage.group or None, "when": stage.when or None, "words": words(stage), "order": list(work.order),
        "done": run.count(work.number)[0] if run else 0,
    }  # fmt: skip


def _bolt(procedure: Procedure, run: Run | None, bolt: str) -> dict[str, Any]:
    place = next(one for one in procedure.bolts if one.bolt == bolt)
    held = run.bolts.get(bolt) if run else None
    turns = [{"stage": one.stage, "at": one.at, "by": one.by, "wrench": one.wrench or None,
              "angle_by": one.angle_by or None, "final_torque": one.final or None, "stretch": one.stretch or None,
              "unit": one.unit or None}
             for one in held.turns] if held else []  # fmt: skip
    return {
        "bolt": bolt, "x": place.x, "y": place.y, "group": place.group or None, "where": where_words(procedure, bolt),
        "turns": turns, "doubt": (held.doubt or None) if held else None, "begun": held.begun if held else 1,
    }  # fmt: skip


def _stop(run: Run | None) -> dict[str, Any] | None:
    if run is None or run.stop is None:
        return None
    stop = run.stop
    return {"bolt": stop.bolt, "stage": stop.stage, "side": stop.side, "torque": stop.torque, "middle": stop.middle,
            "spread": stop.spread, "unit": "N·mm"}  # fmt: skip


def _clamp(procedure: Procedure, threads: str) -> Mapping[str, Any] | None:
    found, why = clamp_of(procedure, threads)
    if found is None:
        return {"why_not": why} if why else None
    return {"snug": _ends(found.snug), "final": _ends(found.final), "yield_share": _ends(found.used),
            "per_degree": found.per_degree, "yields": found.yields or None, "lubricant": _ends(found.lubricant),
            "assumed": list(found.assumed), "missing": list(found.missing), "unit": "N"}  # fmt: skip


def _ends(spread: Spread | None) -> list[float] | None:
    return None if spread is None else [float(spread.low), float(spread.middle), float(spread.high)]
