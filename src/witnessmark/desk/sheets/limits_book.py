"""What the book allows, operation by operation: yes, no, up to so much, or not known."""

from collections.abc import Mapping
from dataclasses import dataclass

from witnessmark.desk.limits import ALLOWED, NOT_THERE, mark_of, operations_now
from witnessmark.desk.sheets.blanks import Blank
from witnessmark.desk.sheets.limits_blanks import preferred
from witnessmark.desk.state import State
from witnessmark.quantity.unit import names

WORDS = {"yes": "yes", "no": "no", "up to": "up to so much", "unknown": "not known: asked before a plan uses it"}


@dataclass(frozen=True, slots=True)
class BookLine:
    """One operation; `allowed` is empty where the book was not asked yet."""

    id: str
    term: str
    allowed: str
    words: str  # yes | no | up to 0.20 mm | not known
    page: str
    mark: str


@dataclass(frozen=True, slots=True)
class BookForm:
    """The blanks of one operation."""

    id: str
    term: str
    direction: str
    blanks: tuple[Blank, ...]
    seen: str
    there: bool


def book_lines(state: State) -> tuple[BookLine, ...]:
    """Every operation of the catalogue, those that the sheet speaks of first in its own order."""
    held = operations_now(state)
    known = state.catalogue.operations
    order = [*(name for name in held if name in known), *(name for name in known if name not in held)]
    return tuple(_line(name, known[name].term, held.get(name)) for name in order)


def _line(name: str, term: str, held: Mapping[str, str] | None) -> BookLine:
    if held is None:
        return BookLine(name, term, "", "not known", "", NOT_THERE)
    allowed = str(held.get("allowed") or "")
    amount = f"up to {held.get('most', '')} {held.get('unit', '')}".strip()
    words = amount if allowed == "up to" else "not known" if allowed == "unknown" else allowed
    return BookLine(name, term, allowed, words, str(held.get("page") or ""), mark_of([held]))


def book_form(state: State, operation: str, kept: Mapping[str, str], shown_in: str) -> BookForm | None:
    """The form of one operation, filled with what was typed last, else with what the sheet says; None for none."""
    known = state.catalogue.operations.get(operation)
    if known is None:
        return None
    held = operations_now(state).get(operation)
    began = {"unit": preferred(known.amount, shown_in)} if known.amount else {}
    values = {**began, **(held or {}), **kept}
    allowed = [one for one in ALLOWED if one != "up to" or known.amount]

    def blank(name: str, label: str, choices: tuple[tuple[str, str], ...] = (), hint: str = "") -> Blank:
        return Blank(name, label, str(values.get(name) or ""), hint, choices)

    amount = (
        blank("most", "up to", hint="0.20"),
        blank("unit", "unit", tuple((name, name) for name in names(known.amount))),
    ) if known.amount else ()  # fmt: skip
    blanks = (blank("allowed", "the book says", tuple((one, WORDS[one]) for one in allowed)), *amount,
              blank("page", "page"))  # fmt: skip
    return BookForm(operation, known.term, known.direction, blanks, mark_of([held] if held else []), held is not None)
