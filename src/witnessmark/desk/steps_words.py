"""A step of assembly in words: where it is done, what is new there, why it is there, and what a signature stands under.

Amounts are held in millimetre and shown in the unit on display; a signature keeps millimetre, whoever reads it.
"""

from collections.abc import Sequence

from witnessmark.assemble.steps_model import New, Step, Why, Work
from witnessmark.catalogue.entry import Catalogue
from witnessmark.catalogue.steps import WORK
from witnessmark.desk.sheets.phrase import listed, plural, shown
from witnessmark.engine.place import parse
from witnessmark.explain.planned import amount

THINGS = {"valve": "valve", "chamber": "cylinder", "bolt": "bolt", "head": "head", "drive": "cam drive"}
MOST_NAMED = 4  # places; more of them are counted
TELL = {
    "seal": "say on the job sheet, under the engine, which stem seals it has: positive, umbrella, ring or none",
}
FACTS = {
    "gear": {"bucket": "bucket followers", "finger": "finger followers", "rocker": "rockers", "pushrod": "pushrods"},
    "lash": {"shim": "lash by shims", "shim_under": "lash by shims under the buckets", "screw": "lash by a screw",
             "hydraulic": "hydraulic adjusters"},
    "cams": {"overhead": "camshaft in the head", "block": "camshaft in the block"},
    "drive": {"chain": "chain drive", "belt": "belt drive", "gear": "gear drive"},
    "seal": {"positive": "positive stem seals", "umbrella": "umbrella stem seals", "ring": "ring stem seals",
             "untold": "stem seals not told"},
    "fuel": {"diesel": "diesel"},
    "cooling": {"liquid": "liquid-cooled", "untold": "taken as liquid-cooled"},
    "hybrid": {"yes": "high-voltage drive"},
    "bolts": {"plain": "bolts that do not stretch"},
    "retorque": {"yes": "the gasket asks for it"},
    "head_off": {"": "the head has been off"},
}  # fmt: skip


def heading(step: Step) -> str:
    """`Set the keepers, left`: what a step is called where several are named."""
    term = step.term[:1].upper() + step.term[1:]
    return f"{term}, {named(step.where)}" if step.where else term


def named(where: str) -> str:
    """The head, camshaft or drive that the id of a step names: `left head`, `Inl cam`, `left drive`."""
    return f"{where} head" if where in ("left", "right") else shown(where)


def where_words(step: Step) -> str:
    """`all 16 valves`, `8 valves, left head`, `Inl 3F`, `the engine`."""
    if not step.places:
        return "the engine"
    if not step.whole and len(step.places) <= MOST_NAMED:
        return listed([shown(place) for place in step.places])
    if len(step.places) == 1:
        return shown(step.places[0])
    counted = plural(len(step.places), _thing(step.places[0]))
    head = f", {named(step.where)}" if step.where else ""
    return f"{'all ' if step.whole and not step.where else ''}{counted}{head}"


def _thing(place: str) -> str:
    known = parse(place)
    name = "valve" if known.side and known.cylinder is not None else known.where.split("-")[0].split("/")[0]
    return THINGS.get(name, "place")


def changed_words(changed: Sequence[Work], catalogue: Catalogue, unit: str = "mm") -> tuple[str, ...]:
    """`new valve: Exh 3F`, `shim the spring 0.50 mm: Inl 1F and Inl 2F`: like work at several places in one."""
    alike: dict[str, list[str]] = {}
    for one in changed:
        size = f" {amount(float(one.amount), unit)} {unit}" if one.amount else ""
        alike.setdefault(f"{catalogue.operations[one.operation].term}{size}", []).append(shown(one.place))
    return tuple(f"{words}: {listed(places)}" for words, places in alike.items())




def new_words(new: Sequence[New]) -> tuple[str, ...]:
    """`16 stem seal`: how many of what goes in."""
    return tuple(f"{one.quantity} × {one.term}" for one in new)


def why_words(why: Sequence[Why], catalogue: Catalogue) -> str:
    """What brought a step, in a few words."""
    told = []
    for one in why:
        if one.fact == WORK:
            places = listed([shown(place) for place in one.places])
            told.append(f"{catalogue.operations[one.value].term}, {places}")
        else:
            told.append(FACTS[one.fact][one.value])
    return "; ".join(told)


def tell_words(step: Step) -> str:
    """What must be told before this step can be done."""
    return TELL[step.tells] if step.tells else ""


def signed_text(step: Step, catalogue: Catalogue) -> str:
    """All that a signature stands under: the step, where, with what, and what is new there."""
    told = [f"{heading(step)}. {step.text}", f"At: {where_words(step)}.", f"With: {step.tool}."]
    told += [f"Changed: {one}." for one in changed_words(step.changed, catalogue)]
    told += [f"New: {', '.join(new_words(step.new))}."] if step.new else []
    return " ".join(told)
