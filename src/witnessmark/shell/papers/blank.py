"""Blank sheets of a round as a PDF, to be written on by hand and typed back."""

from collections.abc import Sequence

from witnessmark.desk.sheets.blank_sheet import NoSheet, blank_sheets
from witnessmark.desk.sheets.paper_block import bench_block, lead
from witnessmark.desk.state import State
from witnessmark.shell.papers.plain import plain
from witnessmark.shell.papers.typeset import typeset


def blank_pdf(
    opened: State, *, date: str = "", only: Sequence[str] = (), display: str = "mm", paper: str = "a4"
) -> bytes:
    """Every sheet of the round, or those of `only` these characteristics; `date` as of `report.last_day`.

    Raises NoSheet where there is nothing to write on, TypesetFault.
    """
    sheets = blank_sheets(opened, only, display)
    if not sheets:
        raise NoSheet("there is nothing to write on yet: describe the engine first, its layout tells what is measured")
    return typeset("blank.typ", {
        "title": "Sheets to write on", "job": opened.job.id, "lead": plain(lead(opened, date)), "date": date,
        "block": plain(bench_block(opened)), "sheets": plain(sheets), "paper": paper,
    })  # fmt: skip
