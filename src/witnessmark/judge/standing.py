"""How a row stands, whatever was judged of it: how far it was read, on which route, held against what, and by what."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from witnessmark.judge.quick import is_near
from witnessmark.judge.result import Against
from witnessmark.judge.rows import Row
from witnessmark.judge.taken import Group, Taken
from witnessmark.judge.trust import Trust
from witnessmark.limits.sheet import Limit
from witnessmark.metrology.propagate import Derived
from witnessmark.record.job import Job, Reading


@dataclass(frozen=True, slots=True)
class Scene:
    """What every result of a round draws on."""

    taken: Taken
    derived: Derived | None
    round: str
    job: Job
    trust: Trust


def standing(row: Row, behind: Iterable[Group], scene: Scene, near: bool) -> dict[str, Any]:
    """How far a row is read, on which route, and what stands beside its readings."""
    beside = scene.trust.of(_readings(row, behind), row.entry.id, row.location, scene.round)
    spared = bool(row.quick) and not near and not row.complete
    done = row.quick_complete if spared else row.complete
    needed = max(len(row.quick), row.read) if spared else len(row.planned)
    return {
        "complete": done and not beside["suspect"], "read": row.read, "needed": needed,
        "extent": "quick" if bool(row.quick) and not row.complete else "full", "near": near, **beside,
    }  # fmt: skip


def _readings(row: Row, behind: Iterable[Group]) -> Iterator[Reading]:
    """Every reading behind a row."""
    for group in behind:
        yield from group.readings
    for gap in row.intervals:
        yield gap.reading
    for _, said in row.looks:
        yield from said


def near_limit(row: Row, verdict: str, ends: tuple[float, float], u: float) -> bool:
    """Whether the quick route asks for the full stations here."""
    return bool(row.quick) and is_near(verdict, ends, u, row.limit, row.target)


def against(limit: Limit | None, target: Limit | None) -> Against | None:
    """The limit that a row is held against, with the target for new work beside it; None where neither was entered."""
    if limit is None and target is None:
        return None
    held = limit or target
    assert held is not None
    new = target if limit is not None else None
    return Against(
        limit.low if limit else None, limit.high if limit else None, limit.low_text if limit else "",
        limit.high_text if limit else "", held.unit, limit.kind if limit else "", held.document, held.page, held.bearer,
        *((new or held).low, (new or held).high, (new or held).low_text, (new or held).high_text)
        if target is not None else (None, None, "", ""), held.to_check, held.accept,
    )  # fmt: skip


def behind_of(row: Row, taken: Taken) -> list[Group]:
    """Groups of readings behind a row, each once."""
    items = {item: None for cell in row.cells for item, _ in cell.terms}
    return [taken.groups[item] for item in items]


def questions(row: Row, scene: Scene) -> tuple[str, ...]:
    """Ids of the readings of a row that are kept and asked back."""
    name = row.entry.of if row.entry.kind == "form" else row.entry.id
    return tuple(reading.id for place in row.planned for reading in scene.taken.asked.get((name, place), ()))
