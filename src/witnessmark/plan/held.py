"""Which limit holds for a predicted result: the new one for what is new or machined, the service limit for the rest."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from witnessmark.catalogue.entry import Catalogue
from witnessmark.catalogue.place import PlaceError
from witnessmark.engine.model import Model
from witnessmark.engine.walk import related
from witnessmark.engine.work import Amounts
from witnessmark.judge.result import Against
from witnessmark.judge.standing import against
from witnessmark.limits.sheet import Sheet, limit_for

SERVICE, NEW = "service", "new"


@dataclass(frozen=True, slots=True)
class Spot:
    """One result at one place: which law, which element of its axis, how the place is called on the bench."""

    characteristic: str
    element: int
    location: str


def spots(model: Model, catalogue: Catalogue) -> Iterator[Spot]:
    """Every result that the catalogue knows by name, at every place, in the order of the laws."""
    for name, law in model.laws.items():
        entry = catalogue.characteristics.get(name)
        if entry is None or not law.group:
            continue
        for element, place in enumerate(model.axes.locations[law.axis]):
            yield Spot(name, element, _place(model, place, entry.at))


def _place(model: Model, place: str, at: str) -> str:
    """The place by which the catalogue calls it: the gasket face of a head, the drive of a camshaft."""
    try:
        return related(place, at, model.layout)
    except PlaceError:
        return place


def renewed(model: Model, work: Amounts) -> dict[str, np.ndarray]:
    """Characteristic -> which of its places (n,) are new or machined afresh by the work."""
    found: dict[str, np.ndarray] = {}
    for name, row in work.items():
        working = model.operations[name]
        for characteristic in working.renews:
            law = model.laws.get(characteristic)
            if law is None:
                continue
            done = np.asarray(row) != 0
            here = done if law.axis == working.axis else _spread(model, done, working.axis, law.axis)
            found[characteristic] = found.get(characteristic, np.zeros(len(here), bool)) | here
    return found


def _spread(model: Model, done: np.ndarray, axis: str, onto: str) -> np.ndarray:
    if (onto, axis) in model.axes.upon:
        return np.asarray(done[model.axes.upon[onto, axis]])
    return np.bincount(model.axes.upon[axis, onto], done, minlength=model.axes.size(onto)) > 0


def held_against(sheet: Sheet | None, spot: Spot, *, new: bool) -> Against | None:
    """The limit of a place: of what is new the new one where the sheet has it, else the service limit."""
    if sheet is None:
        return None
    service = limit_for(sheet, spot.characteristic, spot.location, SERVICE)
    target = limit_for(sheet, spot.characteristic, spot.location, NEW)
    if new and target is not None:
        return against(target, None)
    if service is None and target is not None and not new:
        return against(None, target)
    return against(service, target)
