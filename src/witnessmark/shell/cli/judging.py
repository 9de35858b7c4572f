"""`judge`: the judgement of a job as a table, or as data."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING

from witnessmark.desk.report import judgement
from witnessmark.desk.state import State, state
from witnessmark.explain.dialect import catalogue_said
from witnessmark.explain.words import limit_words, unit_of, value_words, verdict_words, where
from witnessmark.judge.result import CLOSE, OUT, WITHIN, Result
from witnessmark.quantity.show import show_chance
from witnessmark.record.replay import replay
from witnessmark.shell.cli.opening import events_of
from witnessmark.shell.cli.saying import machine
from witnessmark.shell.resources import catalogue
from witnessmark.text.fault import Fault, Faulty

if TYPE_CHECKING:
    from rich.table import Table

MARKS = {WITHIN: "●", OUT: "✕", CLOSE: "○"}  # shape and word; the colour is left to the terminal's owner


def judge(job: str, data: Path, *, as_json: bool, strict: bool, unit: str, words: str = "") -> int:
    """Print the judgement of a job, its table in the words of `words`; the exit status."""
    spoken = catalogue() if as_json else catalogue_said(catalogue(), words)
    opened = state(replay(events_of(job, data)), spoken)
    if opened.judged[1]:
        raise Faulty([Fault("job", opened.judged[1], job)])
    if as_json:
        machine(judgement(opened))
    else:
        _print(opened, unit)
    return 1 if strict and not settled(opened) else 0


def settled(opened: State) -> bool:
    """Whether everything is within, finished, present and unquestioned, and no limit is out of the ordinary."""
    summary = opened.judgement.summary
    not_good = ("out", "too close to call", "so far", "missing", "questions")
    odd = opened.problems or (opened.sheet.warnings if opened.sheet else ())
    return not any(summary[key] for key in not_good) and not odd and not opened.job.questions


def _print(opened: State, unit: str) -> None:
    from rich.console import Console

    console = Console(highlight=False, width=None if sys.stdout.isatty() else 160)
    header = opened.job.header
    invented = " · invented" if header.get("invented") in (True, "true", "yes") else ""
    console.print(f"{opened.job.id} · {header.get('engine') or ''}{invented}", markup=False)
    console.print(_table(opened, unit))
    summary = opened.judgement.summary
    console.print(" · ".join(f"{count} {word}" for word, count in summary.items() if count), markup=False)
    for problem in opened.problems:
        console.print(problem, markup=False)
    for question in opened.job.questions:
        if question.question:
            console.print(f"? {question.question['text']}", markup=False)
    console.print("Limits are those you entered; service information and licensed practice govern.", markup=False)


def _table(opened: State, unit: str) -> "Table":
    from rich.table import Table
    from rich.text import Text

    table = Table(box=None, pad_edge=False, header_style="bold")
    for name in ("characteristic", "place"):
        table.add_column(name, overflow="fold")
    for name in ("read", "unit", "limit"):
        table.add_column(name, justify="right" if name == "read" else "left", no_wrap=True)
    table.add_column("verdict", overflow="fold")
    table.add_column("with", overflow="fold")
    for result in opened.judgement.results:
        term = opened.catalogue.characteristics[result.characteristic].term
        cells = (term, where(result), value_words(result, unit), unit_of(result, unit),
                 limit_words(result.against, result, unit, beside=True), _verdict(result, unit),
                 ", ".join(result.gauges))  # fmt: skip
        table.add_row(*(Text(cell) for cell in cells))
    return table


def _verdict(result: Result, unit: str) -> str:
    word, small = verdict_words(result, unit)
    mark = MARKS.get(result.verdict, "–") if result.decided else "◌"
    chance = ""
    if result.verdict == CLOSE and result.p_within is not None:
        chance = f", chance {show_chance(result.p_within)}"
    return f"{mark} {word}{chance}{f', {small}' if small else ''}"
