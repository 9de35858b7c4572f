"""What notebooks and scripts call: load a job, judge it, look at the results.

import witnessmark as wm
job = wm.load_job("tern.yaml")
wm.judge(job)                # shows itself; .to_dict(), .to_frame()
"""

from collections.abc import Iterator
from dataclasses import dataclass
from html import escape
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from witnessmark.desk.report import judgement
from witnessmark.desk.state import State, state
from witnessmark.explain.why import why
from witnessmark.explain.words import limit_words, unit_shown, value_words, verdict_words, where
from witnessmark.judge.result import Missing, Result
from witnessmark.record.job import Job
from witnessmark.shell.files import load_job as _load
from witnessmark.shell.resources import catalogue


@dataclass(frozen=True)
class Judged:
    """A judged job: iterate over its results, or take them as data or as a frame."""

    state: State

    @property
    def results(self) -> tuple[Result, ...]:
        """Every result in bench order."""
        return self.state.judgement.results

    @property
    def missing(self) -> tuple[Missing, ...]:
        """Stations that are asked for and have no counted reading."""
        return self.state.judgement.missing

    @property
    def summary(self) -> dict[str, int]:
        """How many of each verdict, unfinished, missing, asked back."""
        return self.state.judgement.summary

    def __iter__(self) -> Iterator[Result]:
        return iter(self.results)

    def why(self, result: Result, unit: str = "mm") -> str:
        """The reason of a result in one or two sentences."""
        return why(result, unit)

    def to_dict(self) -> dict[str, Any]:
        """Plain data; the same as `witnessmark judge --json`."""
        return judgement(self.state)

    def to_frame(self) -> Any:
        """The results as a data frame of pandas, or of polars where only that is installed.

        Raises ImportError, saying what to install, where neither is.
        """
        rows = self.to_dict()["results"]
        for library in ("pandas", "polars"):
            if find_spec(library):
                return import_module(library).DataFrame(rows)
        raise ImportError("to_frame needs pandas or polars; install one of them, or use to_dict")

    def _repr_html_(self) -> str:
        rows = "".join(f"<tr>{''.join(f'<td>{escape(cell)}</td>' for cell in self._cells(one))}</tr>" for one in self)
        head = "".join(f"<th>{name}</th>" for name in ("characteristic", "place", "read", "unit", "limit", "verdict"))
        return f"<table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>"

    def _cells(self, result: Result) -> tuple[str, ...]:
        term = self.state.catalogue.characteristics[result.characteristic].term
        word, small = verdict_words(result)
        limit = limit_words(result.against, result, beside=True)
        return (term, where(result), value_words(result), unit_shown(result.quantity, "mm"), limit,
                f"{word}, {small}" if small else word)  # fmt: skip


def load_job(path: str | Path) -> Job:
    """A job from its file. Raises witnessmark.text.fault.Faulty with every fault of the file."""
    return _load(path)


def judge(job: Job) -> Judged:
    """Hold every reading of a job against the limits that were entered."""
    return Judged(state(job, catalogue()))
