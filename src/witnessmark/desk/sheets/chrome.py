"""The frame of every sheet: the job line on top and the title block at the foot."""

from collections.abc import Iterable
from dataclasses import dataclass

from witnessmark.record.job import COUNTED, Job

STAGES = ("complaint", "strip-down", "crack test", "measure", "decide", "order", "re-measure", "assemble", "verify",
          "record")  # fmt: skip
"""A head job from the door in to the door out."""

_SHEETS = {"crack test": "/bench?characteristic=head_cracks", "measure": "/bench", "decide": "/decide",
           "order": "/plan", "re-measure": "/bench?round=back%20from%20machining", "assemble": "/assemble",
           "verify": "/verify", "record": "/record"}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Stage:
    """One link of the job line. `look` is a list of classes; `share` is the part done of it, in percent."""

    words: str
    href: str
    look: str
    here: bool = False
    share: int = 0


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell of the title block: a label over a fact.

    `control` names what pressing it changes ("gauge", "round", "by", "part-at", "unit", "light"); `opens` says that the
    change is made in the act field of the same page. `href` makes it a link; `name` gives a plain cell an id.
    """

    label: str
    text: str
    control: str = ""
    opens: bool = False
    href: str = ""
    grow: bool = False
    name: str = ""


@dataclass(frozen=True, slots=True)
class Chrome:
    """Job line, title block and the title of the page."""

    title: str
    stages: tuple[Stage, ...]
    cells: tuple[Cell, ...]


TESTS = ("head_cracks", "jacket_pressure_test")
"""What a crack test is: the surface looked at, the jacket held under pressure."""


def stages_done(job: Job) -> tuple[str, ...]:
    """Stages of the job that its record shows as done: a complaint taken down, an engine that was taken apart, a head
    of which both tests have an answer that counts, or a reason why there is none, and a job
    that was closed."""
    counted = {one.characteristic for one in job.readings if one.state == COUNTED}
    told = counted | {one.characteristic for one in job.waived}
    known = (("complaint", job.header.get("complaint")), ("strip-down", job.readings),
             ("crack test", told.issuperset(TESTS)), ("order", job.order), ("record", job.closings))  # fmt: skip
    return tuple(stage for stage, holds in known if holds)


def job_line(job: str, here: str, done: Iterable[str] = (), read: int | None = None, of: int | None = None,
             ) -> tuple[Stage, ...]:  # fmt: skip
    """The ten stages of a job; `here` is painted and shows how many of its stations are read where that is known."""
    finished = set(done)
    at = STAGES.index(here)
    stages = []
    for n, name in enumerate(STAGES):
        looks = [word for word, holds in (
            ("done", name in finished and n != at),
            ("here", n == at),
            ("counted", n == at and of is not None),
            ("beside", abs(n - at) == 1),
        ) if holds]  # fmt: skip
        counted = n == at and of is not None and read is not None
        words = f"{name} {read} of {of}" if counted else name
        stages.append(Stage(words, stage_href(job, name), " ".join(looks), n == at, _share(read, of) if counted else 0))
    return tuple(stages)


def _share(read: int | None, of: int | None) -> int:
    return min(100, 100 * (read or 0) // of) if of else 0


def stage_href(job: str, stage: str) -> str:
    """Where a stage's link leads; a stage that has no sheet of its own yet leads to the job's start sheet."""
    return f"/jobs/{job}{_SHEETS.get(stage, '')}" if job else "/"


def shown_in(unit: str) -> Cell:
    """The cell that switches the unit of display."""
    return Cell("shown in", "inch" if unit == "in" else "millimetre", control="unit")


def light() -> Cell:
    """The cell that switches day and night."""
    return Cell("light", "day / night", control="light")
