"""The decision sheet: what is out, too close to call or in doubt, part by part, with what a person makes of each."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from witnessmark.catalogue.entry import Catalogue, Characteristic
from witnessmark.desk.decide import DECISIONS, row_place
from witnessmark.desk.sheets.judged import Judged, judged
from witnessmark.desk.sheets.phrase import shown
from witnessmark.desk.sheets.report_decided import answer_words, may_lead_to
from witnessmark.desk.state import State
from witnessmark.judge.result import CLOSE, OUT, WITHIN, Result
from witnessmark.limits.limit import Allowed
from witnessmark.record.job import CustomerAnswer, Decision, answer_to

LAST_REASONS = 4
ASK_THE_BOOK = "ask the book"
_URGENCY = {OUT: 0, CLOSE: 2}


@dataclass(frozen=True, slots=True)
class Work:
    """One operation that may cure it, and what the document of the limit sheet says of that."""

    id: str
    term: str
    book: str  # `up to 0.20 mm, page 40`, `the book says no`, `ask the book`


@dataclass(frozen=True, slots=True)
class Standing:
    """The decision that stands for a row, in words."""

    event: str
    decision: str
    work: str
    operation: str
    why: str
    by: str
    answer: str  # yes | no | "" while nobody has answered
    customer: str  # the answer with its ceiling and who said it


@dataclass(frozen=True, slots=True)
class Row:
    """One characteristic at one location, judged, with its ways out."""

    id: str  # anchor
    characteristic: str
    place: str
    line: Judged
    more: int  # further stations of the row that are not within either
    works: tuple[Work, ...]
    standing: Standing | None


@dataclass(frozen=True, slots=True)
class Part:
    """The rows of one part, the most urgent first."""

    place: str
    name: str
    rows: tuple[Row, ...]
    decided: int


@dataclass(frozen=True, slots=True)
class Declined:
    """Work that the customer declined, with what may come of it in the catalogue's words."""

    what: str
    where: str
    work: str
    may: str


@dataclass(frozen=True, slots=True)
class DecideSheet:
    """All that the decision sheet shows of one round of a job."""

    job: str
    round: str
    title: str
    parts: tuple[Part, ...]
    others: tuple[Row, ...]  # decisions of rows that are within, or that have no verdict now
    decided: int
    of: int
    rest: int  # rows that are finished, within and not decided
    folded: int  # rows that are within and used again
    reasons: tuple[str, ...]
    waiting: int  # decisions that the customer has not answered
    declined: tuple[Declined, ...]
    currency: str  # of the last ceiling


def decide_sheet(state: State, unit: str = "mm") -> DecideSheet:
    """The sheet of the state's round."""
    rows = _rows(state)
    bad = [row for row, results in rows.items() if _worst(results).verdict in _URGENCY]
    held = {(one.characteristic, one.place): one for one in state.job.decisions if one.round == state.round}
    made = [_row(state, row, rows[row], held.get(row), unit) for row in bad]
    parts = _parts(made)
    aside = [row for row in held if row not in set(bad)]
    folded = [row for row in aside if _used(held[row]) and _fine(rows.get(row, ()))]
    others = [_row(state, row, rows[row], held[row], unit) for row in aside if row not in folded and row in rows]
    return DecideSheet(
        job=state.job.id, round=state.round, title="Decide" if state.round == "as found" else f"Decide, {state.round}",
        parts=parts, others=tuple(others), decided=sum(one.standing is not None for one in made), of=len(made),
        rest=sum(_fine(results) and row not in held for row, results in rows.items()), folded=len(folded),
        reasons=_reasons(state.job.decisions),
        waiting=sum(one.answer is None for one in held.values()), declined=declined_work(state),
        currency=next((one.currency for one in reversed(state.job.answers) if one.currency), "EUR"),
    )  # fmt: skip


def decided_of(state: State) -> tuple[int, int]:
    """How many rows that ask for a decision have one, of how many."""
    rows = _rows(state)
    held = {(one.characteristic, one.place) for one in state.job.decisions if one.round == state.round}
    asking = [row for row, results in rows.items() if _worst(results).verdict in _URGENCY]
    return sum(row in held for row in asking), len(asking)


def _rows(state: State) -> dict[tuple[str, str], list[Result]]:
    """Results of the round by characteristic and location, in the order of the bench."""
    found: dict[tuple[str, str], list[Result]] = {}
    for one in state.judgement.results:
        if one.round == state.round:
            found.setdefault((one.characteristic, row_place(one.location)), []).append(one)
    return found


def _worst(results: Sequence[Result]) -> Result:
    return min(results, key=_urgency)


def _urgency(result: Result) -> int:
    return _URGENCY.get(result.verdict, 4) + (not result.decided)


def _fine(results: Sequence[Result]) -> bool:
    return bool(results) and all(one.decided and one.verdict == WITHIN for one in results)


def _used(decision: Decision) -> bool:
    return decision.decision == DECISIONS[0]


def _row(state: State, row: tuple[str, str], results: Sequence[Result], held: Decision | None, unit: str) -> Row:
    characteristic, place = row
    worst = _worst(results)
    peers = [one for one in state.judgement.results if one.characteristic == characteristic]
    entry = state.catalogue.characteristics.get(characteristic)
    return Row(
        id=f"{characteristic}-{place}".replace("/", "-"), characteristic=characteristic, place=place,
        line=judged(worst, state.catalogue, unit, peers),
        more=sum(one.verdict in _URGENCY for one in results) - (worst.verdict in _URGENCY),
        works=_works(state, entry), standing=_standing(state, held) if held else None,
    )  # fmt: skip


def _works(state: State, entry: Characteristic | None) -> tuple[Work, ...]:
    return tuple(
        Work(name, state.catalogue.operations[name].term, book_words(state, name))
        for name in (entry.remedies if entry else ())
        if name in state.catalogue.operations
    )


def book_words(state: State, operation: str) -> str:
    """What the document says of an operation; where it says nothing, or nobody copied it, the book must be asked."""
    said: Allowed | None = state.sheet.allowed.get(operation) if state.sheet else None
    if said is None or said.allowed == "unknown":
        return ASK_THE_BOOK
    words = {"yes": "the book allows it", "no": "the book says no"}.get(said.allowed, "")
    most = f"up to {said.most_text} {said.unit}".strip()
    return ", ".join(filter(None, (words or most, f"page {said.page}" if said.page else "")))


def _standing(state: State, one: Decision) -> Standing:
    answer = answer_to(state.job, one)
    return Standing(
        event=one.event, decision=one.decision, work=_term(state.catalogue, one.operation),
        operation=one.operation or "", why=one.why, by=one.by, answer=answer.answer if answer else "",
        customer=answer_words(answer) if answer else "",
    )  # fmt: skip


def _term(catalogue: Catalogue, operation: str | None) -> str:
    known = catalogue.operations.get(operation or "")
    return known.term if known else (operation or "").replace("_", " ")


def _parts(rows: Iterable[Row]) -> tuple[Part, ...]:
    """Rows by part; the part with the most urgent row first, and what is still to be decided before what is."""
    by_place: dict[str, list[Row]] = {}
    for row in rows:
        by_place.setdefault(row.place, []).append(row)
    parts = [
        Part(place, shown(place), tuple(sorted(here, key=_rank)), sum(one.standing is not None for one in here))
        for place, here in by_place.items()
    ]
    return tuple(sorted(parts, key=lambda part: _rank(part.rows[0])))


def _rank(row: Row) -> int:
    return _URGENCY.get(row.line.verdict, 4) + row.line.open


def _reasons(decisions: Iterable[Decision]) -> tuple[str, ...]:
    """The last reasons that a person gave, the latest first, each once."""
    latest = sorted(decisions, key=lambda one: -one.seq)
    rest = "within every limit entered"
    return tuple(dict.fromkeys(one.why for one in latest if one.why != rest))[:LAST_REASONS]


def declined_work(state: State) -> tuple[Declined, ...]:
    """Work of the round that the customer said no to, in the order in which it was decided."""
    found = []
    for one in state.job.decisions:
        answer: CustomerAnswer | None = answer_to(state.job, one)
        if one.round != state.round or answer is None or answer.answer != "no":
            continue
        entry = state.catalogue.characteristics.get(one.characteristic)
        work = ", ".join(filter(None, (one.decision, _term(state.catalogue, one.operation))))
        found.append(Declined(entry.term if entry else one.characteristic, shown(one.place), work,
                              may_lead_to(entry)))  # fmt: skip
    return tuple(found)
