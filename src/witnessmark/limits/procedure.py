"""How a joint is tightened, as the document in hand says: where the bolts lie, their order, the stages.

A procedure can be made from the plain texts of a sheet or of an event alike, so that a run of tightening keeps the one
that it was begun with. Lengths in mm, torques in N·mm, angles in radians, rates in N/mm.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from witnessmark.mechanics.law import OutsideLaw
from witnessmark.mechanics.preload import strength
from witnessmark.mechanics.thread import designated
from witnessmark.quantity.read import Amount, read
from witnessmark.quantity.unit import UnknownUnit, unit

KINDS = {"torque": "torque", "angle": "angle_plane", "stretch": "length"}  # of a stage -> what it measures
USUAL = {"torque": "N·m", "angle": "deg", "stretch": "mm"}

Said = tuple[str, tuple[str | int, ...]]  # what is wrong, and where below the entry


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage. `value` and `unit` as the document prints them, `inside` in the unit inside.

    `kind` is torque, angle, yield, stretch, again (a torque gone round once more, `when` says when); of a loosening:
    ease, out. `group` is the group of bolts that it is for, "" for all.
    """

    kind: str
    value: str = ""
    unit: str = ""
    inside: float | None = None
    group: str = ""
    when: str = ""


@dataclass(frozen=True, slots=True)
class Place:
    """Where a bolt lies: along the engine from its front, and across towards the inlet side, in mm."""

    bolt: str
    x: float
    y: float
    group: str = ""


@dataclass(frozen=True, slots=True)
class Shape:
    """A bolt lengthwise: free parts as (length, diameter or None for thread), how it is held, bearing, joint rate."""

    segments: tuple[tuple[float, float | None], ...]
    held: str = "tapped"
    bearing: float | None = None
    joint_rate: float | None = None


@dataclass(frozen=True, slots=True)
class Procedure:
    """The whole of it. `plain` is what an event keeps; `order` is () where the document gives none."""

    joint: str
    term: str
    bolts: tuple[Place, ...]
    order: tuple[str, ...]
    stages: tuple[Stage, ...]
    thread: str = ""
    strength: str = ""
    threads: str = ""
    stretch_bolts: bool | None = None
    reuse: str = "unknown"
    any_out: str = "all new"
    caps: bool = False
    cylinders: tuple[tuple[str, float], ...] = ()  # number and place along the engine, front first
    pressed: tuple[str, ...] = ()  # bolts of caps over which a lobe presses
    shape: Shape | None = None
    document: str = ""
    page: str = ""
    worked_out: bool = False  # the order comes from the places and not from the document
    plain: Mapping[str, Any] = field(default_factory=dict)

    def names(self) -> tuple[str, ...]:
        """The bolts by name, as they are written."""
        return tuple(one.bolt for one in self.bolts)

    def group(self, bolt: str) -> str:
        """The group of a bolt."""
        return next((one.group for one in self.bolts if one.bolt == bolt), "")

    @property
    def angled(self) -> bool:
        """Whether a stage turns through an angle, to yield or to a stretch: then a torque is never gone round again."""
        return any(one.kind in ("angle", "yield", "stretch") for one in self.stages)


def procedure(joint: str, plain: Mapping[str, Any], document: str = "") -> tuple[Procedure, list[Said]]:
    """The procedure in plain texts, and what is wrong with it; with faults it is not to be used."""
    faults: list[Said] = []
    bolts = tuple(_places(plain, faults))
    stages = tuple(_stage(one, ("stages", n), faults) for n, one in enumerate(plain.get("stages") or ()))
    order = tuple(str(one) for one in plain.get("order") or ())
    found = Procedure(
        joint, str(plain.get("term") or f"{joint.replace('_', ' ')} bolts"), bolts, order, stages,
        str(plain.get("thread") or ""), str(plain.get("strength") or ""), str(plain.get("threads") or ""),
        _yes(plain.get("stretch_bolts")), str(plain.get("reuse") or "unknown"), str(plain.get("any_out") or "all new"),
        _yes(plain.get("caps")) is True, tuple(_cylinders(plain, faults)),
        tuple(str(one) for one in plain.get("pressed") or ()), _shape(plain.get("bolt"), faults),
        str(plain.get("document") or document), str(plain.get("page") or ""),
        _yes(plain.get("worked_out")) is True, dict(plain))  # fmt: skip
    _together(found, faults)
    _bolt_known(found, faults)
    return found, faults


def _bolt_known(found: Procedure, faults: list[Said]) -> None:
    """A thread and a class that no standard has are slips of the pen."""
    nominal = 10.0
    if found.thread:
        try:
            nominal = designated(found.thread).nominal
        except OutsideLaw as outside:
            faults.append((str(outside), ("thread",)))
    if found.strength:
        try:
            strength(found.strength, nominal)
        except OutsideLaw as outside:
            faults.append((str(outside), ("strength",)))


def kept(joint: str, plain: Mapping[str, Any]) -> Procedure | None:
    """The procedure that an event keeps, or None where a hand has made it what no sheet holds."""
    from pydantic import ValidationError

    from witnessmark.limits.model import TighteningEntry

    told = {key: value for key, value in plain.items() if key != "worked_out"}
    try:
        TighteningEntry.model_validate(told)
    except ValidationError:
        return None
    found, faults = procedure(joint, plain)
    return None if faults else found


def _yes(word: Any) -> bool | None:
    return None if word is None else word == "yes"


def _length(text: str, name: str, path: tuple[str | int, ...], faults: list[Said]) -> float | None:
    return _inside(text, name, "length", path, faults)


def _inside(text: str, name: str, quantity: str, path: tuple[str | int, ...], faults: list[Said]) -> float | None:
    """A number of the sheet in the unit inside."""
    try:
        wanted = unit(name, quantity)
    except UnknownUnit as unknown:
        faults.append((str(unknown), (*path[:-1], "unit")))
        return None
    found = read(text, wanted.name, dimension=wanted.dimension)
    if isinstance(found, Amount):
        return float(found.inside)
    said = getattr(found, "message", "") or getattr(found, "question", "it has two meanings")
    faults.append((f"'{text[:40]}' cannot be read: {said}", path))
    return None


def _places(plain: Mapping[str, Any], faults: list[Said]) -> list[Place]:
    name = str(plain.get("unit") or "mm")
    places, seen = [], dict[tuple[float, float], str]()
    for bolt, told in (plain.get("bolts") or {}).items():
        path = ("bolts", bolt)
        x, y = (_length(str(text), name, (*path, n), faults) for n, text in enumerate(told[:2]))
        if x is None or y is None:
            continue
        if (x, y) in seen:
            faults.append((f"bolt {bolt} lies where bolt {seen[x, y]} lies; give one of them its own place", path))
        seen[x, y] = bolt
        places.append(Place(bolt, x, y, str(told[2]) if len(told) > 2 else ""))
    return places


def _cylinders(plain: Mapping[str, Any], faults: list[Said]) -> list[tuple[str, float]]:
    name, told = str(plain.get("unit") or "mm"), plain.get("cylinders") or ()
    numbered = told.items() if isinstance(told, Mapping) else ((str(n), text) for n, text in enumerate(told, 1))
    found = ((number, _length(str(text), name, ("cylinders",), faults)) for number, text in numbered)
    return sorted(((number, x) for number, x in found if x is not None), key=lambda one: one[1])


def _stage(told: Mapping[str, Any], path: tuple[str | int, ...], faults: list[Said]) -> Stage:
    several = [key for key in ("torque", "angle", "yield", "stretch") if told.get(key)]
    if len(several) != 1:
        had = f"{' and '.join(several)} stand together" if several else "nothing says how far"
        faults.append((f"{had}; write one of torque, angle, yield: yes, stretch, each stage on its own", path))
        return Stage("torque")
    key = several[0]
    kind, value = ("again" if told.get("again") else key), "" if key == "yield" else str(told[key])
    name = str(told.get("unit") or USUAL.get(key, ""))
    if kind == "again" and key != "torque":
        faults.append(("only a torque is gone round again; an angle never is", (*path, "again")))
    group, when = str(told.get("for") or ""), str(told.get("again") or "")
    inside = _inside(value, name, KINDS[key], (*path, key), faults) if key in KINDS else None
    if inside is not None and inside <= 0:
        faults.append((f"{value} turns nothing; write more than 0", (*path, key)))
    return Stage(kind, value, name, inside, group, when)


def _shape(told: Mapping[str, Any] | None, faults: list[Said]) -> Shape | None:
    if not told:
        return None
    name, path = str(told.get("unit") or "mm"), ("bolt",)
    segments = []
    for n, (length, diameter) in enumerate(told["segments"]):
        long = _length(str(length), name, (*path, "segments", n, 0), faults)
        wide = None if diameter == "thread" else _length(str(diameter), name, (*path, "segments", n, 1), faults)
        segments.append((long or 0.0, wide))
    bearing = _length(str(told["bearing"]), name, (*path, "bearing"), faults) if told.get("bearing") else None
    rate = told.get("joint_rate")
    return Shape(tuple(segments), str(told.get("held") or "tapped"), bearing,
                 _inside(str(rate), "N/mm", "rate", (*path, "joint_rate"), faults) if rate else None)


def _together(found: Procedure, faults: list[Said]) -> None:
    """What only shows when its parts are held against each other."""
    groups = {one.group for one in found.bolts}
    for n, stage in enumerate(found.stages):
        if stage.group and stage.group not in groups:
            told = ", ".join(sorted(groups - {""})) or "none"
            faults.append((f"no bolt is of the group '{stage.group}'; groups are: {told}", ("stages", n, "for")))
        if stage.kind == "again" and (found.stretch_bolts or found.angled):
            said = "stretch bolts and bolts turned through an angle are never tightened again; take this stage out"
            faults.append((said, ("stages", n, "again")))
    faults += [(said, ("order",)) for said in order_faults(found.order, found.names())]
    faults += [(f"no bolt is called '{one}'", ("pressed",)) for one in found.pressed if one not in found.names()]
    idle = [one.bolt for one in found.bolts if all(stage.group not in ("", one.group) for stage in found.stages)]
    if idle and found.stages:
        faults.append((f"no stage is for bolt {', '.join(idle)}; give its group a stage", ("stages",)))


def order_faults(order: Sequence[str], bolts: Sequence[str]) -> list[str]:
    """Gaps and repeats of an order that the user gave; none for an order that is left out."""
    if not order:
        return []
    twice = sorted({one for one in order if order.count(one) > 1})
    found = [f"bolt {one} stands twice in the order; each is turned once in a stage" for one in twice]
    found += [f"the order names bolt {one}, which has no place among the bolts" for one in order if one not in bolts]
    missing = [one for one in bolts if one not in order]
    if missing:
        found.append(f"the order leaves out bolt {', '.join(missing)}; every bolt has its turn")
    return found
