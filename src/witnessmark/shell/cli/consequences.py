"""`ledger`: what work would do to every characteristic, as a table or as data."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING

from witnessmark.desk.cuts import intended, place_words, read_cut
from witnessmark.desk.ledger import ledger_data, ledger_of_job
from witnessmark.desk.state import State, state
from witnessmark.explain.consequence import as_result
from witnessmark.explain.dialect import catalogue_said
from witnessmark.explain.words import limit_words, shown_in, unit_of, verdict_words
from witnessmark.judge.result import CLOSE, OUT, WITHIN
from witnessmark.plan.result import Ledger, LedgerRow
from witnessmark.quantity.show import show_chance
from witnessmark.record.replay import replay
from witnessmark.shell.cli.opening import events_of
from witnessmark.shell.cli.saying import machine
from witnessmark.shell.resources import catalogue

if TYPE_CHECKING:
    from rich.table import Table

MARKS = {WITHIN: "●", OUT: "✕", CLOSE: "○"}
HEADS = ("characteristic", "place", "before", "predicted", "after", "unit", "limit", "verdict")


def ledger(
    job: str, data: Path, written: tuple[str, ...], *, as_json: bool, strict: bool, every: bool, unit: str,
    words: str = "",
) -> int:  # fmt: skip
    """Print the ledger of a job for cuts as they were written, or for its intended work; the exit status."""
    spoken = catalogue() if as_json else catalogue_said(catalogue(), words)
    opened = state(replay(events_of(job, data)), spoken)
    cuts = tuple(cut for text in written for cut in read_cut(opened, text)) if written else intended(opened)
    found = ledger_of_job(opened, cuts)
    if as_json:
        machine(ledger_data(opened, found))
    else:
        _print(opened, found, unit, every=every)
    return 1 if strict and any(row.verdict in (OUT, CLOSE) for row in found.rows) else 0


def _print(opened: State, found: Ledger, unit: str, *, every: bool) -> None:
    from rich.console import Console

    console = Console(highlight=False, width=None if sys.stdout.isatty() else 160)
    rows = [row for row in found.rows if every or row.moved or row.unexplained is not None]
    console.print(f"{opened.job.id} · {opened.job.header.get('engine') or ''} · ledger", markup=False)
    if rows:
        console.print(_table(opened, rows, unit))
    else:
        console.print("No work is intended that moves anything: give --cut, or --every to see all.", markup=False)
    for row in found.crossed:
        term = opened.catalogue.characteristics[row.characteristic].term
        console.print(f"crosses its limit: {term}, {place_words(row.location)}", markup=False)
    for name, why in found.unknown:
        console.print(f"not known: {opened.catalogue.characteristics[name].term}: {why}", markup=False)
    console.print("Limits are those you entered; service information and licensed practice govern.", markup=False)


def _table(opened: State, rows: list[LedgerRow], unit: str) -> "Table":
    from rich.table import Table
    from rich.text import Text

    table = Table(box=None, pad_edge=False, header_style="bold")
    for name in HEADS:
        number = name in ("before", "predicted", "after")
        table.add_column(name, justify="right" if number else "left", no_wrap=number, overflow="fold")
    for row in rows:
        table.add_row(*(Text(cell) for cell in cells(opened, row, unit)))
    return table


def cells(opened: State, row: LedgerRow, unit: str) -> tuple[str, ...]:
    """The cells of a row as a person reads them; what is not known is a dash."""
    result = as_result(row, opened.catalogue)
    write = shown_in(result, unit)
    numbers = (write.number(value) if value is not None else "–" for value in (row.before, row.predicted, row.after))
    chance = f", chance {show_chance(row.p_within)}" if row.verdict == CLOSE and row.p_within is not None else ""
    word, small = verdict_words(result, unit) if row.predicted is not None else ("not known", "")
    verdict = f"{MARKS.get(row.verdict, '–')} {word}{chance}{f', {small}' if small else ''}"
    term = opened.catalogue.characteristics[row.characteristic].term
    limit = limit_words(row.against, result, unit, beside=True)
    return (term, place_words(row.location), *numbers, unit_of(result, unit), limit, verdict)
