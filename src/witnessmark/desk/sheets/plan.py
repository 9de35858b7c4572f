"""The plan sheet: one plan in working order with its reasons, beside it others that differ in kind; or what stands in
the way."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from witnessmark.desk.cuts import model_of
from witnessmark.desk.order import WANTED, ordered_plan
from witnessmark.desk.planning import wanted_of
from witnessmark.desk.prices import price_faults, prices_of
from witnessmark.desk.sheets.judged import Judged, judged
from witnessmark.desk.state import State
from witnessmark.draw.shape import Drawing
from witnessmark.draw.work_order import node
from witnessmark.explain.consequence import as_result
from witnessmark.explain.planned import amount, conflict_words, missing_words, place, questions_words, why_item
from witnessmark.explain.words import BARE, unit_of
from witnessmark.judge.result import CLOSE, OUT
from witnessmark.plan.gates import passed
from witnessmark.plan.result import Gate, Item, LedgerRow, Plan, Planned
from witnessmark.quantity.show import show_chance

MOST_ROWS = 11  # characteristics compared side by side
MOST_OF_GROUP = 2  # of one concern: springs alone would fill the sheet
MARK_WIDTH = 68.0  # pixels of a mark beside its value
MOST_REASONS = 2  # of one step that are told at once
MOST_PLACES = 6  # of one step that are named in its head
GATES = {
    "sound": ("Crack and pressure test", "metal off a cracked head is money lost"),
    "cam_line": ("Cam line checked", "a skim would leave a bowed cam line bowed"),
}
STATES = {True: "passed", False: "not passed", None: "no clear answer yet"}


@dataclass(frozen=True, slots=True)
class Part:
    """One place of a step: where, how much, from least to most, why."""

    location: str
    where: str
    amount: str
    range: str
    why: str
    raw: str  # the amount in mm, for a pin


@dataclass(frozen=True, slots=True)
class Step:
    """A piece of work, or a gate; `number` is None for a gate."""

    number: int | None
    operation: str
    title: str
    where: str
    why: str
    cost: str
    time: str
    parts: tuple[Part, ...]
    node: Drawing
    open: bool = False  # a gate that is not passed


@dataclass(frozen=True, slots=True)
class Column:
    """One plan in the comparison; `cells` stand in the order of the sheet's rows, None where it says nothing."""

    name: str
    kind: str
    cost: str
    time: str
    chance: str
    status: str
    cells: tuple[Judged | None, ...]
    given_up: str
    ordered: bool
    shown: bool


@dataclass(frozen=True, slots=True)
class Row:
    """One characteristic of the comparison: the worst place of it in each plan."""

    term: str
    limit: str
    unit: str


@dataclass(frozen=True, slots=True)
class Asked:
    """Something that was pinned or forbidden."""

    kind: str
    operation: str
    place: str
    words: str


@dataclass(frozen=True, slots=True)
class PlanSheet:
    """All that the plan sheet shows."""

    job: str
    title: str
    sub: str
    status: str
    shown: str  # name of the plan whose steps are shown
    steps: tuple[Step, ...]
    rows: tuple[Row, ...]
    columns: tuple[Column, ...]
    conflict: tuple[str, ...]
    questions: tuple[str, ...]
    missing: tuple[str, ...]
    rests_on: str
    asked: tuple[Asked, ...]
    wanted: str
    chances: tuple[str, ...]
    unsure: tuple[str, ...]
    prices: str
    faults: tuple[str, ...]
    ordered: str  # name of the plan that was ordered, with what it cost
    changed: bool  # an order stands that is none of these plans any more


def plan_sheet(state: State, planned: Planned, unit: str = "mm", name: str = "") -> PlanSheet:
    """The sheet, with the steps of the plan `name`, else of the first."""
    shown = next((one for one in planned.plans if one.name == name), planned.plans[0] if planned.plans else None)
    taken = ordered_plan(state, planned)
    rows = _compared(planned.plans)
    prices = prices_of(state)
    order = state.job.order
    return PlanSheet(
        job=state.job.id, title=f"Plan {shown.name}: {shown.kind}" if shown else "Plan", sub=_sub(state, planned),
        status=planned.status, shown=shown.name if shown else "",
        steps=tuple(_steps(state, shown, unit)) if shown else (),
        rows=tuple(_row(state, each, planned.plans, unit) for each in rows),
        columns=tuple(_column(state, one, planned.plans[0], rows, unit, taken, shown) for one in planned.plans),
        conflict=conflict_words(planned.conflict, state.catalogue, unit) if planned.conflict else (),
        questions=questions_words(planned.questions, state.catalogue, unit),
        missing=tuple(missing_words(one, state.catalogue) for one in planned.missing),
        rests_on=_rests_on(state, planned), asked=tuple(_asked(state)), wanted=f"{wanted_of(state):.2f}",
        chances=WANTED, unsure=tuple(_unsure(state, shown)) if shown else (),
        prices=f"list {prices.name}{', invented' if prices.invented else ''}" if prices else "not entered yet",
        faults=price_faults(state),
        ordered=f"{order['name']}, {order.get('cost') or ''} {order.get('currency') or ''}".strip() if order else "",
        changed=order is not None and taken is None,
    )  # fmt: skip


def _sub(state: State, planned: Planned) -> str:
    found = [one for one in state.judgement.results if one.round == "as found"]
    out, close = (sum(one.verdict == verdict for one in found) for verdict in (OUT, CLOSE))
    if planned.status == "nothing to do":
        return "nothing that was read is outside a limit you entered"
    return f"in working order · answers {out} values out and {close} too close to call"


def clock(minutes: float) -> str:
    """Minutes as a bench counts them: `4 h 30`."""
    whole = round(minutes)
    return f"{whole // 60} h {whole % 60:02}" if whole >= 60 else f"{whole} min"


def money(value: float, currency: str) -> str:
    """A sum with its currency; whole where it is."""
    text = f"{value:.0f}" if abs(value - round(value)) < 0.005 else f"{value:.2f}"
    return f"{currency} {text}".strip()


def _steps(state: State, one: Plan, unit: str) -> Iterable[Step]:
    """Work and gates in order; each gate stands once, before the first work that asks for it."""
    lines: list[tuple[str, list[Item] | Gate]] = []
    told: set[str] = set()
    gates = {gate.id: gate for gate in one.gates}
    for operation, several in groupby(one.items, key=lambda item: item.operation):
        for name in state.catalogue.operations[operation].gates:
            if name not in told:
                told.add(name)
                lines.append((name, gates.get(name) or Gate(name, operation, passed(name, state.judgement.results))))
        lines.append((operation, list(several)))
    number = 0
    for name, line in lines:
        if isinstance(line, Gate):
            title, why = GATES[name]
            yield Step(None, "", title, STATES[line.passed], why, "", "", (), node(None, True, True), not line.passed)
        else:
            number += 1
            yield _step(state, one, number, name, line, unit, node(number, True, True))


def _step(
    state: State, one: Plan, number: int, operation: str, items: Sequence[Item], unit: str, drawing: Drawing
) -> Step:
    term = state.catalogue.operations[operation].term
    parts = tuple(_part(state, item, unit) for item in items)
    named = " · ".join(part.where for part in parts[:MOST_PLACES])
    more = f" and {len(parts) - MOST_PLACES} more" if len(parts) > MOST_PLACES else ""
    return Step(number, operation, term[:1].upper() + term[1:], f"{named}{more}", _why(parts),
                money(sum(item.cost for item in items), one.currency), clock(sum(item.minutes for item in items)),
                parts, drawing)  # fmt: skip


def _why(parts: Sequence[Part]) -> str:
    """The reason of each place once, with its amount; a step of many places tells of the first ones."""
    told: dict[str, list[str]] = {}
    for part in parts:
        much = f" {part.amount}" if part.amount else ""
        told.setdefault(part.why.partition(";")[0], []).append(f"{part.where}{much}")
    shown = [f"{', '.join(where)}: {why}" if len(parts) > 1 else f"{_range(parts[0])}{why}"
             for why, where in list(told.items())[:MOST_REASONS]]  # fmt: skip
    left = sum(len(where) for where in list(told.values())[MOST_REASONS:])
    return "; ".join(shown) + (f"; and {left} more" if left else "")


def _range(part: Part) -> str:
    """`0.03 (0.03 to 0.04): ` before the reason of a single place."""
    spread = f" ({part.range})" if part.range else ""
    return f"{part.amount}{spread}: " if part.amount else ""


def _part(state: State, item: Item, unit: str) -> Part:
    told = "" if item.amount is None else amount(item.amount, unit)
    least, most = item.least, item.most
    spread = "" if least is None or most is None or least == most else f"{amount(least, unit)} to {amount(most, unit)}"
    return Part(item.location, place(item.location), told, spread, why_item(item, state.catalogue, unit),
                "" if item.amount is None else f"{item.amount:.4f}")  # fmt: skip


def _compared(plans: Sequence[Plan]) -> list[str]:
    """Characteristics that any plan moves and that have a limit, in the order of the ledger."""
    found: dict[str, str] = {}
    for one in plans:
        for row in one.predicted:
            if row.moved and row.against is not None and row.verdict:
                found.setdefault(row.characteristic, row.group)
    kept: list[str] = []
    for name, group in found.items():
        if sum(found[other] == group for other in kept) < MOST_OF_GROUP:
            kept.append(name)
    return kept[:MOST_ROWS]


def _worst(one: Plan, characteristic: str) -> LedgerRow | None:
    """The place where the least room is left, in shares of the limit's own width where it has one."""
    rows = [row for row in one.predicted if row.characteristic == characteristic and row.verdict]
    return min(rows, key=_room, default=None)


def _room(row: LedgerRow) -> float:
    held, value = row.against, row.predicted
    assert held is not None and value is not None
    rooms = [value - held.low] if held.low is not None else []
    rooms += [held.high - value] if held.high is not None else []
    return min(rooms) / (row.u or 1e-6)


def _cell(state: State, row: LedgerRow | None, peers: Sequence[LedgerRow], unit: str) -> Judged | None:
    if row is None:
        return None
    return judged(as_result(row, state.catalogue), state.catalogue, unit,
                  [as_result(peer, state.catalogue) for peer in peers], MARK_WIDTH)  # fmt: skip


def _row(state: State, characteristic: str, plans: Sequence[Plan], unit: str) -> Row:
    """Its limit stands at the head of the row where it is one for all that is shown in it."""
    entry = state.catalogue.characteristics[characteristic]
    name = unit_of(entry, unit)
    worst = [row for one in plans if (row := _worst(one, characteristic)) is not None]
    limits = {cell.limit for row in worst if (cell := _cell(state, row, [row], unit)) is not None}
    return Row(entry.term, limits.pop() if len(limits) == 1 else "", "" if name in BARE else name)


def _column(
    state: State, one: Plan, first: Plan, rows: Sequence[str], unit: str, taken: Plan | None, shown: Plan | None
) -> Column:
    cells = []
    for characteristic in rows:
        worst = _worst(one, characteristic)
        cells.append(_cell(state, worst, [worst] if worst else [], unit))
    told = show_chance(one.first_pass_yield) if one.first_pass_yield is not None else "not tried"
    return Column(one.name, one.kind, money(one.cost, one.currency), clock(one.minutes), told, _proof(one, first),
                  tuple(cells), _given_up(state, one, first, unit), one is taken, one is shown)  # fmt: skip


def _proof(one: Plan, first: Plan) -> str:
    if one.status == "optimal":
        return "proven the cheapest"
    if one is first:
        return f"at most {money(one.gap, one.currency)} over the cheapest"
    return "shown to compare"


def _given_up(state: State, one: Plan, first: Plan, unit: str) -> str:
    """What it costs beside its price: money and time more than the first, metal of what may ever come off, parts, a
    wait, what stays doubtful."""
    more, longer = one.cost - first.cost, one.minutes - first.minutes
    told = [f"{money(more, one.currency)} more"] if more > 0 else []
    told += [f"{clock(longer)} longer"] if round(longer) > 0 else []
    metal = sum(item.amount or 0.0 for item in one.items if item.operation == "skim")
    said = state.sheet.allowed.get("skim") if state.sheet else None
    allowed = f" of the {amount(said.most, unit)} that may ever come off" if said and said.most is not None else ""
    told += [f"{amount(metal, unit)}{allowed}"] if metal else []
    parts = sum(state.catalogue.operations[item.operation].kind == "part" for item in one.items)
    told += [f"{parts} new {'part' if parts == 1 else 'parts'}"] if parts else []
    days = _wait(state, one)
    told += [f"{days} working {'day' if days == 1 else 'days'} of waiting"] if days else []
    told += [f"{len(one.unsure)} too close to call"] if one.unsure else []
    return ", ".join(told) or "nothing"


def _wait(state: State, one: Plan) -> int:
    """Working days until the last of it has come, work and parts asked for on one day."""
    prices = prices_of(state)
    if prices is None:
        return 0
    found = [0]
    for item in one.items:
        work = prices.work.get(item.operation)
        fits = [part for part in prices.parts if part.fits == item.operation and part.covers(item.location)]
        cheapest = min(fits, key=lambda part: part.cost, default=None)
        found += [work.wait if work else 0, cheapest.wait if cheapest else 0]
    return max(found)


def _rests_on(state: State, planned: Planned) -> str:
    if state.layout is None or not planned.rests_on:
        return ""
    known = model_of(state).quantities
    return ", ".join(f"{known[name].term} ({known[name].why})" if known[name].why else known[name].term
                     for name in planned.rests_on if name in known)  # fmt: skip


def _asked(state: State) -> Iterable[Asked]:
    for kind, words in (("pins", "must be in it"), ("forbid", "must not be in it")):
        for one in state.job.plan_asked.get(kind) or ():
            operation = state.catalogue.operations.get(str(one["operation"]))
            term = operation.term if operation else str(one["operation"])
            where = "anywhere" if one["place"] == "all" else place(str(one["place"]))
            much = f" {one['amount']} {one.get('unit') or ''}".rstrip() if one.get("amount") else ""
            yield Asked(kind, str(one["operation"]), str(one["place"]), f"{term}{much}, {where}: {words}")


def _unsure(state: State, one: Plan) -> Iterable[str]:
    for name in one.unsure:
        characteristic, _, where = name.partition("@")
        yield f"{state.catalogue.characteristics[characteristic].term} {place(where)}"
