"""What somebody reads off a whole invented head, station by station, and how it is brought to an empty job."""

import random
from importlib.resources import files

from witnessmark.desk.state import State, state
from witnessmark.record.jobfile import read_job
from witnessmark.record.replay import replay
from witnessmark.shell.resources import catalogue

JOB = "HL-0147"


def demo_text(name):
    return files("witnessmark.shell.demo").joinpath(name).read_text("utf-8")


def empty_job(store):
    """The demo job with engine, gauges, setting and limits, and not one reading."""
    text = demo_text("tern.yaml").split("readings:\n")[0]
    events = read_job(text, "tern.yaml", demo_text)
    store.create(JOB, created_at="2026-11-25T08:00:00Z", title="Tern 2.0", events=events)
    return state(store.job(JOB), catalogue())


def lines(opened: State) -> dict[tuple[str, str], str]:
    """What is typed at each station of the route: the demo's own readings, and plausible ones where it has none."""
    demo = state(replay(read_job(demo_text("tern.yaml"), "tern.yaml", demo_text)), catalogue())
    chance = random.Random(5)
    usual = {"lobe_height": lambda: f"{44.95 + chance.uniform(0, 0.02):.3f}", "base_circle": lambda: f"{35.40 + chance.uniform(0, 0.01):.3f}",
             "cam_journal_diameter": lambda: f"{24.960 + chance.uniform(0, 0.004):.3f}", "valve_lash": lambda: "0.28 0.30",
             "stem_diameter": lambda: f"{5.955 + chance.uniform(0, 0.008):.3f}", "tall_load": lambda: "296", "short_load": lambda: "580",
             "bolt_length": lambda: "110.20", "bolt_full_diameter": lambda: "9.91", "bolt_least_diameter": lambda: "9.89"}  # fmt: skip
    found = {}
    for stop in opened.route:
        entry = opened.catalogue.characteristics[stop.characteristic]
        read = [one for one in demo.readings_at(stop.characteristic, stop.place) if one.state == "counted"]
        if entry.kind == "look":
            found[stop.characteristic, stop.place] = _by_number(entry, read)
        else:
            found[stop.characteristic, stop.place] = read[0].raw if read else usual[stop.characteristic]()
    return found


def _by_number(entry, read) -> str:
    """An answer as the pad gives it: its number, and how much where that was said."""
    meaning = read[0].meaning if read else {"says": next(iter(entry.says))}
    number = list(entry.says).index(meaning["says"]) + 1
    return f"{number} {meaning['value']}" if meaning.get("value") else str(number)


def gauges(opened: State) -> dict[str, str]:
    """The gauge that the demo took for each characteristic."""
    demo = read_job(demo_text("tern.yaml"), "tern.yaml", demo_text)
    found = {
        event.body["characteristic"]: event.body["gauge"]
        for event in demo
        if event.kind == "reading_taken" and event.body.get("gauge")
    }
    return {**found, "lobe_height": "M-25", "base_circle": "M-25"}
