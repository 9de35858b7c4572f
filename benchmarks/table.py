"""Plain tables, and a count of the goals that were met."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field


@dataclass(slots=True)
class Paper:
    """Where a benchmark writes: lines for a person, and every goal with its outcome."""

    goals: list[tuple[str, str, str, bool]] = field(default_factory=list)

    def heading(self, text: str) -> None:
        """A heading with a rule below."""
        print(f"\n{text}\n{'=' * len(text)}", flush=True)

    def say(self, text: str = "") -> None:
        """A line."""
        print(text, flush=True)

    def table(self, head: Sequence[str], rows: Iterable[Sequence[object]]) -> None:
        """A table with its columns aligned; numbers stand to the right."""
        cells = [[str(cell) for cell in row] for row in rows]
        widths = [max(len(row[n]) for row in [list(head), *cells]) for n in range(len(head))]
        right = [all(_number(row[n]) for row in cells) for n in range(len(head))]
        for row in [list(head), ["-" * width for width in widths], *cells]:
            print("  ".join(
                cell.rjust(w) if r else cell.ljust(w) for cell, w, r in zip(row, widths, right, strict=True)
            ).rstrip())  # fmt: skip
        print(flush=True)

    def goal(self, what: str, found: str, asked: str, met: bool) -> None:
        """One goal and whether it is met."""
        self.goals.append((what, found, asked, met))
        print(f"goal  {what}: {found}, asked {asked}: {'met' if met else 'NOT MET'}", flush=True)


def percent(share: float, digits: int = 2) -> str:
    """A share as a percentage."""
    return "-" if share != share else f"{100 * share:.{digits}f} %"


def _number(text: str) -> bool:
    return text[:1].isdigit() or text[:1] in "-+±<>≤≥1" or text == ""
