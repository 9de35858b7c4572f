"""The papers of an order as PDF: shop order, parts order, shims, before and after."""

from witnessmark.desk.planning import plan_of_job
from witnessmark.desk.sheets.order import NAMES, paper
from witnessmark.desk.state import State
from witnessmark.draw.logo import logo
from witnessmark.shell.papers.plain import plain
from witnessmark.shell.papers.typeset import typeset
from witnessmark.shell.quiet import quiet

__all__ = ["NAMES", "order_pdf"]


def order_pdf(
    opened: State, name: str, *, date: str = "", checksum: str = "", display: str = "mm", size: str = "a4"
) -> bytes:
    """One paper of the order by its name. Raises KeyError for another name, Refused without an engine, TypesetFault."""
    found = paper(opened, plan_of_job(opened, quiet), name, display, date, checksum)
    return typeset("order.typ", {**plain(found), "logo": plain(logo()), "paper": size})
