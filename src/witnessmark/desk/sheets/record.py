"""The record sheet: every event in order, as it came and as it was understood; what no longer counts stays readable."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from witnessmark.catalogue.entry import Catalogue
from witnessmark.desk.sheets.phrase import plural, shown
from witnessmark.desk.sheets.record_together import together_words
from witnessmark.record.event import Event, digest
from witnessmark.record.job import SUPERSEDED, TAKEN_BACK, Job, Reading

PER_SHEET = 200
LONGEST_FILTER = 80
FIRST = (
    "kind",
    "layout",
    "cylinders",
    "valves",
    "unit",
    "resolution",
)  # what a hand names first of a gauge or an engine


@dataclass(frozen=True, slots=True)
class Entry:
    """One event: who and when, what it is about, what came and what was understood; `through`: it no longer counts."""

    seq: int
    id: str
    at: str
    by: str
    device: str
    what: str
    where: str  # as people see it
    place: str  # machine id, "" where the event has none
    raw: str
    meaning: str
    state: str
    through: bool
    remark: str = ""


@dataclass(frozen=True, slots=True)
class RecordSheet:
    """One sheet of the record of a job, newest sheet last, with the checksum over all of it."""

    job: str
    title: str
    entries: tuple[Entry, ...]
    total: int
    found: int
    sheet: int
    sheets: int
    filter: str
    checksum: str
    trouble: tuple[str, ...]  # conflicts, events that wait for others, events that this version cannot apply


def record_sheet(
    job: Job, events: Sequence[Event], catalogue: Catalogue, where: str = "", sheet: int = 0
) -> RecordSheet:
    """The record of a job; `where` keeps the events of places that begin so, `sheet` 0 is the last one."""
    where = where.strip()[:LONGEST_FILTER]
    told = entries(job, events, catalogue)
    kept = [entry for entry in told if _is_at(entry, where)]
    sheets = max(1, -(-len(kept) // PER_SHEET))
    number = sheet if 1 <= sheet <= sheets else sheets
    return RecordSheet(
        job=job.id,
        title=f"Record of {job.id}",
        entries=tuple(kept[(number - 1) * PER_SHEET : number * PER_SHEET]),
        total=len(told),
        found=len(kept),
        sheet=number,
        sheets=sheets,
        filter=where,
        checksum=digest(events),
        trouble=_trouble(job),
    )


def _is_at(entry: Entry, where: str) -> bool:
    wanted = where.casefold()
    return not wanted or entry.place.startswith(wanted) or entry.where.casefold().startswith(wanted)


def _trouble(job: Job) -> tuple[str, ...]:
    waiting = [f"an event waits for '{one.needs}', which has not come yet" for one in job.waiting]
    kept = [f"an event of kind '{one.kind}' is kept and not used: {one.why}" for one in job.kept]
    return (*(one.text for one in job.conflicts), *waiting, *kept)


def entries(job: Job, events: Iterable[Event], catalogue: Catalogue) -> tuple[Entry, ...]:
    """Every event in words, in the order of the store."""
    ordered = tuple(events)
    readings = {reading.id: reading for reading in job.readings}
    by_id = {event.id: event for event in ordered}
    return tuple(_entry(event, job, readings, by_id, catalogue) for event in ordered)


def _entry(
    event: Event, job: Job, readings: Mapping[str, Reading], by_id: Mapping[str, Event], catalogue: Catalogue
) -> Entry:
    body = event.body
    place = _text(body.get("place"))
    term = _term(_text(body.get("characteristic")), catalogue)
    if event.kind == "reading_taken" and event.id in readings:
        return _reading_entry(event, readings[event.id], catalogue, event.id in job.taken_back)
    if event.kind in ("taken_back", "question_answered"):
        what, raw, meaning, place = _pointing(event, by_id, catalogue)
    else:
        what, raw, meaning = _plain_entry(event, term)
    through = event.id in job.taken_back
    state = TAKEN_BACK if through else ""
    return Entry(event.seq, event.id, event.at, event.by, event.device, what, shown(place) if place else "", place,
                 raw, meaning, state, through)  # fmt: skip


def _reading_entry(event: Event, reading: Reading, catalogue: Catalogue, taken_back: bool) -> Entry:
    what = _term(reading.characteristic, catalogue)
    remarks = [f"assumed: {', '.join(reading.assumed)}"] if reading.assumed else []
    if reading.supersedes:
        remarks.append(f"in place of an earlier reading, {reading.reason or 'reason not given'}")
    if reading.question:
        remarks.append(_text(reading.question.get("text")))
    if reading.note:
        remarks.append(reading.note)
    gauge = f", by {reading.gauge}" if reading.gauge else ", gauge not named"
    return Entry(
        event.seq, event.id, event.at, event.by, event.device, what, shown(reading.place), reading.place, reading.raw,
        meaning_words(reading.meaning) + gauge, reading.state,
        taken_back or reading.state in (SUPERSEDED, TAKEN_BACK, "measure again"), " · ".join(filter(None, remarks)),
    )  # fmt: skip


def meaning_words(meaning: Mapping[str, Any] | None) -> str:
    """What was understood: `5.952 mm`, `leaf 0.04 enters, 0.05 does not (mm)`, `-0.071 mm from its set size`."""
    if not meaning:
        return "not understood yet"
    unit = _text(meaning.get("unit"))
    if meaning.get("kind") == "interval":
        high = meaning.get("high")
        stop = f"{high} does not" if high is not None else "the thickest of the set"
        return f"leaf {_text(meaning.get('low'))} {unit} enters, {stop}"
    value = f"{_text(meaning.get('value'))} {unit}"
    return f"{value} from its set size" if meaning.get("kind") == "deviation" else value


def _pointing(event: Event, by_id: Mapping[str, Event], catalogue: Catalogue) -> tuple[str, str, str, str]:
    """An event about another one: it names what it is about."""
    target = by_id.get(_text(event.body.get("event") or event.body.get("reading")))
    if target is None:
        return event.kind.replace("_", " "), "", "about an event that has not come yet", ""
    place = _text(target.body.get("place"))
    about = " ".join(filter(None, (_term(_text(target.body.get("characteristic")), catalogue), _raw(target))))
    together = together_words(target)
    about = about or (together[0] if together else "")
    if event.kind == "taken_back":
        again = target.kind == "taken_back"
        return "take-back undone" if again else "taken back", "", about or target.kind.replace("_", " "), place
    return "question answered", "", f"{about}: {_answer(event, target)}", place


def _answer(event: Event, target: Event) -> str:
    question = target.body.get("question")
    answers = question.get("answers") if isinstance(question, Mapping) else None
    index = event.body.get("answer")
    if isinstance(answers, Sequence) and isinstance(index, int) and 0 <= index < len(answers):
        chosen = answers[index]
        return _text(chosen.get("label")) if isinstance(chosen, Mapping) else ""
    return "an answer that the question does not have"


def _plain_entry(event: Event, term: str) -> tuple[str, str, str]:
    """What, what came, and what was understood, for events that are no reading."""
    body = event.body
    if together := together_words(event):
        return together
    match event.kind:
        case "job_opened":
            job = body.get("job")
            return (
                "job opened",
                "",
                _pairs(job if isinstance(job, Mapping) else {}, ("engine", "customer", "complaint")),
            )
        case "engine_described":
            engine = body.get("engine")
            return "engine described", "", _pairs(engine if isinstance(engine, Mapping) else {})
        case "gauge_entered":
            fields = body.get("fields")
            return f"gauge {_text(body.get('gauge'))}", "", _pairs(fields if isinstance(fields, Mapping) else {})
        case "limits_entered":
            lines = len(_text(body.get("text")).splitlines())
            return (
                f"limit sheet {_text(body.get('name'))}",
                "",
                f"{plural(lines, 'line')}, {_text(body.get('hash'))[:12]}",
            )
        case "setting_made":
            words = f"{_text(body.get('gauge'))} set to {_text(body.get('set_to'))} {_text(body.get('unit'))}"
            return "setting", "", words + (f" with {_text(body.get('with'))}" if body.get("with") else "")
        case "part_entered":
            return f"part {_text(body.get('part'))}", "", _pairs(body, ("kind", "at", "new"))
        case "waived":
            return term or "place", "", _text(body.get("reason"))
        case "noted":
            return "note", _text(body.get("text")), f"about {shown(_text(body.get('about')))}"
    return event.kind.replace("_", " "), _raw(event), "kept"


def _raw(event: Event) -> str:
    return _text(event.body.get("raw"))


def _term(characteristic: str, catalogue: Catalogue) -> str:
    known = catalogue.characteristics.get(characteristic)
    return known.term if known else characteristic


def _text(value: Any) -> str:
    if value is None:
        return ""
    return ("yes" if value else "no") if isinstance(value, bool) else str(value)


def _pairs(data: Mapping[str, Any], keys: Sequence[str] = ()) -> str:
    """`kind micrometer, unit mm, calibration (U 0.002, k 2)`: plain data in one line."""
    ordered = keys or sorted(data, key=lambda key: FIRST.index(key) if key in FIRST else len(FIRST))
    chosen = [(key, data[key]) for key in ordered if data.get(key) not in (None, "", [], {})]
    return ", ".join(f"{key.replace('_', ' ')} {_plain(value)}" for key, value in chosen)


def _plain(value: Any) -> str:
    if isinstance(value, Mapping):
        return f"({_pairs(value)})"
    if isinstance(value, list | tuple):
        words = [_plain(each) for each in value]
        return " ".join(words) if len(words) < 9 else f"{words[0]} to {words[-1]}, {len(words)} of them"
    return _text(value)
