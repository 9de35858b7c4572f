"""The job's geometry as it was entered, read into numbers: `bore: {value: 86.00, unit: mm, u: 0.01}`.

An entry speaks for all places, for a side, or for one place with all that belongs to it; the most particular holds.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from witnessmark.catalogue.place import valve_kind
from witnessmark.desk.look import dialect
from witnessmark.desk.state import State
from witnessmark.engine.axes import AXES, Axes
from witnessmark.engine.model import Model
from witnessmark.engine.quantity import WORK, Quantity
from witnessmark.quantity.amount import Amount
from witnessmark.quantity.read import read
from witnessmark.quantity.unit import UnknownUnit
from witnessmark.text.near import did_you_mean

AREAS = {"mm2": 1.0, "mm²": 1.0, "cm2": 100.0, "cm²": 100.0, "in2": 645.16, "in²": 645.16}  # mm2; exact

SIZES = frozenset({"length", "volume", "area", "rate", "force"})
BELOW_ZERO = frozenset({"deck_clearance", "crown_volume", "pad_recess"})  # a piston stands proud, a crown is domed


@dataclass(frozen=True, slots=True)
class Entered:
    """One entry: the elements of its quantity's axis that it speaks for, its value, standard uncertainty [inside]."""

    elements: tuple[int, ...]
    rank: int
    value: float
    u: float


def entries(state: State, model: Model) -> tuple[dict[str, tuple[Entered, ...]], tuple[str, ...]]:
    """Entries by quantity, the most particular first; and what is wrong with the rest."""
    found: dict[str, tuple[Entered, ...]] = {}
    faults: list[str] = []
    for name, value in state.job.geometry.items():
        one = model.quantities.get(name)
        if one is None or one.kind == WORK:
            known = [each.id for each in model.quantities.values() if each.kind != WORK]
            faults.append(f"geometry: this engine has no quantity '{name}'{did_you_mean(str(name), known)}")
            continue
        each = value if isinstance(value, Sequence) and not isinstance(value, str) else [value]
        made = [_entry(state, model.axes, one, entry, faults) for entry in each]
        found[name] = tuple(sorted((entry for entry in made if entry), key=lambda entry: -entry.rank))
    return found, tuple(faults)


def _entry(state: State, axes: Axes, one: Quantity, entry: Mapping[str, Any], faults: list[str]) -> Entered | None:
    side, place = str(entry.get("for") or ""), str(entry.get("place") or "")
    elements = tuple(_covered(axes, one.axis, side, place))
    where = f"geometry, {one.id}" + "".join(f" {word}" for word in (side, place) if word)
    if not elements:
        faults.append(f"{where}: no {one.axis} of this engine is meant; write for: inl or exh, or a place such as "
                        f"{axes.locations[one.axis][0]}")  # fmt: skip
        return None
    unit = str(entry.get("unit") or "") or usual_unit(one, dialect(state.job))
    value = _number(str(entry.get("value", "")), unit, one, where, faults)
    u = 0.0 if entry.get("u") is None else _number(str(entry["u"]), unit, one, f"{where}, u", faults)
    if value is None or u is None:
        return None
    if value < 0 and one.dimension in SIZES and one.id not in BELOW_ZERO:
        faults.append(f"{where}: {entry['value']} is below nothing; enter the size as it is measured")
        return None
    if u < 0:
        faults.append(f"{where}, u: a doubt of {entry['u']} is below nothing; enter it without a sign")
        return None
    return Entered(elements, 2 * bool(place) + bool(side), value, u)


def usual_unit(one: Quantity, length: str = "mm") -> str:
    """The unit in which a quantity is entered where none is named."""
    usual = {
        "length": length, "volume": "mL", "area": "mm2", "ratio": "1", "angle_plane": "deg", "rate": "N/mm",
        "angle_crank": "deg crank", "angle_cam": "deg cam", "force": "N",
    }  # fmt: skip
    return usual[one.dimension]


def _covered(axes: Axes, axis: str, side: str, place: str) -> Iterable[int]:
    coarser = [other for other in AXES if (axis, other) in axes.upon]
    for at, own in enumerate(axes.locations[axis]):
        belongs = {own, *(axes.locations[other][axes.upon[axis, other][at]] for other in coarser)}
        if (not place or place in belongs) and (not side or valve_kind(own) == side or own.endswith(f"cam-{side}")):
            yield at


def _number(text: str, unit: str, one: Quantity, where: str, faults: list[str]) -> float | None:
    """In the unit inside; None, and a problem told, where it cannot be read."""
    if one.dimension == "area" and unit not in AREAS:
        faults.append(f"{where}: '{unit}' is no unit of an area; write mm2, cm2 or in2")
        return None
    try:
        found = (
            read(text, "1", dimension="ratio") if one.dimension == "area" else read(text, unit, dimension=one.dimension)
        )
    except UnknownUnit as unknown:
        faults.append(f"{where}: {unknown}")
        return None
    if not isinstance(found, Amount):
        faults.append(f"{where}: '{text}' cannot be read in {unit}; write digits, with a point before decimals")
        return None
    if one.dimension not in (found.dimension, "area"):
        faults.append(f"{where}: {found.unit} is no unit of {one.term}")
        return None
    factor: Fraction | float = AREAS[unit] if one.dimension == "area" else 1
    return found.inside * float(factor)
