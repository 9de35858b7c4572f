"""What notebooks and scripts call: load a job, judge it, look at the results.

import witnessmark as wm
job = wm.load_job("tern.yaml")
wm.judge(job)                # shows itself; .where("out"), .to_dict(), .to_frame()
wm.characteristics().search("stem")
"""

from collections.abc import Iterator
from dataclasses import dataclass
from html import escape
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from witnessmark.catalogue.entry import Catalogue, Characteristic
from witnessmark.desk.report import judgement, row
from witnessmark.desk.state import State, state
from witnessmark.draw.mark import word as word_mark
from witnessmark.draw.svg import svg
from witnessmark.explain.why import why
from witnessmark.explain.words import limit_words, unit_of, value_words, verdict_words, where
from witnessmark.judge.result import VERDICTS, Missing, Result
from witnessmark.quantity.show import show_doubt
from witnessmark.record.job import Job
from witnessmark.shell.files import load_job as _load
from witnessmark.shell.resources import catalogue as shipped
from witnessmark.text.near import did_you_mean

HEADS = ("characteristic", "place", "read", "unit", "limit", "", "verdict")


@dataclass(frozen=True, repr=False)
class Row:
    """One result that shows itself: its mark, its words, its reason, and what its doubt is made of."""

    state: State
    result: Result

    @property
    def term(self) -> str:
        """What the trade calls it."""
        return self.state.catalogue.characteristics[self.result.characteristic].term

    @property
    def verdict(self) -> str:
        """`within`, `out`, `too close to call`, or "" where no limit has been entered."""
        return self.result.verdict

    @property
    def why(self) -> str:
        """The reason in one or two sentences."""
        return why(self.result, "mm")

    @property
    def budget(self) -> tuple[tuple[str, float], ...]:
        """Sources of doubt with the standard uncertainty that each adds, in inside units (mm, N)."""
        return tuple((line.source, line.u) for line in self.result.budget)

    def to_dict(self) -> dict[str, Any]:
        """Plain data, as a row of `witnessmark judge --json`."""
        return row(self.result)

    def __repr__(self) -> str:
        return f"{self.term}, {where(self.result)}: {value_words(self.result)}, {self.verdict or 'no limit yet'}"

    def _repr_html_(self) -> str:
        unit = unit_of(self.result, "mm")
        lines = "".join(
            f"<tr><td>{escape(source)}</td><td>{show_doubt(u, unit)}</td></tr>"
            for source, u in self.budget
        )
        table = f"<table><thead><tr><th>source of doubt</th><th>u</th></tr></thead>{lines}</table>" if lines else ""
        return f"<p>{_mark(self)} {escape(str(self))}</p><p><i>{escape(self.why)}</i></p>{table}"


@dataclass(frozen=True, repr=False)
class Judged:
    """A judged job: iterate over its results, look at its rows, or take them as data or as a frame."""

    state: State

    @property
    def results(self) -> tuple[Result, ...]:
        """Every result in bench order."""
        return self.state.judgement.results

    @property
    def rows(self) -> tuple[Row, ...]:
        """The same results, each of which shows itself in a notebook."""
        return tuple(Row(self.state, result) for result in self.results)

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

    def __len__(self) -> int:
        return len(self.results)

    def __repr__(self) -> str:
        counts = ", ".join(f"{count} {word}" for word, count in self.summary.items() if count)
        return f"job {self.state.job.id}: {counts}"

    def where(self, verdict: str = "", characteristic: str = "", place: str = "") -> tuple[Row, ...]:
        """Rows with a verdict, of a characteristic, at a place or below it; what is left out is not asked for.

        Raises ValueError for a word that is no verdict and an id that the catalogue does not have.
        """
        known = self.state.catalogue.characteristics
        if verdict and verdict not in VERDICTS:
            raise ValueError(f"'{verdict}' is no verdict; there are {', '.join(VERDICTS)}")
        if characteristic and characteristic not in known:
            raise ValueError(f"no characteristic is called '{characteristic}'{did_you_mean(characteristic, known)}")
        return tuple(
            one for one in self.rows
            if verdict in ("", one.verdict) and characteristic in ("", one.result.characteristic)
            and (not place or f"{one.result.location}/".startswith(f"{place}/"))
        )  # fmt: skip

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
        rows = "".join(f"<tr>{''.join(f'<td>{cell}</td>' for cell in self._cells(one))}</tr>" for one in self.rows)
        head = "".join(f"<th>{name}</th>" for name in HEADS)
        return f"<table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>"

    def _cells(self, shown: Row) -> tuple[str, ...]:
        result = shown.result
        word, small = verdict_words(result)
        limit = limit_words(result.against, result, beside=True)
        texts = (shown.term, where(result), value_words(result), unit_of(result, "mm"), limit)
        said = f"{word}, {small}" if small else word
        return (*(escape(text) for text in texts), _mark(shown), escape(said))


def _mark(shown: Row) -> str:
    """The small verdict mark as a picture of its own: black ink, so that it needs no style sheet of ours."""
    result = shown.result
    drawing = word_mark(result.verdict, bool(result.verdict) and not result.decided)
    return svg(drawing, "m", printed=True)


@dataclass(frozen=True, repr=False)
class Known:
    """The catalogue: iterate over its entries, look one up by id, or search by words."""

    entries: Catalogue

    def __iter__(self) -> Iterator[Characteristic]:
        return iter(self.entries.characteristics.values())

    def __len__(self) -> int:
        return len(self.entries.characteristics)

    def __repr__(self) -> str:
        return f"{len(self)} characteristics of the trade"

    def __getitem__(self, name: str) -> Characteristic:
        """The entry of an id; KeyError names the near one."""
        known = self.entries.characteristics
        if name not in known:
            raise KeyError(f"no characteristic is called '{name}'{did_you_mean(name, known)}")
        return known[name]

    def search(self, words: str) -> tuple[Characteristic, ...]:
        """Entries whose id, term or other names hold every one of the words."""
        wanted = words.casefold().split()
        return tuple(
            entry for entry in self
            if all(word in " ".join((entry.id, entry.term, *entry.also)).casefold() for word in wanted)
        )  # fmt: skip

    def _repr_html_(self) -> str:
        rows = "".join(
            f"<tr><td><code>{entry.id}</code></td><td>{escape(entry.term)}</td><td>{escape(entry.measure)}</td></tr>"
            for entry in self
        )
        return f"<table><thead><tr><th>id</th><th>term</th><th>how</th></tr></thead><tbody>{rows}</tbody></table>"


def characteristics() -> Known:
    """What the trade measures and looks at, with how, where and why."""
    return Known(shipped())


def load_job(path: str | Path) -> Job:
    """A job from its file. Raises witnessmark.text.fault.Faulty with every fault of the file."""
    return _load(path)


def judge(job: Job) -> Judged:
    """Hold every reading of a job against the limits that were entered."""
    return Judged(state(job, shipped()))
