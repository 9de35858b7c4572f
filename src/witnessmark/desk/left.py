"""What a job leaves open: values that are out, work not measured again, bolts in doubt. Told before a job is closed."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from witnessmark.assemble.steps_model import Step
from witnessmark.desk.bench import ROUNDS, Refused
from witnessmark.desk.decide import row_place, standing
from witnessmark.desk.sheets.phrase import plural, shown
from witnessmark.desk.state import State
from witnessmark.desk.steps import steps_of
from witnessmark.desk.steps_words import heading
from witnessmark.desk.tighten import runs
from witnessmark.judge.result import CLOSE, OUT, Result
from witnessmark.record.job import Did, Signed
from witnessmark.record.shape import BACK

NAMED = 3  # places that are told by name; of the others the number is told


@dataclass(frozen=True, slots=True)
class Left:
    """One kind of thing that is open. `number` of them; `stage` is the sheet on which it is settled."""

    kind: str
    number: int
    words: str
    stage: str


def left_open(state: State) -> tuple[Left, ...]:
    """Everything that is open, in the order of the work; () when nothing is."""
    return tuple(left for each in SOURCES for left in each(state))


def last_values(state: State) -> tuple[Result, ...]:
    """Of each value the one of the last round that read it."""
    rank = {name: n for n, name in enumerate(ROUNDS)}
    last: dict[tuple[str, str], Result] = {}
    for one in state.judgement.results:
        key = (one.characteristic, one.location)
        if key not in last or rank.get(one.round, len(rank)) >= rank.get(last[key].round, len(rank)):
            last[key] = one
    return tuple(last.values())


def _values(state: State) -> Iterator[Left]:
    values = last_values(state)
    for verdict, words in ((OUT, "outside the limit entered"), (CLOSE, "too close to call")):
        found = [one for one in values if one.verdict == verdict and one.decided]
        if found:
            yield Left(verdict, len(found), _counted(state, found, "value", words), "measure")
    begun = [one for one in values if not one.decided]
    if begun:
        yield Left("not finished", len(begun), _counted(state, begun, "series", "not finished", "series"), "measure")


def _missing(state: State) -> Iterator[Left]:
    rounds: dict[str, int] = {}
    for gap in state.judgement.missing:
        if not gap.waived:
            rounds[gap.round] = rounds.get(gap.round, 0) + 1
    for name, number in rounds.items():
        yield Left("not measured", number, f"{plural(number, 'place')} not measured, {name}", "measure")


def _undecided(state: State) -> Iterator[Left]:
    bad = [one for one in last_values(state) if one.verdict in (OUT, CLOSE) and one.decided]
    found = [one for one in bad if not _decided(state, one)]
    if found:
        words = f"{plural(len(found), 'value')} out or too close, and nobody has decided what becomes of the part"
        yield Left("not decided", len(found), words, "decide")


def _decided(state: State, one: Result) -> bool:
    here = state if state.round == one.round else replace(state, round=one.round)
    return standing(here, one.characteristic, row_place(one.location)) is not None


def _work(state: State) -> Iterator[Left]:
    if state.job.order is not None and all(one.round != BACK for one in state.job.readings):
        number = len(state.job.order["work"])
        yield Left("not measured again", number, "what the ordered work moves is not measured again", "re-measure")


def _steps(state: State) -> Iterator[Left]:
    last: dict[str, Signed] = {one.step: one for one in state.job.signed}
    undone = [one for one in last.values() if one.did != "done"]
    if undone:
        named = "; ".join(one.text.splitlines()[0] for one in undone[:NAMED] if one.text)
        words = f"{plural(len(undone), 'step')} of assembly signed as not done: {named}"
        yield Left("not done", len(undone), words, "assemble")
    open_ = [one for one in _asked_steps(state) if one.id not in last]
    if open_:
        words = f"{plural(len(open_), 'step')} of assembly not signed, the first: {heading(open_[0])}"
        yield Left("not signed", len(open_), words, "assemble")


def _asked_steps(state: State) -> Sequence[Step]:
    """The steps of a job that is put together; a head that is only inspected asks for none."""
    job = state.job
    if job.order is None and not job.signed and not job.assembly:
        return ()
    try:
        return steps_of(state)
    except Refused:
        return ()  # the engine is not described, or the order names work that it cannot have: told elsewhere


def _bolts(state: State) -> Iterator[Left]:
    doubts = open_doubts(state.job.assembly)
    if doubts:
        named = "; ".join(f"bolt {one.body['bolt']}, {one.body['why']}" for one in list(doubts.values())[:NAMED])
        words = f"{plural(len(doubts), 'bolt')} in doubt and not settled: {named}"
        yield Left("in doubt", len(doubts), words, "assemble")
    last = {run.procedure.joint: run for run in runs(state) if run.way == "tighten"}
    for run in last.values():
        passed, of = (sum(pair) for pair in zip(*(run.count(work.number) for work in run.works), strict=True))
        if passed < of:
            words = f"{run.procedure.term}: {passed} of {plural(of, 'turn')} done, so the joint is not tight"
            yield Left("not tight", of - passed, words, "assemble")


def open_doubts(assembly: Iterable[Did]) -> Mapping[tuple[str, str], Did]:
    """(run, bolt) -> the doubt about it that nobody has settled."""
    doubts: dict[tuple[str, str], Did] = {}
    for did in assembly:
        key = str(did.body.get("run", "")), str(did.body.get("bolt", ""))
        if did.kind == "bolt_doubted":
            doubts[key] = did
        elif did.kind == "bolt_settled":
            doubts.pop(key, None)
    return doubts


SOURCES: tuple[Callable[[State], Iterable[Left]], ...] = (_values, _missing, _undecided, _work, _steps, _bolts)


def _counted(state: State, found: list[Result], thing: str, words: str, things: str = "") -> str:
    known = state.catalogue.characteristics
    named = [f"{known[one.characteristic].term if one.characteristic in known else one.characteristic} at "
             f"{shown(one.location)}" for one in found[:NAMED]]  # fmt: skip
    more = f" and {len(found) - NAMED} more" if len(found) > NAMED else ""
    return f"{plural(len(found), thing, things)} {words}: {', '.join(named)}{more}"
