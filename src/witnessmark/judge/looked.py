"""A judged row of looks as a result: the answer of its worst station, how it was looked at, what would settle it."""

from fractions import Fraction
from typing import Any

from witnessmark.catalogue.entry import Catalogue
from witnessmark.judge.looks import LookMark, sources
from witnessmark.judge.result import WITHIN, Result
from witnessmark.judge.standing import Scene, against, questions, standing
from witnessmark.limits.sheet import Limit
from witnessmark.record.meant import exact


def look_result(mark: LookMark, scene: Scene, catalogue: Catalogue) -> Result:
    """The result of a row that was looked at: the answer of its worst station, and no chance of conformity."""
    row, one = mark.row, mark.deciding
    near = bool(row.quick) and row.limit is not None and one.verdict != WITHIN
    method = catalogue.methods.get(one.method)
    meaning = (one.last.meaning or {}) if one.amount is not None else {}
    return Result(
        characteristic=row.entry.id, location=row.location, round=scene.round, rule=row.rule, value=one.amount,
        interval=None, u=None, dof=None, verdict=one.verdict, p_within=None, against=against(row.limit, None),
        gauges=(), **standing(row, (), scene, near), sources=sources(mark), settle=mark.settle, reason=one.reason,
        beyond=_over(row.limit, one.amount) if one.reason == "look amount out" else None,
        assumed=("method assumed",) if one.last.method is None and one.method else (),
        questions=questions(row, scene), quantity=row.entry.quantity, fine=row.entry.fine, says=one.says,
        method=one.method, method_term=method.term if method else one.method,
        **_step_as_written(meaning.get("value"), meaning.get("unit")),
        extra={"deciding": one.place, "misses": method.misses if method else ""},
    )  # fmt: skip


def _over(limit: Limit | None, amount: float | None) -> float | None:
    if limit is None or amount is None:
        return None
    over = amount - limit.high if limit.high is not None else 0.0
    return max(over, limit.low - amount if limit.low is not None else 0.0)


def _step_as_written(value: str | None, name: str | None) -> dict[str, Any]:
    """The step of an amount as it was written; nothing where none was."""
    if value is None or name is None:
        return {}
    places = 0 if "/" in value else len(value.partition(".")[2])
    return {"step": exact(Fraction(1, 10**places)) if "/" not in value else exact(Fraction(1, 64)), "step_unit": name}
