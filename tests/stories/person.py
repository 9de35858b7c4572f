"""Somebody at a keyboard who knows the engine and has read no manual: Tab, letters, arrows and Enter, each press counted."""

import io
from dataclasses import dataclass, field
from typing import Any

from PIL import Image

from stories.clean import READ_IN
from stories.whole import INCH, clean_line
from witnessmark.desk.state import State, state
from witnessmark.record.event import Event
from witnessmark.shell.demo import demo_events
from witnessmark.shell.resources import catalogue

MOST_TABS = 160
FLAT = ("kind", "unit", "resolution", "permissible_error", "leaf_error")
POSITIONS = {"f": "1", "m": "1", "r": "1"}


@dataclass
class Person:
    """Hands on a keyboard in front of one page; `presses` counts every key, `stops` what was in the way."""

    page: Any
    address: str
    presses: int = 0
    faults: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.page.on("pageerror", lambda error: self.faults.append(str(error)))

    def press(self, key: str, times: int = 1) -> None:
        for _ in range(times):
            self.page.keyboard.press(key)
            self.presses += 1

    def type(self, text: str) -> None:
        self.page.keyboard.type(text)
        self.presses += len(text)

    def tab_to(self, selector: str) -> None:
        """Tab on until the wanted control has the focus; a control that cannot be reached so is a fault of the page."""
        assert self.page.query_selector(selector), f"{self.page.url} has no {selector}"
        for _ in range(MOST_TABS):
            if self.page.evaluate("wanted => document.activeElement.matches(wanted)", selector):
                return
            self.press("Tab")
        raise AssertionError(f"{selector} is not reached by {MOST_TABS} Tabs on {self.page.url}")

    def follow(self, selector: str) -> None:
        self.tab_to(selector)
        with self.page.expect_navigation():
            self.press("Enter")

    def write(self, selector: str, text: str) -> None:
        self.tab_to(selector)
        if self.page.evaluate("() => document.activeElement.value"):
            self.press("Control+a")
        self.type(text)

    def choose(self, selector: str, value: str) -> None:
        """An option by the arrow keys: whoever knows no words goes down the list."""
        self.tab_to(selector)
        ahead = self.page.evaluate("""wanted => { const list = document.activeElement, to = [...list.options].findIndex(one => one.value === wanted);
            return to < 0 ? null : to - list.selectedIndex; }""", value)  # fmt: skip
        assert ahead is not None, f"{selector} does not offer {value}"
        self.press("ArrowDown" if ahead > 0 else "ArrowUp", abs(ahead))
        assert self.page.evaluate("() => document.activeElement.value") == value

    def keep(self) -> None:
        """Enter in a blank keeps its form."""
        with self.page.expect_navigation():
            self.press("Enter")


class Told:
    """What the invented story of a demo head tells: engine, gauges, settings, readings, in the words of its file."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.events: tuple[Event, ...] = demo_events(name)
        (opened,) = self.bodies("job_opened")
        self.header, self.engine = opened["job"], opened["engine"]
        self.gauges = {body["gauge"]: body["fields"] for body in self.bodies("gauge_entered")}
        self.settings = self.bodies("setting_made")
        (self.limits,) = self.bodies("limits_entered")
        self.units = INCH if any(one["unit"] == "in" for one in self.gauges.values()) else READ_IN
        self.read = {(body["characteristic"], body["place"]): body for body in self.bodies("reading_taken")}
        self.first: dict[str, str] = {}
        for (characteristic, _), body in self.read.items():
            self.first.setdefault(characteristic, self.typed(body))

    def bodies(self, kind: str) -> list[dict[str, Any]]:
        return [dict(event.body) for event in self.events if event.kind == kind]

    def typed(self, body: dict[str, Any]) -> str:
        """What is typed for a reading of the story; an answer by its number."""
        meaning = body.get("meaning") or {}
        if meaning.get("kind") != "look":
            return str(body["raw"])
        number = list(catalogue().characteristics[body["characteristic"]].says).index(meaning["says"]) + 1
        return f"{number} {meaning['value']}" if meaning.get("value") else str(number)

    def line(self, characteristic: str, place: str) -> str:
        """The story's own reading, else that of a like place, else what a part in good order shows."""
        body = self.read.get((characteristic, place))
        return (self.typed(body) if body else "") or self.first.get(characteristic) or clean_line(characteristic, self.units)


def begin(person: Person, told: Told, sheet: str) -> None:
    """From the start page to a job with its engine and its limit sheet, on one form."""
    person.page.goto(person.address)
    person.follow('a[href="/new"]')
    person.write("#job-id", str(told.header["id"]))
    person.write("#job-engine", str(told.header["engine"]))
    for name in ("works", "customer", "complaint", "received", "engine_number", "distance"):
        if name in told.header:
            person.write(f"#job-{name}", str(told.header[name]))
    person.tab_to('[name="invented"]')
    person.press("Space")
    for name, value in _engine_blanks(told.engine):
        kind = person.page.eval_on_selector(f"#engine-of-{name}", "one => one.tagName")
        (person.choose if kind == "SELECT" else person.write)(f"#engine-of-{name}", value)
    person.tab_to("#limits-file")
    person.page.set_input_files(
        "#limits-file", files=[{"name": told.limits["name"], "mimeType": "text/yaml", "buffer": sheet.encode()}]
    )
    person.follow("button.begin")


def _engine_blanks(engine: dict[str, Any]) -> list[tuple[str, str]]:
    """In the order of the form, which is the order of the Tabs."""
    flat = {key: str(value) for key, value in engine.items() if isinstance(value, str | int)}
    flat |= {side: str(len(value) if isinstance(value, list | tuple) else value) for side, value in engine["valves"].items()}
    flat |= {side: " ".join(map(str, row)) for side, row in engine.get("banks", {}).items()}
    order = ("layout", "cylinders", "inl", "exh", "gear", "head", "block", "cams", "cam_journals", "head_bolts", "drive",
             "springs", "seal", "fuel", "cooling", "hybrid", "left", "right")  # fmt: skip
    return [(name, flat[name]) for name in order if name in flat]


def add_gauge(person: Person, job: str, name: str, fields: dict[str, Any]) -> None:
    """One gauge by the form of the job sheet, blank after blank."""
    person.write("#gauge-gauge", name)
    person.choose("#gauge-kind", str(fields["kind"]))
    person.choose("#gauge-unit", str(fields["unit"]))
    flat = {**fields, **fields.get("calibration", {}), **fields.get("repeatability", {})}
    for blank in ("resolution", "U", "k", "date", "due", "certificate", "permissible_error", "s", "n", "set", "leaf_error",
                  "reads_from", "reads_to", "lever", "sensor"):
        if blank in flat:
            value = flat[blank]
            person.write(f"#gauge-{blank}", " ".join(map(str, value)) if isinstance(value, list | tuple) else str(value))
    person.keep()
    assert "kept=gauge" in person.page.url, person.page.inner_text("#amiss")


def add_setting(person: Person, body: dict[str, Any]) -> None:
    person.choose("#setting-gauge", str(body["gauge"]))
    person.write("#setting-set_to", str(body["set_to"]))
    if body.get("with"):
        control = person.page.eval_on_selector("#setting-with", "one => one.tagName")
        (person.choose if control == "SELECT" else person.write)("#setting-with", str(body["with"]))
    person.follow("#settings form button")  # Enter on a list of choices opens it and keeps nothing
    assert "kept=setting" in person.page.url, person.page.inner_text("#amiss")


def photo() -> bytes:
    """An invented photo: a grey plate with a dark line across it."""
    made = Image.new("RGB", (320, 240), (150, 150, 150))
    made.paste((20, 20, 20), (40, 118, 280, 121))
    out = io.BytesIO()
    made.save(out, "JPEG")
    return out.getvalue()


def opened(store: Any, job: str) -> State:
    return state(store.job(job), catalogue())
