"""What somebody reads off a whole invented head, station by station, and how it is brought to an empty job."""

from importlib.resources import files

from stories.person import Told
from witnessmark.desk.state import State, state
from witnessmark.record.jobfile import read_job
from witnessmark.shell.resources import catalogue

JOB = "HL-0147"  # the Tern, which other tests take from here
SINGLE = "HL-0149"


def demo_text(name):
    return files("witnessmark.shell.demo").joinpath(name).read_text("utf-8")


def empty_job(store):
    """The demo job of the single with engine, gauges and limits, and not one reading."""
    text = demo_text("wren.yaml").split("readings:\n")[0]
    events = read_job(text, "wren.yaml", demo_text)
    store.create(SINGLE, created_at="2026-11-25T08:00:00Z", title="Wren 125", events=events)
    return state(store.job(SINGLE), catalogue())


def lines(opened: State) -> dict[tuple[str, str], str]:
    """What is typed at each station of the route: the story's own readings, and plausible ones where it has none."""
    told = Told("wren")
    found = {(stop.characteristic, stop.place): told.line(stop.characteristic, stop.place) for stop in opened.route}
    return {**found, ("cam_end_play", "cam"): "0.30"}  # the slip of the story would be asked back
