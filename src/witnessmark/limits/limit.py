"""The limit sheet as a value, and which of its limits holds for a place."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from witnessmark.catalogue.place import position, valve_kind
from witnessmark.limits.procedure import Procedure
from witnessmark.text.fault import Fault

VALUE_RULES = ("each", "worst", "mean")
SPREAD_RULES = ("spread", "spread_of_places")
TYPED_AT_BENCH = "typed at the bench"  # document of a sheet that grows limit by limit while somebody measures
BEARERS = ("must be proven good", "must be proven bad", "even")


@dataclass(frozen=True, slots=True)
class Selector:
    """The places that a limit is for: a side, a position, a place with all below it. Empty is everywhere."""

    for_: str = ""
    position: str = ""
    place: str = ""

    def covers(self, place: str) -> bool:
        """Whether a place, with or without its station, is meant."""
        if self.place and not (place == self.place or place.startswith(f"{self.place}/")):
            return False
        if self.for_ and valve_kind(place) != self.for_:
            return False
        return not self.position or position(place) == self.position

    @property
    def rank(self) -> int:
        """How particular it is: a place beats a position, a longer place a shorter, a position a side."""
        return 4 * len(self.place.split("/")) * bool(self.place) + 2 * bool(self.position) + bool(self.for_)

    def __str__(self) -> str:
        return ", ".join(filter(None, (self.for_, self.position, self.place))) or "everywhere"


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit of one kind for some places. `low` and `high` in the unit inside, None where the side is open.

    `kind` is "service" (may be used again), "new" (new or machined work), "given" (a test height that the document
    states and nobody measures: low and high are it), or any other word that the sheet brings. A limit of something that
    is looked at accepts answers; `low` and `high` then bound how much may be said beside the answer.
    """

    characteristic: str
    kind: str
    low: float | None
    high: float | None
    low_text: str
    high_text: str
    unit: str
    rule: str
    applies: Selector
    document: str
    page: str
    bearer: str
    line: int
    to_check: bool = False  # copied, and nobody has held it against the document yet
    accept: tuple[str, ...] = ()  # answers of a look that may stand; () where the good ones may

    @property
    def of_spread(self) -> bool:
        """Whether it limits a spread, not a value."""
        return self.rule in SPREAD_RULES


@dataclass(frozen=True, slots=True)
class Allowed:
    """What the document says of an operation. `most` in the unit inside, None unless `allowed` is "up to"."""

    allowed: str  # yes | no | up to | unknown
    most: float | None
    most_text: str
    unit: str
    document: str
    page: str
    line: int


@dataclass(frozen=True, slots=True)
class Sheet:
    """A limit sheet as the user copied it, with the hash of its text (SHA-256, hexadecimal)."""

    name: str
    document: str
    invented: bool
    bearer: str
    limits: tuple[Limit, ...]
    allowed: Mapping[str, Allowed]
    warnings: tuple[Fault, ...]
    hash: str
    text: str
    index: Mapping[str, tuple[Limit, ...]]  # characteristic -> its limits, the most particular first
    copied_from: str = ""  # the sheet or job from which this one was copied
    tightening: Mapping[str, Procedure] = field(default_factory=dict)  # joint -> how it is tightened


def limits_for(sheet: Sheet, characteristic: str, place: str, kind: str) -> tuple[Limit, ...]:
    """Every limit of a kind that holds for a place: at most one on the value, one on each sort of spread."""
    found: dict[str, Limit] = {}
    for limit in sheet.index.get(characteristic, ()):
        sort = limit.rule if limit.of_spread else "value"
        if limit.kind == kind and sort not in found and limit.applies.covers(place):
            found[sort] = limit
    return tuple(found[sort] for sort in ("value", *SPREAD_RULES) if sort in found)


def limit_for(sheet: Sheet, characteristic: str, place: str, kind: str) -> Limit | None:
    """The limit of a kind that holds for a place: the most particular selector wins, a value comes before a spread."""
    return next(iter(limits_for(sheet, characteristic, place, kind)), None)


def indexed(limits: tuple[Limit, ...]) -> dict[str, tuple[Limit, ...]]:
    """Limits by characteristic, the most particular first."""
    found: dict[str, list[Limit]] = {}
    for limit in sorted(limits, key=lambda limit: -limit.applies.rank):
        found.setdefault(limit.characteristic, []).append(limit)
    return {key: tuple(each) for key, each in found.items()}
