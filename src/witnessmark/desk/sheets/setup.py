"""The job and gauges sheet: the engine, the limit sheet, the gauges on the bench, what they were set to, the parts."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from witnessmark.catalogue.entry import Catalogue
from witnessmark.desk.sheets.blanks import Blank, engine_blanks, gauge_blanks
from witnessmark.desk.sheets.phrase import shown
from witnessmark.desk.state import State
from witnessmark.desk.wanted import FACTS
from witnessmark.limits.sheet import Limit, Sheet
from witnessmark.record.job import GaugeRevision, Job, gauge_now
from witnessmark.text.fault import Fault


@dataclass(frozen=True, slots=True)
class LimitLine:
    """One entry of the limit sheet: numbers as they were written, to be shown boxed."""

    term: str
    applies: str
    kind: str
    bound: str
    unit: str
    rule: str
    source: str
    warnings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class AllowedLine:
    """What the book says of one operation."""

    term: str
    words: str
    page: str


@dataclass(frozen=True, slots=True)
class LimitTable:
    """The limit sheet of the job."""

    name: str
    document: str
    invented: bool
    digits: str  # the first of its hash
    lines: tuple[LimitLine, ...]
    allowed: tuple[AllowedLine, ...]
    warnings: tuple[Fault, ...]


@dataclass(frozen=True, slots=True)
class GaugeLine:
    """One gauge with its last revision."""

    gauge: str
    kind: str
    resolution: str
    doubt: str
    date: str
    repeatability: str
    revision: int
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class Typed:
    """What came with a form that could not be taken: it stands in the blanks again, with what is amiss."""

    form: str = ""  # engine | limits | gauge | setting | part
    fields: Mapping[str, str] = field(default_factory=dict)
    said: str = ""
    faults: tuple[Fault, ...] = ()
    by_blank: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class SetupSheet:
    """All that the job and gauges sheet shows."""

    job: str
    title: str
    facts: tuple[tuple[str, str], ...]
    header: tuple[Blank, ...]  # the same as blanks, with those that nobody filled in
    engine: tuple[Blank, ...]
    assumed: tuple[str, ...]
    limits: LimitTable | None
    limits_text: str
    limits_name: str
    gauges: tuple[GaugeLine, ...]
    gauge: tuple[Blank, ...]  # the blanks of the gauge that is being entered or changed
    changing: str
    settings: tuple[tuple[str, str, str, str], ...]  # gauge, set to, with, when
    setting: tuple[Blank, ...]
    parts: tuple[tuple[str, str, str, str], ...]
    typed: Typed


def setup_sheet(state: State, changing: str = "", typed: Typed | None = None) -> SetupSheet:
    """The job and gauges sheet; `changing` names a gauge whose last revision fills the blanks."""
    typed = typed or Typed()
    job, catalogue = state.job, state.catalogue
    fields = _last_fields(job, changing)
    mine = {form: typed.fields if typed.form == form else {} for form in ("engine", "gauge", "setting", "limits")}
    return SetupSheet(
        job=job.id,
        title=f"{job.header.get('engine') or 'Engine'}, job and gauges",
        facts=_facts(job),
        header=_header_blanks(job, typed),
        engine=engine_blanks(
            job.engine, state.layout, mine["engine"], typed.by_blank if typed.form == "engine" else {}
        ),
        assumed=tuple(key.replace("_", " ") for key in state.layout.assumed) if state.layout else (),
        limits=limit_table(state.sheet, catalogue) if state.sheet else None,
        limits_text=mine["limits"].get("text", job.limits.text if job.limits else ""),
        limits_name=mine["limits"].get("name", job.limits.name if job.limits else ""),
        gauges=tuple(gauge_line(held, catalogue) for name in job.gauges if (held := gauge_now(job, name))),
        gauge=gauge_blanks(catalogue, changing, fields, mine["gauge"]),
        changing=changing if changing in job.gauges else "",
        settings=tuple(
            (one.gauge, f"{one.set_to} {one.unit}", one.with_ or "", one.at) for one in job.settings.values()
        ),
        setting=setting_blanks(job, catalogue, mine["setting"]),
        parts=tuple(
            (one.part, one.kind, shown(one.at) if one.at else "on the shelf", "new" if one.new else "used")
            for one in job.parts.values()
        ),
        typed=typed,
    )


def _last_fields(job: Job, gauge: str) -> Mapping[str, Any]:
    held = gauge_now(job, gauge)
    return held.fields if held else {}


def _facts(job: Job) -> tuple[tuple[str, str], ...]:
    header = job.header
    names = {"engine": "engine", **FACTS}
    said = [(label, str(header[key])) for key, label in names.items() if header.get(key)]
    return (*said, ("data", "invented")) if header.get("invented") in (True, "true", "yes") else tuple(said)


FACT_HINTS = {
    "complaint": "overheated, head off",
    "received": "2026-11-24",
    "bank": "left, or front",
    "distance": "182 000 km",
    "hours": "3400 h",
}


def _header_blanks(job: Job, typed: Typed) -> tuple[Blank, ...]:
    kept = typed.fields if typed.form == "facts" else {}
    return tuple(
        Blank(name, label, kept.get(name, str(job.header.get(name) or "")), FACT_HINTS.get(name, ""))
        for name, label in FACTS.items()
    )


def limit_table(sheet: Sheet, catalogue: Catalogue) -> LimitTable:
    """The limit sheet as a table, in its own order."""
    return LimitTable(
        name=sheet.name,
        document=sheet.document,
        invented=sheet.invented,
        digits=sheet.hash[:8],
        lines=tuple(_limit_line(limit, sheet, catalogue) for limit in sheet.limits),
        allowed=tuple(
            AllowedLine(_operation(name, catalogue), _allowed(one.allowed, one.most_text, one.unit), one.page)
            for name, one in sheet.allowed.items()
        ),
        warnings=sheet.warnings,
    )


def _operation(name: str, catalogue: Catalogue) -> str:
    known = catalogue.operations.get(name)
    return known.term if known else name.replace("_", " ")


def _allowed(word: str, most: str, unit: str) -> str:
    return f"up to {most} {unit}".strip() if word == "up to" else word


def _limit_line(limit: Limit, sheet: Sheet, catalogue: Catalogue) -> LimitLine:
    entry = catalogue.characteristics.get(limit.characteristic)
    words = " ".join(filter(None, (limit.document if limit.document != sheet.document else "", _page(limit.page))))
    return LimitLine(
        term=entry.term if entry else limit.characteristic,
        applies=_applies(limit),
        kind=limit.kind,
        bound=bound_words(limit.low_text, limit.high_text),
        unit=limit.unit,
        rule=limit.rule.replace("_", " "),
        source=words,
        warnings=tuple(fault.message for fault in sheet.warnings if fault.line and fault.line == limit.line),
    )


def _page(page: str) -> str:
    return f"p. {page}" if page else ""


def bound_words(low: str, high: str) -> str:
    """`least 5.940`, `most 0.05`, `37.8 to 38.3`."""
    if low and high:
        return f"{low} to {high}"
    return f"least {low}" if low else f"most {high}" if high else ""


def _applies(limit: Limit) -> str:
    applies = limit.applies
    side = {"inl": "Inl", "exh": "Exh"}.get(applies.for_, "")
    where = shown(applies.place) if applies.place else ""
    return " ".join(filter(None, (side, applies.position.upper(), where))) or "all"


def gauge_line(revision: GaugeRevision, catalogue: Catalogue) -> GaugeLine:
    """One gauge as its present revision has it."""
    fields = revision.fields
    kind = catalogue.gauge_kinds.get(str(fields.get("kind", "")))
    unit = str(fields.get("unit", ""))
    calibration, repeat = _mapping(fields.get("calibration")), _mapping(fields.get("repeatability"))
    doubt = f"U {calibration['U']}, k {calibration.get('k', '2')}" if "U" in calibration else ""
    if not doubt and fields.get("permissible_error"):
        doubt = f"permissible error {fields['permissible_error']}"
    if not doubt and fields.get("leaf_error"):
        doubt = f"leaf error {fields['leaf_error']}"
    spread = f"s {repeat['s']}" + (f" from {repeat['n']}" if "n" in repeat else "") if "s" in repeat else ""
    return GaugeLine(
        gauge=revision.gauge,
        kind=kind.term if kind else str(fields.get("kind", "")),
        resolution=f"{fields['resolution']} {unit}" if fields.get("resolution") else _leaves(fields.get("set"), unit),
        doubt=doubt or "not stated: the usual one is assumed",
        date=str(calibration.get("date", "")),
        repeatability=spread or "not stated",
        revision=revision.revision,
        by=revision.by,
        at=revision.at,
    )


def _leaves(leaves: object, unit: str) -> str:
    if not isinstance(leaves, list | tuple) or not leaves:
        return unit
    return f"{len(leaves)} leaves, {leaves[0]} to {leaves[-1]} {unit}"


def _mapping(value: object) -> Mapping[str, Any]:
    return value if isinstance(value, Mapping) else {}


def setting_blanks(job: Job, catalogue: Catalogue, kept: Mapping[str, str]) -> tuple[Blank, ...]:
    """The blanks of a setting: which comparing gauge was set to what, with what."""
    last = {name: held.fields for name in job.gauges if (held := gauge_now(job, name))}
    comparing = [name for name, fields in last.items() if _compares(str(fields.get("kind", "")), catalogue)]
    others = [name for name in last if name not in comparing]
    return (
        Blank(
            "gauge", "gauge that was set", kept.get("gauge", ""), "", tuple((name, name) for name in comparing), True
        ),
        Blank("set_to", "set to", kept.get("set_to", ""), "6.000", (), True),
        Blank("unit", "unit", kept.get("unit", "mm"), "", (("mm", "mm"), ("in", "inch")), True),
        Blank(
            "with", "with", kept.get("with", ""), "", (("", "a master not listed"), *((name, name) for name in others))
        ),
    )


def _compares(kind: str, catalogue: Catalogue) -> bool:
    """Whether a gauge of this kind reads a deviation from a size that it was set to."""
    known = catalogue.gauge_kinds.get(kind)
    return known is not None and known.reads == "deviation"
