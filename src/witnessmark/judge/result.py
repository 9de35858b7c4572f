"""What judging gives: results, what is missing, a count of both. All values are in inside units (mm, N)."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any, TypeVar, overload

WITHIN, OUT, CLOSE = "within", "out", "too close to call"
T = TypeVar("T")
VERDICTS = (WITHIN, OUT, CLOSE)


@dataclass(frozen=True, slots=True)
class Against:
    """The limit that a result was held against."""

    low: float | None
    high: float | None
    low_text: str
    high_text: str
    unit: str
    kind: str  # service | new | whatever the book calls it
    document: str
    page: str
    bearer: str
    new_low: float | None = None  # the target for new or machined work, drawn beside the service limit
    new_high: float | None = None
    new_low_text: str = ""
    new_high_text: str = ""
    to_check: bool = False  # copied, and nobody has held it against the document yet
    accept: tuple[str, ...] = ()  # answers of a look that may stand


@dataclass(frozen=True, slots=True)
class Settle:
    """What would settle a value that is too close to call, if the mean stays where it is."""

    kind: str  # repeats | gauge | leaf | method | amount (say how much) | material (say of what the head is) | none
    repeats: int | None = None  # how many readings in all
    U: float | None = None  # expanded uncertainty (k = 2) that a gauge would need
    gauge: str | None = None  # a gauge of the register that has it
    leaf: str | None = None  # thickness in `leaf_unit`, that of the set in hand
    leaf_unit: str = "mm"
    chance: float | None = None
    method: str | None = None  # a way of looking that proves what it does not find
    method_term: str = ""


@dataclass(frozen=True, slots=True)
class Line:
    """One row of a budget: a source and what it adds to the value's standard uncertainty."""

    source: str  # words: "calibration of M-07", "reading and repeatability", ...
    kind: str
    u: float
    dof: float | None  # None: known, infinitely many
    shared: bool


class Lazy(Sequence[T]):
    """What a result rests on, worked out when somebody looks at it: a head has hundreds, and few are looked at."""

    __slots__ = ("_made", "_make")

    def __init__(self, make: Callable[[], Iterable[T]]) -> None:
        self._make = make
        self._made: tuple[T, ...] | None = None

    def _known(self) -> tuple[T, ...]:
        if self._made is None:
            self._made = tuple(self._make())
        return self._made

    @overload
    def __getitem__(self, at: int) -> T: ...
    @overload
    def __getitem__(self, at: slice) -> tuple[T, ...]: ...
    def __getitem__(self, at: int | slice) -> T | tuple[T, ...]:
        return self._known()[at]

    def __len__(self) -> int:
        return len(self._known())

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Sequence) and self._known() == tuple(other)

    def __hash__(self) -> int:
        return hash(self._known())

    def __repr__(self) -> str:
        return repr(self._known())


@dataclass(frozen=True, slots=True)
class Source:
    """One reading behind a result."""

    reading: str  # id
    place: str
    value: float | None
    interval: tuple[float, float | None] | None
    raw: str
    gauge: str | None
    p_within: float | None = None
    verdict: str = ""
    u: float | None = None
    says: str = ""  # what was said, where it was looked at
    method: str = ""


@dataclass(frozen=True, slots=True)
class Result:
    """One row of the judgement: a characteristic at one location (rule `each`: at one station)."""

    characteristic: str
    location: str
    round: str
    rule: str
    value: float | None
    interval: tuple[float, float | None] | None
    u: float | None
    dof: float | None
    verdict: str  # one of VERDICTS, or "" where no limit has been entered
    p_within: float | None
    against: Against | None
    gauges: tuple[str, ...]
    complete: bool
    read: int
    needed: int
    sources: Sequence[Source]
    budget: Sequence[Line] = ()
    guard_within: float | None = None  # length of the guard band of the rule `within`
    guard_out: float | None = None
    beyond: float | None = None  # how far outside the limit the value lies
    floor: float | None = None  # form only: what a perfect part would read
    p_if_at_limit: tuple[float, float] | None = None
    perfect_passes: float | None = None
    settle: Settle | None = None
    reason: str = ""  # name of the reason; `explain` has the words for it
    assumed: tuple[str, ...] = ()  # gauge assumed, temperature assumed, ...
    questions: tuple[str, ...] = ()  # ids of readings that are kept but not counted
    derived: bool = False
    quantity: str = "length"
    step: str = "0.001"  # smallest digit that the coarsest gauge behind it resolves, in `step_unit`
    step_unit: str = "mm"
    fine: bool = False  # a roughness, told in micrometre or microinch
    says: str = ""  # the answer of the station that decides, where it was looked at
    method: str = ""  # how it was looked at
    method_term: str = ""
    photos: tuple[str, ...] = ()
    suspect: tuple[str, ...] = ()  # ids of readings on which a zero check that was not passed throws doubt
    overdue: tuple[str, ...] = ()  # gauges that were past their calibration due date when read
    extent: str = "full"  # "quick" where only the worst places were read
    near: bool = False  # on the quick route: near its limit, so that the full stations are asked for
    extra: dict[str, Any] = field(default_factory=dict)

    @property
    def decided(self) -> bool:
        """Whether nothing still to be read can change the verdict: complete, or a worst station that is out.

        Never while a zero check throws doubt on one of its readings.
        """
        return not self.suspect and (self.complete or (self.rule == "worst" and self.verdict == OUT))

    @property
    def stations(self) -> tuple[str, ...]:
        """Places of the readings behind this result."""
        return tuple(source.place for source in self.sources)


@dataclass(frozen=True, slots=True)
class Missing:
    """A station that has a limit, or is on the job's list, and no counted reading."""

    characteristic: str
    place: str
    round: str
    waived: str = ""  # why it was left out: not measured, cannot be measured, rest waived


@dataclass(frozen=True, slots=True)
class Judgement:
    """All results of a job, in bench order, with what is missing."""

    results: tuple[Result, ...]
    missing: tuple[Missing, ...]

    @property
    def summary(self) -> dict[str, int]:
        """How many of each verdict (finished series only), how many unfinished, missing, and asked back."""
        finished = [result for result in self.results if result.decided and result.verdict]
        return {
            "within": sum(result.verdict == WITHIN for result in finished),
            "out": sum(result.verdict == OUT for result in finished),
            "too close to call": sum(result.verdict == CLOSE for result in finished),
            "so far": sum(not result.decided for result in self.results),
            "no limit": sum(result.complete and not result.suspect and not result.verdict for result in self.results),
            "missing": sum(not missing.waived for missing in self.missing),
            "waived": sum(bool(missing.waived) for missing in self.missing),
            "questions": len({name for result in self.results for name in result.questions}),
        }
