"""Steps of assembly of a job, and the signature under each.

The id of a signature follows from its step and its number, so that of two people who sign at once the store takes one
and turns the other away. `seen` is what the page showed: a signature stands under the words that were read, and under
no others. A step is signed out of its order only with a note that says why.
"""

from collections.abc import Sequence
from dataclasses import replace
from hashlib import sha256
from itertools import count

from witnessmark.assemble.steps import steps
from witnessmark.assemble.steps_model import Facts, New, Step, Work
from witnessmark.catalogue.steps import UNTOLD
from witnessmark.desk.bench import Refused
from witnessmark.desk.bolts import bolts_of
from witnessmark.desk.commands import Stamp
from witnessmark.desk.order import bare_items
from witnessmark.desk.prices import prices_of
from witnessmark.desk.state import State
from witnessmark.desk.steps_joints import is_head, open_joints
from witnessmark.desk.steps_words import heading, signed_text, tell_words
from witnessmark.limits.procedure import Procedure
from witnessmark.plan.orders import PartLine, parts
from witnessmark.plan.result import Item
from witnessmark.record.event import Event
from witnessmark.record.job import Signed
from witnessmark.record.shape import SIGNED
from witnessmark.text.near import did_you_mean

DONE = SIGNED[0]
LONGEST_NOTE = 2000


def steps_of(state: State) -> tuple[Step, ...]:
    """Every step of this job, by its engine, its limit sheet, and the work that is ordered or else intended.

    Raises Refused while the engine is not described, and for work that this engine cannot have.
    """
    layout = state.layout
    if layout is None:
        raise Refused("describe the engine first: its layout tells which steps there are")
    job = state.job
    rests_on = (repr(_entries(state)), *(text.hash if text else "" for text in (job.limits, job.prices)))
    return state.memory.once(("steps", layout, *rests_on), lambda: steps(
        layout, work_of_job(state), facts_of(state), state.catalogue, new_parts(state)))  # fmt: skip


def work_of_job(state: State) -> tuple[Work, ...]:
    """The work that was ordered, else the intended work, place by place; amounts in millimetre."""
    return tuple(Work(one.operation, one.location, *((f"{one.amount:.4f}", "mm") if one.amount is not None else ()))
                 for one in _items(state))  # fmt: skip


def _items(state: State) -> tuple[Item, ...]:
    return tuple(one for one in bare_items(state, _entries(state)) if one.operation in state.catalogue.operations)


def _entries(state: State) -> Sequence[dict[str, object]]:
    order = state.job.order
    return [dict(one) for one in (order["work"] if order is not None else state.job.work)]


def new_parts(state: State) -> tuple[New, ...]:
    """The parts order, without lash shims: they are chosen once the lash is read."""
    assert state.layout is not None
    lines = parts(_items(state), state.layout, prices_of(state), state.catalogue, single_use(state))
    return tuple(New(one.id, _sized(one), one.quantity) for one in lines)


def _sized(one: PartLine) -> str:
    return one.term if one.size is None else f"{one.term} {one.size:.2f} mm"


def facts_of(state: State) -> Facts:
    """What the limit sheet says of the head joints; of a V the one that asks for more."""
    heads = _head_joints(state)
    stretch = {one.stretch_bolts for one in heads}
    bolts = "stretch" if True in stretch else "plain" if stretch == {False} else UNTOLD
    again = any(stage.kind == "again" or stage.when for one in heads for stage in one.stages)
    return Facts(bolts, "yes" if again else "no" if heads else UNTOLD)


def single_use(state: State) -> frozenset[str]:
    """Consumables that are all bought new: head bolts, where the sheet allows one use, or wants all new for one out."""
    new = any(0 < bolts_of(state, one).order == len(one.bolts) for one in _head_joints(state))
    return frozenset({"head_bolt"} if new else ())


def _head_joints(state: State) -> list[Procedure]:
    if state.sheet is None:
        return []
    return [one for name, one in state.sheet.tightening.items() if is_head(name)]


def signature(state: State, step: str) -> Signed | None:
    """The signature that stands under a step, done or not done; the last one where there are several."""
    return next((one for one in reversed(state.job.signed) if one.step == step), None)


def done(state: State, step: str) -> bool:
    """Whether a step is signed as done."""
    found = signature(state, step)
    return found is not None and found.did == DONE


def open_gates(state: State, step: Step, known: Sequence[Step]) -> tuple[Step, ...]:
    """Steps that must be signed before this one and are not."""
    return tuple(one for one in known if one.id in step.after and not done(state, one.id))


def seen_of(state: State, step: Step) -> str:
    """What a page shows of a step, in short: its words, and the signature under it."""
    under = signature(state, step.id)
    words = f"{signed_text(step, state.catalogue)}\n{under.event if under else ''}"
    return sha256(words.encode("utf-8")).hexdigest()[:16]


def sign(
    state: State, stamp: Stamp, step: str, note: str = "", seen: str | None = None, did: str = DONE
) -> tuple[Event, ...]:
    """Sign a step as done, or say that it is not done and why.

    Raises Refused for nobody's name, a step that is not there, one that is signed, words that were not seen, and a gate
    that is not signed while no note says why.
    """
    known = steps_of(state)
    found = next((one for one in known if one.id == step), None)
    if found is None:
        raise Refused(f"no step of this engine is called '{step[:60]}'{did_you_mean(step, [one.id for one in known])}")
    if not stamp.by.strip():
        raise Refused(f"{heading(found)} is signed by a person: say who you are first")
    if did not in SIGNED:
        raise Refused(f"'{did[:40]}' is no way to sign; a step is {' or '.join(SIGNED)}")
    note = note.strip()
    if len(note) > LONGEST_NOTE:
        raise Refused(f"the note has {len(note)} characters; {LONGEST_NOTE} are the most, so shorten it")
    _not_signed_yet(state, found, did, seen)
    _in_order(state, found, known, did, note)
    body = {"step": found.id, "did": did, "text": signed_text(found, state.catalogue), "note": note or None}
    return (replace(stamp.event("step_signed", body), id=_next_id(state, found.id)),)


def _not_signed_yet(state: State, step: Step, did: str, seen: str | None) -> None:
    under = signature(state, step.id)
    stale = seen is not None and seen != seen_of(state, step)
    if under is not None and (under.did in (did, DONE) or stale):
        who = f"{under.by or 'nobody named'}, {under.at or 'time not known'}"
        raise Refused(f"{heading(step)} is signed already, {under.did}: {who}; take that back first if it is wrong")
    if stale:
        raise Refused(f"the words of '{heading(step)}' have changed since this page was read: read it again, then sign")


def _in_order(state: State, step: Step, known: Sequence[Step], did: str, note: str) -> None:
    if note:
        return
    if did != DONE:
        raise Refused(f"{heading(step)} is not done: say why in the note")
    if step.tells:
        raise Refused(f"{tell_words(step)}; or say in a note how it was done")
    loose = open_joints(state, step.id)
    if loose:
        raise Refused(f"{heading(step)}: {'; '.join(loose)}; tighten it first, or say in a note how it was done")
    gates = open_gates(state, step, known)
    if gates:
        named = "; ".join(heading(one) for one in gates)
        raise Refused(f"{heading(step)}: not signed yet is {named}; sign that first, or say in a note why not")


def _next_id(state: State, step: str) -> str:
    """The id of the next signature under a step; one that was taken back keeps its own."""
    used = {one.event for one in state.job.signed} | set(state.job.taken_back)
    return next(name for n in count(1) if (name := f"step:{step}:{n}") not in used)
