"""An invented job in a store, closed there: a small head with readings, a run at the bolts, and a photo named by none."""

from pathlib import Path

from shell.cli.command import SMALL, write
from witnessmark.desk.commands import Stamp
from witnessmark.desk.state import state
from witnessmark.record.event import Event
from witnessmark.record.replay import replay
from witnessmark.shell.closing import close_job
from witnessmark.shell.files import load_events
from witnessmark.shell.resources import catalogue
from witnessmark.shell.store.store import Store

JOB, NOW = "HL-1", "2026-11-26T10:00:00+01:00"
PROCEDURE = {"bolts": {"1": ["0", "0"], "2": ["80", "0"]}, "order": ["1", "2"],
             "stages": [{"torque": "25", "unit": "N·m"}, {"angle": "90"}]}  # fmt: skip


def fill(folder: Path) -> Store:
    """A store with the job, not closed."""
    folder.mkdir(parents=True, exist_ok=True)
    events = load_events(write(folder, SMALL))
    store = Store.open(folder / "store")
    store.create(JOB, created_at=NOW, title="Tern 2.0", events=[*events, *bolts()])
    return store


def bolts() -> list[Event]:
    def event(id: str, kind: str, **body: object) -> Event:
        return Event(id, kind, body, at=NOW, by="J. M.", device="bench-1")

    return [
        event("run1", "tightening_begun", joint="head", way="tighten", procedure=PROCEDURE, wrench="W-1", angle_by="A-1"),
        event("t1", "bolt_turned", run="run1", bolt="1", stage="1"),
        event("t2", "bolt_turned", run="run1", bolt="2", stage="1", final_torque="24.5", unit="N·m"),
        event("d2", "bolt_doubted", run="run1", bolt="2", why="lost count", note="=cmd|' /C calc'!A0"),
        event("s1", "step_signed", step="seals", did="done", text="Press the stem seals on"),
        event("c1", "conditions_entered", entries={"air_pressure": "1002 hPa"}),
    ]  # fmt: skip


def stamp(name: str = "x1", by: str = "R. P.", at: str = NOW) -> Stamp:
    return Stamp(name, at, by, "bench-1")


def now(store: Store):
    return state(store.job(JOB), catalogue())


def shut(store: Store, note: str = "the customer wants it back", **more: str):
    return close_job(store, now(store), stamp(), NOW, note=note, **more)


def closed(folder: Path) -> Store:
    """The same, closed."""
    store = fill(folder)
    shut(store)
    return store


def events_of(store: Store) -> tuple[Event, ...]:
    return store.events(JOB)


__all__ = ["JOB", "NOW", "closed", "events_of", "fill", "now", "replay", "shut", "stamp"]
