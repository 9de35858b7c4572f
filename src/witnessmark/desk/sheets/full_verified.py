"""What an assembled engine showed, as tables of the full report: cranking, leaks, and what was predicted beside it."""

from collections.abc import Iterable, Iterator

from witnessmark.desk.bench import Refused
from witnessmark.desk.sheets.order import Table
from witnessmark.desk.sheets.verify import CylinderRow, LeakRow, Line, verify_sheet
from witnessmark.desk.state import State
from witnessmark.judge.result import OUT

NOTHING = "–"


def verified_tables(state: State, unit: str) -> tuple[Table, ...]:
    """The tables of the tests that were made; () where none was, and without an engine."""
    try:
        sheet = verify_sheet(state, unit)
    except Refused:
        return ()
    made = (
        _cranking(sheet.cylinders, sheet.pressure),
        _leaks(sheet.leaks),
        _compared((*sheet.timing, *sheet.oil)),
    )  # fmt: skip
    return tuple(table for each in made for table in each)


def _cranking(rows: Iterable[CylinderRow], pressure: str) -> Iterator[Table]:
    read = [one for one in rows if one.dry != NOTHING]
    if read:
        heads = ("cylinder", "before", "expected", "read", "wet", "verdict", "why")
        yield Table(f"Cranking compression, {pressure}", heads, tuple(
            (one.place, one.before or NOTHING, one.expected or NOTHING, one.dry, one.wet,
             one.line.word if one.line else NOTHING, one.why) for one in read),
            (12, 9, 16, 9, 9, 15, 30), _strong(read))  # fmt: skip


def _leaks(rows: Iterable[LeakRow]) -> Iterator[Table]:
    read = [one for one in rows if one.loss != NOTHING]
    if read:
        heads = ("cylinder", "supply", "behind the orifice", "loss", "as a hole", "on other testers", "verdict")
        yield Table("Leakage", heads, tuple(
            (one.place, one.supply, one.behind, one.loss, one.area, one.others, one.line.word if one.line else NOTHING)
            for one in read), (12, 10, 11, 8, 24, 22, 13), _strong(read))  # fmt: skip


def _compared(rows: Iterable[Line]) -> Iterator[Table]:
    read = [one for one in rows if one.after not in ("", NOTHING)]
    if read:
        heads = ("what", "place", "before", "predicted", "after", "unit", "verdict", "against the prediction")
        yield Table("Timing and oil: before, predicted, after", heads, tuple(
            (one.term, one.place, one.before, one.predicted, one.after, one.unit,
             one.line.word if one.line else NOTHING, one.unexplained) for one in read),
            (20, 13, 9, 10, 9, 7, 13, 19), _strong(read))  # fmt: skip


def _strong(rows: Iterable[CylinderRow | LeakRow | Line]) -> tuple[int, ...]:
    return tuple(n for n, one in enumerate(rows) if one.line is not None and one.line.verdict == OUT)
