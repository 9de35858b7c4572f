"""What stands behind the values of a report: gauges, settings, limits, people, assumptions, gaps, questions, cautions.

All in words that are ready to print. Nothing is judged here.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from witnessmark.catalogue.entry import Catalogue, GaugeKind
from witnessmark.desk.sheets.phrase import listed, plural, shown, together
from witnessmark.desk.sheets.record import meaning_words
from witnessmark.desk.state import State
from witnessmark.engine import place as places
from witnessmark.judge.result import Judgement, Missing
from witnessmark.record.job import MEASURE_AGAIN, SUPERSEDED, TAKEN_BACK, GaugeRevision, Job, Reading, gauge_now

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
MOST_PLACES = 24
LONGEST = 400
NOT_STATED = "not stated"
ASSUMED = "gauge assumed"
OVER_ALL = {"all": "over all places", "inl": "over all inlets", "exh": "over all exhausts"}  # spreads over places


@dataclass(frozen=True, slots=True)
class GaugeRow:
    """One revision of a gauge that was read with, or a usual gauge that had to be assumed."""

    gauge: str
    kind: str
    resolution: str
    doubt: str
    calibrated: str
    repeatability: str
    readings: int
    assumed: bool


@dataclass(frozen=True, slots=True)
class Raw:
    """One reading as it came; `through`: it no longer counts and is printed struck through."""

    number: int  # in the record of the job
    place: str
    raw: str
    meaning: str
    gauge: str
    by: str
    at: str
    state: str
    through: bool


@dataclass(frozen=True, slots=True)
class Readings:
    """All readings of one characteristic, in the order of the record."""

    term: str
    lines: tuple[Raw, ...]


@dataclass(frozen=True, slots=True)
class Gap:
    """Places of one characteristic that were not read, and why where somebody said so."""

    characteristic: str
    term: str
    places: str
    stations: int
    why: str


def when(text: str) -> str:
    """`24 Nov 2026, 10:42` at the clock of the place where it was typed; what is no time is shown as it came."""
    moment = moment_of(text)
    return f"{day_words(moment)}, {moment:%H:%M}" if moment else text


def day_words(moment: datetime) -> str:
    """`24 Nov 2026`, in words that no locale changes."""
    return f"{moment.day} {MONTHS[moment.month - 1]} {moment.year}"


def moment_of(text: str) -> datetime | None:
    """The time that a text names, or None."""
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        return None


def gauge_rows(state: State) -> tuple[GaugeRow, ...]:
    """Every revision that a reading of the round names, every other gauge of the register, and usual ones assumed."""
    job, catalogue = state.job, state.catalogue
    here = [reading for reading in job.readings if reading.round == state.round]
    used = Counter((reading.gauge or "", reading.gauge_revision) for reading in here)
    rows = []
    for name, revisions in job.gauges.items():
        now = gauge_now(job, name)
        for one in revisions:
            count = used[name, one.revision]
            if count or one == now:
                rows.append(_gauge_row(one, catalogue, count, len(revisions) > 1))
    return (*rows, *_assumed_rows(here, catalogue))


def _gauge_row(one: GaugeRevision, catalogue: Catalogue, count: int, several: bool) -> GaugeRow:
    fields = one.fields
    kind = catalogue.gauge_kinds.get(_text(fields.get("kind")))
    unit = _text(fields.get("unit"))
    calibration, repeat = _mapping(fields.get("calibration")), _mapping(fields.get("repeatability"))
    size = f"{_text(fields.get('resolution'))} {unit}" if fields.get("resolution") else _leaves(fields.get("set"), unit)
    spread = f"s {_text(repeat.get('s'))} {unit}" if repeat.get("s") else NOT_STATED
    return GaugeRow(
        gauge=f"{one.gauge}, revision {one.revision}" if several else one.gauge,
        kind=kind.term if kind else _text(fields.get("kind")),
        resolution=size,
        doubt=_doubt(fields, calibration, unit),
        calibrated=cut(" · ".join(filter(None, map(_text, (calibration.get("date"), calibration.get("certificate"))))))
        or NOT_STATED,
        repeatability=spread + (f" from {_text(repeat.get('n'))}" if repeat.get("n") else ""),
        readings=count,
        assumed=False,
    )


def _doubt(fields: Mapping[str, Any], calibration: Mapping[str, Any], unit: str) -> str:
    if calibration.get("U"):
        return f"U {_text(calibration['U'])} {unit}, k {_text(calibration.get('k') or '2')}"
    if fields.get("permissible_error"):
        return f"permissible error {_text(fields['permissible_error'])} {unit}"
    if fields.get("leaf_error"):
        return f"leaf error {_text(fields['leaf_error'])} {unit}"
    return NOT_STATED


def _leaves(leaves: object, unit: str) -> str:
    if not isinstance(leaves, list | tuple) or not leaves:
        return NOT_STATED
    return f"{len(leaves)} leaves, {leaves[0]} to {leaves[-1]} {unit}"


def _assumed_rows(readings: Iterable[Reading], catalogue: Catalogue) -> tuple[GaugeRow, ...]:
    kinds: Counter[str] = Counter()
    for reading in readings:
        entry = catalogue.characteristics.get(reading.characteristic)
        if reading.gauge is None and entry is not None:
            kinds[entry.usual_gauge] += 1
    return tuple(
        _usual(catalogue.gauge_kinds[name], count) for name, count in kinds.items() if name in catalogue.gauge_kinds
    )


def _usual(kind: GaugeKind, count: int) -> GaugeRow:
    unit = "N" if kind.quantity == "force" else "mm"
    leaf = f"leaf error {kind.leaf_error:g} {unit}" if kind.leaf_error else NOT_STATED
    share = f" and {100 * kind.relative:g} % of the reading" if kind.relative else ""
    return GaugeRow(
        gauge=ASSUMED,
        kind=f"usual {kind.term}",
        resolution=f"{kind.resolution:g} {unit}" if kind.resolution else "leaves",
        doubt=f"U {kind.U:g} {unit}{share}, k {kind.k:g}" if kind.U or kind.relative else leaf,
        calibrated="nobody named the gauge",
        repeatability=f"s {kind.repeatability:g} {unit}" if kind.repeatability else NOT_STATED,
        readings=count,
        assumed=True,
    )


def setting_lines(job: Job) -> tuple[str, ...]:
    """What each comparing gauge was set to, with what, and when."""
    found = []
    for one in job.settings.values():
        with_ = f" with {one.with_}" if one.with_ else ", what it was set with is not stated"
        who = listed([part for part in (one.by and f"by {one.by}", when(one.at)) if part], last="on")
        spread = f", s {one.s} {one.unit}" if one.s else ""
        found.append(f"{one.gauge} set to {one.set_to} {one.unit}{with_}{spread}{f', {who}' if who else ''}")
    return tuple(found)


def people(job: Job, round_: str) -> tuple[str, ...]:
    """Who read how many, from when to when."""
    found: dict[str, list[str]] = {}
    for reading in job.readings:
        if reading.round == round_:
            found.setdefault(reading.by or "nobody signed", []).append(reading.at)
    return tuple(f"{who}: {plural(len(times), 'reading')}{_span(times)}" for who, times in found.items())


def _span(times: Iterable[str]) -> str:
    days = list(dict.fromkeys(day_words(moment) for text in sorted(times) if (moment := moment_of(text))))
    return f", {days[0]}" + (f" to {days[-1]}" if len(days) > 1 else "") if days else ""


def part_temperature(job: Job, round_: str) -> str:
    """`part at 21 °C`, `part at 19 to 23 °C, of 12 readings not stated`; empty where nothing was read."""
    counted = [reading for reading in job.readings if reading.round == round_ and reading.state == "counted"]
    stated = [_text(_mapping(reading.temperature).get("part")) for reading in counted]
    known = sorted({text for text in stated if text}, key=_size)
    if not known:
        return "part temperature not stated" if counted else ""
    missing = stated.count("")
    words = f"part at {known[0]} °C" if len(known) == 1 else f"part at {known[0]} to {known[-1]} °C"
    return words + (f", not stated for {plural(missing, 'reading')}" if missing else "")


def _size(text: str) -> float:
    try:
        return float(text.replace(",", ".").replace("−", "-"))
    except ValueError:
        return float("inf")


def assumptions(state: State, judgement: Judgement) -> tuple[str, ...]:
    """What nobody said and the judgement had to take for granted, with how many values lean on it."""
    counts = Counter(text for result in judgement.results for text in dict.fromkeys(result.assumed))
    lines = [f"{text}: {plural(count, 'value')}" for text, count in counts.items()]
    if state.layout and state.layout.assumed:
        names = listed([name.replace("_", " ") for name in state.layout.assumed])
        lines.append(f"{names} of the engine follow from the rest of its description; nobody wrote them")
    return tuple(lines)


def gaps(judgement: Judgement, catalogue: Catalogue) -> tuple[Gap, ...]:
    """Places without a counted reading, by characteristic; those that somebody left out stand apart with the reason."""
    grouped: dict[tuple[str, str], list[Missing]] = {}
    for gap in judgement.missing:
        grouped.setdefault((gap.characteristic, gap.waived), []).append(gap)
    return tuple(
        Gap(name, term(name, catalogue), where_left(one.place for one in found), len(found), cut(why))
        for (name, why), found in grouped.items()
    )


def where_left(ids: Iterable[str]) -> str:
    """Places in one breath: valves by name, `Inl 4F and 4R`; on a face the lines themselves."""
    found = list(dict.fromkeys(ids))
    lines = [short(place) for place in found if on_a_face(place)]
    others = together([place for place in found if not on_a_face(place)], MOST_PLACES)
    return ", ".join([*lines, *([others] if others else [])])


def on_a_face(place: str) -> bool:
    """Whether a place lies on a face of the head, where a line has a name and no number."""
    return any(f"/{face}/" in f"/{place}/" for face in places.FACES)


def raw_lines(job: Job, round_: str, catalogue: Catalogue) -> tuple[Readings, ...]:
    """Every reading of the round as it came, whatever became of it, by characteristic in the order of the record."""
    found: dict[str, list[Raw]] = {}
    for reading in job.readings:
        if reading.round == round_:
            found.setdefault(reading.characteristic, []).append(_raw(reading, job))
    return tuple(Readings(term(name, catalogue), tuple(lines)) for name, lines in found.items())


def _raw(reading: Reading, job: Job) -> Raw:
    several = len(job.gauges.get(reading.gauge or "", ())) > 1
    revision = f", revision {reading.gauge_revision}" if several and reading.gauge_revision else ""
    return Raw(
        number=reading.seq,
        place=short(reading.place),
        raw=cut(reading.raw),
        meaning=_understood(reading, job),
        gauge=cut(f"{reading.gauge}{revision}") if reading.gauge else ASSUMED,
        by=cut(reading.by),
        at=when(reading.at),
        state=_state_words(reading),
        through=reading.state in (SUPERSEDED, TAKEN_BACK, MEASURE_AGAIN),
    )


def _understood(reading: Reading, job: Job) -> str:
    """The accepted meaning: leaves as a range, a deviation with the size that its gauge was set to.

    `5.952 mm`, `0.03–0.04 mm`, `6.000 + 0.002 mm`.
    """
    meaning, setting = _mapping(reading.meaning), job.settings.get(reading.setting or "")
    value, unit = _text(meaning.get("value")), _text(meaning.get("unit"))
    if meaning.get("kind") == "interval":
        low, high = _text(meaning.get("low")), _text(meaning.get("high"))
        return f"{low}–{high} {unit}" if high else f"over {low} {unit}"
    if meaning.get("kind") != "deviation" or setting is None or setting.unit != unit:
        return meaning_words(reading.meaning)
    sign, size = ("−", value[1:]) if value[:1] in ("-", "−") else ("+", value.removeprefix("+"))
    return f"{setting.set_to} {sign} {size} {unit}"


def _state_words(reading: Reading) -> str:
    """What became of a reading, and what was said about it."""
    words = {"counted": "", "asked": "asked back, not counted", SUPERSEDED: "replaced by a later reading",
             TAKEN_BACK: "taken back", MEASURE_AGAIN: "to be measured again"}  # fmt: skip
    parts = [words.get(reading.state, reading.state)]
    if reading.supersedes:
        parts.append(f"replaces an earlier one: {reading.reason or 'reason not given'}")
    if reading.question and reading.answered is not None:
        parts.append(f"asked back and answered: {_answer(reading)}")
    if reading.assumed:
        parts.append(f"assumed: {', '.join(reading.assumed)}")
    if reading.note:
        parts.append(reading.note)
    return cut("; ".join(part for part in parts if part))


def cut(text: str) -> str:
    """A text no longer than a row of a table can take; what is left out is said, and stands in the record."""
    return text if len(text) <= LONGEST else f"{text[:LONGEST]} … ({len(text)} letters, whole in the record)"


def _answer(reading: Reading) -> str:
    answers = _mapping(reading.question).get("answers")
    index = reading.answered if reading.answered is not None else -1
    if isinstance(answers, list | tuple) and 0 <= index < len(answers):
        return _text(_mapping(answers[index]).get("label"))
    return "by an answer that it does not have"


def question_lines(job: Job, round_: str) -> tuple[str, ...]:
    """Open questions of the round, and what contradicts itself in the record."""
    asked = [
        f"{shown(reading.place)}: {_text(_mapping(reading.question).get('text')) or f'{reading.raw} is not understood'}"
        for reading in job.questions
        if reading.round == round_
    ]
    return (*asked, *(conflict.text for conflict in job.conflicts))


def note_lines(job: Job) -> tuple[str, ...]:
    """Remarks, with what they are about."""
    about = {reading.id: f"{shown(reading.place)} {reading.raw}" for reading in job.readings}
    return tuple(
        f"{about.get(note.about, shown(note.about))}: {note.text}{f' ({note.by})' if note.by else ''}"
        for note in job.notes
    )


def part_lines(job: Job) -> tuple[str, ...]:
    """Parts that were entered by name, new ones said to be new."""
    return tuple(
        f"{one.part}: {'new' if one.new else 'used'} {one.kind}, {shown(one.at) if one.at else 'on the shelf'}"
        for one in job.parts.values()
    )


def cautions(judgement: Judgement, catalogue: Catalogue) -> tuple[tuple[str, str], ...]:
    """Heading and text of each hazard that a characteristic of this round names, and of no other."""
    names = {result.characteristic for result in judgement.results} | {gap.characteristic for gap in judgement.missing}
    named = {entry.hazard for entry in catalogue.characteristics.values() if entry.id in names}
    return tuple(
        (hazard.term, " ".join(hazard.text.split())) for name, hazard in catalogue.hazards.items() if name in named
    )


def short(place: str) -> str:
    """A place under the name of its characteristic, which says already that it is the gasket face."""
    rest = OVER_ALL.get(place) or shown(place).replace("gasket face ", "").removeprefix("Gasket face ")
    return rest[:1].upper() + rest[1:]


def term(characteristic: str, catalogue: Catalogue) -> str:
    """The trade's word for a characteristic; an id of an older catalogue stays as it is."""
    entry = catalogue.characteristics.get(characteristic)
    return entry.term if entry else characteristic


def _mapping(value: object) -> Mapping[str, Any]:
    return value if isinstance(value, Mapping) else {}


def _text(value: object) -> str:
    return "" if value is None else str(value)
