"""The doubt of one value as a table and, where it can be drawn, as a picture: which source adds how much."""

from dataclasses import dataclass
from functools import partial

from witnessmark.desk.sheets.phrase import shown
from witnessmark.draw.budget import Share
from witnessmark.draw.budget import budget as bars
from witnessmark.draw.shape import Drawing
from witnessmark.explain.why import why
from witnessmark.explain.words import unit_of, value_words
from witnessmark.judge.result import Result
from witnessmark.quantity.show import show_doubt


@dataclass(frozen=True, slots=True)
class Line:
    """One source of doubt: its standard uncertainty in the unit shown, and its share of the variance."""

    source: str
    u: str
    share: str


@dataclass(frozen=True, slots=True)
class Budget:
    """A value's doubt. `came` holds the readings behind it as they came."""

    name: str
    value: str
    unit: str
    came: tuple[str, ...]
    lines: tuple[Line, ...]
    why: str
    picture: Drawing | None


def budget_of(result: Result, unit: str) -> Budget:
    """The budget of a result, largest source first."""
    shown_in = unit_of(result, unit)
    total = sum(line.u**2 for line in result.budget)
    write = partial(show_doubt, unit_shown=shown_in, dimension=result.quantity)
    shares = [
        Share(line.source, write(line.u), line.u**2 / total, line.shared)
        for line in sorted(result.budget, key=lambda line: -line.u) if total
    ]  # fmt: skip
    lines = [Line(one.name + (", shared" if one.shared else ""), one.u, f"{100 * one.part:.0f} %") for one in shares]
    whole = write(result.u) if result.u is not None else ""
    came = tuple(source.raw for source in result.sources)
    return Budget(shown(result.location), f"{value_words(result, unit)} {shown_in}", shown_in, came,
                  (*lines, Line("together, u", whole, "100 %")) if whole else (), why(result, unit),
                  bars(shares, whole, f"doubt of {shown(result.location)} by source") if shares else None)  # fmt: skip
