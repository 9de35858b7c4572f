"""Steps of assembly as the data files hold them: what is done, with which hand tool, when, and after what.

A step stands in the list of an engine where one of its conditions holds. A condition names facts of the engine and of
the work, each with the values that will do; all of its facts must hold. `untold` is a value too: nobody has said.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from witnessmark.text.fault import Path
from witnessmark.text.near import did_you_mean

if TYPE_CHECKING:
    from witnessmark.catalogue import model
    from witnessmark.catalogue.entry import Catalogue

UNTOLD = "untold"
FACTS: Mapping[str, tuple[str, ...]] = {
    "gear": ("bucket", "finger", "rocker", "pushrod"),
    "lash": ("shim", "shim_under", "screw", "hydraulic"),
    "cams": ("overhead", "block"),
    "drive": ("chain", "belt", "gear"),
    "row": ("one", "several"),  # cylinders under one head
    "seal": ("positive", "umbrella", "ring", "none", UNTOLD),
    "fuel": ("petrol", "diesel", UNTOLD),
    "cooling": ("liquid", "air", UNTOLD),
    "hybrid": ("yes", "no", UNTOLD),
    "bolts": ("stretch", "plain", UNTOLD),  # of the head
    "retorque": ("yes", "no", UNTOLD),  # whether the gasket asks to be tightened again
}
WORK = "operations"  # the one fact that is no word about the engine: work that the plan does
SECTIONS = ("before", "valves", "head", "gear", "drive", "lash", "close", "start")
PER = ("head", "valve", "cylinder", "cam", "bolt", "drive", "engine")
SHEETS = ("parts-order", "tightening", "shims", "verify")  # where the numbers of a step stand

When = Mapping[str, tuple[str, ...]]  # fact -> values that will do
Found = tuple[Path, str]


@dataclass(frozen=True, slots=True)
class StepKind:
    """One kind of step. It is done once for each head, camshaft or drive, or once for the engine, over all its places.

    when      conditions of which one must hold; () is always.
    names     operations whose places are named in it, since something is new or cut there.
    uses      consumables that it puts in.
    hazards   each with its own conditions; () is wherever the step is.
    tells     the fact that must be told before anybody can know how it is done, or "".
    """

    id: str
    term: str
    text: str
    tool: str
    order: int
    section: str
    per: str
    when: tuple[When, ...]
    after: tuple[str, ...]
    names: tuple[str, ...]
    uses: tuple[str, ...]
    check: tuple[str, ...]
    hazards: Mapping[str, tuple[When, ...]]
    sheet: str
    tells: str
    source: str


def step_kind(key: str, each: "model.Step") -> StepKind:
    """The value of an entry as it is written."""
    return StepKind(
        key, each.term, each.text.strip(), each.tool, int(each.order), each.section, each.per, _conditions(each.when),
        tuple(each.after), tuple(each.names), tuple(each.uses), tuple(each.check),
        {name: _conditions(several) for name, several in each.hazards.items()}, each.sheet or "", each.tells or "",
        each.source,
    )  # fmt: skip


def _conditions(several: "Sequence[model.When]") -> tuple[When, ...]:
    return tuple({fact: tuple(values) for fact, values in one.items()} for one in several)


def step_faults(key: str, catalogue: "Catalogue") -> Iterator[Found]:
    """What a step names and nothing has, and an order that its gates contradict; paths within the entry."""
    one = catalogue.steps[key]
    known = {
        "after": (one.after, catalogue.steps, "step"), "names": (one.names, catalogue.operations, "operation"),
        "uses": (one.uses, catalogue.consumables, "consumable"),
        "check": (one.check, catalogue.characteristics, "characteristic"),
    }  # fmt: skip
    for which, (names, choices, what) in known.items():
        for number, name in enumerate(names):
            yield from _known((which, number), name, choices, what)
    yield from _known(("source",), one.source, catalogue.sources, "source")
    for name in one.hazards:
        yield from _known(("hazards", name), name, catalogue.hazards, "hazard")
    for way, condition in _all_conditions(one):
        yield from (((*way, *further), said) for further, said in _condition(condition, catalogue))
    if one.tells and UNTOLD not in FACTS.get(one.tells, ()):
        open_ = [fact for fact, values in FACTS.items() if UNTOLD in values]
        yield from _known(("tells",), one.tells, open_, "fact that may be untold")
    yield from _order(one, catalogue.steps)


def _all_conditions(one: StepKind) -> Iterator[tuple[Path, When]]:
    for number, condition in enumerate(one.when):
        yield ("when", number), condition
    for hazard, several in one.hazards.items():
        for number, condition in enumerate(several):
            yield ("hazards", hazard, number), condition


def _condition(condition: When, catalogue: "Catalogue") -> Iterator[Found]:
    for fact, values in condition.items():
        if fact == WORK:
            for number, name in enumerate(values):
                yield from _known((fact, number), name, catalogue.operations, "operation")
        elif fact not in FACTS:
            yield from _known((fact,), fact, (*FACTS, WORK), "fact of an engine")
        else:
            for number, value in enumerate(values):
                if value not in FACTS[fact]:
                    hint = did_you_mean(value, FACTS[fact]) or f"; there are {', '.join(FACTS[fact])}"
                    yield (fact, number), f"'{value}' is no {fact}{hint}"


def _order(one: StepKind, steps: Mapping[str, StepKind]) -> Iterator[Found]:
    for number, name in enumerate(one.after):
        if name in steps and steps[name].order >= one.order:
            said = f"{one.id} comes after {name}, and its order {one.order} is not above {steps[name].order}"
            yield ("after", number), f"{said}; move one of the two"
    twin = next((other for other in steps.values() if other.order == one.order and other.id != one.id), None)
    if twin is not None:
        yield ("order",), f"order {one.order} is that of {twin.id} as well; give each step a place of its own"


def _known(way: Path, name: str, choices: Iterable[str], what: str) -> Iterator[Found]:
    if name not in choices:
        yield way, f"no {what} is called '{name}'{did_you_mean(name, choices) or '; add it, or name another'}"
