"""The sheet of traces: the key points of one bolt beside its curve, every bolt in a table, and who is unlike."""

from collections.abc import Sequence
from dataclasses import dataclass

from witnessmark.assemble.signature import said
from witnessmark.assemble.trace import Point
from witnessmark.assemble.traces import MEASURES, Traced, TraceSet, Unlike, measure
from witnessmark.desk.sheets.tighten_words import where_words
from witnessmark.desk.state import State
from witnessmark.desk.tighten import joints
from witnessmark.desk.traces import in_order, run_of_traces, traces_of
from witnessmark.draw.shape import Drawing
from witnessmark.draw.trace import Curve, Mark, trace
from witnessmark.quantity.unit import unit

TORQUES = ("final torque", "slope")
POINTS = ("alignment", "snug", "origin", "yield", "end")
WORDS = {"snug angle": "snug at", "slope": "slope", "end from origin": "end − origin", "end from snug": "end − snug",
         "final torque": "final torque"}  # fmt: skip


@dataclass(frozen=True, slots=True)
class PointRow:
    """A key point of the bolt shown: where it is and how far in doubt, or why it is not there."""

    word: str
    angle: str
    torque: str
    doubt: str
    reason: str


@dataclass(frozen=True, slots=True)
class Cell:
    """A measure of a bolt: as shown, and how far it is from the others, "" where it is not unlike."""

    text: str
    apart: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """A bolt: its name, where it lies, its measures, whether its curve is the one shown."""

    bolt: str
    where: str
    cells: tuple[Cell, ...]
    shown: bool
    file: str


@dataclass(frozen=True, slots=True)
class Finding:
    """A signature: the bolt, a sentence with numbers, what it usually means."""

    bolt: str
    said: str
    means: str


@dataclass(frozen=True, slots=True)
class TracesSheet:
    """What the page shows of the traces of a joint. Texts are ready to be shown."""

    job: str
    joint: str
    title: str
    sub: str
    unit: str
    heads: tuple[str, ...]
    rows: tuple[Row, ...]
    middle: tuple[str, ...]
    bolt: str
    drawing: Drawing | None
    points: tuple[PointRow, ...]
    prevailing: str
    findings: tuple[Finding, ...]
    unlike: tuple[str, ...]
    unread: tuple[str, ...]
    missing: str
    bolts: tuple[str, ...]
    event: str  # of the trace shown
    file: str


def traces_sheet(state: State, joint: str, bolt: str = "", shown: str = "N·m") -> TracesSheet | None:
    """The sheet of a joint, torques in the unit `shown`; None where there is no such joint."""
    known = joints(state)
    if joint not in known:
        return None
    run = run_of_traces(state, joint)
    procedure = run.procedure if run else known[joint]
    found = traces_of(state, joint)
    factor = float(unit(shown, "torque").factor)
    by_bolt = {one.bolt: one for one in found.set.bolts}
    odd = [*(one.bolt for one in found.signatures), *(one.bolt for one in found.set.unlike)]
    first = next(iter(odd or by_bolt), "")
    own = by_bolt.get(bolt) or by_bolt.get(first)
    files = {one.bolt: one for one in found.texts}
    names = in_order(procedure)
    left = [name for name in names if name not in files]
    title = f"{procedure.term[:1].upper()}{procedure.term[1:]}: traces"
    return TracesSheet(
        state.job.id, joint, title, f"{len(by_bolt)} of {len(names)} bolts have a trace", shown,
        tuple(f"{WORDS[name]}{_unit(name, shown)}" for name in MEASURES),
        tuple(Row(one.bolt, where_words(procedure, one.bolt), _cells(one, found.set, factor), one is own,
                  files[one.bolt].name) for one in found.set.bolts),
        tuple(_middle(found.set, name, factor) for name in MEASURES) if len(by_bolt) > 1 else (),
        own.bolt if own else "", _drawing(own, found.set, shown, factor) if own else None,
        tuple(_point(word, one, factor) for word, one in _points(own)) if own else (),
        _torque(own.points.prevailing, factor) if own else "",
        tuple(Finding(one.bolt, said(one, shown), one.means) for one in sorted(
            found.signatures, key=lambda each: own is None or each.bolt != own.bolt)),
        tuple(_unlike(one, shown, factor) for one in found.set.unlike), found.unread,
        f"no trace of bolt {', '.join(left)}" if left and by_bolt else "", names,
        files[own.bolt].event if own else "", files[own.bolt].name if own else "",
    )  # fmt: skip


def _unit(name: str, shown: str) -> str:
    return f", {shown}/°" if name == "slope" else f", {shown}" if name in TORQUES else ", °"


def _number(value: float, name: str, factor: float) -> str:
    if name == "slope":
        return f"{value / factor:.3g}"
    return f"{value / factor:.1f}" if name in TORQUES else f"{value:.1f}"


def _cells(one: Traced, all_: TraceSet, factor: float) -> tuple[Cell, ...]:
    odd = {each.measure: each for each in all_.unlike if each.bolt == one.bolt}
    cells = []
    for name in MEASURES:
        value = measure(one, name)
        apart = odd.get(name)
        told = f"{abs(apart.apart):.1f} spreads {'above' if apart.apart > 0 else 'below'}" if apart else ""
        cells.append(Cell("–" if value is None else _number(value, name, factor), told))
    return tuple(cells)


def _middle(all_: TraceSet, name: str, factor: float) -> str:
    middle = all_.middles.get(name)
    if middle is None:
        return "–"
    return f"{_number(middle.median, name, factor)} ± {_number(middle.spread, name, factor)}"


def _unlike(one: Unlike, shown: str, factor: float) -> str:
    side = "above" if one.apart > 0 else "below"
    name = "°" if one.measure not in TORQUES else f" {shown}" + ("/°" if one.measure == "slope" else "")
    value, middle = (_number(each, one.measure, factor) for each in (one.value, one.median))
    apart = f"{abs(one.apart):.1f} scaled median deviations {side}"
    return f"Bolt {one.bolt}: {WORDS[one.measure]} {value}{name}, {apart} the others with {middle}{name}."


def _points(own: Traced) -> Sequence[tuple[str, Point]]:
    points = own.points
    return tuple(zip(POINTS, (points.alignment, points.snug, points.origin, points.yielded, points.end), strict=True))


def _torque(value: float | None, factor: float) -> str:
    return "–" if value is None else f"{value / factor:.1f}"


def _point(word: str, one: Point, factor: float) -> PointRow:
    if one.angle is None:
        return PointRow(word, "–", "–", "", one.reason)
    doubt = "" if one.doubt is None else f"± {2 * one.doubt:.1f}°" if one.doubt >= 0.025 else "under 0.1°"
    return PointRow(word, f"{one.angle:.1f}°", _torque(one.torque, factor), doubt, "")


def _drawing(own: Traced, all_: TraceSet, shown: str, factor: float) -> Drawing:
    curves = {one.bolt: Curve(one.bolt, one.angle, one.torque / factor) for one in all_.bolts}
    marks = [Mark(word, word, one.angle, (one.torque or 0.0) / factor) for word, one in _points(own)
             if one.angle is not None]  # fmt: skip
    points, line = own.points, None
    if points.origin.angle is not None and points.fitted:
        at_nothing = points.origin.angle - (points.prevailing or 0.0) / points.fitted
        line = (at_nothing, points.fitted / factor)
    others = [curve for bolt, curve in curves.items() if bolt != own.bolt]
    return trace(curves[own.bolt], others, sorted(marks, key=lambda one: one.angle), shown, line)
