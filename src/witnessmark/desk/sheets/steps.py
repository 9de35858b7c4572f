"""The assembly sheet: every step with its tool, its places, what is new there, its cautions, and who signed it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from witnessmark.assemble.steps_model import Step
from witnessmark.desk.sheets.phrase import listed
from witnessmark.desk.sheets.report_facts import when
from witnessmark.desk.state import State
from witnessmark.desk.steps import DONE, open_gates, seen_of, signature, steps_of
from witnessmark.desk.steps_joints import open_joints
from witnessmark.desk.steps_words import changed_words, heading, new_words, tell_words, where_words, why_words
from witnessmark.record.job import Signed

SECTIONS = {
    "before": "Before anything goes in", "valves": "Valves into the head", "head": "Head onto the block",
    "gear": "Followers and camshafts", "drive": "Cam drive and first turns", "lash": "Lash", "close": "Closing up",
    "start": "Oil pressure, start and proof",
}  # fmt: skip
STATES = ("done", "not done", "next", "held", "ahead")
GOVERNS = (
    "Service information, local codes and licensed practice govern. Torques, times and limits are those of the sheet."
)
ORDERED, INTENDED, NOTHING = (
    "From the work that was ordered.", "From the intended work: nothing was ordered yet.",
    "No work was ordered or intended: these are the steps of a head that was off.",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Caution:
    """What can hurt at a step. `text` is what to do about it; `first`: here it stands for the first time."""

    id: str
    term: str
    text: str
    first: bool


@dataclass(frozen=True, slots=True)
class Row:
    """One step. `state` is one of STATES; `held_why` says what keeps it from being signed.

    `seen` goes with the signature, so that nobody signs words that he did not read. `event` names the signature, for
    taking it back.
    """

    number: int
    id: str
    section: str
    heading: str
    term: str
    text: str
    tool: str
    where: str
    changed: tuple[str, ...]
    new: tuple[str, ...]
    cautions: tuple[Caution, ...]
    check: tuple[tuple[str, str], ...]  # (id of the characteristic, its term)
    why: str
    sheet: str  # parts-order | tightening | shims | verify, or ""
    source: str
    state: str
    held_why: str
    signed_by: str
    signed_at: str
    note: str
    event: str
    seen: str


@dataclass(frozen=True, slots=True)
class Left:
    """A signature under a step that this job does not have any more; it stays readable."""

    step: str
    text: str
    did: str
    signed_by: str
    signed_at: str
    note: str
    event: str


@dataclass(frozen=True, slots=True)
class StepsSheet:
    """The whole sheet. `progress` is steps done, of all; `next` the id of the step to do now, "" when all are done.

    `cautions` are all of the sheet, each once, in the order in which they come up.
    """

    job: str
    title: str
    lead: str
    rows: tuple[Row, ...]
    left: tuple[Left, ...]
    cautions: tuple[Caution, ...]
    progress: tuple[int, int]
    next: str
    governs: str


def steps_sheet(state: State, unit: str = "mm") -> StepsSheet:
    """The assembly sheet of a job. Raises Refused while the engine is not described."""
    known = steps_of(state)
    rows = tuple(_cautioned(state, known, [_row(state, n, one, known, unit) for n, one in enumerate(known, 1)]))
    now = next((one.id for one in rows if one.state == "ahead"), "")
    rows = tuple(replace(one, state="next") if one.id == now else one for one in rows)
    ids = {one.id for one in known}
    return StepsSheet(
        state.job.id, f"Assembly of {state.job.id}", _lead(state), rows,
        tuple(_left(one) for one in state.job.signed if one.step not in ids),
        tuple(one for row in rows for one in row.cautions if one.first),
        (sum(one.state == DONE for one in rows), len(rows)), now, GOVERNS,
    )  # fmt: skip


def _lead(state: State) -> str:
    return ORDERED if state.job.order is not None else INTENDED if state.job.work else NOTHING


def _row(state: State, number: int, step: Step, known: Sequence[Step], unit: str) -> Row:
    catalogue, under = state.catalogue, signature(state, step.id)
    held = "" if under is not None and under.did == DONE else _held(state, step, known)
    check = tuple((name, catalogue.characteristics[name].term) for name in step.check)
    return Row(
        number, step.id, SECTIONS[step.section], heading(step), step.term, step.text, step.tool, where_words(step),
        changed_words(step.changed, catalogue, unit), new_words(step.new), (), check, why_words(step.why, catalogue),
        step.sheet, catalogue.sources[step.source].text, under.did if under else "held" if held else "ahead", held,
        under.by if under else "", when(under.at) if under else "", under.note if under else "",
        under.event if under else "", seen_of(state, step),
    )  # fmt: skip


def _held(state: State, step: Step, known: Sequence[Step]) -> str:
    """Why a step may not be signed yet: what nobody told, and what must be signed before."""
    gates = [heading(one) for one in open_gates(state, step, known)]
    before = f"first: {listed(gates)}" if gates else ""
    return "; ".join(filter(None, (before, tell_words(step), *open_joints(state, step.id))))


def _cautioned(state: State, known: Sequence[Step], rows: Sequence[Row]) -> Iterable[Row]:
    told: set[str] = set()
    for step, row in zip(known, rows, strict=True):
        hazards = [state.catalogue.hazards[name] for name in step.hazards]
        yield replace(row, cautions=tuple(Caution(one.id, one.term, one.text, one.id not in told) for one in hazards))
        told.update(step.hazards)


def _left(one: Signed) -> Left:
    return Left(one.step, one.text, one.did, one.by, when(one.at), one.note, one.event)
