"""The sheet of intended work: one valve in section, the cuts that may be tried, and the ledger of what they do."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

import numpy as np

from witnessmark.desk.cuts import intended, model_of
from witnessmark.desk.geometry import state_of, usual_unit
from witnessmark.desk.ledger import ledger_of_job
from witnessmark.desk.prices import prices_of
from witnessmark.desk.sheets.judged import Judged, judged
from witnessmark.desk.state import State
from witnessmark.draw.section import Lengths, Section, valve_section
from witnessmark.engine.model import Model, evaluate
from witnessmark.engine.operation import Working
from witnessmark.engine.quantity import GIVEN
from witnessmark.engine.state import Floats
from witnessmark.engine.work import Amounts, amounts, worked
from witnessmark.explain.consequence import BELOW_NOTHING, as_result, why_row
from witnessmark.explain.planned import amount, place
from witnessmark.explain.words import shown_in
from witnessmark.judge.result import OUT
from witnessmark.limits.limit import Allowed
from witnessmark.plan.held import Spot
from witnessmark.plan.offers import permission
from witnessmark.plan.result import Ledger, LedgerRow
from witnessmark.quantity.unit import unit as unit_named
from witnessmark.text.near import did_you_mean

MOST_TOLD = 4
STEP = {"mm": 0.05, "in": 0.001}  # of a cut for each touch, in the unit shown
MM = 25.4
SEEN = 0.005  # mm: less is not told beside a drawing
MARK_WIDTH = 92.0  # pixels of a mark in the ledger
HERE = ("this valve", "all inlet", "all exhaust", "all valves")
SCOPES = {"this valve": "", "all inlet": "inl", "all exhaust": "exh", "all valves": "all"}
SHAPE = ("stem_height", "installed_height", "margin", "seat_width")
CUTS, PARTS, CLOSED = "cuts and sizes", "new parts and repairs", "the book says no or nothing, or no size is listed"
ALWAYS = ("seat_width", "head_height", "deck_removed")  # told whether the work moves them or not


class NoValve(ValueError):
    """A valve that this engine does not have; the message names the near one."""


@dataclass(frozen=True, slots=True)
class Key:
    """One press of a stepper: the amount it leads to, as it is sent; "" takes the cut out."""

    words: str
    to: str
    name: str
    off: bool = False


@dataclass(frozen=True, slots=True)
class Stepper:
    """One operation with what is intended of it here."""

    operation: str
    term: str
    place: str
    where: str
    now: str  # as shown; "" for a part that is not put in
    on: bool
    switch: bool
    less: Key
    more: Key
    valve: bool  # whether it is done at valves
    unit: str  # of the amounts that the keys send
    allowed: str  # `of 0.20` in a box, `the book says no`, `ask the book`
    boxed: bool


@dataclass(frozen=True, slots=True)
class Steps:
    """Steppers of one sort; all but the first sort stand folded until something of them is intended or looked for."""

    title: str
    steppers: tuple[Stepper, ...]

    @property
    def on(self) -> int:
        """How many of them are intended here."""
        return sum(one.on for one in self.steppers)


@dataclass(frozen=True, slots=True)
class Line:
    """One row of the ledger as the sheet shows it."""

    line: Judged
    group: str
    before: str
    predicted: str
    after: str
    why: str
    moved: bool
    out: bool
    unexplained: str


@dataclass(frozen=True, slots=True)
class Wanting:
    """A quantity that is not known, with a blank to enter it."""

    quantity: str
    term: str
    unit: str


@dataclass(frozen=True, slots=True)
class WorkSheet:
    """All that the sheet of intended work shows."""

    job: str
    title: str
    valve: str
    view: str  # valve | head
    valves: tuple[tuple[str, str, bool], ...]  # id, as shown, whether anything is intended there
    section: Section | None
    sizes: tuple[tuple[str, str, str], ...]  # what the section is dimensioned with: term, as found, after the work
    groups: tuple[Steps, ...]
    scope: str
    lines: tuple[Line, ...]
    after: bool  # whether anything was read after the work
    told: tuple[str, ...]  # what the work crosses, in sentences
    unknown: tuple[tuple[str, str], ...]
    wanting: tuple[Wanting, ...]
    assumed: str
    cuts: int
    saw: str  # of the intended work
    saw_geometry: str
    unit: str


def work_sheet(state: State, valve: str = "", view: str = "valve", scope: str = "", unit: str = "mm") -> WorkSheet:
    """The sheet for one valve, or the whole head. Raises NoValve for one that the engine has not."""
    model = model_of(state)
    places = model.axes.locations["valve"]
    cuts = intended(state)
    touched = {one.location for one in cuts}
    valve = valve or next((one for one in places if one in touched), places[0])
    if valve not in places:
        raise NoValve(f"this engine has no valve '{valve[:40]}'{did_you_mean(valve, places)}")
    at = places.index(valve)
    work = amounts(model, cuts)
    here = _here(model, at)
    whole = view == "head"
    found = ledger_of_job(state, cuts, None if whole else here)
    kept = [row for row in found.rows if _kept(row, whole)]
    values = state_of(state).values
    done = worked(model, values, work)
    return WorkSheet(
        job=state.job.id, title="Intended work", valve=valve, view=view,
        valves=tuple((one, place(one), one in touched) for one in places),
        section=None if whole else _section(state, model, values, done, at, found, unit),
        sizes=() if whole else tuple(_sizes(state, model, at, found, unit)),
        groups=_groups(state, model, work, at, unit),
        scope=scope if scope in SCOPES else HERE[0], lines=tuple(_line(state, row, unit) for row in kept),
        after=any(row.after is not None for row in kept), told=tuple(_crossed(state, found, unit)),
        unknown=tuple(_unknown(state, found)),
        wanting=tuple(_wanting(model, values)), assumed="", cuts=len(cuts), saw=state.job.work_event or "",
        saw_geometry=state.job.geometry_event or "", unit=unit,
    )  # fmt: skip


def _here(model: Model, at: int) -> "_Here":
    upon = model.axes.upon
    cam = int(upon["valve", "cam"][at])
    return _Here(model, {"valve": at, "chamber": int(upon["valve", "chamber"][at]),
                         "bank": int(upon["valve", "bank"][at]), "cam": cam, "engine": 0})  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Here:
    """Whether a result belongs to the valve that is looked at, its chamber, its head or its camshaft."""

    model: Model
    at: dict[str, int]

    def __call__(self, spot: Spot) -> bool:
        return self.at[self.model.laws[spot.characteristic].axis] == spot.element


def _kept(row: LedgerRow, whole: bool) -> bool:
    if row.unexplained is not None or row.moved:
        return True
    if whole:
        return row.after is not None
    return bool(row.verdict) or row.characteristic in ALWAYS


def _section(
    state: State, model: Model, values: Mapping[str, Floats], done: Mapping[str, Floats], at: int, found: Ledger,
    unit: str,
) -> Section:  # fmt: skip
    """As found and after the work; `values` and `done` are those of the engine before and after it."""
    gap = _gap(model)
    words, out = {}, []
    for row in _drawn(model, at, found):
        if row.predicted is not None:
            key = "gap" if row.characteristic == gap else row.characteristic
            words[key] = shown_in(as_result(row, state.catalogue), unit).number(row.predicted)
            out += [key] if row.verdict == OUT else []
    was, then = (_lengths(each, evaluate(model, each), gap, at) for each in (values, done))
    words["moved"] = _moved(was, then, unit)
    layout = state.layout
    assert layout is not None
    return valve_section(was, then, gear=layout.gear, place=place(model.axes.locations["valve"][at]), words=words,
                         out=tuple(out))  # fmt: skip


def _moved(was: Lengths, then: Lengths, unit: str) -> str:
    """`valve sunk 0.27, stem 0.22 higher`; nothing where neither moves."""
    told = []
    ways = (("sunk", "sunk {}", "{} lower", "valve"), ("stem_height", "{} higher", "{} lower", "stem"))
    for name, up, down, part in ways:
        old, new = getattr(was, name), getattr(then, name)
        by = 0.0 if old is None or new is None else new - old
        if abs(by) >= SEEN:
            told.append(f"{part} {(up if by > 0 else down).format(amount(abs(by), unit))}")
    return ", ".join(told)


def _gap(model: Model) -> str:
    return "hla_preload" if "hla_preload" in model.laws else "valve_lash"


def _drawn(model: Model, at: int, found: Ledger) -> list[LedgerRow]:
    """The rows of one valve that its section shows."""
    rows = {row.characteristic: row for row in found.rows if row.location == model.axes.locations["valve"][at]}
    return [rows[name] for name in (*SHAPE, _gap(model)) if name in rows]


def _sizes(state: State, model: Model, at: int, found: Ledger, unit: str) -> Iterable[tuple[str, str, str]]:
    for row in _drawn(model, at, found):
        write = shown_in(as_result(row, state.catalogue), unit)
        was, then = ("not known" if value is None else write.number(value) for value in (row.before, row.predicted))
        yield state.catalogue.characteristics[row.characteristic].term, was, then


def _lengths(values: Mapping[str, Floats], results: Mapping[str, Floats], gap: str, at: int) -> Lengths:
    def known(row: Floats | None) -> float | None:
        return None if row is None or np.isnan(row[at]) else float(row[at])

    def size(name: str) -> float | None:
        found = known(results.get(name))
        return found if found is None or found > 0 else None

    return Lengths(
        stem_height=size("stem_height"), installed_height=size("installed_height"), stem_diameter=size("stem_diameter"),
        head_diameter=size("valve_head_diameter"), valve_length=known(values.get("valve_length")),
        margin=size("margin"), seat_width=size("seat_width"), seat_angle=known(values.get("seat_angle")),
        gap=known(results.get(gap)), sunk=known(results.get("valve_sunk")),
        shim=known(values.get("spring_shim_added")), top_angle=known(values.get("relief_top_angle")),
        bottom_angle=known(values.get("relief_bottom_angle")), base_circle=known(values.get("base_circle")),
    )  # fmt: skip


def _groups(state: State, model: Model, work: Amounts, at: int, unit: str) -> tuple[Steps, ...]:
    """What is stepped, first what the book leaves open to the cutter; parts; what it forbids or does not mention."""
    sorts: dict[str, list[Stepper]] = {CUTS: [], PARTS: [], CLOSED: []}
    known = state.catalogue.operations
    names = [name for name in model.operations if name in known]
    for name in sorted(names, key=lambda one: (model.operations[one].axis != "valve", known[one].order)):
        working = model.operations[name]
        said = state.sheet.allowed.get(name) if state.sheet else None
        shut = state.sheet is not None and permission(said, known[name].kind, name, state.sheet) != "open"
        one = _stepper(state, model, work, working, at, unit)
        still = one.less.off and one.more.off and not one.on  # of what is stocked: no size in the price list
        sorts[CLOSED if shut or still else PARTS if working.switch else CUTS].append(one)
    return tuple(Steps(title, tuple(several)) for title, several in sorts.items() if several)


def _stepper(state: State, model: Model, work: Amounts, working: Working, at: int, unit: str) -> Stepper:
    element = at if working.axis == "valve" else _here(model, at).at[working.axis]
    location = model.axes.locations[working.axis][element]
    now = float(work[working.id][element]) if working.id in work else 0.0
    said = state.sheet.allowed.get(working.id) if state.sheet else None
    operation = state.catalogue.operations[working.id]
    term = operation.term
    less, more = _keys(state, working, now, said, unit, term)
    shown = "" if working.switch else amount(now, unit, 2)
    if working.switch:
        shown = "put in" if now else "as it is"
    elif working.sets and not now:
        shown = "as it is"
    words, boxed = _allowed(said, unit)
    return Stepper(working.id, term, location, place(location), shown, bool(now), working.switch, less, more,
                   working.axis == "valve", unit,
                   words, boxed)  # fmt: skip


def _allowed(said: Allowed | None, unit: str) -> tuple[str, bool]:
    if said is None or said.allowed == "unknown":
        return ("ask the book", False) if said is not None else ("", False)
    if said.allowed == "no":
        return "the book says no", False
    return (f"of {amount(said.most, unit)}", True) if said.most is not None else ("", False)


def _keys(
    state: State, working: Working, now: float, said: Allowed | None, unit: str, term: str
) -> tuple[Key, Key]:
    """What the keys beside an amount lead to; a limit for the part's life stops them."""
    if working.switch:
        return Key("–", "", f"{term}: take it out again", not now), Key("+", "1", f"{term}: put it in", bool(now))
    if working.sets:
        return _size_keys(state, working, now, unit, term)
    scale = MM if unit == "in" else 1.0
    step = STEP[unit]
    lower, higher = now / scale - step, now / scale + step
    most = said.most / scale if said is not None and said.most is not None else None
    stopped = said is not None and said.allowed == "up to" and most is not None and now / scale >= most - 1e-9
    if most is not None and now / scale < most < higher:
        higher = most
    return (Key("–", _sent(lower, unit) if lower > 1e-9 else "", f"{term}: less", now <= 0),
            Key("+", _sent(higher, unit), f"{term}: more", stopped))  # fmt: skip


def _sent(value: float, unit: str) -> str:
    return f"{value:.4f}" if unit == "in" else f"{value:.3f}"


def _size_keys(state: State, working: Working, now: float, unit: str, term: str) -> tuple[Key, Key]:
    """The next smaller and the next larger size that exist; without a list, none."""
    prices = prices_of(state)
    stock = prices.stock.get(working.id) if prices else None
    scale = MM if unit == "in" else 1.0
    sizes = stock.sizes if stock else ()
    smaller = [size for size in sizes if size < now - 1e-9] if now else list(sizes[:1])
    larger = [size for size in sizes if size > now + 1e-9] if now else list(sizes[-1:])
    less = _sent(smaller[-1] / scale, unit) if smaller else ""
    more = _sent(larger[0] / scale, unit) if larger else ""
    return (Key("–", less, f"{term}: smaller", not sizes or (not smaller and not now)),
            Key("+", more, f"{term}: larger", not larger))  # fmt: skip


def _line(state: State, row: LedgerRow, unit: str) -> Line:
    result = as_result(row, state.catalogue)
    line = judged(result, state.catalogue, unit, [result], MARK_WIDTH)
    scale = _per_unit(result.against.unit if result.against else "", row)
    before = None if row.before is None or not row.moved else row.before / scale
    line = replace(line, mark=replace(line.mark, before=before))
    write = shown_in(result, unit)
    texts = ("–" if value is None else write.number(value) for value in (row.before, row.predicted, row.after))
    was, then, after = texts
    told = f"{write.distance(abs(row.unexplained))} not explained" if row.unexplained is not None else ""
    return Line(line, row.group, was, then if row.moved or row.before is None else "same", after,
                why_row(row, state.catalogue, unit), row.moved, row.verdict == OUT, told)  # fmt: skip


def _per_unit(name: str, row: LedgerRow) -> float:
    """Marks are drawn in the unit of their limit."""
    return float(unit_named(name, row.dimension).factor) if name else 1.0


def _crossed(state: State, found: Ledger, unit: str) -> Iterable[str]:
    below = [row for row in found.rows if _goes_below(row)]
    told = [*below, *(row for row in found.crossed if row not in below)]
    for row in told[:MOST_TOLD]:
        entry = state.catalogue.characteristics[row.characteristic]
        yield f"{entry.term[:1].upper()}{entry.term[1:]} {place(row.location)}: {why_row(row, state.catalogue, unit)}"
    if len(told) > MOST_TOLD:
        yield f"{len(told) - MOST_TOLD} more values cross their limits: look at the whole head."


def _goes_below(row: LedgerRow) -> bool:
    """Whether the work takes a gap below nothing: told even where it was outside its limit before."""
    if row.characteristic not in BELOW_NOTHING or row.predicted is None or row.predicted >= 0:
        return False
    return row.before is None or row.before >= 0


def _unknown(state: State, found: Ledger) -> Iterable[tuple[str, str]]:
    for name, why in found.unknown:
        yield state.catalogue.characteristics[name].term, why


def _wanting(model: Model, values: Mapping[str, Floats]) -> Iterable[Wanting]:
    """Facts of the design that are not known anywhere, and would tell more."""
    for name, quantity in model.quantities.items():
        if quantity.kind == GIVEN and not quantity.optional and np.isnan(values[name]).all():
            yield Wanting(name, quantity.term, usual_unit(quantity))


def scope_place(scope: str, stepper_place: str, axis_is_valve: bool) -> str:
    """Where a press acts: the valve or head itself, or all of a side."""
    word = SCOPES.get(scope, "")
    return word if word and axis_is_valve else stepper_place

