"""The sheet of verification: before, predicted and after on one sheet, and what the engine's own tests say."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import hypot

from witnessmark.assemble.verify import EVEN, Cylinder, Leak, centre_after, findings, spread_of
from witnessmark.desk.conditions import CONDITIONS, Air, unread
from witnessmark.desk.look import dialect
from witnessmark.desk.sheets.bench import bench_href
from witnessmark.desk.sheets.judged import Judged, judged
from witnessmark.desk.sheets.phrase import plural, shown
from witnessmark.desk.state import State
from witnessmark.desk.verify import (
    BEHIND,
    DRY,
    FIRST,
    LOSS,
    OIL,
    SUPPLY,
    TIMING,
    WET,
    Tried,
    Verified,
    after_of,
    before_of,
    cam_moved,
    cam_of,
    verified,
)
from witnessmark.draw.expected import against_expected
from witnessmark.draw.scale import Scale
from witnessmark.draw.shape import Drawing
from witnessmark.engine.place import parse
from witnessmark.engine.walk import locations, stations
from witnessmark.explain.consequence import as_result, why_row
from witnessmark.explain.verified import finding_words
from witnessmark.explain.words import METRIC, Shown, shown_in, unit_shown, value_words
from witnessmark.judge.result import Result
from witnessmark.judge.rows import AS_ASSEMBLED
from witnessmark.mechanics.leakage import equivalent_diameter
from witnessmark.plan.ledger import CONTRADICTS
from witnessmark.plan.result import LedgerRow
from witnessmark.quantity.show import show
from witnessmark.record.shape import BACK

BAND_WIDTH, MARK_WIDTH = 220.0, 92.0
INCH = 25.4
COARSE = {"kPa": Fraction(10), "psi": Fraction(1)}  # a cranked engine is not known more finely
TITLE = "Verification"
NOTHING = "–"
IN_PLACE = ("gap", "timing")  # groups of the ledger that are read on an engine that is together


@dataclass(frozen=True, slots=True)
class Blank:
    """One condition with what stands in it."""

    name: str
    term: str
    value: str
    hint: str
    choices: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Line:
    """One value before, as predicted and after; `line` is the mark of the value after, None while there is none."""

    characteristic: str
    term: str
    place: str
    before: str
    predicted: str
    after: str
    unit: str
    line: Judged | None
    unexplained: str
    why: str
    href: str


@dataclass(frozen=True, slots=True)
class CylinderRow:
    """One cylinder at the cranking test."""

    place: str
    before: str
    expected: str
    dry: str
    line: Judged | None
    first: str
    wet: str
    why: str
    drawing: Drawing
    href: str


@dataclass(frozen=True, slots=True)
class LeakRow:
    """One cylinder at the leak-down set."""

    place: str
    supply: str
    behind: str
    loss: str
    line: Judged | None
    area: str
    others: str
    why: str
    href: str


@dataclass(frozen=True, slots=True)
class Wanting:
    """Something that is not read yet: what, how many places of it, and the address of the first."""

    term: str
    count: str
    href: str


@dataclass(frozen=True, slots=True)
class VerifySheet:
    """All that the sheet of verification shows."""

    job: str
    title: str
    work: str  # which work the predictions are of
    unit: str
    pressure: str  # unit of pressures
    blanks: tuple[Blank, ...]
    unread: tuple[str, ...]
    air: str
    cylinders: tuple[CylinderRow, ...]
    even: str
    spreads: tuple[Judged, ...]  # of the dry readings, where the sheet limits how far apart they may lie
    hints: tuple[str, ...]
    leaks: tuple[LeakRow, ...]
    timing: tuple[Line, ...]
    oil: tuple[Line, ...]
    lines: tuple[Line, ...]
    unexplained: int
    wanting: tuple[Wanting, ...]
    cautions: Mapping[str, tuple[tuple[str, str], ...]]  # of which test -> what can hurt there
    saw: str


def verify_sheet(state: State, unit: str = "mm") -> VerifySheet:
    """The sheet. Raises Refused while the engine is not described."""
    found = verified(state)
    see = _See(state, found, unit)
    rows = {(row.characteristic, row.location): row for row in found.ledger.rows}
    cylinders = [one.cylinder for one in found.tried]
    lines = tuple(_ledger_line(see, row) for row in found.ledger.rows if row.after is not None)
    timing = tuple(_timing(see, rows))
    return VerifySheet(
        job=state.job.id, title=TITLE, work=_work(state), unit=unit, pressure=see.pressure, blanks=_blanks(state),
        unread=unread(state), air=_air(see, found.air), cylinders=tuple(_cylinders(see)), even=_even(cylinders),
        spreads=tuple(_spreads(see)),
        hints=tuple(finding_words(one) for one in findings(cylinders)), leaks=tuple(_leaks(see)), timing=timing,
        oil=tuple(_oil(see)), lines=lines, unexplained=sum(bool(one.unexplained) for one in (*lines, *timing)),
        wanting=tuple(_wanting(see)), cautions=_cautions(state), saw=state.job.conditions_event or "",
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _See:
    """What every block draws on."""

    state: State
    found: Verified
    unit: str

    @property
    def pressure(self) -> str:
        return unit_shown("pressure", self.unit)

    def coarse(self, value: float | None) -> str:
        """A pressure as a cranked engine is worth; the dash where there is none."""
        if value is None:
            return NOTHING
        return show(value, self.pressure, COARSE[self.pressure], dimension="pressure")

    def after(self, name: str, place: str) -> Result | None:
        return self.found.by.get(AS_ASSEMBLED, {}).get((name, place))

    def text(self, result: Result | None) -> str:
        return value_words(result, self.unit) if result is not None else NOTHING

    def mark(self, result: Result | None) -> Judged | None:
        if result is None:
            return None
        return judged(result, self.state.catalogue, self.unit, [result], MARK_WIDTH)

    def href(self, name: str, place: str) -> str:
        return bench_href(self.state.job.id, name, place, AS_ASSEMBLED)


def _work(state: State) -> str:
    if state.job.order:
        return "predicted: what the ordered work does"
    return "predicted: what the intended work does; nothing is ordered" if state.job.work else "no work is intended"


def _blanks(state: State) -> tuple[Blank, ...]:
    inch = dialect(state.job) == "in"
    return tuple(Blank(name, one.term, state.job.conditions.get(name, ""), one.hints[inch], one.choices)
                 for name, one in CONDITIONS.items())  # fmt: skip


_AIR = {"entered": "as entered", "altitude": "of the standard atmosphere at that altitude",
        "standard": "taken as at sea level: enter air pressure or altitude"}  # fmt: skip


def _air(see: _See, air: Air) -> str:
    step = COARSE[see.pressure] / 100
    return f"{show(air.pressure, see.pressure, step, dimension='pressure')} {see.pressure} absolute, {_AIR[air.origin]}"


def _cylinders(see: _See) -> Iterable[CylinderRow]:
    scale = _scale(see.found.tried)
    for one in see.found.tried:
        made = one.cylinder
        dry = see.after(DRY, made.place)
        band = made.expected
        ends = (float(band.low), float(band.middle), float(band.high)) if band else None
        told = f"{see.coarse(ends[0])} to {see.coarse(ends[2])}" if ends else ""
        yield CylinderRow(
            _cylinder(made.place), see.coarse(one.before), told, see.text(dry), see.mark(dry),
            see.text(see.after(FIRST, made.place)), see.text(see.after(WET, made.place)), one.why,
            against_expected(scale, ends, made.dry, one.before, _band_name(see, one, told)),
            see.href(DRY, made.place),
        )  # fmt: skip


def _cylinder(place: str) -> str:
    """`Cylinder 3` of `chamber-3`: what is tried is the cylinder, not its chamber."""
    return f"Cylinder {parse(place).cylinder}"


def _band_name(see: _See, one: Tried, told: str) -> str:
    read = f"{see.coarse(one.cylinder.dry)} {see.pressure}" if one.cylinder.dry is not None else "not read"
    return f"{_cylinder(one.cylinder.place)}: {read}, expected {f'{told} {see.pressure}' if told else 'not known'}"


def _scale(tried: Sequence[Tried]) -> Scale:
    """One scale for all cylinders: from well below the lowest to above the highest of all that stands on it."""
    bands = [float(end) for one in tried if (band := one.cylinder.expected) for end in (band.low, band.high)]
    read = [value for one in tried for value in (one.cylinder.dry, one.before) if value is not None]
    known = [*bands, *read] or [0.5, 1.5]
    room = 0.12 * max(max(known) - min(known), 0.1 * max(known))
    return Scale(max(0.0, min(known) - room), max(known) + room, BAND_WIDTH)


def _even(cylinders: Sequence[Cylinder]) -> str:
    share = spread_of(cylinders)
    if share is None:
        return ""
    return (f"Lowest over highest {100 * share:.0f} %; at least {100 * EVEN:.0f} % is the usual line "
            "(common practice, no source).")  # fmt: skip


def _spreads(see: _See) -> Iterable[Judged]:
    for (name, _), result in see.found.by.get(AS_ASSEMBLED, {}).items():
        if name == DRY and result.rule.startswith("spread") and (mark := see.mark(result)) is not None:
            yield mark


def _leaks(see: _See) -> Iterable[LeakRow]:
    for one in see.found.tried:
        place = one.cylinder.place
        supply, behind, loss = (see.after(name, place) for name in (SUPPLY, BEHIND, LOSS))
        share = NOTHING if one.cylinder.loss is None else f"{100 * one.cylinder.loss:.0f} %"
        yield LeakRow(
            _cylinder(place), see.text(supply), see.text(behind), share, see.mark(loss),
            _area(one.leak, see.unit) if one.leak else NOTHING, _others(one.leak, see.unit) if one.leak else "",
            one.leak_why, see.href(SUPPLY if supply is None else BEHIND, place),
        )  # fmt: skip


def _area(size: Leak, unit: str) -> str:
    if unit == "in":
        low, high = (float(equivalent_diameter(one)) / INCH for one in (size.low, size.high))
        return f"Ø {size.diameter / INCH:.3f} in, {low:.3f} to {high:.3f}"
    return f"{size.area:.2f} mm², {size.low:.2f} to {size.high:.2f}; Ø {size.diameter:.2f} mm"


def _others(size: Leak, unit: str) -> str:
    return ", ".join(f"{100 * loss:.0f} % on " + (f"{orifice / INCH:.3f} in" if unit == "in" else f"{orifice:.2f} mm")
                     for orifice, _, loss in size.others)  # fmt: skip


def _timing(see: _See, rows: Mapping[tuple[str, str], LedgerRow]) -> Iterable[Line]:
    """Lobe centre and duration of each lobe that was read: a late camshaft moves the centre and leaves the duration."""
    for lobe in see.found.lobes:
        for name in TIMING:
            before, after = (find(see.found.by, (name, lobe)) for find in (before_of, after_of))
            model = after or before
            if model is None:
                continue
            moved = (cam_moved(rows, cam_of(see.state, lobe)) or 0.0) if name == TIMING[0] else 0.0
            predicted = None
            if before is not None and before.value is not None:
                predicted = centre_after(before.value, moved, inlet=parse(lobe).side == "inl")
            yield _line(see, name, lobe, before, predicted, after)


def _line(
    see: _See, name: str, place: str, before: Result | None, predicted: float | None, after: Result | None
) -> Line:
    model = after or before
    assert model is not None
    write = shown_in(model, see.unit)
    return Line(
        name, see.state.catalogue.characteristics[name].term, shown(place), see.text(before),
        NOTHING if predicted is None else write.number(predicted), see.text(after), write.unit, see.mark(after),
        _contradicts(write, before, predicted, after), "", see.href(_to_read(see.state, name), place),
    )  # fmt: skip


def _contradicts(write: Shown, before: Result | None, predicted: float | None, after: Result | None) -> str:
    """The sentence where the gauge contradicts what was predicted from the reading before; "" where it does not."""
    if before is None or predicted is None or after is None or after.value is None:
        return ""
    apart, u = abs(after.value - predicted), hypot(after.u or 0.0, before.u or 0.0)
    return _apart(f"{write.distance(apart)} {write.unit}", write.doubt(u)) if apart > CONTRADICTS * u else ""


def _apart(by: str, doubt: str) -> str:
    return f"{by} not explained, doubt {doubt}: a reading that went wrong, or work that nobody wrote down"


def _to_read(state: State, name: str) -> str:
    """What is read at the bench for a value that is worked out: the first of its arguments."""
    entry = state.catalogue.characteristics[name]
    return entry.arguments[0] if entry.arguments else name


def _oil(see: _See) -> Iterable[Line]:
    assert see.state.layout is not None
    for place in stations(see.state.layout, see.state.catalogue.characteristics[OIL]):
        before, after = before_of(see.found.by, (OIL, place)), see.after(OIL, place)
        if before is None and after is None:
            continue
        yield _line(see, OIL, place, before, None, after)


def _ledger_line(see: _See, row: LedgerRow) -> Line:
    catalogue = see.state.catalogue
    after = after_of(see.found.by, (row.characteristic, row.location))
    plain = as_result(row, catalogue)
    write = shown_in(after or plain, see.unit)
    before, predicted = (NOTHING if value is None else write.number(value) for value in (row.before, row.predicted))
    told = ""
    if row.unexplained is not None:
        told = _apart(write.distance(abs(row.unexplained)), write.doubt(hypot(row.u or 0.0, row.u_after or 0.0)))
    return Line(
        row.characteristic, catalogue.characteristics[row.characteristic].term, shown(row.location), before,
        predicted if row.moved else "same", see.text(after), write.unit if write.unit != METRIC["ratio"] else "",
        see.mark(after), told, why_row(row, catalogue, see.unit) if row.moved else "",
        see.href(_to_read(see.state, row.characteristic), row.location),
    )  # fmt: skip


def _wanting(see: _See) -> Iterable[Wanting]:
    """Tests that are not done yet; and what the work moved, has a limit, and was not read since."""
    state = see.state
    assert state.layout is not None
    for name in (DRY, BEHIND, OIL):
        entry = state.catalogue.characteristics[name]
        places = stations(state.layout, entry)
        left = [place for place in places if see.after(name, place) is None]
        first = SUPPLY if name == BEHIND else name
        if left:
            what = state.catalogue.characteristics[LOSS].term if name == BEHIND else entry.term
            yield Wanting(what, f"{len(left)} of {plural(len(places), 'place')}", see.href(first, left[0]))
    if not see.found.lobes:
        lobe = locations(state.layout, "lobe")[0]
        yield Wanting("lobe centre by the degree wheel", "no lobe read", see.href("equal_lift_first", lobe))
    yield from _moved(see)


def _moved(see: _See) -> Iterable[Wanting]:
    """What the work moved, has a limit, and was not read since; what lies inside the head is read before it goes on."""
    state = see.state
    moved: dict[tuple[str, str], list[str]] = {}
    for row in see.found.ledger.rows:
        if row.moved and row.verdict and row.after is None and _readable(state, row.characteristic):
            moved.setdefault((row.characteristic, row.group), []).append(row.location)
    for (name, group), there in moved.items():
        round_ = AS_ASSEMBLED if group in IN_PLACE else BACK
        yield Wanting(state.catalogue.characteristics[name].term, f"moved, {plural(len(there), 'place')}",
                      bench_href(state.job.id, _to_read(state, name), there[0], round_))  # fmt: skip


def _readable(state: State, name: str) -> bool:
    entry = state.catalogue.characteristics[name]
    return entry.measured or entry.kind == "derived"


def _cautions(state: State) -> Mapping[str, tuple[tuple[str, str], ...]]:
    """What can hurt at each test that is asked for on this sheet, and what to do."""
    known = state.catalogue
    found = {}
    for name in (DRY, LOSS, OIL, "equal_lift_first"):
        hazard = known.hazards.get(known.characteristics[name].hazard)
        found[name] = ((hazard.term, " ".join(hazard.text.split())),) if hazard else ()
    return found
