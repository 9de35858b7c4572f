"""Invented heads with limits, sizes and prices in memory, and the events that somebody at the desk adds."""

from dataclasses import replace
from itertools import count

from witnessmark.desk.commands import Stamp
from witnessmark.desk.state import Memory, state
from witnessmark.record.replay import replay
from witnessmark.shell.demo import demo_events
from witnessmark.shell.resources import catalogue


class Desk:
    """One job: `now` is its state, `add` keeps events, `do` keeps what a command makes."""

    def __init__(self, name="tern", left=()):
        self.log = [event for event in demo_events(name) if event.kind not in left]
        self.memory, self.numbers = Memory(), count(1)

    @property
    def now(self):
        return state(replay(self.log), catalogue(), memory=self.memory)

    def stamp(self):
        return Stamp(f"x{next(self.numbers)}", "2026-11-25T10:00:00Z", "J. M.", "bench-1")

    def add(self, *events):
        self.log += [replace(event, device_seq=1000 + len(self.log) + n) for n, event in enumerate(events)]
        return events

    def do(self, command, *args, **kwargs):
        return self.add(*command(self.now, self.stamp(), *args, **kwargs))

    def read_again(self, characteristic, place, raw):
        """The same gauge at the same place in the round after machining, with another reading."""
        before = next(event for event in self.log if event.kind == "reading_taken"
                      and (event.body["characteristic"], event.body["place"]) == (characteristic, place))  # fmt: skip
        meaning = {**before.body["meaning"], "value": raw}
        body = {**before.body, "round": "back from machining", "raw": raw, "meaning": meaning}
        self.add(replace(before, id=f"{characteristic}:{place}:back", body=body, at="2026-11-27T09:00:00Z"))
