"""What a hand writes beside the readings of a job file, as events: photos, checks, decisions, answers, route."""

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Any, Protocol

from witnessmark.record.readings import AS_FOUND
from witnessmark.text.fault import Path

if TYPE_CHECKING:
    from witnessmark.record.jobbeside import CustomerEntry, DecisionEntry, PhotoEntry, ZeroCheckEntry
    from witnessmark.record.jobintended import WorkEntry
    from witnessmark.record.jobschema import JobFile

FIRST, LAST = "", "\0 behind all readings"  # places of a zero check among the readings; no id holds a NUL

Checks = list[tuple[Path, "ZeroCheckEntry"]]


class Taker(Protocol):
    """The part of the file's reader that these sections need: it makes events, ids and faults."""

    @property
    def gauges(self) -> Mapping[str, Any]: ...

    def event(self, id: str, kind: str, body: dict[str, Any], path: Path,
              made: Mapping[str, Any] | None = None) -> None: ...
    def id_of(self, given: str | None, about: str) -> str: ...
    def known(self, what: str, name: str | None, names: Iterable[str], path: Path) -> None: ...
    def fault(self, kind: str, message: str, path: Path) -> None: ...
    def unit_of(self, written: str | None, gauge: str) -> str: ...


def route(taker: Taker, extent: str | None) -> None:
    """The chosen route."""
    if extent:
        taker.event("route", "route_chosen", {"extent": extent, "based_on": None}, ("route",))


def work(taker: Taker, job: "JobFile") -> None:
    """Geometry entered, intended work, what a plan is asked, the order."""
    if job.geometry is not None:
        entries = {name: [one.model_dump(by_alias=True, exclude_none=True) for one in each]
                   for name, each in job.geometry.items()}
        taker.event("geometry", "geometry_entered", {"entries": entries, "based_on": None}, ("geometry",))
    if job.work is not None:
        taker.event("work", "work_set", {"work": _cuts(job.work), "based_on": None}, ("work",))
    if job.plan is not None:
        body = {"pins": _cuts(job.plan.pins), "forbid": _cuts(job.plan.forbid), "wanted": job.plan.wanted,
                "based_on": None}
        taker.event("plan", "plan_asked", body, ("plan",))
    if job.order is not None:
        plain = job.order.model_dump(exclude={"work"})
        taker.event("order", "plan_ordered", {**plain, "work": _cuts(job.order.work), "based_on": None}, ("order",))


def _cuts(entries: "Sequence[WorkEntry] | None") -> list[dict[str, Any]]:
    return [one.model_dump(exclude_none=True) for one in entries or ()]


def checks(entries: Sequence["ZeroCheckEntry"]) -> dict[str, Checks]:
    """The zero checks by the id of the reading that each stands behind, in the order of the file."""
    found: dict[str, Checks] = {FIRST: []}
    for position, entry in enumerate(entries):
        path: Path = ("zero_checks", position)
        usual = FIRST if (entry.when or "before") == "before" else LAST
        where = usual if entry.follows is None else entry.follows
        found.setdefault(where, []).append((path, entry))
    return found


def zero(taker: Taker, some: Iterable[tuple[Path, "ZeroCheckEntry"]]) -> None:
    """Checks of zeros, in their place among the readings."""
    for path, entry in some:
        taker.known("gauge", entry.gauge, taker.gauges, (*path, "gauge"))
        when = entry.when or "before"
        body = {"gauge": entry.gauge, "found": entry.found, "unit": taker.unit_of(entry.unit, entry.gauge),
                "against": entry.against or "closed", "when": when, "allowed": entry.allowed,
                "passed": _passed(taker, entry, path)}
        taker.event(taker.id_of(entry.id, f"zero:{entry.gauge}:{when}"), "zero_checked", body, path, entry.model_dump())


def zero_left(taker: Taker, left: Mapping[str, Checks], readings: Sequence[str]) -> None:
    """The checks that stand behind all readings, and a fault for each that names a reading which is not there."""
    for where, some in left.items():
        for path, _ in some:
            taker.known("reading", None if where == LAST else where, readings, (*path, "follows"))
        zero(taker, some)


def _passed(taker: Taker, entry: "ZeroCheckEntry", path: Path) -> bool:
    if entry.passed is not None:
        return _yes(entry.passed)
    if entry.allowed is None:
        taker.fault("missing", "whether it passed is not said; add `passed: yes` or `no`, or what is `allowed`", path)
        return False
    return abs(_number(entry.found)) <= _number(entry.allowed)


def take_rest(taker: Taker, job: "JobFile") -> None:
    """Photos, comparisons of gauges, decisions, and what the customer says to them."""
    for position, photo in enumerate(job.photos or ()):
        _photo(taker, photo, ("photos", position))
    for position, one in enumerate(job.comparisons or ()):
        path: Path = ("comparisons", position)
        for key in ("first", "second"):
            taker.known("gauge", getattr(one, key), taker.gauges, (*path, key))
        body = {"first": one.first, "second": one.second, "on": one.on, "first_read": one.first_read,
                "second_read": one.second_read, "unit": taker.unit_of(one.unit, one.first)}
        taker.event(taker.id_of(one.id, f"compared:{one.first}:{one.second}"), "gauges_compared", body, path,
                    one.model_dump())
    decided = [taker.id_of(one.id, f"decided:{one.characteristic}:{one.place}:{one.round or AS_FOUND}")
               for one in job.decisions or ()]
    for position, (id, decision) in enumerate(zip(decided, job.decisions or (), strict=True)):
        _decision(taker, id, decision, decided, ("decisions", position))
    answered = [taker.id_of(one.id, "customer") for one in job.customer or ()]
    for position, (id, answer) in enumerate(zip(answered, job.customer or (), strict=True)):
        path = ("customer", position)
        taker.known("answer", answer.based_on, answered, (*path, "based_on"))
        _answer(taker, id, answer, decided, path)


def _photo(taker: Taker, entry: "PhotoEntry", path: Path) -> None:
    about = {"characteristic": entry.characteristic, "place": entry.place, "round": entry.round}
    body = {"photo": entry.photo, "type": entry.type or "image/jpeg", "bytes": int(entry.bytes),
            "width": int(entry.width), "height": int(entry.height),
            "about": {key: value for key, value in about.items() if value}, "note": entry.note,
            "mark": entry.mark.model_dump() if entry.mark else None}
    taker.event(taker.id_of(entry.id, f"photo:{entry.photo[:12]}"), "photo_added", body, path, entry.model_dump())


def _decision(taker: Taker, id: str, entry: "DecisionEntry", decided: Sequence[str], path: Path) -> None:
    taker.known("decision", entry.based_on, decided, (*path, "based_on"))
    body = {"characteristic": entry.characteristic, "place": entry.place, "round": entry.round or AS_FOUND,
            "decision": entry.decision, "operation": entry.operation, "why": entry.why, "based_on": entry.based_on}
    taker.event(id, "decided", body, path, entry.model_dump())


def _answer(taker: Taker, id: str, entry: "CustomerEntry", decided: Sequence[str], path: Path) -> None:
    for position, name in enumerate(entry.about or ()):
        taker.known("decision", name, decided, (*path, "about", position))
    body = {"about": list(entry.about or decided), "answer": "yes" if _yes(entry.answer) else "no",
            "ceiling": entry.ceiling, "currency": entry.currency, "said_by": entry.said_by, "note": entry.note,
            "based_on": entry.based_on}
    taker.event(id, "customer_answered", body, path, entry.model_dump())


def _yes(value: str) -> bool:
    return value.casefold() in {"true", "yes"}


def _number(text: str) -> Fraction:
    """A number of the file, which its shape has checked."""
    return Fraction(text) if "/" in text else Fraction(Decimal(text))
