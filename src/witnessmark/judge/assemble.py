"""Judged marks as results: values, limits, what each rests on, what would settle it, and the name of the reason."""

from collections.abc import Iterable, Sequence
from fractions import Fraction
from functools import lru_cache, partial
from math import floor, inf, isfinite, log10, nan
from typing import Any

from witnessmark.judge.cells import Cell
from witnessmark.judge.gauges import factor
from witnessmark.judge.marks import FormMark, Mark, Part
from witnessmark.judge.result import CLOSE, OUT, WITHIN, Lazy, Line, Result, Settle, Source
from witnessmark.judge.rows import Row
from witnessmark.judge.standing import Scene, against, behind_of, near_limit, questions, standing
from witnessmark.judge.taken import Group, Taken
from witnessmark.limits.sheet import Limit
from witnessmark.metrology import propagate
from witnessmark.metrology.doubt import doubt
from witnessmark.metrology.leaves import leaf_that_settles
from witnessmark.metrology.settle import Settling, settle
from witnessmark.metrology.source import UNIFORM
from witnessmark.quantity.unit import spelled, unit
from witnessmark.record.meant import exact

# The unit in which a value is told where nobody asked for another: those inside but for angles, which nobody reads in
# radians, and for what would have too many zeros.
TOLD_IN = {"length": "mm", "force": "N", "rate": "N/mm", "angle_plane": "deg", "angle_crank": "deg crank",
           "angle_cam": "deg cam", "pressure": "kPa", "volume": "mL", "time": "s", "ratio": "1",
           "torque": "N·m"}  # fmt: skip
REMAINDER = 1e-9  # of the size; far below any gauge, far above what the arithmetic leaves
OWN = ("repeatability", "display step")  # kinds of doubt that each reading has for itself


def value_result(mark: Mark, row: Row, scene: Scene) -> Result:
    """The result of a row of values or leaves; `row` is the one before a mean was taken."""
    part, behind = mark.deciding, behind_of(row, scene.taken)
    gap = part.interval
    u = float(scene.derived.doubt.u[part.row]) if scene.derived is not None and part.row >= 0 else None
    near = near_limit(row, mark.verdict, _ends(part), u or (gap.leaf_error / UNIFORM if gap else 0.0))
    doubt = scene.derived.doubt if scene.derived is not None and part.row >= 0 else None
    return Result(
        characteristic=row.entry.id,
        location=row.location,
        round=scene.round,
        rule=row.rule,
        value=part.cell.value if part.cell else None,
        interval=(gap.enters, gap.stops) if gap else None,
        u=float(doubt.u[part.row]) if doubt else None,
        dof=_dof(float(doubt.dof[part.row])) if doubt else None,
        verdict=mark.verdict,
        p_within=mark.p_within,
        against=against(row.limit, row.target),
        gauges=_gauges(behind, row),
        **standing(row, behind, scene, near),
        sources=Lazy(partial(_sources, row, mark.parts, scene)),
        budget=Lazy(partial(_budget, scene, part.row)) if doubt else (),
        guard_within=mark.guard_within,
        guard_out=mark.guard_out,
        beyond=_beyond(row.limit, part) if mark.verdict == OUT else None,
        settle=_settle(mark, row, scene) if mark.verdict == CLOSE else None,
        reason=_reason(mark, row, gap is not None),
        assumed=_assumed(row, behind),
        questions=questions(row, scene),
        derived=row.entry.kind == "derived",
        quantity=row.entry.quantity,
        fine=row.entry.fine,
        **_step(row, behind, scene, float(doubt.u[part.row]) if doubt else None),
        extra={"deciding": part.place},
    )


def form_result(mark: FormMark, scene: Scene) -> Result:
    """The result of a form or a spread: no chance of conformity, but what the noise could have made of it."""
    row = mark.row
    behind = behind_of(row, scene.taken)
    limit = row.limit.high if row.limit else None
    near = near_limit(row, mark.verdict, (mark.value, mark.value), mark.sigma)
    return Result(
        characteristic=row.entry.id, location=row.location, round=scene.round, rule=row.rule, value=mark.value,
        interval=None, u=mark.sigma, dof=None, verdict=mark.verdict, p_within=None,
        against=against(row.limit, row.target), gauges=_gauges(behind, row),
        **standing(row, behind, scene, near),
        sources=Lazy(partial(_plain_sources, row, scene)),
        guard_within=None if limit is None or mark.most_within is None else limit - mark.most_within,
        guard_out=None if limit is None or mark.least_out is None else mark.least_out - limit,
        beyond=mark.value - limit if limit is not None and mark.verdict == OUT else None,
        floor=mark.floor, p_if_at_limit=mark.p_if_at_limit, perfect_passes=mark.perfect_passes,
        settle=Settle("gauge", U=None) if mark.verdict == CLOSE else None,
        reason={WITHIN: "form within", OUT: "form out", CLOSE: "form close"}.get(mark.verdict, "no limit"),
        assumed=_assumed(row, behind), questions=questions(row, scene), derived=True,
        quantity=row.entry.quantity, fine=row.entry.fine, **_step(row, behind, scene, mark.sigma),
        extra={"places": mark.places},
    )  # fmt: skip


def _ends(part: Part) -> tuple[float, float]:
    """Both ends of an interval, or the value twice."""
    if part.interval is not None:
        return part.interval.enters, inf if part.interval.stops is None else part.interval.stops
    value = part.cell.value if part.cell else nan
    return value, value


@lru_cache(maxsize=512)
def _reads(name: str, quantity: str) -> bool:
    """Whether a unit measures a quantity."""
    return any(each.dimension == quantity for each in spelled(name))


def _step(row: Row, behind: Sequence[Group], scene: Scene, u: float | None) -> dict[str, Any]:
    """The step to show a value by: that of the coarsest gauge behind it, or of its doubt where kinds of gauge mix."""
    if row.intervals and not row.cells:
        meaning = row.intervals[0].reading.meaning or {}
        places = max(len(str(meaning.get(key) or "").partition(".")[2]) for key in ("low", "high"))
        return {"step": exact(Fraction(1, 10**places)), "step_unit": str(meaning.get("unit") or "mm")}
    gauges = [scene.taken.gauges[at] for at in {group.gauge: None for group in behind}]
    if not gauges:
        return {}
    quantity = row.entry.quantity
    if not all(_reads(gauge.unit, quantity) for gauge in gauges):
        own = TOLD_IN[quantity]
        size = Fraction(10) ** floor(log10(u / float(unit(own, quantity).factor))) if u else Fraction(1, 10)
        return {"step": exact(size), "step_unit": own}
    coarsest = max(gauges, key=lambda gauge: gauge.resolution)
    return {"step": _step_text(coarsest.resolution / factor(coarsest.id, coarsest.unit)), "step_unit": coarsest.unit}


@lru_cache(maxsize=256)
def _step_text(step: float) -> str:
    """A step as a decimal, or as a fraction where no decimal is exact; rows share a few gauges."""
    return exact(Fraction(step).limit_denominator(10**6) or Fraction(1, 1000))


def _gauges(groups: Iterable[Group], row: Row) -> tuple[str, ...]:
    names = [reading.gauge for group in groups for reading in group.readings]
    names += [gap.reading.gauge for gap in row.intervals]
    return tuple(dict.fromkeys(name for name in names if name))


def _sources(row: Row, parts: Iterable[Part], scene: Scene) -> Iterable[Source]:
    if row.entry.kind == "derived" or row.rule == "mean":
        yield from _plain_sources(row, scene)
        return
    for part in parts:
        if part.interval is not None:
            reading = part.interval.reading
            ends = (part.interval.enters, part.interval.stops)
            verdict = part.verdict if row.limit else ""
            yield Source(reading.id, part.place, None, ends, reading.raw, reading.gauge, part.p_within, verdict)
        elif part.cell is not None:
            u = float(scene.derived.doubt.u[part.row]) if scene.derived else None
            p, verdict = (part.p_within, part.verdict) if row.limit else (None, "")
            yield from _cell_sources(part.cell, scene.taken, p, u, verdict)


def _plain_sources(row: Row, scene: Scene) -> Iterable[Source]:
    seen: set[str] = set()
    for cell in row.cells:
        for source in _cell_sources(cell, scene.taken, None, None):
            if source.reading not in seen:
                seen.add(source.reading)
                yield source
    for gap in row.intervals:
        yield Source(
            gap.reading.id, gap.reading.place, None, (gap.enters, gap.stops), gap.reading.raw, gap.reading.gauge
        )


def _cell_sources(cell: Cell, taken: Taken, p: float | None, u: float | None, verdict: str = "") -> Iterable[Source]:
    for item, _ in cell.terms:
        group = taken.groups[item]
        for reading, value in zip(group.readings, group.values, strict=True):
            yield Source(reading.id, reading.place, value, None, reading.raw, reading.gauge, p, verdict, u)


def _budget(scene: Scene, row: int) -> Iterable[Line]:
    assert scene.derived is not None
    for line in propagate.lines(scene.derived, row):
        name = line.key.split("#")[0].split("@")[0]
        yield Line(f"{line.kind} of {name}", line.kind, abs(line.contribution), _dof(line.dof), line.kind not in OWN)


def _beyond(limit: Limit | None, part: Part) -> float | None:
    if limit is None:
        return None
    if part.interval is not None:
        low, high = part.interval.enters, part.interval.stops
    else:
        low = high = part.cell.value if part.cell else nan
    over = max(low - limit.high, 0.0) if limit.high is not None else 0.0
    under = max(limit.low - (low if high is None else high), 0.0) if limit.low is not None else 0.0
    return max(over, under)


def _settle(mark: Mark, row: Row, scene: Scene) -> Settle:
    limit, part = row.limit, mark.deciding
    assert limit is not None
    low, high = _or(limit.low), _or(limit.high)
    if part.interval is not None:
        stops = part.interval.stops
        leaf = float(
            leaf_that_settles([part.interval.enters], [stops if stops is not None else float("inf")], [low], [high])[0]
        )
        name = str((part.interval.reading.meaning or {}).get("unit") or "mm")
        thickness = f"{leaf / factor(part.interval.reading.gauge or '', name):.6g}"
        return Settle("leaf", leaf=thickness, leaf_unit=name) if isfinite(leaf) else Settle("none")
    assert scene.derived is not None and part.cell is not None
    repeats = min((len(scene.taken.groups[item].values) for item, _ in part.cell.terms), default=1)
    m = len(row.planned) if row.rule == "worst" else 1
    known = scene.derived.doubt
    one = tuple(float(field[part.row]) for field in (known.value, known.u, known.dof, known.widest, known.repeat))
    found = _settling(one, low, high, repeats, max(m, 1))
    if found.repeats is not None:
        return Settle("repeats", repeats=found.repeats, U=found.U, chance=found.chance)
    on_limit = _none_left(found.U, float(known.value[part.row]), low, high)
    return Settle("none") if on_limit else Settle("gauge", U=found.U)


def _none_left(needed: float, value: float, low: float, high: float) -> bool:
    """Whether the doubt that is needed is what adding and taking away left of a value that stands on its limit."""
    sizes = [abs(size) for size in (value, low, high) if isfinite(size)]
    return needed <= REMAINDER * max(sizes)


@lru_cache(maxsize=1024)
def _settling(one: tuple[float, ...], low: float, high: float, repeats: int, stations: int) -> Settling:
    """Remembered: a display has few graduations near a limit, so the same value comes again and again."""
    return settle(doubt(*one), 0, low, high, repeats=repeats, stations=stations)


def _reason(mark: Mark, row: Row, leaves: bool) -> str:
    if row.limit is None:
        return "no limit"
    kind = "leaves" if leaves else "value"
    return f"{kind} {'close' if mark.verdict == CLOSE else mark.verdict}"


def _assumed(row: Row, behind: Iterable[Group]) -> tuple[str, ...]:
    readings = [reading for group in behind for reading in group.readings] + [gap.reading for gap in row.intervals]
    found = ["gauge assumed"] if any(reading.gauge is None for reading in readings) else []
    found += [text for reading in readings for text in reading.assumed]
    if row.entry.quantity == "length" and any(not reading.temperature for reading in readings):
        found.append("temperature not taken")
    return tuple(dict.fromkeys(found))


def _or(limit: float | None) -> float:
    return nan if limit is None else limit


def _dof(dof: float) -> float | None:
    return dof if isfinite(dof) else None
