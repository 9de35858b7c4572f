"""The tightening sheet: the joint as it lies on the engine, the stage, the next bolt large, and why to stop."""

from collections.abc import Sequence
from dataclasses import dataclass

from witnessmark.assemble.stages import ALL, Run, Work, choices
from witnessmark.desk.bolts import Bolts, bolts_of
from witnessmark.desk.sheets.tighten_words import cautions, final_words, measure_before, stop_words, where_words
from witnessmark.desk.state import State
from witnessmark.desk.tighten import final_unit, joints, last_event, run_now, words
from witnessmark.draw import pattern
from witnessmark.draw.pattern import Spot
from witnessmark.draw.shape import Drawing
from witnessmark.limits.procedure import Procedure
from witnessmark.record.job import GaugeRevision, gauge_now


@dataclass(frozen=True, slots=True)
class StageRow:
    """One stage: number, words, `6 of 10`, and how it stands (done, here, or ahead)."""

    number: int
    words: str
    count: str
    look: str


@dataclass(frozen=True, slots=True)
class BoltRow:
    """One bolt for those who read a table: name, where, stages passed, final torque, how it stands."""

    bolt: str
    where: str
    passed: str
    final: str
    stands: str


@dataclass(frozen=True, slots=True)
class Choice:
    """What may be done about a bolt in doubt: the digit that chooses it, its word, and what it means."""

    digit: str
    how: str
    words: str


@dataclass(frozen=True, slots=True)
class Setting:
    """What is dialled in behind an extension."""

    words: str
    dial: str


@dataclass(frozen=True, slots=True)
class TightenSheet:
    """What the page and the paper show of one joint. Texts are ready to be shown."""

    job: str
    joint: str
    term: str
    way: str
    title: str
    sub: str
    run: str
    drawing: Drawing
    large: Drawing | None
    bolt: str
    where: str
    saw: str
    stages: tuple[StageRow, ...]
    rows: tuple[BoltRow, ...]
    main: str
    turned_by: str
    asks_final: bool
    unit: str
    back: str
    stop: tuple[str, str]
    doubt: str
    choices: tuple[Choice, ...]
    said: str
    finished: str
    later: str
    source: str
    order_words: str
    wrenches: tuple[str, ...]
    angles: tuple[str, ...]
    wrench: str
    angle_by: str
    threads: str
    warnings: tuple[str, ...]
    cautions: tuple[tuple[str, str], ...]
    before: tuple[str, ...]
    bolts: Bolts
    odd: tuple[str, ...]
    joints: tuple[tuple[str, str, str], ...]


MEANINGS = {
    "slackened, begun again": "slacken it fully and begin it again at the first stage, only if the book allows that",
    "new bolt, begun again": "a new bolt, from the first stage",
    "looked at, left as it is": "it was looked at and stays; the stage goes on",
}


def tighten_sheet(state: State, joint: str, warnings: Sequence[str] = ()) -> TightenSheet | None:
    """The sheet of a joint; None where the limit sheet has none of this name."""
    known = joints(state).get(joint)
    if known is None:
        return None
    run = run_now(state, joint)
    procedure = run.procedure if run else known
    work = _work(run)
    focus = _focus(run)
    return TightenSheet(
        state.job.id, joint, procedure.term, run.way if run else "", _title(procedure, run, work),
        _sub(procedure), run.id if run else "", _drawing(procedure, run, work, focus), _large(run, work, focus), focus,
        where_words(procedure, focus), f"{run.next[0]}.{run.next[1]}" if run and run.next else "",
        tuple(_stage_rows(run)), tuple(_rows(procedure, run)), _main(run, work, focus), _turned_by(run, work),
        work is not None and work.stage.kind in ("angle", "yield", "stretch"), _unit(run, work),
        _back(state, run), stop_words(run) if run else ("", ""), _doubt(run), tuple(_choices(run)),
        final_words(run) if run else "", _finished(run), _later(run), _source(procedure), _order(procedure),
        _tools(state, "torque_wrench"), _tools(state, "angle_gauge"), _tool(run, "wrench"), _tool(run, "angle_by"),
        _threads(procedure, run), tuple(warnings), cautions(state, procedure, run),
        measure_before(state) if run is None else (),
        bolts_of(state, procedure), tuple(one.said for one in run.odd) if run else (), _all_joints(state),
    )  # fmt: skip


def _work(run: Run | None) -> Work | None:
    if run is None:
        return None
    if run.next:
        return run.works[run.next[0] - 1]
    if run.stop:
        return run.works[run.stop.stage - 1]
    return next((work for work in run.works if run.count(work.number)[0] < run.count(work.number)[1]), None)


def _focus(run: Run | None) -> str:
    """The bolt that the sheet points at: the one in doubt or stopped at, else the next."""
    if run is None:
        return ""
    if run.doubts:
        return run.doubts[0]
    return run.stop.bolt if run.stop else run.next[1] if run.next else ""


def _title(procedure: Procedure, run: Run | None, work: Work | None) -> str:
    term = procedure.term[:1].upper() + procedure.term[1:]
    if run is None:
        return term
    if work is None:
        return f"{term}: {'all out' if run.way == 'loosen' else 'tight'}"
    said = words(work.stage)
    return f"{term}, {'loosening' if run.way == 'loosen' else 'stage'} {work.number}: {said}"


def _sub(procedure: Procedure) -> str:
    parts = (procedure.thread, f"class {procedure.strength}" if procedure.strength else "",
             {True: "stretch bolts", False: "", None: ""}[procedure.stretch_bolts],
             "the paint on the casting stays; the paint on the bolt goes round with it")  # fmt: skip
    return " · ".join(filter(None, parts))


def _turned(run: Run | None, bolt: str) -> float:
    """Degrees past snug since the bolt was last begun."""
    if run is None or run.way == "loosen" or bolt not in run.bolts:
        return 0.0
    stages = {work.number: work.stage for work in run.works}
    return sum(float(stages[one.stage].value) for one in run.bolts[bolt].turns if stages[one.stage].kind == "angle")


def _drawing(procedure: Procedure, run: Run | None, work: Work | None, focus: str) -> Drawing:
    order = procedure.order if work is None or work.order == (ALL,) else work.order
    done = sum(run.bolts[one].passed(work.number) for one in order if one in run.bolts) if run and work else 0
    spots = [_spot(procedure, run, work, focus, one) for one in procedure.names()]
    stands = f"{done} of {len(order)} turned" if run else "not begun"
    now = f", bolt {focus} now" if focus else ""
    name = f"{len(spots)} bolts of the joint from above, front to the left: {stands}{now}"
    return pattern.pattern(spots, order, done, name, procedure.cylinders)


def _spot(procedure: Procedure, run: Run | None, work: Work | None, focus: str, bolt: str) -> Spot:
    place = next(one for one in procedure.bolts if one.bolt == bolt)
    state, strong, faint, cross = pattern.WAITING, "", "", False
    held = run.bolts.get(bolt) if run else None
    if run and held:
        strong, faint = _beside(run, bolt)
        cross = run.stop is not None and run.stop.bolt == bolt
        if held.doubt:
            state, strong, faint = pattern.DOUBT, "", held.doubt
        elif focus in (bolt, ALL):
            state = pattern.NOW
        elif run.way == "loosen" and held.passed(2):
            state = pattern.OUT
        elif work and held.passed(work.number):
            state = pattern.DONE
        if bolt == focus and not held.doubt and not cross:
            strong, faint = "now", ""
    return Spot(bolt, place.x, place.y, state, _turned(run, bolt), strong, faint, cross)


def _beside(run: Run, bolt: str) -> tuple[str, str]:
    """What stands beside a bolt: the final torque, else the stage that it has passed last."""
    turns = run.bolts[bolt].turns
    if not turns:
        return "", ""
    last = turns[-1]
    if last.final:
        return last.final, "final torque"
    if last.stretch:
        return last.stretch, "stretch"
    stage = run.works[last.stage - 1].stage
    return "", {"ease": "eased", "out": "out", "draw": "drawn down"}.get(stage.kind, words(stage))


def _large(run: Run | None, work: Work | None, focus: str) -> Drawing | None:
    if run is None or work is None or not focus:
        return None
    out = run.stop is not None or bool(run.doubts) or run.way == "loosen"
    turn = float(work.stage.value) if work.stage.kind == "angle" and run.way == "tighten" else 0.0
    before = _turned(run, focus) % 360
    shown = {"ease": "ease", "out": "out", "draw": "even", "yield": "yield"}.get(work.stage.kind) or (
        f"{work.stage.value}°" if work.stage.kind == "angle" else f"{work.stage.value} {work.stage.unit}")  # fmt: skip
    stopped = run.stop is not None or bool(run.doubts)
    if stopped and turn:
        before = max(0.0, before - turn)
    what = "comes out" if stopped else words(work.stage)
    return pattern.next_bolt(focus, "out" if stopped else shown, f"bolt {focus}: {what}", turn, before, out)


def _stage_rows(run: Run | None) -> list[StageRow]:
    if run is None:
        return []
    here = _work(run)
    rows = []
    for work in run.works:
        done, of = run.count(work.number)
        look = "here" if here and work.number == here.number else "done" if done == of else ""
        rows.append(StageRow(work.number, words(work.stage) + (f", {work.stage.group}" if work.stage.group else ""),
                             f"{done} of {of}" if done else "–", look))  # fmt: skip
    return rows


def _rows(procedure: Procedure, run: Run | None) -> list[BoltRow]:
    rows = []
    for bolt in procedure.order:
        held = run.bolts.get(bolt) if run else None
        passed = ", ".join(words(run.works[one.stage - 1].stage) for one in held.turns) if run and held else ""
        read = (f"{one.final or one.stretch} {one.unit}" for one in reversed(held.turns if held else ()))
        final = next((one for one in read if not one.startswith(" ")), "")
        stands = f"in doubt: {held.doubt}" if held and held.doubt else "next" if run and run.next and (
            run.next[1] == bolt) else ""  # fmt: skip
        rows.append(BoltRow(bolt, where_words(procedure, bolt), passed or "–", final or "–", stands))
    return rows


def _main(run: Run | None, work: Work | None, focus: str) -> str:
    if run is None or work is None:
        return ""
    if run.stop is not None:
        return f"bolt {focus} is out"
    return {"torque": "clicked", "again": "clicked", "angle": "turned", "yield": "yielded", "stretch": "stretched",
            "draw": "caps are down", "ease": "caps are free" if focus == ALL else "eased",
            "out": "is out"}[work.stage.kind]  # fmt: skip


def _turned_by(run: Run | None, work: Work | None) -> str:
    if run is None or work is None or run.way == "loosen":
        return ""
    if work.stage.kind == "angle":
        by = _tool(run, "angle_by")
        return f"turned by angle gauge {by}, zeroed on each bolt" if by else "no angle gauge named: by eye and paint"
    if work.stage.kind in ("torque", "again"):
        by = _tool(run, "wrench")
        return f"by wrench {by}, one steady pull" if by else "no wrench named"
    return ""


def _tool(run: Run | None, key: str) -> str:
    """The tool that is in hand: that of the last turn, else that of the run."""
    if run is None:
        return ""
    turns = [turn for bolt in run.bolts.values() for turn in bolt.turns]
    last = max(turns, key=lambda one: one.at, default=None)
    named = (last.wrench if key == "wrench" else last.angle_by) if last else ""
    return named or str(run.begun.body.get(key) or "")


def _back(state: State, run: Run | None) -> str:
    last = last_event(run, state) if run else None
    if last is None:
        return ""
    final = str(last.body.get("final_torque") or last.body.get("stretch") or "")
    return final or {"bolt_turned": f"bolt {last.body['bolt']}", "bolt_doubted": "the doubt",
                     "bolt_settled": "the answer"}.get(last.kind, "")  # fmt: skip


def _unit(run: Run | None, work: Work | None) -> str:
    """The unit of what is typed at the bolt of now: a torque, or the stretch of its stage."""
    if work is not None and work.stage.kind == "stretch":
        return work.stage.unit or "mm"
    return final_unit(run) if run else ""


def _doubt(run: Run | None) -> str:
    if run is None or not run.doubts:
        return ""
    bolt = run.doubts[0]
    why = run.bolts[bolt].doubt
    said = {"lost count": "the count is lost, and nobody knows how far it was turned",
            "torque fell": "its torque fell while it was turned: the thread gives or the bolt draws out",
            "unlike the others": "it is out because it was unlike the others: look at bolt, thread and hole",
            "turned too far": "it was turned too far"}.get(why, "it is in doubt")  # fmt: skip
    return f"Bolt {bolt}: {said}. It does not count as tight."


def _choices(run: Run | None) -> list[Choice]:
    if run is None or not run.doubts:
        return []
    return [Choice(str(n), how, MEANINGS[how]) for n, how in enumerate(choices(run, run.doubts[0]), 1)]


def _finished(run: Run | None) -> str:
    if run is None or not run.tight or run.doubts:
        return ""
    count = len(run.procedure.names())
    if run.way == "loosen":
        return f"All {count} bolts are out."
    return f"All {count} bolts are through their last stage."


def _later(run: Run | None) -> str:
    """What is gone round again after warming up, and only where the sheet asks for it."""
    if run is None or not run.tight or run.done:
        return ""
    stage = next(work.stage for work in run.works if work.stage.kind == "again")
    return f"Gone round again {stage.when or 'later'}: the sheet asks for it."


def _source(procedure: Procedure) -> str:
    return ", p. ".join(filter(None, (procedure.document, procedure.page)))


def _order(procedure: Procedure) -> str:
    if procedure.worked_out:
        return ("The order is worked out from where the bolts lie, from the middle outwards. "
                "Where the book gives one, enter it: it holds.")  # fmt: skip
    return "The order is that of the sheet."


def _tools(state: State, kind: str) -> tuple[str, ...]:
    now = {name: gauge_now(state.job, name) for name in state.job.gauges}
    return tuple(name for name, one in now.items() if isinstance(one, GaugeRevision) and one.fields.get("kind") == kind)


def _threads(procedure: Procedure, run: Run | None) -> str:
    return str(run.begun.body.get("threads") or "") if run else procedure.threads


def _all_joints(state: State) -> tuple[tuple[str, str, str], ...]:
    """(joint, term, how it stands) of every joint of the sheet."""
    return tuple((name, procedure.term, standing_of(state, name)) for name, procedure in joints(state).items())


def standing_of(state: State, joint: str) -> str:
    """How a joint stands: not begun, 16 of 30, bolt 4 in doubt, tight, loosened."""
    run = run_now(state, joint)
    if run is None:
        return "not begun"
    if run.doubts or run.stop:
        return f"bolt {_focus(run)} in doubt"
    done, of = _all(run)
    return ("loosened" if run.way == "loosen" else "tight") if run.tight else f"{done} of {of}"


def _all(run: Run) -> tuple[int, int]:
    counts = [run.count(work.number) for work in run.works]
    return sum(done for done, _ in counts), sum(of for _, of in counts)
