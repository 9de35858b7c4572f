"""The papers of an order and of assembly as PDF: what is ordered and bought, before and after, tightening, steps."""

from witnessmark.desk.planning import plan_of_job
from witnessmark.desk.sheets.order import NAMES, Paper, paper
from witnessmark.desk.sheets.tighten_paper import assembly_paper, tighten_paper
from witnessmark.desk.state import State
from witnessmark.draw.logo import logo
from witnessmark.shell.papers.plain import plain
from witnessmark.shell.papers.typeset import typeset
from witnessmark.shell.quiet import quiet

__all__ = ["NAMES", "assembly_pdf", "order_pdf", "tighten_pdf"]


def tighten_pdf(
    opened: State, joint: str, *, date: str = "", checksum: str = "", size: str = "a4", blank: bool = False
) -> bytes:
    """The tightening sheet of a joint. Raises Refused where the limit sheet has none of this name, TypesetFault."""
    return _set(tighten_paper(opened, joint, date, checksum, blank=blank), size)


def assembly_pdf(
    opened: State, *, date: str = "", checksum: str = "", display: str = "mm", size: str = "a4", blank: bool = False
) -> bytes:
    """The assembly sheet. Raises Refused without an engine, TypesetFault."""
    return _set(assembly_paper(opened, display, date, checksum, blank=blank), size)


def order_pdf(
    opened: State, name: str, *, date: str = "", checksum: str = "", display: str = "mm", size: str = "a4"
) -> bytes:
    """One paper of the order by its name. Raises KeyError for another name, Refused without an engine, TypesetFault."""
    return _set(paper(opened, plan_of_job(opened, quiet), name, display, date, checksum), size)


def _set(found: Paper, size: str) -> bytes:
    return typeset("order.typ", {**plain(found), "logo": plain(logo()), "paper": size})
