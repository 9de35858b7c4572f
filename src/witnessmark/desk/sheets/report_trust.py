"""How far the readings of a report can be trusted: zero checks, gauges held against each other or past their due
date, limits that nobody has held against the document yet, and the route that was walked."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from witnessmark.desk.sheets.phrase import plural
from witnessmark.desk.sheets.report_facts import cut, moment_of, term, when
from witnessmark.desk.state import State
from witnessmark.judge.quick import QUICK
from witnessmark.judge.result import Judgement
from witnessmark.record.job import GaugeRevision, Job, ZeroCheck

QUICK_WORDS = "Quick route: the worst places were read, and all stations where a value came near its limit."
FULL_WORDS = "Full route: every station was asked for."


@dataclass(frozen=True, slots=True)
class Check:
    """One zero check of a gauge."""

    gauge: str
    against: str
    found: str
    allowed: str
    when: str  # before, between or after
    passed: bool
    by: str


@dataclass(frozen=True, slots=True)
class Trust:
    """All that stands behind the readings besides their gauges."""

    route: str
    checks: tuple[Check, ...]
    doubted: str  # how many values a zero check that was not passed throws doubt on; "" for none
    comparisons: tuple[str, ...]
    overdue: tuple[str, ...]
    to_check: tuple[str, ...]


def trust_of(state: State, judgement: Judgement) -> Trust:
    """The trust behind a round."""
    doubted = sum(bool(result.suspect) for result in judgement.results)
    return Trust(
        route=QUICK_WORDS if state.job.extent == QUICK else FULL_WORDS,
        checks=tuple(_check(one) for one in state.job.checks),
        doubted=f"A zero check that was not passed throws doubt on {plural(doubted, 'value')}" if doubted else "",
        comparisons=_comparisons(state.job),
        overdue=_overdue(state, judgement),
        to_check=_to_check(state),
    )


def _check(one: ZeroCheck) -> Check:
    return Check(
        gauge=cut(one.gauge),
        against=cut(one.against),
        found=f"{one.found} {one.unit}",
        allowed=f"{one.allowed} {one.unit}" if one.allowed else "not stated",
        when=one.when,
        passed=one.passed,
        by=", ".join(filter(None, (one.by, when(one.at)))),
    )


def _comparisons(job: Job) -> tuple[str, ...]:
    return tuple(
        cut(f"{one.first} read {one.first_read} {one.unit} and {one.second} {one.second_read} {one.unit} on {one.on}")
        + (f", {when(one.at)}" if one.at else "")
        for one in job.comparisons
    )


def _overdue(state: State, judgement: Judgement) -> tuple[str, ...]:
    """Gauges that were past the date until which their calibration holds when they were read with."""
    counts = Counter(gauge for result in judgement.results for gauge in result.overdue)
    return tuple(f"{gauge}{_due(state.job, gauge)}: {plural(n, 'value')}" for gauge, n in counts.items())


def _due(job: Job, gauge: str) -> str:
    """The dates until which the calibrations held that it was read with."""
    used = {reading.gauge_revision for reading in job.readings if reading.gauge == gauge}
    dates = [_date(revision) for revision in job.gauges.get(gauge, ()) if revision.revision in used]
    said = list(dict.fromkeys(_day(date) for date in dates if date))
    return f", due {' and '.join(said)}" if said else ""


def _date(revision: GaugeRevision) -> str:
    calibration = revision.fields.get("calibration")
    return str(calibration.get("due") or "") if isinstance(calibration, Mapping) else ""


def _day(text: str) -> str:
    return when(text).removesuffix(", 00:00") if moment_of(text) else text


def _to_check(state: State) -> tuple[str, ...]:
    """Limits that were copied and not held against the document, by characteristic."""
    if state.sheet is None:
        return ()
    names: Iterable[str] = dict.fromkeys(one.characteristic for one in state.sheet.limits if one.to_check)
    return tuple(term(name, state.catalogue) for name in names)
