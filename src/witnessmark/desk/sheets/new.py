"""The sheet that starts a job. Only a name for the engine is needed; everything else may wait."""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from witnessmark.catalogue.entry import Catalogue
from witnessmark.desk.sheets.blanks import Blank, engine_blanks, gauge_fields
from witnessmark.desk.sheets.setup import FACT_HINTS, Typed
from witnessmark.desk.wanted import FACTS
from witnessmark.record.job import GaugeRevision, Job, gauge_now

MOST_GAUGES = 60
_NUMBERED = re.compile(r"(.+?)([0-9]{4})", re.ASCII)


@dataclass(frozen=True, slots=True)
class KnownGauge:
    """A gauge of an earlier job that may be taken along with its last revision."""

    gauge: str
    words: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class NewSheet:
    """All that the sheet for a new job shows."""

    job: tuple[Blank, ...]
    engine: tuple[Blank, ...]
    limits_text: str
    limits_name: str
    gauges: tuple[KnownGauge, ...]
    typed: Typed


def new_sheet(
    suggested: str, register: Mapping[str, GaugeRevision], catalogue: Catalogue, typed: Typed | None = None,
    chosen: Sequence[str] = (),
) -> NewSheet:  # fmt: skip
    """A new job; `suggested` is a number nobody has used, `register` the gauges of earlier jobs by name."""
    typed = typed or Typed()
    kept = typed.fields
    return NewSheet(
        job=(
            _blank("id", "job number", typed, suggested, wanted=True),
            _blank("engine", "engine", typed, hint="Tern 2.0", wanted=True),
            *(_blank(name, label, typed, hint=FACT_HINTS.get(name, "")) for name, label in FACTS.items()),
        ),
        engine=tuple(replace(one, wanted=False) for one in engine_blanks({}, None, kept, typed.by_blank)),
        limits_text=kept.get("limits_text", ""),
        limits_name=kept.get("limits_name", ""),
        gauges=tuple(
            KnownGauge(name, _gauge_words(revision, catalogue), name in chosen)
            for name, revision in list(register.items())[:MOST_GAUGES]
        ),
        typed=typed,
    )


def _blank(name: str, label: str, typed: Typed, value: str = "", hint: str = "", wanted: bool = False) -> Blank:
    return Blank(name, label, typed.fields.get(name, value), hint, (), wanted, typed.by_blank.get(name, ""))


def _gauge_words(revision: GaugeRevision, catalogue: Catalogue) -> str:
    flat = gauge_fields(revision.fields)
    kind = catalogue.gauge_kinds.get(flat.get("kind", ""))
    step = f"{flat['resolution']} {flat.get('unit', '')}".strip() if "resolution" in flat else flat.get("unit", "")
    doubt = f"U {flat['U']}" if "U" in flat else ""
    return " · ".join(filter(None, (kind.term if kind else flat.get("kind", ""), step, doubt, flat.get("date", ""))))


def register_of(jobs: Iterable[Job]) -> dict[str, GaugeRevision]:
    """The gauges of several jobs by name, each with the revision of the first job in the row that has it."""
    found: dict[str, GaugeRevision] = {}
    for job in jobs:
        for name in job.gauges:
            if held := gauge_now(job, name):
                found.setdefault(name, held)
    return found


def suggested_id(taken: Iterable[str]) -> str:
    """The number after the highest that has the form of a works number: HL-0147 gives HL-0148."""
    found = [match for name in taken if (match := _NUMBERED.fullmatch(name))]
    if not found:
        return "HL-0001"
    highest = max(found, key=lambda match: int(match[2]))
    return f"{highest[1]}{int(highest[2]) + 1:04d}"
