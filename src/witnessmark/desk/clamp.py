"""What the numbers say of a joint beside its sheet: clamp, yield, a changed lubricant, the setting to dial in."""

from dataclasses import dataclass
from math import radians

from witnessmark.assemble.clamp import Clamp, OutsideLaw, clamp
from witnessmark.assemble.stages import Run
from witnessmark.desk.bench import Refused
from witnessmark.desk.state import State
from witnessmark.desk.tighten import joints, run_now
from witnessmark.limits.procedure import Procedure, Stage
from witnessmark.mechanics.spread import Spread
from witnessmark.mechanics.wrench import range_advice, sensed_setting, wrench_setting
from witnessmark.quantity.amount import Amount
from witnessmark.quantity.read import read
from witnessmark.quantity.unit import unit
from witnessmark.record.job import gauge_now


@dataclass(frozen=True, slots=True)
class Dial:
    """The setting to dial in, as `87.0 N·m`; how it comes about; advice where the wrench is not for it."""

    text: str
    said: str
    advice: str


def clamp_of(procedure: Procedure, threads: str = "") -> tuple[Clamp | None, str]:
    """The clamp of a joint, and why there is none where its thread, class or lubricant is in no table."""
    try:
        groups = {one.group for one in procedure.bolts}
        return clamp(procedure, threads, max(groups)), ""
    except OutsideLaw as outside:
        return None, str(outside)


def warnings_of(state: State, joint: str) -> tuple[str, ...]:
    """What must be said before anybody turns: a bolt that goes to yield unannounced, a lubricant that was not meant."""
    run = run_now(state, joint)
    procedure = run.procedure if run else joints(state).get(joint)
    if procedure is None:
        return ()
    used = str(run.begun.body.get("threads") or "") if run else ""
    found, why = clamp_of(procedure, used)
    said = [f"No numbers for these bolts: {why}."] if why else []
    if found is not None:
        said += [one for one in (_yields(found, procedure), _lubricant(found, procedure, used)) if one]
    return tuple(said)


def _yields(found: Clamp, procedure: Procedure) -> str:
    if not found.yields or procedure.stretch_bolts or found.used is None:
        return ""
    word = "take" if found.yields == "will" else "may take"
    return (f"By the numbers these stages {word} the bolt to yield: {_percent(found.used)} of its yield strength. "
            "The sheet does not call it a stretch bolt: look it up before turning.")  # fmt: skip


def _lubricant(found: Clamp, procedure: Procedure, used: str) -> str:
    if found.lubricant is None:
        return ""
    low, high = (f"{float(end):.2f}" for end in (found.lubricant.low, found.lubricant.high))
    meant = procedure.threads or "oiled"
    return (f"The torques are meant for threads that are {meant}, and these are {used}: the same "
            f"torque clamps {low} to {high} times as much. No torque is changed by this: make the threads as the sheet "
            "means them.")  # fmt: skip


def _percent(spread: Spread) -> str:
    return f"{float(spread.low):.0%} to {float(spread.high):.0%}"


def numbers_of(procedure: Procedure, threads: str = "") -> tuple[tuple[str, str], ...]:
    """(term, words) of the clamp by the numbers, for those who want to know."""
    found, why = clamp_of(procedure, threads)
    if found is None:
        return (("not known", why),) if why else ()
    rows = [("clamp after the last torque", _kilo(found.snug))]
    if found.final is not found.snug and found.final is not None:
        rows += [("for each degree past it", f"{(found.per_degree or 0) / 1000:.2f} kN"),
                 (f"clamp after the last angle{_elastic(found)}", _kilo(found.final))]  # fmt: skip
    if found.used is not None:
        rows.append(("share of yield strength", _percent(found.used)))
    rows += [("taken for granted", "; ".join(found.assumed))] if found.assumed else []
    rows += [("not known", "; ".join(found.missing))] if found.missing else []
    return tuple(rows)


def _elastic(found: Clamp) -> str:
    """Past yield the bolt carries less than the elastic law says."""
    return " (were it elastic to the end; it yields before)" if found.yields == "will" else ""


def _kilo(spread: Spread) -> str:
    return (f"{float(spread.middle) / 1000:.1f} kN, from {float(spread.low) / 1000:.1f} to "
            f"{float(spread.high) / 1000:.1f}")  # fmt: skip


def dial_of(state: State, wrench: str, stage: Stage, length: str, angle: str = "", hand: str = "") -> Dial:
    """The setting for a torque stage behind an extension. Raises Refused for what cannot be read or reached.

    `hand` is where it is pulled, from the drive, where that is not at the grip: a wrench that senses bending then shows
    another torque, by its `sensor` in the register.
    """
    if stage.inside is None or stage.kind not in ("torque", "again"):
        raise Refused("an extension changes the setting of a torque; this stage has none")
    revision = gauge_now(state.job, wrench) if wrench else None
    lever = _mm(str(revision.fields.get("lever") or "") if revision else "", "the lever of the wrench")
    reach, turn = _mm(length, "the length of the extension"), _degrees(angle)
    pulled = _mm(hand, "where the hand pulls") if hand else lever
    sensor = _mm(str(revision.fields.get("sensor") or ""), "the sensor of the wrench") if hand and revision else 0.0
    try:
        if hand and sensor:
            setting = float(sensed_setting(stage.inside, pulled, reach, radians(turn), sensor, lever))
        else:
            setting = float(wrench_setting(stage.inside, pulled, reach, radians(turn)))
    except OutsideLaw as outside:
        raise Refused(str(outside)) from None
    full = _full(revision.fields if revision else {})
    shown = setting / float(unit(stage.unit, "torque").factor)
    said = f"{stage.value} {stage.unit} at the bolt through {length.strip()} at {turn:g}° on a lever of {pulled:g} mm"
    return Dial(f"{shown:.1f} {stage.unit}", said, range_advice(setting, full) if full else "")


def dial_now(state: State, run: Run) -> Dial | None:
    """The setting for the stage that is next, where the run was begun with an extension."""
    told = run.begun.body.get("extension") or {}
    stage = run.works[run.next[0] - 1].stage if run.next else None
    if not told.get("length") or stage is None or stage.kind not in ("torque", "again"):
        return None
    wrench = str(run.begun.body.get("wrench") or "")
    return dial_of(state, wrench, stage, str(told["length"]), str(told.get("angle") or ""))


def _full(fields: object) -> float | None:
    told = dict(fields) if isinstance(fields, dict) else {}
    found = read(str(told.get("reads_to") or ""), str(told.get("unit") or "N·m"), dimension="torque")
    return float(found.inside) if isinstance(found, Amount) else None


def _mm(text: str, what: str) -> float:
    found = read(text, "mm", dimension="length")
    if not isinstance(found, Amount):
        raise Refused(f"{what} is not known or cannot be read ('{text[:40]}'): write it as 60 mm or 2.5 in")
    return float(found.inside)


def _degrees(text: str) -> float:
    if not text.strip():
        return 0.0
    found = read(text, "deg", dimension="angle_plane")
    if not isinstance(found, Amount):
        raise Refused(f"'{text[:40]}' is no angle: write degrees, 0 straight out, 90 square, 180 folded back")
    return float(found.value)
