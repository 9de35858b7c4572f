"""The entries of a job file written by hand, turned into events one section after the other.

An entry without an id gets one from what it is about and its ordinal among equals, never from its place in the file, so
that a line added above it changes nothing. Faults are collected; an entry at fault gives no event.
"""

import hashlib
from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from witnessmark.quantity.amount import Amount
from witnessmark.quantity.read import read
from witnessmark.quantity.unit import unit
from witnessmark.record import writtenbeside as beside
from witnessmark.record import writtentogether as together
from witnessmark.record.event import Event, EventFault, canonical
from witnessmark.record.meant import MEASURE_AGAIN, InHand, Meaning, Meant, meant, take
from witnessmark.record.readings import AS_FOUND
from witnessmark.text.fault import Fault, Path
from witnessmark.text.near import did_you_mean
from witnessmark.text.read import Document
from witnessmark.text.write import write

if TYPE_CHECKING:
    from witnessmark.record.jobschema import GaugeSection, JobFile, ReadingEntry

HAND = "hand"
INHERITED = ("characteristic", "place", "part", "round", "gauge", "setting", "unit", "method")


Sheets = Callable[[str], str]


class NoSheet(Exception):
    """Raised by a caller's `sheets` for a path that it will not or cannot fetch; the message says why."""


def is_yes(value: str | None) -> bool:
    """What a yes/no of the file means; nothing is no."""
    return (value or "no").casefold() in {"true", "yes"}


def in_hand(fields: Mapping[str, Any], unit_name: str, setting: tuple[str, str] | None) -> InHand | None:
    """The gauge as far as reading needs it, from its entered fields; None when these cannot be used."""
    try:
        leaves = tuple(Decimal(str(leaf)) for leaf in fields.get("set") or ())
        name = unit_name or str(fields.get("unit") or "")
        if name:
            unit(name)
        set_to = read(setting[0], setting[1]) if setting else None
    except (ArithmeticError, TypeError, ValueError):  # fields of an event may hold anything
        return None
    if not all(leaf.is_finite() for leaf in leaves):
        return None
    return InHand(str(fields.get("kind") or ""), name, leaves, set_to if isinstance(set_to, Amount) else None)


class Entries:
    """Events and faults as they come up, section by section."""

    def __init__(self, document: Document, job: "JobFile", sheets: Sheets) -> None:
        self.events: list[Event] = []
        self.faults: list[Fault] = []
        self._document = document
        self._job = job
        self._sheets = sheets
        self._ids: set[str] = set()
        self._equals: Counter[str] = Counter()
        self._readings: dict[str, ReadingEntry] = {}
        self.gauges: Mapping[str, GaugeSection] = job.gauges or {}
        self._parts = job.parts or {}
        self._settings = {one.id: one for one in job.settings or ()}

    def take_all(self) -> None:
        """Take every section in the order in which the bench would have met them."""
        self._head()
        self._register()
        self._text("limits", self._job.limits)
        self._text("prices", self._job.prices)
        beside.route(self, self._job.route)
        beside.work(self, self._job)
        for entry in self._job.readings or ():
            if entry.id:
                self._readings.setdefault(entry.id, entry)
        checks = beside.checks(self._job.zero_checks or ())
        beside.zero(self, checks.pop(beside.FIRST))
        for position, entry in enumerate(self._job.readings or ()):
            self._reading(entry, ("readings", position))
            beside.zero(self, checks.pop(entry.id or self.events[-1].id, ()))
        beside.zero_left(self, checks, [event.id for event in self.events if event.kind == "reading_taken"])
        beside.take_rest(self, self._job)
        together.take(self, self._job)
        self._waived()
        self._answers()
        self._notes()
        self._taken_back()

    # sections

    def _head(self) -> None:
        header: dict[str, Any] = self._job.job.model_dump(exclude_none=True)
        header["invented"] = is_yes(header.get("invented"))
        body = {"job": header, "engine": self._job.engine or {}}
        self.event("job", "job_opened", body, ("job",))

    def _register(self) -> None:
        for gauge, fields in self.gauges.items():
            path: Path = ("gauges", gauge)
            if fields.kind == "leaves" and not fields.set:
                self.fault("missing", "a set of leaves needs its thicknesses; add `set: [0.03, 0.04]`", path)
            plain = fields.model_dump(exclude_none=True)
            self.event(f"gauge:{gauge}", "gauge_entered", {"gauge": gauge, "fields": plain, "based_on": None}, path)
        for name, part in self._parts.items():
            self.event(f"part:{name}", "part_entered",
                        {"part": name, "kind": part.kind, "at": part.at, "new": is_yes(part.new), "based_on": None},
                        ("parts", name))
        for position, one in enumerate(self._job.settings or ()):
            path = ("settings", position)
            self.known("gauge", one.gauge, self.gauges, (*path, "gauge"))
            self.known("gauge", one.with_, self.gauges, (*path, "with"))
            body = {"setting": one.id, "gauge": one.gauge, "set_to": one.set_to,
                    "unit": self.unit_of(one.unit, one.gauge), "with": one.with_, "s": one.s}
            self.event(f"setting:{one.id}", "setting_made", body, (*path, "id"), one.model_dump())

    def _text(self, key: str, given: str | Mapping[str, Any] | None) -> None:
        """A limit sheet or a price list, as text."""
        sheet = self._sheet(key, given) if given is not None else None
        if sheet is not None:
            name, text = sheet
            body = {"name": name, "text": text, "hash": sha256(text), "based_on": None}
            self.event(key, f"{key}_entered", body, (key,))

    def _sheet(self, key: str, given: str | Mapping[str, Any]) -> tuple[str, str] | None:
        """(name, text) of a sheet: by path, as text, or as a mapping of the file itself."""
        if isinstance(given, Mapping):
            if set(given) == {"name", "text"} and all(isinstance(value, str) for value in given.values()):
                return given["name"], given["text"]
            named = given.get("sheet")
            name = named.get("name") if isinstance(named, Mapping) else None
            return name if isinstance(name, str) else key, write(given)
        if "\n" in given:
            return key, given
        try:
            return given, self._sheets(given)
        except NoSheet as bad:
            self.fault("no_sheet", str(bad), (key,))
            return None

    def _waived(self) -> None:
        for position, entry in enumerate(self._job.waived or ()):
            body = {"characteristic": entry.characteristic, "place": entry.place, "round": entry.round or AS_FOUND,
                    "scope": entry.scope or "place", "reason": entry.reason or "not measured"}
            about = f"waived:{entry.characteristic}:{entry.place}:{body['round']}"
            self.event(self.id_of(entry.id, about), "waived", body, ("waived", position), entry.model_dump())

    def _answers(self) -> None:
        for position, entry in enumerate(self._job.answers or ()):
            path: Path = ("answers", position)
            body = {"reading": entry.reading, "answer": int(entry.answer)}
            self._fits(entry.reading, int(entry.answer), path)
            self.event(self.id_of(entry.id, f"answer:{entry.reading}"), "question_answered", body, path,
                        entry.model_dump())

    def _notes(self) -> None:
        for position, entry in enumerate(self._job.notes or ()):
            body = {"about": entry.about, "text": entry.text}
            self.event(self.id_of(entry.id, f"note:{entry.about}"), "noted", body, ("notes", position),
                        entry.model_dump())

    def _taken_back(self) -> None:
        entries = self._job.taken_back or ()
        ids = [self.id_of(entry.id, f"taken_back:{entry.event}") for entry in entries]
        known = self._ids.union(ids)
        for position, (id, entry) in enumerate(zip(ids, entries, strict=True)):
            path: Path = ("taken_back", position)
            self.known("entry", entry.event, known, path)
            self.event(id, "taken_back", {"event": entry.event}, path, entry.model_dump())

    # one reading

    def _reading(self, entry: "ReadingEntry", path: Path) -> None:
        whole = self._whole(entry, path)
        if whole is None:
            return
        for what, register in (("gauge", self.gauges), ("part", self._parts), ("setting", self._settings)):
            self.known(what, whole[what], register, (*path, what))
        raw = entry.raw if entry.raw is not None else self._said(entry, whole)
        meaning = self._look(entry, whole, path) if entry.says else self._meant(entry, raw, whole, path)
        about = f"{whole['characteristic']}:{whole['place']}:{whole['round'] or AS_FOUND}"
        gauge = whole["gauge"] if whole["gauge"] in self.gauges else None
        body = {
            "characteristic": whole["characteristic"], "place": whole["place"], "part": whole["part"],
            "round": whole["round"] or AS_FOUND, "gauge": whole["gauge"], "gauge_revision": 1 if gauge else None,
            "setting": whole["setting"], "raw": raw, "reader": "1", "meaning": meaning.meaning,
            "assumed": list(meaning.assumed), "supersedes": entry.supersedes, "reason": entry.reason,
            "temperature": entry.temperature.model_dump() if entry.temperature else None, "note": entry.note,
            "question": meaning.question, **_seen(entry, whole["method"]),
        }
        self.event(self.id_of(entry.id, about), "reading_taken", body, path, entry.model_dump())

    def _whole(self, entry: "ReadingEntry", path: Path) -> dict[str, Any] | None:
        """What the entry says, and what it takes from the reading that it supersedes."""
        found = {key: getattr(entry, key) for key in INHERITED}
        earlier, seen = entry.supersedes, {entry.id or ""}
        if earlier:
            self.known("reading", earlier, self._readings, (*path, "supersedes"))
        while earlier in self._readings and earlier not in seen:
            seen.add(earlier)
            other = self._readings[earlier]
            found = {key: value if value is not None else getattr(other, key) for key, value in found.items()}
            earlier = other.supersedes
        if earlier and earlier in seen:
            self.fault("circle", "these readings supersede each other in a circle; let one of them stand alone",
                        (*path, "supersedes"))
            return None
        missing = [key for key in ("characteristic", "place") if not found[key]]
        if entry.raw is None and entry.says is None:
            missing.append("raw")
        for key in missing:
            self.fault("missing", f"the key '{key}' is missing here; add it", (*path, key))
        return None if missing else found

    def _said(self, entry: "ReadingEntry", whole: Mapping[str, Any]) -> str:
        """What a hand would have typed for a look that was written out."""
        unit_name = whole["unit"] if entry.how_much else None
        return " ".join(word for word in (entry.says, entry.how_much, unit_name) if word)

    def _look(self, entry: "ReadingEntry", whole: Mapping[str, Any], path: Path) -> Meant:
        if entry.meaning is not None or entry.question is not None:
            self.fault("value", "`says` is the whole meaning; take out `meaning` and `question`, or `says`",
                       (*path, "says"))
        if entry.how_much and not whole["unit"]:
            self.fault("missing", f"{entry.how_much} of what? Add `unit:`, as mm", (*path, "how_much"))
        unit_name = whole["unit"] if entry.how_much else None
        return Meant({"kind": "look", "says": entry.says, "value": entry.how_much, "unit": unit_name})

    def _meant(self, entry: "ReadingEntry", raw: str, whole: Mapping[str, Any], path: Path) -> Meant:
        if entry.how_much is not None:
            self.fault("missing", "`how_much` goes with `says`; add what was found", (*path, "how_much"))
        if entry.meaning is not None and entry.question is None:
            return Meant(_meaning(entry.meaning.model_dump()))
        if whole["gauge"] and whole["gauge"] not in self.gauges:
            return Meant()  # told already, and without its gauge nothing says which unit this is
        read_again = self._read(raw, whole, path)
        if entry.question is not None:
            return Meant(question=_question(entry.question, raw, read_again), assumed=read_again.assumed)
        if read_again.meaning is None:
            self.fault("unread", f"'{raw[:60]}' cannot be taken: {read_again.why}", (*path, "raw"))
        return read_again

    def _read(self, raw: str, whole: Mapping[str, Any], path: Path) -> Meant:
        gauge = self.gauges.get(whole["gauge"] or "")
        setting = self._settings.get(whole["setting"] or "")
        set_to = None
        if setting is not None and setting.gauge != whole["gauge"]:
            self.fault("value", f"setting '{setting.id}' was made on gauge '{setting.gauge}', and this reading names "
                                 f"'{whole['gauge'] or 'none'}'; name the setting of that gauge", (*path, "setting"))
        if setting is not None:
            set_to = (setting.set_to, self.unit_of(setting.unit, setting.gauge))
        hand = in_hand(gauge.model_dump() if gauge else {}, whole["unit"] or "", set_to)
        return meant(raw, hand) if hand else Meant(why="its gauge cannot be used; see the faults of the gauge")

    def _fits(self, reading: str, answer: int, path: Path) -> None:
        body = next((event.body for event in self.events if event.id == reading), None)
        question = body.get("question") if body else None
        if question is None:
            asked = [event.id for event in self.events if event.body.get("question")]
            self.fault("unknown_id", f"no reading '{reading}' has a question{did_you_mean(reading, asked)}",
                        (*path, "reading"))
        elif answer >= len(question["answers"]):
            self.fault("value", f"the question has answers 0 to {len(question['answers']) - 1}; write one of these",
                        (*path, "answer"))

    # helpers

    def unit_of(self, written: str | None, gauge: str) -> str:
        """The unit that stands there, or that of the gauge (mm for a gauge that is at fault anyway)."""
        found = self.gauges.get(gauge)
        return written or (found.unit if found else "mm")

    def known(self, what: str, name: str | None, names: Iterable[str], path: Path) -> None:
        if name is not None and name not in names:
            hint = did_you_mean(name, names) or f"; enter it, or write the {what} that was meant"
            self.fault("unknown_id", f"no {what} '{name}' stands in this file{hint}", path)

    def id_of(self, given: str | None, about: str) -> str:
        if given:
            return given
        self._equals[about] += 1
        return f"{about}:{self._equals[about]}"

    def event(self, id: str, kind: str, body: dict[str, Any], path: Path,
               made: Mapping[str, Any] | None = None) -> None:
        made = made or {}
        if id in self._ids:
            self.fault("repeated_id", f"the id '{id}' stands here for the second time; give this entry another", path)
        self._ids.add(id)
        event = Event(id, kind, body, at=made.get("at") or "", by=made.get("by") or "",
                      device=made.get("device") or HAND, device_seq=len(self.events) + 1)
        try:
            canonical(event)
        except EventFault as bad:
            self.fault("value", str(bad), path)
        self.events.append(event)

    def fault(self, kind: str, message: str, path: Path) -> None:
        self.faults.append(self._document.fault(kind, message, path))


def sha256(text: str) -> str:
    """The SHA-256 of a text in UTF-8, 64 hex digits."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


_KEYS: Mapping[str, tuple[str, ...]] = {"interval": ("kind", "low", "high", "unit"),
                                        "look": ("kind", "says", "value", "unit")}


def _seen(entry: "ReadingEntry", method: str | None) -> dict[str, Any]:
    """How it was looked at, its photos and its mark, where they are written."""
    found: dict[str, Any] = {"method": method} if method else {}
    if entry.photos:
        found["photos"] = list(entry.photos)
    return {**found, "mark": entry.mark.model_dump()} if entry.mark else found


def _meaning(given: Mapping[str, Any]) -> Meaning:
    keys = _KEYS.get(str(given["kind"]), ("kind", "value", "unit", "step"))
    return {key: given[key] for key in keys}


def _question(given: Any, raw: str, found: Meant) -> Mapping[str, Any]:
    """The question that an entry carries: written out whole, or by its word and what the raw text may mean."""
    if not isinstance(given, str):
        whole: dict[str, Any] = given.model_dump()
        return {**whole, "answers": [{**one, "meaning": _meaning(one["meaning"]) if one["meaning"] else None}
                                     for one in whole["answers"]]}
    if found.question is not None:
        return {**found.question, "kind": given}
    if found.meaning is None:
        return {"kind": given, "text": f"'{raw}' cannot be taken: {found.why}", "answers": [dict(MEASURE_AGAIN)]}
    if given == "inch_or_mm":
        return {"kind": given, "text": f"Is '{raw}' inch or millimetre?",
                "answers": [*_both(found.meaning), dict(MEASURE_AGAIN)]}
    return {"kind": given, "text": f"Is '{raw}' what the gauge showed?",
            "answers": [take(raw, found.meaning), dict(MEASURE_AGAIN)]}


def _both(meaning: Meaning) -> list[dict[str, Any]]:
    return [take(f"{meaning.get('value') or meaning.get('low')} {name}", {**meaning, "unit": name})
            for name in ("in", "mm")]
