"""The gauges of one job, or of all jobs: what is known of each, when it is due, and whether it can be trusted."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from witnessmark.catalogue.entry import Catalogue
from witnessmark.desk.checks import WHEN
from witnessmark.desk.sheets.blanks import Blank
from witnessmark.desk.sheets.due import due_words, past_due
from witnessmark.desk.sheets.phrase import listed, plural, together
from witnessmark.desk.sheets.setup import GaugeLine, gauge_line
from witnessmark.desk.state import State
from witnessmark.explain.compared import compared_words
from witnessmark.judge.compared import comparisons
from witnessmark.judge.zero import touched
from witnessmark.record.job import COUNTED, GaugeRevision, Job, Reading, ZeroCheck, gauge_now

Kept = Mapping[str, str]
"""What was typed in a form that could not be taken, by the names of its blanks."""


@dataclass(frozen=True, slots=True)
class Held:
    """One gauge of the register: its line, when it is due, its last zero check, and how much hangs on it."""

    line: GaugeLine
    size: str  # of a master
    due: str
    late: bool
    checked: str
    passed: bool
    kept_at: str  # whose it is, and where
    readings: int
    jobs: tuple[str, ...] = ()  # in the register of all: where it is known
    differs: bool = False  # those do not say the same of it


@dataclass(frozen=True, slots=True)
class Doubted:
    """A check that was not passed, with all that it touches."""

    event: str
    words: str
    touches: tuple[tuple[str, str, str], ...]  # term, places, address of the first
    count: int
    still: int  # of these still counted


@dataclass(frozen=True, slots=True)
class GaugesSheet:
    """All that the gauges sheet of a job shows."""

    job: str
    title: str
    gauges: tuple[Held, ...]
    doubted: tuple[Doubted, ...]
    checks: tuple[tuple[str, str], ...]  # words, when and by whom; newest first
    compared: tuple[tuple[str, str], ...]
    zero: tuple[Blank, ...]
    compare: tuple[Blank, ...]


def gauges_sheet(state: State, today: str, zero: Kept | None = None, compare: Kept | None = None) -> GaugesSheet:
    """The gauges of one job. `today` begins year-month-day; `zero` and `compare` fill the blanks again."""
    job, catalogue = state.job, state.catalogue
    held = [revision for name in job.gauges if (revision := gauge_now(job, name))]
    return GaugesSheet(
        job=job.id,
        title=f"{job.header.get('engine') or 'Engine'}, gauges",
        gauges=tuple(_held(revision, job, catalogue, today) for revision in held),
        doubted=tuple(_doubted(state, check) for check in job.checks if not check.passed),
        checks=tuple((_check_words(check), _stamp(check.at, check.by)) for check in reversed(job.checks)),
        compared=tuple(
            (compared_words(one), _stamp(one.comparison.at, one.comparison.by)) for one in reversed(comparisons(job))
        ),
        zero=_zero_blanks(held, catalogue, zero or {}),
        compare=_compare_blanks(held, catalogue, compare or {}),
    )


def register(jobs: Iterable[Job], catalogue: Catalogue, today: str) -> tuple[Held, ...]:
    """Every gauge that some job knows, by name, as the newest of these jobs has it; `jobs` newest first."""
    found: dict[str, list[tuple[Job, GaugeRevision]]] = {}
    for job in jobs:
        for name in job.gauges:
            revision = gauge_now(job, name)
            if revision is not None:
                found.setdefault(name, []).append((job, revision))
    lines = []
    for known in found.values():
        newest, revision = known[0]
        one = _held(revision, newest, catalogue, today)
        readings = sum(_used(job, revision.gauge) for job, _ in known)
        differs = any(other.fields != revision.fields for _, other in known)
        lines.append(_joined(one, readings, tuple(job.id for job, _ in known), differs))
    return tuple(sorted(lines, key=lambda one: (not one.late, one.line.gauge)))


def _joined(one: Held, readings: int, jobs: tuple[str, ...], differs: bool) -> Held:
    return Held(one.line, one.size, one.due, one.late, one.checked, one.passed, one.kept_at, readings, jobs, differs)


def _held(revision: GaugeRevision, job: Job, catalogue: Catalogue, today: str) -> Held:
    fields = revision.fields
    last = next((check for check in reversed(job.checks) if check.gauge == revision.gauge), None)
    kept = [str(fields[key]) for key in ("owner", "place") if fields.get(key)]
    return Held(
        line=gauge_line(revision, catalogue),
        size=f"{fields['size']} {fields.get('unit', '')}".strip() if fields.get("size") else "",
        due=due_words(fields, today),
        late=past_due(fields, today),
        checked=_check_words(last, gauge=False) if last else "",
        passed=last is None or last.passed,
        kept_at=", ".join(kept),
        readings=_used(job, revision.gauge),
    )


def _used(job: Job, gauge: str) -> int:
    return sum(reading.gauge == gauge and reading.state == COUNTED for reading in job.readings)


def _check_words(check: ZeroCheck, *, gauge: bool = True) -> str:
    """`M-07 before: 0.000 mm against closed, passed`."""
    name = f"{check.gauge} " if gauge else ""
    allowed = f", allowed {check.allowed}" if check.allowed else ""
    end = "passed" if check.passed else "not passed"
    return f"{name}{check.when}: {check.found} {check.unit} against {check.against}{allowed}, {end}"


def _stamp(at: str, by: str) -> str:
    return " · ".join(filter(None, (at[:16].replace("T", " "), by)))


def _doubted(state: State, check: ZeroCheck) -> Doubted:
    hit = tuple(touched(state.job, check))
    groups: dict[str, list[Reading]] = {}
    for reading in hit:
        groups.setdefault(reading.characteristic, []).append(reading)
    return Doubted(
        event=check.event,
        words=_check_words(check),
        touches=tuple(_touch(state, name, readings) for name, readings in groups.items()),
        count=len(hit),
        still=sum(reading.state == COUNTED for reading in hit),
    )


def _touch(state: State, name: str, readings: list[Reading]) -> tuple[str, str, str]:
    known = state.catalogue.characteristics.get(name)
    first = readings[0].place
    term = known.term if known else name
    return f"{term}, {plural(len(readings), 'reading')}", together(one.place for one in readings), f"{name} {first}"


def _zero_blanks(held: Iterable[GaugeRevision], catalogue: Catalogue, kept: Kept) -> tuple[Blank, ...]:
    reading = _choices(held, catalogue, ("number", "deviation"))
    masters = [name for name, _ in _choices(held, catalogue, ("size",))]
    hint = f"closed, or {listed(masters, 'or')}" if masters else "closed, or the master's name"
    return (
        Blank("gauge", "gauge", kept.get("gauge", ""), choices=reading, wanted=True),
        Blank("found", "it shows", kept.get("found", ""), "0.000, or a master in full", wanted=True),
        Blank("against", "against", kept.get("against", ""), hint),
        Blank("when", "when", kept.get("when", "before"), choices=tuple((word, f"{word} the series") for word in WHEN)),
        Blank("allowed", "let pass, if the shop says", kept.get("allowed", ""), "as its own doubt allows"),
    )


def _compare_blanks(held: Iterable[GaugeRevision], catalogue: Catalogue, kept: Kept) -> tuple[Blank, ...]:
    choices = _choices(held, catalogue, ("number", "deviation"))
    return (
        Blank("first", "one gauge", kept.get("first", ""), choices=choices, wanted=True),
        Blank("first_read", "reads", kept.get("first_read", ""), "6.001", wanted=True),
        Blank("second", "the other", kept.get("second", ""), choices=choices, wanted=True),
        Blank("second_read", "reads", kept.get("second_read", ""), "6.000", wanted=True),
        Blank("on", "on the same", kept.get("on", ""), "ring, block, or stem of Inl 1F", wanted=True),
    )


def _choices(
    held: Iterable[GaugeRevision], catalogue: Catalogue, reads: tuple[str, ...]
) -> tuple[tuple[str, str], ...]:
    """Gauges of the register whose kind reads so; one of a kind that nobody knows is taken to read numbers."""
    found = []
    for revision in held:
        kind = catalogue.gauge_kinds.get(str(revision.fields.get("kind")))
        if (kind.reads if kind else "number") in reads:
            found.append((revision.gauge, f"{revision.gauge}, {kind.term}" if kind else revision.gauge))
    return tuple(found)
