"""What the steps of assembly are made from, and what one of them is."""

from dataclasses import dataclass

from witnessmark.catalogue.steps import UNTOLD


@dataclass(frozen=True, slots=True)
class Work:
    """Work of the plan at one place; amount and unit are texts, "" where there is none."""

    operation: str
    place: str
    amount: str = ""
    unit: str = ""


@dataclass(frozen=True, slots=True)
class New:
    """A part of the parts order: so many of it go in. `id` is a consumable, a part or an operation."""

    id: str
    term: str
    quantity: int


@dataclass(frozen=True, slots=True)
class Facts:
    """What the service information says and no layout holds, for the head joint."""

    bolts: str = UNTOLD  # stretch | plain | untold
    retorque: str = UNTOLD  # yes | no | untold: whether the gasket asks to be tightened again


@dataclass(frozen=True, slots=True)
class Why:
    """What brought a step: a fact of the engine with its value, or `operations` with the work and its places.

    `fact` is "head_off" for a step that every head takes.
    """

    fact: str
    value: str = ""
    places: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Step:
    """One step in one engine, signed as a whole.

    id       its kind, with the head, camshaft or drive where there are several: `keepers_in`, `keepers_in@left`,
             `cams_in@cam-inl`. It stays the same whatever else the plan does.
    places   where it is done; () is the engine as a whole.
    whole    whether these are all places of that kind under this head.
    changed  work of the plan at these places, to be named in the step.
    new      parts of the parts order that go in.
    after    ids of steps that must be signed before.
    tells    the fact that nobody has told yet, or "".
    """

    id: str
    kind: str
    section: str
    term: str
    text: str
    tool: str
    where: str  # bank, camshaft or drive that the id names, or ""
    places: tuple[str, ...]
    whole: bool
    changed: tuple[Work, ...]
    new: tuple[New, ...]
    hazards: tuple[str, ...]
    after: tuple[str, ...]
    check: tuple[str, ...]
    why: tuple[Why, ...]
    sheet: str
    tells: str
    source: str
