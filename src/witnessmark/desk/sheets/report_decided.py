"""Decisions of a round and the customer's answers to them, as a report prints them; what was declined stands apart."""

from dataclasses import dataclass

from witnessmark.catalogue.entry import Catalogue, Characteristic
from witnessmark.desk.decide import REST
from witnessmark.desk.sheets.phrase import shown
from witnessmark.desk.sheets.report_facts import OVER_ALL, cut, short, term, when
from witnessmark.desk.sheets.report_rows import Value
from witnessmark.desk.state import State
from witnessmark.record.job import CustomerAnswer, Decision, Job, answer_to

NOT_ASKED = "not answered yet"
FOLDED = 4  # rows decided in one touch that are told in one line


@dataclass(frozen=True, slots=True)
class Decided:
    """One decision with the value that it is about and what the customer said to it."""

    term: str
    place: str
    found: str  # `5.931 mm, out`; "" where nothing was judged there
    decision: str
    work: str  # the operation, "" where none is named
    why: str
    by: str
    answer: str  # yes | no | ""
    customer: str  # `yes, up to 180.00 EUR`
    may: str = ""  # what may follow of declined work


def decided_lines(state: State, values: tuple[Value, ...]) -> tuple[Decided, ...]:
    """The decision that stands for each row of the round, in the order of the bench; `values` are its rows."""
    order = {name: n for n, name in enumerate(state.catalogue.characteristics)}
    here = [one for one in state.job.decisions if one.round == state.round]
    ranked = sorted(here, key=lambda one: (order.get(one.characteristic, len(order)), one.seq))
    rest = [one for one in ranked if one.decision == "used again" and one.why == REST]
    if len(rest) < FOLDED:
        return tuple(_decided(state, one, values) for one in ranked)
    told = tuple(_decided(state, one, values) for one in ranked if one not in rest)
    groups: dict[tuple[str, str, str], int] = {}
    for one in (_decided(state, one, ()) for one in rest):
        key = (one.by, one.answer, one.customer)
        groups[key] = groups.get(key, 0) + 1
    folded = (
        Decided(f"{number} rows", "", "within", "used again", "", REST, by, answer, customer)
        for (by, answer, customer), number in groups.items()
    )
    return (*told, *folded)


def _decided(state: State, one: Decision, values: tuple[Value, ...]) -> Decided:
    answer = answer_to(state.job, one)
    return Decided(
        term=term(one.characteristic, state.catalogue),
        place=OVER_ALL.get(one.place) or short(one.place),
        found=_found(one, values),
        decision=one.decision,
        work=_work(one.operation, state.catalogue),
        why=cut(one.why),
        by=", ".join(filter(None, (one.by, when(one.at)))),
        answer=answer.answer if answer else "",
        customer=answer_words(answer) if answer else NOT_ASKED,
        may=may_lead_to(state.catalogue.characteristics.get(one.characteristic)),
    )


def _found(one: Decision, values: tuple[Value, ...]) -> str:
    """The values of the row; of a row that is judged station by station the one that is worst."""
    here = [v for v in values if v.characteristic == one.characteristic and v.location == one.place]
    ranked = sorted(here, key=lambda value: _WORST.get(value.verdict, 3))
    return f"{ranked[0].amount}, {ranked[0].word}" if ranked else ""


_WORST = {"out": 0, "too close to call": 1, "within": 2}


def _work(operation: str | None, catalogue: Catalogue) -> str:
    known = catalogue.operations.get(operation or "")
    return known.term if known else (operation or "").replace("_", " ")


def answer_words(one: CustomerAnswer) -> str:
    """`yes, up to 180.00 EUR, said by R. P., 26 Nov 2026, 09:10: phone`."""
    ceiling = f"up to {one.ceiling} {one.currency or ''}".strip() if one.ceiling else ""
    said = ", ".join(filter(None, (one.answer, ceiling, one.said_by and f"said by {one.said_by}", when(one.at))))
    return cut(f"{said}: {one.note}" if one.note else said)


def loose_answers(job: Job) -> tuple[str, ...]:
    """Answers that no decision of the job leans on any more, so that none is left out of the report."""
    used = {one.answer for one in job.decisions}
    return tuple(answer_words(one) for one in job.answers if one.event not in used)


def earlier_lines(job: Job, round_: str, catalogue: Catalogue) -> tuple[str, ...]:
    """Decisions that a later one replaced."""
    return tuple(
        f"{term(one.characteristic, catalogue)}, {OVER_ALL.get(one.place) or shown(one.place)}: {one.decision}"
        f"{f' ({cut(one.why)})' if one.why else ''}, {when(one.at)}"
        for one in job.earlier
        if one.round == round_
    )


def may_lead_to(entry: Characteristic | None) -> str:
    """`declined: may lead to this: Oil passes the stem ...`, from the catalogue; "" for what it does not know."""
    said = " ".join(entry.out.split()) if entry else ""
    return f"declined: may lead to this: {said}" if said else ""
