"""The doubt of one value as a table and, where it can be drawn, as a picture: which source adds how much."""

from dataclasses import dataclass

from witnessmark.desk.sheets.phrase import shown
from witnessmark.desk.state import State
from witnessmark.draw.shape import Drawing
from witnessmark.explain.why import why
from witnessmark.explain.words import unit_shown, value_words
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


def budget_of(state: State, result: Result, unit: str) -> Budget:
    """The budget of a result, largest source first."""
    shown_in = unit_shown(result.quantity, unit)
    total = sum(line.u**2 for line in result.budget)
    lines = [
        Line(line.source + (", shared" if line.shared else ""), show_doubt(line.u, shown_in, dimension=result.quantity),
             f"{100 * line.u**2 / total:.0f} %" if total else "–")
        for line in sorted(result.budget, key=lambda line: -line.u)
    ]  # fmt: skip
    if result.u is not None:
        lines.append(Line("together, u", show_doubt(result.u, shown_in, dimension=result.quantity), "100 %"))
    came = tuple(source.raw for source in result.sources)
    return Budget(shown(result.location), f"{value_words(result, unit)} {shown_in}", shown_in, came, tuple(lines),
                  why(result, unit), None)  # fmt: skip
