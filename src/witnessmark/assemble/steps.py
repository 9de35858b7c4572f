"""Steps of assembly: which of the catalogue's an engine takes after this work, where, in which order, and why.

A step is there where one of its conditions holds. A condition that names work holds only where the work is done: at a
head, a camshaft or a valve. A gate that the engine does not have hands its own gates on.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from witnessmark.assemble.steps_model import Facts, New, Step, Why, Work
from witnessmark.catalogue.entry import Catalogue
from witnessmark.catalogue.steps import UNTOLD, WORK, StepKind, When
from witnessmark.engine.layout import Layout, locations, related, stations
from witnessmark.engine.place import PlaceError, parse

LASH = {"bucket_shim": "shim", "bucket_shim_under": "shim_under"}  # else by hydraulics or by a screw
AT = {"head": "head", "valve": "valve", "cylinder": "chamber", "cam": "cam", "bolt": "bolt", "drive": "drive"}
OWN = ("cam", "drive")  # signed one by one; all else head by head
LISTS_ALL = "parts-order"  # a step on this sheet names every part that is new


@dataclass(frozen=True, slots=True)
class _Group:
    """Places that are signed together. `name` is what the id of the step says of them, "" where it says nothing."""

    name: str
    bank: str
    own: str  # camshaft or drive, or ""
    places: tuple[str, ...]


def steps(
    layout: Layout, work: Sequence[Work], facts: Facts, catalogue: Catalogue, new: Sequence[New] = ()
) -> tuple[Step, ...]:
    """Every step that this engine takes once this work is done, in working order.

    `work` names single places; work of which the catalogue knows nothing brings no step. `new` is the parts order.
    """
    told = engine_facts(layout, facts)
    found = [step for kind in catalogue.steps.values() for step in _of_kind(kind, layout, work, told, catalogue)]
    gates = _gates(found, catalogue.steps)
    return tuple(replace(one, after=gates[one.id], new=fresh) for one, fresh in zip(found, _new(found, new, catalogue),
                                                                                   strict=True))  # fmt: skip


def engine_facts(layout: Layout, facts: Facts) -> Mapping[str, str]:
    """The facts that conditions ask for, each with the one value that it has here."""
    lash = LASH.get(layout.gear, "hydraulic" if layout.hydraulic else "screw")
    return {
        "gear": layout.gear.split("_")[0], "lash": lash, "cams": "block" if layout.cam_in_block else "overhead",
        "drive": layout.drive, "row": "several" if max(len(each) for _, each in layout.banks) > 1 else "one",
        "seal": layout.seal or UNTOLD, "fuel": layout.fuel or UNTOLD, "cooling": layout.cooling or UNTOLD,
        "hybrid": layout.hybrid or UNTOLD, "bolts": facts.bolts, "retorque": facts.retorque,
    }  # fmt: skip


def _of_kind(
    kind: StepKind, layout: Layout, work: Sequence[Work], told: Mapping[str, str], catalogue: Catalogue
) -> Iterable[Step]:
    check = tuple(name for name in kind.check if stations(layout, catalogue.characteristics[name]))
    for group in _groups(kind, layout):
        here = [one for one in work if _touches(one, group, layout)]
        holding = [when for when in kind.when if _holds(when, here, told)]
        if kind.when and not holding:
            continue
        called = _called(holding, here)
        places = _at(group.places, called) if called else group.places
        hazards = tuple(name for name, several in kind.hazards.items()
                        if not several or any(_holds(when, here, told) for when in several))  # fmt: skip
        yield Step(
            f"{kind.id}@{group.name}" if group.name else kind.id, kind.id, kind.section, kind.term, kind.text,
            kind.tool, group.name, places, places == group.places, tuple(one for one in here if one.operation in
            kind.names), (), hazards, (), check, _why(holding, here, told), kind.sheet, kind.tells, kind.source,
        )  # fmt: skip


def _groups(kind: StepKind, layout: Layout) -> Iterable[_Group]:
    if kind.per not in AT:
        yield _Group("", "", "", ())
        return
    found: dict[tuple[str, str], list[str]] = {}
    for place in locations(layout, AT[kind.per]):
        bank = _bank(place, layout)
        found.setdefault((bank, place if kind.per in OWN else ""), []).append(place)
    for (bank, own), places in found.items():
        name = (own or bank) if len(found) > 1 else ""
        yield _Group(name, bank, own, tuple(places))


def _bank(place: str, layout: Layout) -> str:
    known = parse(place)
    return layout.bank_of(known.cylinder) if known.cylinder is not None else known.bank


def _touches(one: Work, group: _Group, layout: Layout) -> bool:
    """Whether work belongs to these places: under the same head, and on the same camshaft where both tell it."""
    try:
        bank = _bank(one.place, layout)
    except PlaceError:  # work that a newer release may know, at a place that this one does not
        return not group.bank and not group.own
    if group.bank and bank and bank != group.bank:
        return False
    cam = _cam(one.place, layout)
    return not (group.own and cam and cam != group.own and parse(group.own).where.startswith("cam"))


def _cam(place: str, layout: Layout) -> str:
    """The camshaft on which a place lies; "" for one that lies on none or says nothing of it."""
    if not parse(place).where.startswith("cam"):
        return ""
    return related(place, "cam", layout)


def _holds(when: When, here: Sequence[Work], told: Mapping[str, str]) -> bool:
    done = {one.operation for one in here}
    return all(not done.isdisjoint(values) if fact == WORK else told[fact] in values for fact, values in when.items())


def _called(holding: Sequence[When], here: Sequence[Work]) -> list[Work]:
    """The work without which the step would not be there; none where some condition holds without work."""
    if not holding or any(WORK not in when for when in holding):
        return []
    wanted = {name for when in holding for name in when[WORK]}
    return [one for one in here if one.operation in wanted]


def _at(places: tuple[str, ...], called: Sequence[Work]) -> tuple[str, ...]:
    """The places that the work names one by one, else all."""
    named = {one.place for one in called}
    return tuple(place for place in places if place in named) if named <= set(places) else places


def _why(holding: Sequence[When], here: Sequence[Work], told: Mapping[str, str]) -> tuple[Why, ...]:
    found: dict[Why, None] = {}
    for when in holding:
        for fact, values in when.items():
            if fact != WORK:
                found[Why(fact, told[fact])] = None
            for name in values if fact == WORK else ():
                places = tuple(dict.fromkeys(one.place for one in here if one.operation == name))
                if places:
                    found[Why(WORK, name, places)] = None
    return tuple(found) or (Why("head_off"),)


def _gates(found: Sequence[Step], kinds: Mapping[str, StepKind]) -> dict[str, tuple[str, ...]]:
    """Step -> the steps that must be signed before it, under the same head or on the same camshaft.

    What another gate of it waits for already is left out.
    """
    by_kind: dict[str, list[Step]] = {}
    for one in found:
        by_kind.setdefault(one.kind, []).append(one)

    def before(kind: str) -> Iterable[str]:
        for name in kinds[kind].after:
            if name in by_kind:
                yield name
            else:
                yield from before(name)

    gates: dict[str, tuple[str, ...]] = {}
    reach: dict[str, set[str]] = {}  # step -> all that must be signed before it, at whatever distance
    for one in found:
        direct = dict.fromkeys(other.id for name in before(one.kind) for other in by_kind[name]
                               if _together(one.where, other.where))  # fmt: skip
        further = {far for gate in direct for far in reach[gate]}
        gates[one.id] = tuple(gate for gate in direct if gate not in further)
        reach[one.id] = further | set(direct)
    return gates


def _together(here: str, other: str) -> bool:
    """Whether one waits for the other: same head where both tell it, same camshaft where both do."""
    if not here or not other or here == other:
        return True
    mine, theirs = _part_of(here), _part_of(other)
    banks = {mine[0], theirs[0]} - {""}
    return len(banks) < 2 and not (mine[1].startswith("cam") and theirs[1].startswith("cam") and mine[1] != theirs[1])


def _part_of(where: str) -> tuple[str, str]:
    """(bank, camshaft or drive) of what the id of a step names."""
    bank, _, own = where.rpartition("/")
    return (bank, own) if bank or where.startswith(("cam", "drive")) else (where, "")


def _new(found: Sequence[Step], new: Sequence[New], catalogue: Catalogue) -> Iterable[tuple[New, ...]]:
    """What goes in at each step: all of the order where it is laid out, else its consumables by its share of places."""
    by_id = {one.id: one for one in new}
    total = {name: sum(_weight(step, name, catalogue) for step in found) for name in by_id}
    for step in found:
        if step.sheet == LISTS_ALL:
            yield tuple(new)
            continue
        mine = [by_id[name] for name in catalogue.steps[step.kind].uses if name in by_id]
        yield tuple(replace(one, quantity=_share(one, _weight(step, one.id, catalogue), total[one.id])) for one in mine)


def _weight(step: Step, name: str, catalogue: Catalogue) -> int:
    return max(len(step.places), 1) if name in catalogue.steps[step.kind].uses else 0


def _share(one: New, weight: int, total: int) -> int:
    """The share of one step; the whole where it does not come out even, so that nobody is short."""
    share, rest = divmod(one.quantity * weight, total)
    return one.quantity if rest else share
