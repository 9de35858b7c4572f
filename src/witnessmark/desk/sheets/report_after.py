"""Before and after: what was found and what was measured once work was done, side by side.

A row stands for every place that was out or too close to call as found, and for every place that a later round read.
Where nothing was read afterwards the paper leaves a box for it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from witnessmark.desk.bench import ROUNDS
from witnessmark.desk.sheets.report_rows import Value, rows_of
from witnessmark.desk.state import State
from witnessmark.judge.result import CLOSE, OUT, Judgement

MOST_OPEN = 24  # rows with an empty box


@dataclass(frozen=True, slots=True)
class BeforeAfter:
    """One place of one characteristic. `after` is "" while nothing was read once work was done."""

    term: str
    place: str
    limit: str
    before: str
    before_word: str
    after: str
    after_word: str
    after_round: str
    after_limit: str  # where it is held against another limit then, such as that of machined work


def before_and_after(state: State, display: str) -> tuple[BeforeAfter, ...]:
    """The rows in the order of the bench; the last round that read a place is its after."""
    found = {name: _values(state, name, display) for name in _rounds(state)}
    first, *later = found.values()
    names = list(found)[1:]
    after = {_key(value): (value, name) for name, values in zip(names, later, strict=True) for value in values}
    before = {_key(value): value for value in first}
    open_ = [key for key, value in before.items() if value.verdict in (OUT, CLOSE) and key not in after]
    kept = set(open_[:MOST_OPEN])
    told = [key for key in before if key in kept or key in after]
    rows = [*told, *(key for key in after if key not in before)]
    return tuple(_row(before.get(key), *after.get(key, (None, ""))) for key in rows)


def still_open(state: State, rows: Iterable[BeforeAfter]) -> int:
    """How many places that were out or too close to call as found have no row, since the paper has no room for all."""
    shown = sum(not row.after for row in rows)
    found = {(one.characteristic, one.location, one.round) for one in state.judgement.results}
    later = {key[:2] for key in found if key[2] != ROUNDS[0]}
    bad = (one for one in state.judgement.results if one.round == ROUNDS[0] and one.verdict in (OUT, CLOSE))
    return max(0, sum((one.characteristic, one.location) not in later for one in bad) - shown)


def _rounds(state: State) -> Sequence[str]:
    """As found, then every later round that the job reads, in the order of the work."""
    read = {result.round for result in state.judgement.results}
    known = [name for name in ROUNDS[1:] if name in read]
    return [ROUNDS[0], *known, *sorted(read - set(ROUNDS))]


def _values(state: State, round_: str, display: str) -> tuple[Value, ...]:
    here = tuple(result for result in state.judgement.results if result.round == round_)
    return rows_of(state, Judgement(here, ()), display)


def _key(value: Value) -> tuple[str, str]:
    return value.characteristic, value.location


def _row(before: Value | None, after: Value | None, round_: str) -> BeforeAfter:
    one = before or after
    assert one is not None
    other = after.limit if after and after.limit != one.limit else ""
    return BeforeAfter(one.term, one.place, one.limit, *_told(before), *_told(after), round_, other)


def _told(value: Value | None) -> tuple[str, str]:
    return (value.amount, value.word) if value else ("", "")
