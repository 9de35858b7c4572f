"""A lesson played: each line typed at the bench of the demo job, with what the screen says next.

A block of a lesson marked `bench` holds one line a step: where the hand is | what is typed | what the screen says.
An arrow before the place means that the hand went there by itself, so that a number corrects the reading there.
"""

from dataclasses import dataclass, field, replace
from importlib.resources import files

from witnessmark.desk.bench import Bench, Outcome
from witnessmark.desk.enter import enter
from witnessmark.desk.route import Stop
from witnessmark.desk.state import Memory, State, state
from witnessmark.engine.place import shown
from witnessmark.explain.words import verdict_words
from witnessmark.record.event import Event
from witnessmark.record.jobfile import read_job
from witnessmark.record.replay import replay
from witnessmark.shell.resources import catalogue

FOLDER = files("witnessmark.shell.demo")


def demo() -> tuple[Event, ...]:
    """The events of the demo job, numbered as the store would number them."""
    events = read_job(FOLDER.joinpath("tern.yaml").read_text("utf-8"), "tern.yaml",
                      lambda name: FOLDER.joinpath(name).read_text("utf-8"))  # fmt: skip
    return tuple(event.stored(number, "") for number, event in enumerate(events, 1))


@dataclass
class Lesson:
    """One pair of hands at the demo job."""

    events: list[Event] = field(default_factory=lambda: list(demo()))
    memory: Memory = field(default_factory=Memory)
    at: Stop | None = None
    said: Outcome | None = None

    def __post_init__(self) -> None:
        now = self.state()
        self.at = next(stop for stop in now.route if not now.done(stop))

    def state(self) -> State:
        """The job as it stands."""
        return state(replay(self.events), catalogue(), memory=self.memory)

    @property
    def here(self) -> str:
        """The place in hand, as the bench shows it."""
        return shown(self.at.place) if self.at else "all done"

    def type(self, line: str, *, go: str = "") -> Outcome:
        """Type a line; with `go` the hand goes to that place of the same characteristic first."""
        now = self.state()
        supersedes = None
        if go:
            self.at = next(s for s in now.route if shown(s.place) == go and s.characteristic == self.at.characteristic)
            counted = [r for r in now.readings_at(self.at.characteristic, self.at.place) if r.state == "counted"]
            supersedes = counted[-1].id if counted and line[:1].isdigit() else None
        number = len(self.events) + 1
        bench = Bench(id=f"lesson-{number}", characteristic=self.at.characteristic, place=self.at.place,
                      gauge=self.gauge(now), by="trainee", device="lesson", device_seq=number,
                      at="2026-11-25T10:00:00Z", supersedes=supersedes)  # fmt: skip
        self.said = enter(now, bench, line, line)
        for one in self.said.events:
            self.events.append(replace(one, seq=len(self.events) + 1))
        self.at = self.said.next or self.at
        return self.said

    def gauge(self, now: State) -> str | None:
        """The gauge that the demo used for this characteristic last."""
        used = [r.gauge for r in now.job.readings if r.characteristic == self.at.characteristic and r.gauge]
        return used[-1] if used else None

    def verdict(self, characteristic: str, place: str) -> str:
        """The verdict with its small line, as the bench shows it."""
        (found,) = [result for result in self.state().judgement.results
                    if result.characteristic == characteristic and shown(result.location) == place]  # fmt: skip
        word, small = verdict_words(found)
        return f"{word}, {small}" if small else word
