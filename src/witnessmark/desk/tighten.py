"""Tightening and loosening a joint: begin a run, one key a bolt, doubts and how they are settled.

An event's id names run, stage and bolt, so that of two people who turn one bolt at once the store keeps one and tells
the other. A form says which bolt its page showed; what has moved on since is refused with words and nothing is lost.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache

from witnessmark.assemble.caps import Cap, rounds
from witnessmark.assemble.pattern import Bolt, columns
from witnessmark.assemble.sequence import usual
from witnessmark.assemble.stages import Run, Work, choices, run_of
from witnessmark.desk.bench import Refused
from witnessmark.desk.commands import Stamp
from witnessmark.desk.state import State
from witnessmark.limits.procedure import Procedure, Stage, kept
from witnessmark.quantity.amount import Amount
from witnessmark.quantity.read import read
from witnessmark.record.event import Event
from witnessmark.record.job import Did, gauge_now
from witnessmark.record.shape import DOUBTS, WAYS
from witnessmark.text.near import did_you_mean

TAKE_BACK, LOST = "*", "-"
MANY = 10.0  # times the last torque that was set: more than any angle makes of it (judgement)
WORDS = {"torque": "{value} {unit}", "again": "again {value} {unit}", "angle": "turn {value}°", "yield": "to yield",
         "stretch": "stretch {value} {unit}", "draw": "draw the caps down evenly", "ease": "all a little first",
         "out": "out"}  # fmt: skip


def words(stage: Stage) -> str:
    """A stage in the words of the bench."""
    return WORDS[stage.kind].format(value=stage.value, unit=stage.unit)


def joints(state: State) -> Mapping[str, Procedure]:
    """Joint -> its procedure, each with an order: that of the sheet, or one worked out from the places."""
    sheet = state.sheet
    if sheet is None:
        return {}
    return state.memory.once(("joints", sheet.hash), lambda: {
        name: one if one.order else worked_out(one) for name, one in sheet.tightening.items()})


def worked_out(procedure: Procedure) -> Procedure:
    """The same procedure with an order from the places of its bolts: from the middle outwards."""
    bolts = tuple(Bolt(one.bolt, one.x, one.y) for one in procedure.bolts)
    order = _over_caps(procedure, bolts) if procedure.caps else usual(bolts)
    plain = {**procedure.plain, "order": list(order), "worked_out": "yes"}
    return replace(procedure, order=tuple(order), worked_out=True, plain=plain)


def _over_caps(procedure: Procedure, bolts: Sequence[Bolt]) -> tuple[str, ...]:
    """One round over the caps of a camshaft: those under a pressing lobe first, then from the middle outwards."""
    caps = [Cap(str(n), column[0].x, names, any(one in procedure.pressed for one in names))
            for n, column in enumerate(columns(bolts), 1) if (names := tuple(one.name for one in column))]  # fmt: skip
    return rounds(caps, 1)[0]


@cache
def _kept(joint: str, packed: str) -> Procedure | None:
    import json

    return kept(joint, json.loads(packed))


def procedure_of(begun: Did) -> Procedure | None:
    """The procedure that a run was begun with; None where the record holds none that can be used."""
    import json

    return _kept(str(begun.body["joint"]), json.dumps(begun.body["procedure"], sort_keys=True, default=str))


def runs(state: State, joint: str = "") -> tuple[Run, ...]:
    """The runs of a joint, or of all, in the order in which they were begun."""
    found = []
    for did in state.job.assembly:
        if did.kind == "tightening_begun" and joint in ("", did.body["joint"]):
            known = procedure_of(did)
            if known is not None:
                found.append(run_of(did, known, (one for one in state.job.assembly if one.kind != did.kind)))
    return tuple(found)


def run_now(state: State, joint: str) -> Run | None:
    """The last run of a joint."""
    found = runs(state, joint)
    return found[-1] if found else None


def begin(
    state: State, stamp: Stamp, joint: str, way: str = "tighten", wrench: str = "", angle_by: str = "",
    threads: str = "", extension: Mapping[str, str] | None = None, bolts: str = "", note: str = "",
) -> tuple[Event, ...]:  # fmt: skip
    """Begin a run over all bolts of a joint. `bolts` says what they are: new, or used how often.

    A run that is not finished is left only with a word why; the bolts then begin again at the first stage.
    """
    known = joints(state)
    if joint not in known:
        had = f"; the limit sheet has: {', '.join(known)}" if known else "; enter it on the limit sheet first"
        raise Refused(f"no joint is called '{joint[:60]}'{did_you_mean(joint, known) or had}")
    if way not in WAYS:
        raise Refused(f"'{way[:40]}' is no way to go round; write {' or '.join(WAYS)}")
    before = run_now(state, joint)
    if before and before.way == way and not before.tight and before.next and not note.strip():
        raise Refused(f"a run over the {known[joint].term} is not finished, bolt {before.next[1]} is next; "
                      "go on with it, or say why all begin again")
    _known_tool(state, wrench, "torque_wrench")
    _known_tool(state, angle_by, "angle_gauge")
    body = {"joint": joint, "way": way, "procedure": _plain(known[joint]), "wrench": wrench or None,
            "angle_by": angle_by or None, "threads": threads or known[joint].threads or None,
            "extension": dict(extension) if extension else None, "bolts": {"all": bolts} if bolts else None,
            "note": note.strip() or None}  # fmt: skip
    number = sum(one.kind == "tightening_begun" and one.body["joint"] == joint for one in state.job.assembly) + 1
    return (_event(state, stamp, f"tighten:{joint}:{number}", "tightening_begun", body),)


def _plain(procedure: Procedure) -> dict[str, object]:
    """What an event keeps of a procedure: all of the sheet's entry, and which document it is from."""
    return {**procedure.plain, "document": procedure.document} if procedure.document else dict(procedure.plain)


def press(
    state: State, stamp: Stamp, run: str, line: str = "", saw: str = "", wrench: str = "", angle_by: str = ""
) -> tuple[Event, ...]:
    """One key at the bolt that is next. `saw` is `stage.bolt` of the page, so that a stale page turns nothing.

    An empty line: it is turned. A number: the torque that was felt or shown at the end. `-`: the count is lost.
    `*`: the last event of the run is taken back. `*1`, `*2`, ...: what is done about the bolt in doubt.
    """
    found = _run(state, run)
    text = line.strip()
    if text == TAKE_BACK:
        return _back(state, stamp, found)
    if text.startswith(TAKE_BACK):
        return _chosen(state, stamp, found, text[1:])
    if found.stop is not None or found.doubts:
        bolt = found.stop.bolt if found.stop else found.doubts[0]
        raise Refused(f"bolt {bolt} comes first: say what is done about it before another is turned")
    if found.next is None:
        raise Refused("every bolt of this run is turned; begin another run where the joint is opened again")
    stage, bolt = found.next
    _fresh(found, saw, stage, bolt)
    if text == LOST:
        return doubt(state, stamp, run, bolt, "lost count")
    tool = wrench or str(found.begun.body.get("wrench") or "")
    _fits(state, tool, found.works[stage - 1].stage)
    _known_tool(state, angle_by, "angle_gauge")
    body: dict[str, str | None] = {"run": run, "bolt": bolt, "stage": str(stage), "wrench": wrench or None,
                                   "angle_by": angle_by or None}  # fmt: skip
    if text:
        body |= _final(found, found.works[stage - 1], text)
    return (_event(state, stamp, f"{run}:{stage}:{bolt}:{found.bolts[bolt].begun}", "bolt_turned", body),)


def doubt(state: State, stamp: Stamp, run: str, bolt: str, why: str, note: str = "") -> tuple[Event, ...]:
    """Say that a bolt is in doubt: nothing more is turned before it is settled."""
    found = _run(state, run)
    state_of = found.bolts.get(bolt)
    if state_of is None:
        raise Refused(f"the joint has no bolt {bolt[:20]}{did_you_mean(bolt, found.bolts)}")
    if why not in DOUBTS:
        raise Refused(f"'{why[:40]}' is none of {', '.join(DOUBTS)}{did_you_mean(why, DOUBTS)}")
    if state_of.doubt:
        raise Refused(f"bolt {bolt} is in doubt already: {state_of.doubt}")
    body = {"run": run, "bolt": bolt, "why": why, "note": note.strip() or None}
    return (_event(state, stamp, f"{run}:doubt:{bolt}:{state_of.begun}.{len(state_of.turns)}", "bolt_doubted", body),)


def settle(state: State, stamp: Stamp, run: str, bolt: str, how: str, note: str = "") -> tuple[Event, ...]:
    """Say what was done about a bolt in doubt; what a lost angle does not allow is refused."""
    found = _run(state, run)
    now = found.bolts.get(bolt)
    if now is None or not now.doubt:
        raise Refused(f"bolt {bolt[:20]} is not in doubt, so there is nothing to settle")
    may = choices(found, bolt)
    if how not in may:
        raise Refused(f"bolt {bolt} ({now.doubt}) cannot be '{how[:40]}'; there is: {', '.join(may)}")
    body = {"run": run, "bolt": bolt, "how": how, "note": note.strip() or None}
    return (_event(state, stamp, f"{now.doubted}:settled", "bolt_settled", body),)


def final_unit(run: Run) -> str:
    """The unit in which a final torque is typed: that of the first torque stage."""
    return next((one.unit for one in run.procedure.stages if one.kind in ("torque", "again")), "N·m")


def last_event(run: Run, state: State) -> Did | None:
    """The last thing that was done in a run."""
    mine = [one for one in state.job.assembly if one.body.get("run") == run.id]
    return mine[-1] if mine else None


def _run(state: State, run: str) -> Run:
    found = next((one for one in runs(state) if one.id == run), None)
    if found is None:
        raise Refused(f"no run is called '{run[:60]}'; begin one")
    if found.id != runs(state, str(found.begun.body["joint"]))[-1].id:
        raise Refused("a later run over these bolts was begun; go on with that one")
    return found


def _fresh(run: Run, saw: str, stage: int, bolt: str) -> None:
    """Refuse a key of a page that showed another bolt, and say who turned it meanwhile."""
    if not saw or saw == f"{stage}.{bolt}":
        return
    number, _, shown = saw.partition(".")
    turns = run.bolts[shown].turns if shown in run.bolts else ()
    turn = next((one for one in turns if str(one.stage) == number), None)
    who = f" by {turn.by}" if turn and turn.by else ""
    told = f"bolt {shown[:20]} was turned meanwhile{who}" if turn else "the run has moved on meanwhile"
    raise Refused(f"{told}: bolt {bolt} is next")


def _stretched(stage: Stage, text: str) -> dict[str, str | None]:
    """The stretch that was read in place; one that cannot be meant is refused."""
    found = read(text, stage.unit or "mm", dimension="length")
    if not isinstance(found, Amount):
        said = getattr(found, "message", getattr(found, "question", ""))
        raise Refused(f"'{text[:40]}' cannot be read as a stretch in {stage.unit or 'mm'}: {said}")
    if found.value <= 0 or (stage.inside and float(found.inside) > MANY * stage.inside):
        raise Refused(f"{text[:20]} is not a stretch by {words(stage)}: read it again over both ends")
    return {"stretch": found.text.strip().split(" ")[0], "unit": found.unit}


def _final(run: Run, work: Work, text: str) -> dict[str, str | None]:
    if work.stage.kind == "stretch":
        return _stretched(work.stage, text)
    name = final_unit(run)
    found = read(text, name, dimension="torque")
    if not isinstance(found, Amount):
        said = getattr(found, "message", getattr(found, "question", ""))
        raise Refused(f"'{text[:40]}' cannot be read as a torque in {name}: {said}")
    if found.value <= 0:
        raise Refused(f"'{text[:40]}' holds nothing; type the torque that was shown, or nothing")
    if work.stage.kind in ("draw", "ease", "out"):
        raise Refused("no torque belongs to this stage; press the key without a number")
    _plausible(run, work.stage, float(found.inside), text)
    return {"final_torque": found.text.strip().split(" ")[0], "unit": found.unit}


def _plausible(run: Run, stage: Stage, torque: float, text: str) -> None:
    """Refuse a torque that cannot be meant: another than the one that is set, or many times the last one set."""
    if stage.kind in ("torque", "again") and stage.inside and not 0.8 < torque / stage.inside < 1.2:
        raise Refused(f"{text[:20]} is not the {words(stage)} of this stage: look at the wrench, and type it again")
    most = max((one.inside or 0.0 for one in run.procedure.stages if one.kind == "torque"), default=0.0)
    if most and not most / MANY < torque < MANY * most:
        raise Refused(f"{text[:20]} {final_unit(run)} after {most / 1000:g} N·m at the last torque stage: was a digit "
                      "slipped? Type it again")


def _chosen(state: State, stamp: Stamp, run: Run, digit: str) -> tuple[Event, ...]:
    """The answer to the bolt in doubt. One that the tool stopped at is first put in doubt, then settled."""
    if run.stop is not None and not run.doubts:
        raise Refused(f"first say that bolt {run.stop.bolt} is out, or take its torque back")
    if not run.doubts:
        raise Refused("no bolt is in doubt, so there is nothing to answer")
    may = choices(run, run.doubts[0])
    if not digit.isdecimal() or not 1 <= int(digit) <= len(may):
        told = ", ".join(f"*{n} {one}" for n, one in enumerate(may, 1))
        raise Refused(f"'*{digit[:10]}' answers nothing here; there is {told}")
    return settle(state, stamp, run.id, run.doubts[0], may[int(digit) - 1])


def _back(state: State, stamp: Stamp, run: Run) -> tuple[Event, ...]:
    last = last_event(run, state)
    if last is None:
        raise Refused("nothing of this run is to be taken back")
    return (stamp.event("taken_back", {"event": last.event}),)


def _known_tool(state: State, name: str, kind: str) -> None:
    """A tool of the register must be of its kind; one that is not in the register is taken as it is named."""
    revision = gauge_now(state.job, name) if name else None
    if revision is not None and revision.fields.get("kind") != kind:
        had = str(revision.fields.get("kind")).replace("_", " ")
        raise Refused(f"{name} is a {had} and no {kind.replace('_', ' ')}; name the one in hand")


def _fits(state: State, wrench: str, stage: Stage) -> None:
    """Refuse a wrench that cannot reach the torque of a stage, by the range that its register entry names."""
    _known_tool(state, wrench, "torque_wrench")
    revision = gauge_now(state.job, wrench) if wrench else None
    if revision is None or stage.kind not in ("torque", "again") or stage.inside is None:
        return
    name = str(revision.fields.get("unit") or "N·m")
    for key, beyond, said in (("reads_from", -1, "begins at"), ("reads_to", 1, "ends at")):
        found = read(str(revision.fields.get(key) or ""), name, dimension="torque")
        if isinstance(found, Amount) and beyond * (stage.inside - float(found.inside)) > 0:
            raise Refused(f"wrench {wrench} {said} {found.text} {name}, and this stage is {words(stage)}; "
                          "take another wrench and name it")


def _event(state: State, stamp: Stamp, id: str, kind: str, body: Mapping[str, object]) -> Event:
    """An event under a name that two people at one bolt share; after a take-back it gets the next one."""
    gone = set(state.job.taken_back)
    name, n = id, 1
    while name in gone:
        n += 1
        name = f"{id}~{n}"
    kept_ = {key: value for key, value in body.items() if value is not None}
    return replace(stamp, id=name).event(kind, kept_)
