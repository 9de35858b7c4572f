"""A job file held against the catalogue: names, places, layout and limit sheet, every fault with its place in it."""

from collections.abc import Iterable, Sequence
from typing import Any

from witnessmark.catalogue.entry import Catalogue, Characteristic
from witnessmark.desk.check_looks import beside_faults, look_faults
from witnessmark.engine.layout import Layout, LayoutError, layout
from witnessmark.engine.place import location
from witnessmark.engine.walk import misplaced, stations
from witnessmark.judge.gauges import GaugeFault, model
from witnessmark.limits.read import read_sheet
from witnessmark.metrology.gauge import defects
from witnessmark.record.event import Event
from witnessmark.record.job import GaugeRevision
from witnessmark.record.shape import SHAPES, problems
from witnessmark.text.fault import Fault, Faulty, Path
from witnessmark.text.near import did_you_mean
from witnessmark.text.read import Document, read

SECTIONS = {"photo_added": "photos", "decided": "decisions"}
WRITTEN = {"photo_added": ("photo",), "decided": ("characteristic", "place", "decision")}


def job_faults(text: str | bytes, name: str, events: Sequence[Event], catalogue: Catalogue) -> list[Fault]:
    """What a job file says that this catalogue and this engine do not have."""
    document = read(text, name)
    by_hand = isinstance(document.data, dict) and document.data.get("log") is None
    checker = _Checker(document, by_hand, catalogue)
    for event in events:
        checker.take(event)
    return checker.faults


class _Checker:
    """Walks the events once and collects faults with their places."""

    def __init__(self, document: Document, by_hand: bool, catalogue: Catalogue) -> None:
        self.document, self.by_hand, self.catalogue = document, by_hand, catalogue
        self.faults: list[Fault] = []
        self.layout: Layout | None = None
        self.taken = self.readings = self.settings = self.waivers = 0

    def take(self, event: Event) -> None:
        """Hold one event against the catalogue; of a body that says nothing, only that is told."""
        self.taken += 1
        broken = problems(event) if event.kind in SHAPES else ()
        for message in broken:
            self._fault("log_event", f"{event.kind} '{event.id}': {message}; take the export again", ())
        if not broken:
            self._take(event)

    def _take(self, event: Event) -> None:
        if event.kind in ("job_opened", "engine_described"):
            self._engine(event.body.get("engine"))
            self._also_measure(event.body.get("job"))
        elif event.kind == "gauge_entered":
            self._gauge(event)
        elif event.kind == "limits_entered":
            self._limits(event)
        elif event.kind == "setting_made":
            self._setting(event)
        elif event.kind == "reading_taken":
            self._reading(event)
        elif event.kind == "waived":
            self._waiver(event)
        elif event.kind in SECTIONS:
            self._beside(event)

    def _beside(self, event: Event) -> None:
        path: Path = (SECTIONS[event.kind], self._nth(event))
        for way, message in beside_faults(event.kind, event.body, self.catalogue, self.layout):
            self._fault(SECTIONS[event.kind], message, (*path, *way))

    def _nth(self, event: Event) -> int:
        """Which entry of its section an event was written as."""
        data = self.document.data
        written = data.get(SECTIONS[event.kind]) if self.by_hand and isinstance(data, dict) else None
        for n, entry in enumerate(written if isinstance(written, list) else ()):
            if isinstance(entry, dict) and all(entry.get(key) == event.body.get(key) for key in WRITTEN[event.kind]):
                return n
        return 0

    def _fault(self, kind: str, message: str, path: Path) -> None:
        if self.by_hand:
            self.faults.append(self.document.fault(kind, message, path))
            return
        told = ".".join(part for part in path if isinstance(part, str))
        text = f"{told}: {message}" if told else message
        self.faults.append(self.document.fault(kind, text, ("log", self.taken - 1)))

    def _engine(self, engine: Any) -> None:
        if not engine:
            return
        try:
            self.layout = layout(engine)
        except LayoutError as error:
            for path, message in error.faults:
                self._fault("engine", message, ("engine", *path))

    def _also_measure(self, header: Any) -> None:
        for n, name in enumerate((header or {}).get("also_measure") or ()):
            if name not in self.catalogue.characteristics:
                hint = did_you_mean(str(name), self.catalogue.characteristics)
                self._fault("job", f"no characteristic is called '{name}'{hint}", ("job", "also_measure", n))

    def _gauge(self, event: Event) -> None:
        gauge = str(event.body["gauge"])
        fields = event.body["fields"]
        kind = str(fields.get("kind"))
        path: Path = ("gauges", gauge)
        known = self.catalogue.gauge_kinds.get(kind)
        reads = known.reads if known else kind
        if known is None:
            hint = did_you_mean(kind, self.catalogue.gauge_kinds)
            self._fault("gauge", f"no kind of gauge is called '{kind}'{hint}", (*path, "kind"))
        try:
            found: Iterable[str] = defects(model(GaugeRevision(gauge, 1, fields, event.id)))
        except GaugeFault as fault:
            found = [str(fault)]
        for message in found:
            if not (reads in ("leaves", "size") and "resolution" in message):
                self._fault("gauge", message, path)
        if reads == "size" and not fields.get("size"):
            self._fault("gauge", f"gauge {gauge}: no size; give the one engraved on it, such as 6.000", path)

    def _limits(self, event: Event) -> None:
        try:
            read_sheet(str(event.body["text"]), str(event.body["name"]), self.catalogue)
        except Faulty as faulty:
            self.faults += faulty.faults

    def _setting(self, event: Event) -> None:
        path: Path = ("settings", self.settings, "with")
        self.settings += 1
        if event.body.get("with") and event.body["with"] == event.body["gauge"]:
            message = f"gauge {event.body['gauge']} cannot be its own master; name what it was set with"
            self._fault("setting", message, path)

    def _waiver(self, event: Event) -> None:
        path: Path = ("waived", self.waivers)
        self.waivers += 1
        name, place = str(event.body["characteristic"]), str(event.body["place"])
        entry = self.catalogue.characteristics.get(name)
        if entry is None:
            hint = did_you_mean(name, self.catalogue.characteristics)
            self._fault("waived", f"no characteristic is called '{name}'{hint}", (*path, "characteristic"))
        elif self.layout is not None and not self._waivable(self.layout, entry, event.body.get("scope"), place):
            self._fault("waived", misplaced(self.layout, entry, place), (*path, "place"))

    def _waivable(self, found: Layout, entry: Characteristic, scope: Any, place: str) -> bool:
        """A station; or, for the rest of a series, the location of one."""
        whole = scope == "rest" and place in map(location, stations(found, entry))
        return whole or not misplaced(found, entry, place)

    def _reading(self, event: Event) -> None:
        path: Path = ("readings", self.readings)
        self.readings += 1
        name = str(event.body["characteristic"])
        entry = self.catalogue.characteristics.get(name)
        if entry is None:
            hint = did_you_mean(name, self.catalogue.characteristics)
            self._fault("reading", f"no characteristic is called '{name}'{hint}", (*path, "characteristic"))
            return
        if not entry.measured:
            self._fault(
                "reading", f"{entry.term} is worked out from other readings; enter those", (*path, "characteristic")
            )
            return
        if self.layout is not None:
            why = misplaced(self.layout, entry, str(event.body["place"]))
            if why:
                self._fault("reading", why, (*path, "place"))
        self._kind(event, entry.kind, path)
        for way, message in look_faults(entry, event.body, self.catalogue):
            self._fault("reading", message, (*path, *way))

    def _kind(self, event: Event, kind: str, path: Path) -> None:
        meaning = event.body.get("meaning")
        if not isinstance(meaning, dict):
            return
        if meaning["kind"] == "interval" and kind not in ("leaves", "look"):
            self._fault(
                "reading", "leaves do not read this; give a number and the gauge that showed it", (*path, "gauge")
            )
