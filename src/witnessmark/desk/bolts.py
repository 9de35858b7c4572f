"""The bolts of a joint: used again or replaced, by the rule of the sheet, and how many to order."""

from dataclasses import dataclass

from witnessmark.desk.state import State
from witnessmark.engine.place import location
from witnessmark.limits.procedure import Procedure

BY = {"by length": ("bolt_length", "bolt_necking"), "by waist": ("bolt_necking", "bolt_length")}


@dataclass(frozen=True, slots=True)
class Bolts:
    """What becomes of them. `order` is how many new ones are needed, `out` which are outside, `open` not yet told."""

    said: str
    why: str
    order: int
    out: tuple[str, ...] = ()
    open: tuple[str, ...] = ()


def bolts_of(state: State, procedure: Procedure) -> Bolts:
    """Use again or replace. What is not measured is never taken as good."""
    names = procedure.names()
    if procedure.reuse == "once":
        return Bolts(f"{len(names)} new", "the sheet allows each bolt one use", len(names))
    if procedure.reuse == "unknown":
        return Bolts("ask the book", "nothing on the sheet says whether they may be used again", 0, open=names)
    if procedure.reuse == "yes":
        return Bolts("used again", "the sheet allows it; look at thread and head of each", 0)
    rule = (procedure.joint, procedure.reuse, procedure.any_out, names)
    return state.memory.once(("bolts", rule, state.evidence), lambda: _measured(state, procedure))


def _measured(state: State, procedure: Procedure) -> Bolts:
    verdicts = _verdicts(state, procedure)
    out = tuple(one for one in procedure.names() if "out" in verdicts[one].values())
    unsure = tuple(one for one in procedure.names() if one not in out and not _settled(procedure, verdicts[one]))
    term = "length and waist" if any("bolt_necking" in one for one in verdicts.values()) else "length"
    if out and procedure.any_out == "all new":
        why = f"bolt {_list(out)} is outside the limit that you entered, and the sheet wants all new where any is out"
        return Bolts(f"{len(procedure.names())} new", why, len(procedure.names()), out, unsure)
    if unsure:
        why = f"bolt {_list(unsure)} {'is' if len(unsure) == 1 else 'are'} not told yet by {term}"
        told = f"{len(out)} new, {len(unsure)} open" if out else f"{len(unsure)} open"
        return Bolts(told, why, len(out), out, unsure)
    if out:
        return Bolts(f"{len(out)} new", f"bolt {_list(out)} outside the limit that you entered", len(out), out)
    return Bolts("used again", f"each is within by {term}", 0)


def _settled(procedure: Procedure, told: dict[str, str]) -> bool:
    """Whether a bolt is known to be good: by what the sheet goes by, and by all else that was measured of it."""
    return told.get(BY[procedure.reuse][0]) == "within" and set(told.values()) == {"within"}


def _verdicts(state: State, procedure: Procedure) -> dict[str, dict[str, str]]:
    """Bolt -> {characteristic: verdict} of this joint, of the latest round that has one."""
    found: dict[str, dict[str, str]] = {one: {} for one in procedure.names()}
    bank = next((f"{side}/" for side in ("left", "right") if procedure.joint.startswith(f"{side}_")), "")
    if "head" not in procedure.joint:
        return found  # the places bolt-1, bolt-2 ... are those of the head
    for one in state.judgement.results:
        name = location(one.location)
        if one.characteristic in ("bolt_length", "bolt_necking") and name.startswith(f"{bank}bolt-"):
            bolt = name.removeprefix(f"{bank}bolt-")
            if bolt in found and one.verdict:
                found[bolt][one.characteristic] = one.verdict
    return found


def _list(names: tuple[str, ...]) -> str:
    return ", ".join(names)
