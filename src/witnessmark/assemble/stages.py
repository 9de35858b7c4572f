"""The bolts of a joint, stage by stage: what is turned, what is next, what is in doubt, and when to stop.

A run is begun with a procedure and keeps it. Every key at the bolt is an event, so the state is what its events make
of it, whenever and wherever they are read again. A bolt of which nobody knows how far it was turned is never taken as
done.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import median

from witnessmark.limits.procedure import Procedure, Stage
from witnessmark.quantity.read import Amount, read
from witnessmark.record.job import Did

ALL = "all"  # stands for every bolt, where caps are drawn down or let up together
NEAREST = 4  # others that must have a final torque before one is held against them
APART = 3.0  # scaled median deviations; common practice for a bolt that is unlike its neighbours
MAD = 1.4826  # makes the median deviation of a normal scatter its standard deviation
WRENCH = 0.03  # of the middle: a wrench of ±4 % (ISO 6789-1:2017, from memory) and the eye on it, by themselves
AGAIN = ("slackened, begun again", "new bolt, begun again")


@dataclass(frozen=True, slots=True)
class Work:
    """A stage with the bolts that it turns, in their order. `number` counts from 1."""

    number: int
    stage: Stage
    order: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Turn:
    """A bolt turned through a stage: by whom, when, with which wrench; `torque` in N·mm where one was read."""

    stage: int
    event: str
    at: str
    by: str
    wrench: str
    angle_by: str
    final: str = ""
    unit: str = ""
    torque: float | None = None
    note: str = ""
    stretch: str = ""  # read in place, in `unit`


@dataclass(frozen=True, slots=True)
class BoltState:
    """One bolt now. `turns` since it was last begun; `doubt` why it is in doubt, "" if it is not; `begun` how often."""

    bolt: str
    turns: tuple[Turn, ...] = ()
    doubt: str = ""
    doubted: str = ""  # the event
    begun: int = 1
    renewed: int = 0  # new bolts put in during the run
    cleared: int = 0  # turns that somebody looked at and left as they are

    def passed(self, stage: int) -> bool:
        """Whether it has been turned through a stage."""
        return any(one.stage == stage for one in self.turns)


@dataclass(frozen=True, slots=True)
class Stop:
    """Stop now: this bolt is unlike the others. Torques in N·mm; `side` is behind or ahead."""

    bolt: str
    stage: int
    side: str
    torque: float
    middle: float
    low: float
    high: float
    spread: float


@dataclass(frozen=True, slots=True)
class Odd:
    """An event that does not fit: told, and not counted."""

    event: str
    said: str


@dataclass(frozen=True, slots=True)
class Run:
    """A run as it stands. `next` is (stage number, bolt), None where nothing is left or something must be settled."""

    id: str
    way: str
    procedure: Procedure
    works: tuple[Work, ...]
    bolts: Mapping[str, BoltState]
    next: tuple[int, str] | None
    doubts: tuple[str, ...]
    stop: Stop | None
    odd: tuple[Odd, ...]
    begun: Did

    @property
    def tight(self) -> bool:
        """Whether all is done that is done in one go; a torque gone round again after warming up may be left."""
        return not self.doubts and self.stop is None and not _left(self, later=False)

    @property
    def done(self) -> bool:
        """Whether nothing is left at all."""
        return self.tight and not _left(self, later=True)

    def count(self, stage: int) -> tuple[int, int]:
        """(bolts that passed a stage, bolts that it turns)."""
        work = self.works[stage - 1]
        return sum(self.bolts[one].passed(stage) for one in work.order), len(work.order)


def works(procedure: Procedure, way: str) -> tuple[Work, ...]:
    """The stages of a procedure with their bolts in order; of a loosening: all a little in the reverse order, then out.

    Caps are drawn down together before any torque, and let up together before any bolt comes out.
    """
    if way == "loosen":
        back = tuple(reversed(procedure.order))
        first = (ALL,) if procedure.caps else back
        return (Work(1, Stage("ease"), first), Work(2, Stage("out"), back))
    stages = ((Stage("draw"),) if procedure.caps else ()) + procedure.stages
    return tuple(Work(n, stage, _turned(procedure, stage)) for n, stage in enumerate(stages, 1))


def _turned(procedure: Procedure, stage: Stage) -> tuple[str, ...]:
    if stage.kind == "draw":
        return (ALL,)
    return tuple(one for one in procedure.order if stage.group in ("", procedure.group(one)))


def run_of(begun: Did, procedure: Procedure, dids: Iterable[Did]) -> Run:
    """The state of a run after its events, which come in the order of the log."""
    stages = works(procedure, str(begun.body["way"]))
    bolts = {one: BoltState(one) for one in dict.fromkeys(bolt for work in stages for bolt in work.order)}
    odd: list[Odd] = []
    for did in dids:
        if did.body.get("run") != begun.event:
            continue
        bolt = str(did.body["bolt"])
        if bolt not in bolts:
            odd.append(Odd(did.event, f"the joint has no bolt {bolt}"))
            continue
        after, said = _after(bolts[bolt], did, stages, begun)
        bolts[bolt] = after
        if said:
            odd.append(Odd(did.event, said))
    doubts = tuple(one for one in bolts if bolts[one].doubt)
    run = Run(begun.event, str(begun.body["way"]), procedure, stages, bolts, None, doubts, None, tuple(odd), begun)
    stop = _stop(run)
    return replace(run, stop=stop, next=None if stop or doubts else _next(run))


def _after(state: BoltState, did: Did, stages: Sequence[Work], begun: Did) -> tuple[BoltState, str]:
    """A bolt after an event, and what is odd about the event."""
    body = did.body
    if did.kind == "bolt_doubted":
        return replace(state, doubt=str(body["why"]), doubted=did.event), ""
    if did.kind == "bolt_settled":
        how = str(body["how"])
        if how not in AGAIN:
            return replace(state, doubt="", doubted="", cleared=len(state.turns)), ""
        fresh = BoltState(state.bolt, begun=state.begun + 1, renewed=state.renewed + (how == AGAIN[1]))
        return fresh, ""
    stage = int(body["stage"])
    if stage > len(stages) or state.bolt not in stages[stage - 1].order:
        return state, f"bolt {state.bolt} has no stage {stage}"
    if state.doubt:
        return state, f"bolt {state.bolt} is in doubt ({state.doubt}); settle that first"
    if state.passed(stage):
        return state, f"bolt {state.bolt} was turned through stage {stage} before"
    return replace(state, turns=(*state.turns, _turn(did, stage, begun))), ""


def _turn(did: Did, stage: int, begun: Did) -> Turn:
    def told(key: str) -> str:
        return str(did.body.get(key) or "")

    final, unit = told("final_torque"), told("unit")
    found = read(final, unit or "N·m", dimension="torque") if final else None
    return Turn(stage, did.event, did.at, did.by, told("wrench") or str(begun.body.get("wrench") or ""),
                told("angle_by") or str(begun.body.get("angle_by") or ""), final, unit,
                float(found.inside) if isinstance(found, Amount) else None, told("note"), told("stretch"))  # fmt: skip


def _left(run: Run, *, later: bool) -> list[tuple[int, str]]:
    """(stage, bolt) that are still to be turned, in their order; `later` those that wait for a warm-up."""
    return [(work.number, bolt) for work in run.works if (work.stage.kind == "again") is later
            for bolt in work.order if not run.bolts[bolt].passed(work.number)]  # fmt: skip


def _next(run: Run) -> tuple[int, str] | None:
    """The earliest stage that some bolt has not passed: one begun anew catches up before the rest go on."""
    left = _left(run, later=False) or _left(run, later=True)
    return left[0] if left else None


def _stop(run: Run) -> Stop | None:
    """The bolt that is furthest from the others by its final torque after an angle, if it is too far.

    The others are those of its own group; their spread is no less than what the wrench brings by itself.
    """
    worst: Stop | None = None
    for work in run.works:
        if work.stage.kind not in ("angle", "yield", "stretch"):
            continue
        for group in {run.procedure.group(bolt) for bolt in work.order}:
            members = [bolt for bolt in work.order if run.procedure.group(bolt) == group]
            for stop in _unlike(run, work.number, members):
                if worst is None or _apart(stop) > _apart(worst):
                    worst = stop
    return worst


def _unlike(run: Run, stage: int, members: Sequence[str]) -> Iterable[Stop]:
    torques = {bolt: torque for bolt in members if (torque := _torque(run.bolts[bolt], stage)) is not None}
    for bolt, torque in torques.items():
        others = [one for name, one in torques.items() if name != bolt]
        if len(others) < NEAREST or run.bolts[bolt].doubt or _looked_at(run.bolts[bolt], stage):
            continue
        middle = median(others)
        spread = max(MAD * median(abs(one - middle) for one in others), WRENCH * middle)
        if abs(torque - middle) > APART * spread:
            side = "behind" if torque < middle else "ahead"
            yield Stop(bolt, stage, side, torque, middle, min(others), max(others), spread)


def _torque(state: BoltState, stage: int) -> float | None:
    return next((one.torque for one in state.turns if one.stage == stage), None)


def _looked_at(state: BoltState, stage: int) -> bool:
    return any(one.stage == stage for one in state.turns[: state.cleared])


def _apart(stop: Stop) -> float:
    return abs(stop.torque - stop.middle) / stop.spread


def choices(run: Run, bolt: str) -> tuple[str, ...]:
    """What may be done about a bolt in doubt. One whose angle is in doubt is never left as it is.

    At a torque a lost count costs nothing: the wrench goes on until it clicks. A bolt looked at and found whole
    may stay where no angle was lost; whoever leaves it signs for it.
    """
    state = run.bolts[bolt]
    if run.way == "loosen":
        return ("looked at, left as it is",)
    lost = state.doubt in ("lost count", "turned too far")
    at = next((work for work in run.works if bolt in work.order and not state.passed(work.number)), None)
    angle = at is not None and at.stage.kind in ("angle", "yield", "stretch")
    if lost and (angle or state.doubt == "turned too far"):
        return AGAIN
    return (*AGAIN, "looked at, left as it is")
