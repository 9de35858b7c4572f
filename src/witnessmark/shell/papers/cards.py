"""Bench cards as a PDF: one page for each characteristic."""

from collections.abc import Sequence

from witnessmark.catalogue.entry import Catalogue
from witnessmark.desk.sheets.card import Card, NoCard, card, cards
from witnessmark.desk.state import State
from witnessmark.shell.papers.plain import plain
from witnessmark.shell.papers.typeset import typeset


def card_pdf(catalogue: Catalogue, name: str, *, paper: str = "a4") -> bytes:
    """The card of one characteristic. Raises NoCard, TypesetFault."""
    return _set([card(catalogue, name)], "", paper)


def cards_pdf(opened: State, *, date: str = "", only: Sequence[str] = (), paper: str = "a4") -> bytes:
    """The cards of all that a job asks for, with its limits. Raises NoCard, TypesetFault."""
    made = cards(opened, only)
    if not made:
        raise NoCard("this job asks for nothing yet: describe the engine first, or name what the cards are to be of")
    return _set(made, date, paper)


def _set(made: Sequence[Card], date: str, paper: str) -> bytes:
    title = f"Bench card: {made[0].title}" if len(made) == 1 else "Bench cards"
    return typeset("card.typ", {"title": title, "cards": plain(tuple(made)), "date": date, "paper": paper})
