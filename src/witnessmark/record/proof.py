"""Proof of a record: whether what was closed still stands, and if not, which entry is not what it was.

A closing keeps the chain hash over the events before it, a short link (8 bytes of a SHA-256) for each of them, by which
the place of a change is found, and a seal over itself. The hash decides; the links only point.

It proves nothing against somebody who works out all of this anew: no key signs it. The hash that stands on a paper in
the customer's hand does (`stands_after`). What came after the last closing is told, and not covered.
"""

import hashlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from witnessmark.record.align import Misfit, misfits
from witnessmark.record.event import Event, canonical, digest
from witnessmark.record.shape import problems

CLOSED = "job_closed"
LINK = 16  # hex digits of one link: 64 bits, and a record of 20,000 events takes 320 kB of them


@dataclass(frozen=True, slots=True)
class Place:
    """Where a record is not what was closed. `event` is the id of what stands there now, "" where it is missing."""

    number: int
    event: str
    text: str


@dataclass(frozen=True, slots=True)
class Closed:
    """One closing held against the record. `later` came after what it covers; further closings are among it."""

    event: Event
    hash: str
    events: int
    papers: Mapping[str, str]
    places: tuple[Place, ...]
    later: tuple[Event, ...]

    @property
    def sound(self) -> bool:
        """Whether everything that it covers is what it was."""
        return not self.places


@dataclass(frozen=True, slots=True)
class Proof:
    """A whole record: every closing in its order. `missing` tells of closings that must have been there."""

    events: int
    checksum: str
    closings: tuple[Closed, ...]
    missing: tuple[Place, ...]

    @property
    def sound(self) -> bool:
        """Whether every closing holds. A job that was never closed has none, and is sound."""
        return not self.places

    @property
    def places(self) -> tuple[Place, ...]:
        """Every place that does not fit, each told once."""
        found = [place for one in self.closings for place in one.places]
        return tuple(dict.fromkeys([*found, *self.missing]))

    @property
    def later(self) -> tuple[Event, ...]:
        """What came after the last closing; () where nothing was closed."""
        return self.closings[-1].later if self.closings else ()


def links(events: Iterable[Event]) -> str:
    """The links of events, one after the other."""
    return "".join(_link(event) for event in events)


def sealed(event: Event) -> Event:
    """A closing with the seal over all of it."""
    return replace(event, body={**event.body, "seal": _seal(event)})


def closing_id(number: int) -> str:
    """The id of a job's closing, the same for whoever closes it: of two people at once, the second is told."""
    return f"closed:{number}"


def papers_named(events: Iterable[Event]) -> tuple[str, ...]:
    """The hashes of all papers that closings name, each once."""
    found = [str(paper) for event in events if event.kind == CLOSED and isinstance(event.body.get("papers"), Mapping)
             for paper in event.body["papers"].values()]
    return tuple(dict.fromkeys(found))


def proof(events: Iterable[Event]) -> Proof:
    """Hold every closing of a log against the events before it."""
    log = tuple(events)
    closings = tuple(_closed(event, at, log) for at, event in enumerate(log) if event.kind == CLOSED)
    return Proof(len(log), digest(log), closings, tuple(_absent(closings)))


def stands_after(events: Iterable[Event], digits: str) -> int | None:
    """After how many events a record had the hash that begins with these digits; None where it never had.

    Every paper carries the hash of the record as it was then, so a paper of any day can be held against the record.
    """
    chain = b""
    for number, event in enumerate(events, 1):
        chain = hashlib.sha256(chain + hashlib.sha256(canonical(event)).digest()).digest()
        if chain.hex().startswith(digits):
            return number
    return None


def told(event: Event, number: int) -> str:
    """`event 41 (reading_taken r41, typed 2026-11-25T09:00:00Z by A.)`"""
    typed = f", typed {event.at}" if event.at else ""
    by = f" by {event.by}" if event.by else ""
    return f"event {number} ({event.kind} {event.id}{typed}{by})"


def _link(event: Event) -> str:
    return hashlib.sha256(canonical(event)).hexdigest()[:LINK]


def _seal(event: Event) -> str:
    bare = {key: value for key, value in event.body.items() if key != "seal"}
    return hashlib.sha256(canonical(replace(event, body=bare))).hexdigest()


def _closed(event: Event, at: int, log: Sequence[Event]) -> Closed:
    body = event.body
    count = _count(body.get("events"))
    others = (*log[:at], *log[at + 1:])
    wanted, papers = _text(body.get("hash")), body.get("papers")
    places: tuple[Place, ...] = tuple(_itself(event, at))
    known = set(_parted(_text(body.get("links"))))
    later = others[count:]
    if len(others) < count or digest(others[:count]) != wanted:
        found = tuple(_where(event, at, log))
        places = (*places, *found) if found or places else (_hash_alone(event, at),)
        later = tuple(one for one in others if _link(one) not in known)
    return Closed(event, wanted, count, papers if isinstance(papers, Mapping) else {}, places, later)


def _itself(event: Event, at: int) -> Iterator[Place]:
    """Whether the closing is what was written; one without a seal is held against its shape alone."""
    seal = event.body.get("seal")
    wrong = problems(event)
    if wrong or (seal is not None and seal != _seal(event)):
        why = f": {wrong[0]}" if wrong else ""
        yield Place(at + 1, event.id, f"{told(event, at + 1)}, the closing, is not what was written{why}")
    count = _count(event.body.get("events"))
    if at < count:
        yield Place(at + 1, event.id, f"{told(event, at + 1)}, the closing, stood after the {count} events that it "
                                      "covers, and does not any more")


def _hash_alone(event: Event, at: int) -> Place:
    return Place(at + 1, event.id, f"{told(event, at + 1)}: its hash is not that of the events before it, and it keeps "
                                   "nothing that says which of them is not what was closed")


def _where(event: Event, at: int, log: Sequence[Event]) -> Iterator[Place]:
    closed = _parted(_text(event.body.get("links")))
    if not closed or len(closed) != _count(event.body.get("events")):
        return
    numbered = [(number, one) for number, one in enumerate(log, 1) if number != at + 1]
    found = [_link(one) for _, one in numbered]
    for one in misfits(closed, found, at):
        yield _place(one, numbered)


def _place(one: Misfit, found: Sequence[tuple[int, Event]]) -> Place:
    """A misfit in words. Positions in `closed` count from 0; the events of the log carry their numbers."""
    here = [found[at] for at in one.found]
    names = [told(event, number) for number, event in here]
    number, id = (here[0][0], here[0][1].id) if here else (one.closed + 1, "")
    if one.kind == "changed":
        return Place(number, id, f"{names[0]} is not what was closed")
    if one.kind == "put in":
        return Place(number, id, f"{names[0]} was put in; it was not there when the job was closed")
    if one.kind == "exchanged":
        return Place(number, id, f"{names[0]} and {names[1]} were exchanged")
    if one.kind == "moved":
        return Place(number, id, f"{names[0]} stood at number {one.closed + 1} when the job was closed")
    before, after = (told(found[at][1], found[at][0]) if at is not None else "" for at in one.between)
    where = f"between {before} and {after}" if before and after else f"after {before}" if before else f"before {after}"
    return Place(one.closed + 1, "", f"event {one.closed + 1} of what was closed is missing; it stood {where}")


def _absent(closings: Sequence[Closed]) -> Iterator[Place]:
    """Closings that a later one counts on: the second is named so because there was a first."""
    ids = {one.event.id for one in closings}
    for number in range(1, 1 + max((_number(id) for id in ids), default=0)):
        if closing_id(number) not in ids:
            yield Place(0, closing_id(number), f"the closing '{closing_id(number)}' is missing, and a later one stands "
                                               "in the record")


def _number(id: str) -> int:
    word, _, digits = id.partition(":")
    return int(digits) if word == "closed" and digits.isascii() and digits.isdigit() and len(digits) < 5 else 0


def _parted(text: str) -> list[str]:
    return [text[at:at + LINK] for at in range(0, len(text), LINK)]


def _count(value: Any) -> int:
    return int(value) if isinstance(value, str) and value.isascii() and value.isdigit() and len(value) < 10 else 0


def _text(value: Any) -> str:
    return value if isinstance(value, str) else ""
