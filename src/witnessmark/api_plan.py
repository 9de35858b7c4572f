"""What notebooks and scripts call about work: the ledger of some cuts, and the plan of a job."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape
from importlib import import_module
from importlib.util import find_spec
from typing import Any

from witnessmark.desk.cuts import intended, place_words, read_cut
from witnessmark.desk.ledger import ledger_data, ledger_of_job, row_data
from witnessmark.desk.plan_data import plan_data
from witnessmark.desk.planning import plan_of_job
from witnessmark.desk.state import State, state
from witnessmark.explain.consequence import as_result, why_row
from witnessmark.explain.planned import why_item
from witnessmark.explain.words import limit_words, shown_in, unit_of
from witnessmark.plan.result import Ledger, LedgerRow, Plan, Planned
from witnessmark.record.job import Job
from witnessmark.shell.quiet import quiet
from witnessmark.shell.resources import catalogue as shipped


def frame(rows: list[dict[str, Any]]) -> Any:
    """Rows as a data frame of pandas, or of polars where only that is installed; ImportError where neither is."""
    for library in ("pandas", "polars"):
        if find_spec(library):
            return import_module(library).DataFrame(rows)
    raise ImportError("to_frame needs pandas or polars; install one of them, or use to_dict")


def table(heads: tuple[str, ...], rows: Sequence[tuple[str, ...]]) -> str:
    """A table for a notebook."""
    head = "".join(f"<th>{escape(name)}</th>" for name in heads)
    body = "".join(f"<tr>{''.join(f'<td>{escape(cell)}</td>' for cell in row)}</tr>" for row in rows)
    return f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"


@dataclass(frozen=True, repr=False)
class Consequences:
    """A ledger: iterate over its rows; in a notebook it shows what the work moves."""

    state: State
    ledger: Ledger

    def __iter__(self) -> Iterator[LedgerRow]:
        return iter(self.ledger.rows)

    def __len__(self) -> int:
        return len(self.ledger.rows)

    def __repr__(self) -> str:
        moved = sum(row.moved for row in self)
        return f"job {self.state.job.id}: {moved} values moved, {len(self.ledger.crossed)} out of their limits by it"

    @property
    def moved(self) -> tuple[LedgerRow, ...]:
        """The rows that the work moves."""
        return tuple(row for row in self if row.moved)

    @property
    def crossed(self) -> tuple[LedgerRow, ...]:
        """The rows that the work takes out of their limits."""
        return self.ledger.crossed

    def why(self, row: LedgerRow, unit: str = "mm") -> str:
        """The sum behind a row, and how it stands against its limit."""
        return why_row(row, self.state.catalogue, unit)

    def to_dict(self) -> dict[str, Any]:
        """Plain data; the same as `witnessmark ledger --json`."""
        return ledger_data(self.state, self.ledger)

    def to_frame(self) -> Any:
        """The rows as a data frame."""
        return frame([row_data(self.state, row) for row in self])

    def _repr_html_(self) -> str:
        heads = ("characteristic", "place", "before", "predicted", "unit", "limit", "verdict")
        return table(heads, [self._cells(row) for row in self.moved])

    def _cells(self, row: LedgerRow) -> tuple[str, ...]:
        result = as_result(row, self.state.catalogue)
        write = shown_in(result, "mm")
        before, then = ("–" if value is None else write.number(value) for value in (row.before, row.predicted))
        term = self.state.catalogue.characteristics[row.characteristic].term
        return (term, place_words(row.location), before, then, unit_of(result, "mm"),
                limit_words(row.against, result, beside=True), row.verdict)  # fmt: skip


@dataclass(frozen=True, repr=False)
class Work:
    """What a plan comes to: its plans, the best first; or what stands in the way."""

    state: State
    planned: Planned

    @property
    def status(self) -> str:
        """optimal, feasible, impossible or nothing to do."""
        return self.planned.status

    @property
    def best(self) -> Plan | None:
        """The best plan, or None where nothing holds."""
        return self.planned.plans[0] if self.planned.plans else None

    @property
    def plans(self) -> tuple[Plan, ...]:
        """The best plan and those that differ from it in kind."""
        return self.planned.plans

    def __iter__(self) -> Iterator[Plan]:
        return iter(self.plans)

    def __len__(self) -> int:
        return len(self.plans)

    def __repr__(self) -> str:
        best = self.best
        cost = f", {best.cost:.2f} {best.currency}" if best else ""
        return f"job {self.state.job.id}: plan {self.status}{cost}"

    def to_dict(self) -> dict[str, Any]:
        """Plain data; the same as `witnessmark plan --json`."""
        return plan_data(self.state, self.planned)

    def to_frame(self) -> Any:
        """The work of the best plan as a data frame."""
        return frame(self.to_dict()["operations"])

    def _repr_html_(self) -> str:
        rows = [
            (self.state.catalogue.operations[item.operation].term, place_words(item.location),
             "" if item.amount is None else f"{item.amount:.3f}", f"{item.cost:.2f}",
             why_item(item, self.state.catalogue))
            for item in (self.best.items if self.best else ())
        ]  # fmt: skip
        return f"<p>{escape(repr(self))}</p>{table(('work', 'place', 'mm', 'cost', 'why'), rows)}"


def ledger(job: Job, cuts: list[str] | tuple[str, ...] | None = None) -> Consequences:
    """What cuts do to every characteristic: `["seat_cut@inl-3f=0.20mm", "valve_replace@exh-1r"]`; None: intended work.

    Raises witnessmark.desk.bench.Refused for a cut that cannot be done, saying which and what to write.
    """
    now = state(job, shipped())
    made = intended(now) if cuts is None else tuple(cut for text in cuts for cut in read_cut(now, text))
    return Consequences(now, ledger_of_job(now, made))


def plan(job: Job) -> Work:
    """The cheapest work that brings a job inside its limits, proven; or what stands in the way."""
    now = state(job, shipped())
    return Work(now, plan_of_job(now, quiet))
