"""The order: shop order, parts order, shims, before and after. One view serves page and PDF."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from witnessmark.desk.cuts import model_of
from witnessmark.desk.geometry import state_of
from witnessmark.desk.ledger import ledger_of_job
from witnessmark.desk.order import bare_items, ordered_plan
from witnessmark.desk.plan_data import fit_after
from witnessmark.desk.prices import prices_of
from witnessmark.desk.sheets.paper_block import Facts, report_block
from witnessmark.desk.sheets.paper_block import lead as lead_of
from witnessmark.desk.sheets.plan import GATES, STATES, clock, money
from witnessmark.desk.state import State
from witnessmark.desk.steps import single_use
from witnessmark.draw.face import FacePlan
from witnessmark.draw.gasket import FaceLook, gasket_face
from witnessmark.draw.shape import Drawing
from witnessmark.engine.work import amounts
from witnessmark.explain.consequence import as_result
from witnessmark.explain.planned import amount, place, why_item
from witnessmark.explain.words import limit_words, shown_in, unit_of, verdict_words
from witnessmark.fit.lash import STAYS
from witnessmark.plan.gates import passed
from witnessmark.plan.items import cuts_of
from witnessmark.plan.offers import SET_LATER
from witnessmark.plan.orders import SHOP, Group, PartLine, groups, parts
from witnessmark.plan.result import Item, LedgerRow, Planned
from witnessmark.plan.shims import Shims, adjusters

NAMES = ("shop-order", "parts-order", "shims", "before-and-after")
GOVERNS = (
    "Service information, local codes and licensed practice govern. Limits and prices are those that were entered."
)
AFTER = "after re-measuring"
FACE_ROOM = 420.0  # pixels of a head's face on the paper
NOBODY = "………………………………"


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of words under their heads; `strong` names rows that stand out, by number."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    wide: tuple[int, ...]  # shares of the width
    strong: tuple[int, ...] = ()
    tall: bool = False  # rows that are written on by hand, 8 mm high and ruled upright


@dataclass(frozen=True, slots=True)
class Face:
    """The gasket face of one head with the valves ringed that are worked on, and what to say of it."""

    words: str
    drawing: Drawing


@dataclass(frozen=True, slots=True)
class Paper:
    """One paper of the order."""

    name: str
    title: str
    job: str
    lead: str
    notices: tuple[str, ...]
    tables: tuple[Table, ...]
    notes: tuple[str, ...]
    cautions: tuple[tuple[str, str], ...]
    legend: str
    decides: bool
    faces: tuple[Face, ...]
    block: Facts
    date: str


@dataclass(frozen=True, slots=True)
class Ordered:
    """What is ordered: its items with their ranges where the plan still stands, and how it came about."""

    items: tuple[Item, ...]
    said: str
    cost: str
    firm: bool


def ordered(state: State, planned: Planned) -> Ordered:
    """The order that was given; else the best plan, said to be none yet; else the intended work."""
    order = state.job.order
    if order is not None:
        plan = ordered_plan(state, planned)
        items = plan.items if plan else tuple(bare_items(state, order["work"]))
        changed = "" if plan else "; what it rests on has changed since"
        cost = " ".join(filter(None, (str(order.get("cost") or ""), str(order.get("currency") or ""))))
        return Ordered(items, f"plan {order['name']}, ordered{changed}", cost, firm=True)
    if planned.plans:
        best = planned.plans[0]
        return Ordered(best.items, f"plan {best.name}, not ordered yet", money(best.cost, best.currency), firm=False)
    return Ordered(tuple(bare_items(state, state.job.work)), "intended work, not ordered", "", firm=False)


def paper(state: State, planned: Planned, name: str, unit: str = "mm", date: str = "", checksum: str = "") -> Paper:
    """One of the papers by its name. Raises KeyError for another name."""
    return {
        "shop-order": _shop, "parts-order": _parts, "shims": _shims, "before-and-after": _before,
    }[name](state, ordered(state, planned), unit, _Head(state, date, checksum))  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Head:
    """What every paper carries."""

    state: State
    date: str
    checksum: str

    def paper(
        self, name: str, title: str, what: Ordered, notices: Sequence[str], tables: Sequence[Table],
        notes: Sequence[str] = (), cautions: Sequence[tuple[str, str]] = (), *, decides: bool = False,
        faces: Sequence[Face] = (),
    ) -> Paper:  # fmt: skip
        told = [] if what.firm else [f"NOT ORDERED: {what.said}."]
        block = report_block(self.state, self.checksum or "0" * 8)
        return Paper(name, title, self.state.job.id, lead_of(self.state, self.date), (*told, *notices), tuple(tables),
                     tuple(notes), tuple(cautions), GOVERNS, decides, tuple(faces), block, self.date)  # fmt: skip


def _said(what: Ordered) -> list[str]:
    """What was ordered; that nothing was stands over every paper already."""
    return [f"{what.said[:1].upper()}{what.said[1:]}."] if what.firm else []


def _shop(state: State, what: Ordered, unit: str, head: _Head) -> Paper:
    lines = groups(what.items, state.catalogue)
    rows: list[tuple[str, ...]] = []
    strong: list[int] = []
    after = _After(state, ledger_of_job(state, cuts_of(_before_setting(what), model_of(state))).rows, unit)
    number = 0
    for group in lines:
        for gate in group.gates:
            title, why = GATES[gate]
            strong.append(len(rows))
            rows.append(("!", f"{title}: {STATES[passed(gate, state.judgement.results)]}", "", why, ""))
        if state.catalogue.operations[group.operation].by == SHOP:
            number += 1
            rows += _shop_rows(state, group, number, unit, after)
    shop = [group for group in lines if state.catalogue.operations[group.operation].by == SHOP]
    if not shop:
        return head.paper("shop-order", "Shop order", what, ["Nothing of this work goes out."], ())
    heads = ("no.", "work and place", f"target, {unit}", "least to most, datum, finish", "measure before return")
    table = Table("Work in this order", heads, tuple(rows), (3, 19, 8, 27, 33), tuple(strong))
    notices = [*_said(what), "Amounts are metal off, along the direction that is named."]
    notes = (
        "Nothing after a gate (!) is begun before it is passed.",
        "If the least does not clean up, or more than the most would be needed: stop, leave it as it is, and ask.",
        f"Who decides if a limit is hit: {NOBODY}   telephone: {NOBODY}",
        "Send back with the head: every value of the last column, before and after, with its gauge; and all old parts.",
    )
    items = [item for group in shop for item in group.items]
    return head.paper("shop-order", "Shop order", what, notices, [table], notes, _cautions(state, shop), decides=True,
                      faces=_faces(state, items))  # fmt: skip


def _faces(state: State, items: Sequence[Item]) -> tuple[Face, ...]:
    """The face of each head with the valves ringed that are worked on, so that nobody counts from the wrong end."""
    layout, model = state.layout, model_of(state)
    assert layout is not None
    valves = dict(layout.valves)
    of_valve = dict(zip(model.axes.locations["valve"], model.axes.upon["valve", "bank"], strict=True))
    found = []
    for n, (bank, numbers) in enumerate(layout.banks):
        picked = tuple(dict.fromkeys(one.location for one in items if of_valve.get(one.location) == n))
        if picked:
            plan = FacePlan(tuple(numbers), valves.get("inl", ("",)), valves.get("exh", ("",)), FACE_ROOM)
            head = f"{bank} head" if bank else "head"
            words = f"The {head} from below; ringed: {', '.join(place(one) for one in picked)}."
            found.append(Face(words, gasket_face(plan, (), words, FaceLook(picked=picked))))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class _After:
    """What each characteristic must be when the head comes back."""

    state: State
    rows: Sequence[LedgerRow]
    unit: str

    def words(self, characteristic: str, items: Sequence[Item]) -> str:
        """`seat width 1.0 to 1.6 (Inl 1R, Inl 3R), 1.4 to 2.0 (Exh 3F)`: its limit, else what it is to come to."""
        mine = [row for row in self.rows if row.characteristic == characteristic]
        said: dict[str, list[str]] = {}
        for item in items:
            here = [row for row in mine if row.location == item.location] or (mine if len(mine) == 1 else [])
            for row in here:
                said.setdefault(self._asked(row), []).append(place(item.location))
        term = self.state.catalogue.characteristics[characteristic].term
        told = [f"{words} ({', '.join(where)})" if len(said) > 1 else words for words, where in said.items() if words]
        return f"{term} {', '.join(told)}" if told else term

    def _asked(self, row: LedgerRow) -> str:
        result = as_result(row, self.state.catalogue)
        if row.against is not None and row.verdict:
            return limit_words(row.against, result, self.unit)
        return shown_in(result, self.unit).number(row.predicted) if row.moved and row.predicted is not None else ""


def _shop_rows(state: State, group: Group, number: int, unit: str, after: _After) -> list[tuple[str, ...]]:
    """The places of one kind of work that share target and range in one row."""
    operation = state.catalogue.operations[group.operation]
    alike: dict[tuple[str, str], list[Item]] = {}
    for item in group.items:
        alike.setdefault((_target(item, unit), _spread(item, unit)), []).append(item)
    rows: list[tuple[str, ...]] = []
    for n, ((target, spread), items) in enumerate(alike.items()):
        said = (operation.direction, operation.finish) if n == 0 else ()
        how = "; ".join(filter(None, (spread, *said)))
        check = "; ".join(after.words(name, group.items) for name in operation.check) if n == 0 else ""
        where = ", ".join(place(item.location) for item in items)
        work = f"{operation.term[:1].upper()}{operation.term[1:]}: {where}" if n == 0 else where
        rows.append((str(number) if n == 0 else "", work, target, how, check))
    return rows


def _target(item: Item, unit: str) -> str:
    return "–" if item.amount is None else amount(item.amount, unit)


def _spread(item: Item, unit: str) -> str:
    if item.least is None or item.most is None:
        return ""
    return f"{amount(item.least, unit)} to {amount(item.most, unit)}"


def _cautions(state: State, lines: Sequence[Group]) -> list[tuple[str, str]]:
    names = dict.fromkeys(state.catalogue.operations[group.operation].hazard for group in lines)
    return [(state.catalogue.hazards[name].term, state.catalogue.hazards[name].text) for name in names if name]


def _parts(state: State, what: Ordered, unit: str, head: _Head) -> Paper:
    assert state.layout is not None
    prices = prices_of(state)
    currency = prices.currency if prices else ""
    lines = parts(what.items, state.layout, prices, state.catalogue, single_use(state))
    rows = tuple(_part_row(state, one, unit) for one in lines)
    total = sum(one.cost for one in lines if one.cost is not None)
    open_ = [one.term for one in lines if one.cost is None]
    table = Table("Parts to buy", ("part", "number", "how many", f"each, {currency}", currency, "days", "because of"),
                  rows, (26, 17, 9, 9, 10, 6, 23))  # fmt: skip
    notes = [f"Parts with a price: {currency} {total:.2f}."]
    notes += [f"No price entered: {', '.join(open_)}."] if open_ else []
    notes.append("Lash shims and spring shims are final only after re-measuring; see the sheet of shims.")
    return head.paper("parts-order", "Parts order", what, _said(what), [table], notes)


def _part_row(state: State, one: PartLine, unit: str) -> tuple[str, ...]:
    size = f" {amount(one.size, unit)}" if one.size is not None else ""
    known = state.catalogue.operations.get(one.why)
    cost = "–" if one.cost is None else f"{one.cost:.2f}"
    each = "–" if one.each is None else f"{one.each:.2f}"
    return (f"{one.term}{size}", one.number or "–", str(one.quantity), each, cost, str(one.wait) if one.wait else "",
            known.term if known else one.why)  # fmt: skip


def _shims(state: State, what: Ordered, unit: str, head: _Head) -> Paper:
    model = model_of(state)
    found = fit_after(state, amounts(model, cuts_of(_before_setting(what), model)))
    tables = [_shim_table(found, unit)] if found is not None else []
    tables += _adjuster_table(state, what, unit)
    notes = list(_shim_notes(found, unit)) if found is not None else []
    again = "lash" if found is not None else "plunger travel"
    notices = [f"{AFTER.upper()}: measure the {again} again with everything tightened, then choose for good."]
    if not tables:
        notices = ["This gear has neither shims with sizes in the price list nor adjusters with limits."]
    return head.paper("shims", "Shims and adjusters", what, notices, tables, notes)


def _before_setting(what: Ordered) -> list[Item]:
    """The work without what is set after re-measuring."""
    return [item for item in what.items if item.operation not in SET_LATER]


def _shim_table(found: Shims, unit: str) -> Table:
    rows: list[tuple[str, ...]] = []
    for one in found.assignment.given:
        has = found.has[one.place]
        source = f"from {place(one.came_from)}" if one.came_from else one.source
        rows.append((place(one.place), "–" if has is None else amount(has, unit, 3), amount(one.needed, unit, 3),
                     amount(one.size, unit, 2), source,
                     ", ".join(amount(size, unit) for size in found.cover[one.place]), ""))  # fmt: skip
    rows += [(place(one.place), "", amount(one.needed, unit, 3), "none fits", one.why, "", "") for one in
             found.assignment.unfit]  # fmt: skip
    rows += [(place(where), "not read", "", "", "", "", "") for where in found.unread]
    strong = tuple(n for n, one in enumerate(found.assignment.given) if one.source != STAYS)
    heads = ("valve", "has", "needs", "gets", "where from", "at hand", "measured again")
    return Table("Lash shims", heads, tuple(rows), (10, 10, 10, 10, 16, 24, 18), strong)


def _shim_notes(found: Shims, unit: str) -> Iterable[str]:
    if found.assignment.bought:
        several = (f"{count} of {amount(size, unit)}" for size, count in found.assignment.bought.items())
        yield f"Buy: {', '.join(several)}."
    for chain in found.assignment.chains:
        yield "Move: " + " to ".join(place(one) for one in chain) + "."


def _adjuster_table(state: State, what: Ordered, unit: str) -> list[Table]:
    model, engine = model_of(state), state_of(state)
    left = adjusters(model, engine, amounts(model, cuts_of(_before_setting(what), model)), state.sheet)
    if not left:
        return []
    rows = tuple((place(one.place), amount(one.preload, unit), amount(one.travel.inward, unit),
                  amount(one.travel.outward, unit), "within" if one.travel.holds else "outside the limit you entered")
                 for one in left)  # fmt: skip
    heads = ("valve", "pressed in", "left inward", "left outward", "verdict")
    return [Table(f"Plunger travel after the work, {unit}", heads,
                  rows, (12, 14, 14, 14, 30))]  # fmt: skip


def _before(state: State, what: Ordered, unit: str, head: _Head) -> Paper:
    found = ledger_of_job(state, cuts_of(_before_setting(what), model_of(state)))
    kept = [row for row in found.rows if (row.moved and row.verdict) or row.after is not None]
    free = sum(row.moved and not row.verdict and row.after is None for row in found.rows)
    rows = tuple(_ledger_row(state, row, unit) for row in kept)
    strong = tuple(n for n, row in enumerate(kept) if row.verdict == "out" or row.unexplained is not None)
    table = Table("What the work moves", ("characteristic", "place", "before", "predicted", "after", "unit", "limit",
                                          "verdict"), rows, (24, 10, 10, 11, 9, 5, 21, 17), strong)  # fmt: skip
    odd = [row for row in kept if row.unexplained is not None]
    notes = [f"{len(odd)} values after machining are not explained by this work: measure again, and ask what else was "
             "done."] if odd else []  # fmt: skip
    notes += [f"{free} more values move that have no limit; the sheet of intended work shows them."] if free else []
    notes.append("Lash is set with shims or screws after re-measuring, and stands here without them.")
    return head.paper("before-and-after", "Before and after", what, _said(what), [table], notes)


def _ledger_row(state: State, row: LedgerRow, unit: str) -> tuple[str, ...]:
    result = as_result(row, state.catalogue)
    write = shown_in(result, unit)
    values = (row.before, row.predicted, row.after)
    before, then, after = ("–" if value is None else write.number(value) for value in values)
    word = verdict_words(result, unit)[0] if row.verdict else "–"
    odd = ", not explained" if row.unexplained is not None else ""
    return (state.catalogue.characteristics[row.characteristic].term, place(row.location), before, then, after,
            unit_of(result, unit), limit_words(row.against, result, unit) if row.against else "",
            f"{word}{odd}")  # fmt: skip


def reasons(state: State, what: Ordered, unit: str) -> tuple[tuple[str, str], ...]:
    """Why each piece of work is in the order, for the page."""
    return tuple((f"{state.catalogue.operations[item.operation].term}, {place(item.location)}",
                  why_item(item, state.catalogue, unit)) for item in what.items)  # fmt: skip


def total_time(what: Ordered) -> str:
    """Bench time of all of it."""
    return clock(sum(item.minutes for item in what.items))
