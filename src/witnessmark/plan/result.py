"""What ledger and plan give. Values in the unit inside; nothing here is said in words yet, `explain` has them."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from witnessmark.judge.result import Against


@dataclass(frozen=True, slots=True)
class LedgerRow:
    """One characteristic at one location: before, predicted after the intended work, and after by the gauge.

    before, predicted   None where it is not known; `unknown` then says what is missing.
    after               what was read in the round `back from machining`, with its own doubt; None while nothing was.
    verdict, p_within   of `predicted`, against the limit that holds for it (the new one where work is done on it).
    guard               length of the guard band at 0.95, None without a limit or where no place between two is sure.
    moved               whether the work moves it at all.
    unexplained         after - predicted where the gauge contradicts the geometry (more than 3 standard uncertainties).
    terms               the sum behind it: (what, by how much), largest first; they add up to predicted - before.
    """

    characteristic: str
    location: str
    group: str
    before: float | None
    predicted: float | None
    after: float | None
    u_before: float | None
    u: float | None
    u_after: float | None
    verdict_before: str
    verdict: str
    p_within: float | None
    against: Against | None
    guard: float | None
    moved: bool
    unexplained: float | None
    terms: tuple[tuple[str, float], ...]
    unknown: str = ""
    origin: str = ""  # where `before` comes from: read, entered, taken for granted, ...
    dimension: str = "length"


@dataclass(frozen=True, slots=True)
class Ledger:
    """Rows in groups, in the order in which a bench cares; what the work crosses; what is not known."""

    rows: tuple[LedgerRow, ...]
    crossed: tuple[LedgerRow, ...]  # within or close before, out after
    unknown: tuple[tuple[str, str], ...]  # (characteristic, what to measure or enter), each once


@dataclass(frozen=True, slots=True)
class Item:
    """One operation at one location in a plan. `amount` as ordered; least and most removal for the shop."""

    operation: str
    location: str
    amount: float | None  # None for a part that is put in
    least: float | None
    most: float | None
    cost: float
    minutes: float
    reasons: tuple[tuple[str, Mapping[str, Any]], ...] = ()  # (name of the reason, its numbers); `explain` has words


@dataclass(frozen=True, slots=True)
class Gate:
    """Something that must be so before work goes on. `passed` is None while nobody has looked."""

    id: str
    before: str  # the operation before which it stands; "" first of all
    passed: bool | None
    facts: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Plan:
    """One way to bring everything inside its limits.

    status              optimal | feasible: verified on the geometry; `gap` = cost - bound, in money.
    first_pass_yield    chance that every true value is inside its limit, shims chosen after re-measuring; None untried.
    given_up            (name, numbers) of what this plan costs beside money: metal of the allowance, time, a wait.
    unsure              ids "characteristic@location" that stay too close to call, which the user must accept.
    """

    name: str  # A, B, C
    kind: str  # least cost | surest | least metal | fewest new parts | least time | other head | without <operation>
    status: str
    cost: float
    bound: float
    gap: float
    currency: str
    minutes: float
    items: tuple[Item, ...]
    gates: tuple[Gate, ...]
    predicted: tuple[LedgerRow, ...]
    first_pass_yield: float | None
    given_up: tuple[tuple[str, Mapping[str, Any]], ...] = ()
    unsure: tuple[str, ...] = ()
    shims: Any = None  # what the shelf gives, of `fit`; None where the gear has none
    parts: tuple[Any, ...] = ()  # parts to buy, of `plan.parts`


@dataclass(frozen=True, slots=True)
class InTheWay:
    """One limit that stands in the way: which, at which place, and by how little it would have to give."""

    characteristic: str
    location: str
    side: str  # low | high
    limit: float
    gives: float


@dataclass(frozen=True, slots=True)
class Conflict:
    """Why there is no plan.

    kind   limits: they contradict each other; gauge: they agree, and only the doubt is too large; physical: no cut
           reaches; permission: only what the book forbids, or does not say, would do.
    """

    kind: str
    rows: tuple[InTheWay, ...]
    measure_better: tuple[tuple[str, str, float], ...] = ()  # (characteristic, location, U that would be needed)
    asks: tuple[str, ...] = ()  # operations that would do and that the book does not allow or does not mention


@dataclass(frozen=True, slots=True)
class Missing:
    """Something that has a limit and is not known: what, why, and at which places."""

    characteristic: str
    why: str
    places: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Planned:
    """The best plan first, then those that differ in kind; or the conflict. `status` is that of the best."""

    status: str  # optimal | feasible | impossible | out of time | nothing to do
    plans: tuple[Plan, ...]
    conflict: Conflict | None
    questions: tuple[tuple[str, Mapping[str, Any]], ...] = ()  # what the book does not say, and what would be open then
    missing: tuple[Missing, ...] = ()
    rests_on: tuple[str, ...] = ()  # what was taken for granted
