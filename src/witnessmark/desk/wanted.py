"""What a job is to be measured for besides its limits, and the facts of its head: the header is entered anew.

A header is entered on top of the one that holds; two devices that change it without sight of each other open a
question, and nothing is overwritten.
"""

from collections.abc import Callable, Iterable, Mapping
from datetime import date
from typing import Any

from witnessmark.catalogue.entry import Catalogue, Characteristic
from witnessmark.desk.bench import Refused
from witnessmark.desk.commands import Stamp
from witnessmark.desk.state import State
from witnessmark.engine.shape import Layout
from witnessmark.engine.walk import stations
from witnessmark.record.event import Event
from witnessmark.text.near import did_you_mean

FACTS: Mapping[str, str] = {
    "works": "works",
    "customer": "customer",
    "complaint": "came in with",
    "received": "received on",
    "engine_number": "engine number",
    "head_number": "head number",
    "casting_number": "casting number",
    "bank": "bank",
    "distance": "distance run",
    "hours": "hours run",
}
"""The facts of a job beside its number and its engine: key of the header, label."""
LONGEST = 200

_GASKET = ("head_flatness", "manifold_face_flatness", "upper_face_flatness", "deck_marks", "deck_finish", "head_height",
           "head_cracks", "jacket_pressure_test")  # fmt: skip
_VALVE_GROUPS = ("valve", "guide", "seat", "spring")
_LASH = ("valve_lash", "lash_shim", "hla_preload")


def _of_gasket(entry: Characteristic) -> bool:
    return entry.id in _GASKET


def _of_valves(entry: Characteristic) -> bool:
    return entry.core and (entry.group in _VALVE_GROUPS or entry.id in _LASH)


def _of_all(entry: Characteristic) -> bool:
    return entry.core


PRESETS: Mapping[str, Callable[[Characteristic], bool]] = {
    "gasket job": _of_gasket, "valve job": _of_valves, "whole head": _of_all,
}  # fmt: skip
"""Lists by the name of the work. Our judgement of what such a job needs; common practice, no source."""


def on_this_engine(catalogue: Catalogue, layout: Layout) -> tuple[Characteristic, ...]:
    """Every characteristic that this engine has a place for, in bench order."""
    return tuple(entry for entry in catalogue.characteristics.values() if stations(layout, entry))


def preset(state: State, name: str) -> tuple[str, ...]:
    """The ids of a preset as far as this engine has them. Raises Refused."""
    if name not in PRESETS:
        raise Refused(f"no list is called '{name[:60]}'; there are {', '.join(PRESETS)}")
    return tuple(entry.id for entry in on_this_engine(state.catalogue, _layout(state)) if PRESETS[name](entry))


def list_to_measure(state: State, stamp: Stamp, wanted: Iterable[str]) -> tuple[Event, ...]:
    """The job's own list anew: `wanted` ids, in bench order. What has a limit is asked for without it."""
    known, names = state.catalogue.characteristics, set(wanted)
    for name in sorted(names - known.keys()):
        raise Refused(f"no characteristic is called '{name[:60]}'{did_you_mean(name[:60], known)}")
    layout = _layout(state)
    for name in sorted(names):
        if not stations(layout, known[name]):
            raise Refused(f"this engine has no place for {known[name].term}; leave it off the list")
    return _header(state, stamp, {"also_measure": [name for name in known if name in names]})


def job_facts(state: State, stamp: Stamp, facts: Mapping[str, str]) -> tuple[Event, ...]:
    """The facts of the job anew; one that is sent empty is struck out, one that is not sent stays. Raises Refused."""
    for name in facts:
        if name not in FACTS:
            raise Refused(f"a job has no fact called '{name[:60]}'; it has {', '.join(FACTS)}")
    said = {name: " ".join(text.split()) for name, text in facts.items()}
    check_facts(said)
    return _header(state, stamp, said)


def check_facts(facts: Mapping[str, str]) -> None:
    """Raise Refused for a day that is none and for a fact that is longer than a tag."""
    for name, text in facts.items():
        if len(text) > LONGEST:
            raise Refused(f"{FACTS[name]}: {len(text)} letters; say it in {LONGEST}, the rest goes into a note")
    try:
        if facts.get("received"):
            date.fromisoformat(facts["received"])
    except ValueError:
        raise Refused(f"received on '{facts['received'][:40]}': write the day as year-month-day, 2026-11-24") from None


def _header(state: State, stamp: Stamp, changes: Mapping[str, Any]) -> tuple[Event, ...]:
    job = {"id": state.job.id, **state.job.header, **changes}
    kept = {name: value for name, value in job.items() if value not in ("", None, [])}
    if kept == {"id": state.job.id, **state.job.header}:
        return ()  # nothing is new, so nothing is written
    return (stamp.event("job_opened", {"job": kept, "engine": None, "based_on": state.job.header_event}),)


def _layout(state: State) -> Layout:
    if state.layout is None:
        raise Refused("describe the engine first: its layout tells which places there are to measure")
    return state.layout
