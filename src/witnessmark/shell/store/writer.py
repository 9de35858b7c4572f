"""The one writer: a thread with a bounded queue. What waits together is committed together (group commit).

A request is all or nothing, and its caller is answered only after the commit that holds it has reached the disk. A
request that cannot be taken (unknown job, other bytes under one id) is found before anything of it is written, so it
never disturbs those that share its commit; if the disk refuses a shared commit, each request is tried alone.
"""

import queue
import threading
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import Future
from dataclasses import dataclass, field

from sqlalchemy import Connection, Engine, func, select

from witnessmark.record.event import Event
from witnessmark.shell.store import rows
from witnessmark.shell.store.fault import (
    JobExists,
    NoSuchJob,
    OtherBytes,
    StoreBusy,
    StoreClosed,
    StoreFault,
    translated,
)
from witnessmark.shell.store.tables import EVENT, JOB

MOST_WAITING = 1000
MOST_TOGETHER = 64
SECONDS = 60.0  # longer than any disk that still works takes to make room in the queue


@dataclass(frozen=True, slots=True)
class Appended:
    """What an append did. `events` are all that were given, with their numbers; `stored` those that are new.

    `again` says that every event was known already and nothing was stored.
    """

    events: tuple[Event, ...]
    stored: tuple[Event, ...]
    again: bool


@dataclass(frozen=True, slots=True)
class Request:
    """Events for one job; `opens` = (created_at, title) when the job is to be created with them."""

    job: str
    events: tuple[Event, ...]
    received_at: str
    opens: tuple[str, str] | None = None
    answer: "Future[Appended]" = field(default_factory=Future)


class Writer:
    """Owns the writing connection from `start` to `stop`."""

    def __init__(
        self,
        engine: Engine,
        committed: Callable[[str, Appended], None],
        after_commit: Callable[[str, Appended], None],
    ) -> None:
        self._engine = engine
        self._committed = committed  # before the caller hears of it: what it reads next must hold it
        self.busy = False  # from before a commit until `committed` has heard of it
        self._after_commit = after_commit
        self._queue: queue.Queue[Request | None] = queue.Queue(MOST_WAITING)
        self._gate = threading.Lock()
        self._open = True
        self._thread = threading.Thread(target=self._run, name="witnessmark-writer", daemon=True)

    def start(self) -> None:
        """Begin to take requests."""
        self._thread.start()

    def do(self, request: Request) -> Appended:
        """Hand a request over and wait until it is on the disk, or raise why it is not."""
        with self._gate:
            if not self._open:
                raise StoreClosed("the store is closed; open it again")
            try:
                self._queue.put(request, timeout=SECONDS)
            except queue.Full:
                raise StoreBusy(f"{MOST_WAITING} requests wait for the store already; nothing was stored: "
                                "do it once more in a moment") from None
        return request.answer.result()

    def stop(self) -> None:
        """Finish what waits, then end the thread. A second call does nothing."""
        with self._gate:
            if not self._open:
                return
            self._open = False
            self._queue.put(None)
        self._thread.join()

    def _run(self) -> None:
        going = True
        while going:
            together, going = self._together()
            if together:
                self._commit(together)
                self.busy = False

    def _together(self) -> tuple[list[Request], bool]:
        first = self._queue.get()
        if first is None:
            return [], False
        together = [first]
        while len(together) < MOST_TOGETHER:
            try:
                further = self._queue.get_nowait()
            except queue.Empty:
                break
            if further is None:
                return together, False
            together.append(further)
        return together, True

    def _commit(self, together: Sequence[Request]) -> None:
        done: dict[int, Appended | StoreFault] = {}
        self.busy = True
        try:
            with self._engine.begin() as connection:
                for position, request in enumerate(together):
                    done[position] = _taken(connection, request)
        except Exception as bad:  # noqa: BLE001 - whatever it is belongs to the callers, who wait in other threads
            if len(together) > 1:
                for request in together:
                    self._commit([request])
            else:
                together[0].answer.set_exception(translated(bad) or bad)
            return
        for position, request in enumerate(together):
            outcome = done[position]
            if isinstance(outcome, Appended) and outcome.stored:
                self._committed(request.job, outcome)
        self.busy = False
        for position, request in enumerate(together):
            self._tell(request, done[position])

    def _tell(self, request: Request, outcome: Appended | StoreFault) -> None:
        if isinstance(outcome, StoreFault):
            request.answer.set_exception(outcome)
            return
        request.answer.set_result(outcome)
        if outcome.stored:
            self._after_commit(request.job, outcome)


def _taken(connection: Connection, request: Request) -> Appended | StoreFault:
    """Write one request inside the open transaction, or say why it is not taken with nothing of it written."""
    there = connection.execute(select(JOB.c.id).where(JOB.c.id == request.job)).first() is not None
    if there and request.opens:
        return JobExists(request.job)
    if not there and not request.opens:
        return NoSuchJob(request.job)
    stored = dict(rows.known(connection, request.job, [event.id for event in request.events]))
    fresh = _fresh(stored, request.events)
    if isinstance(fresh, OtherBytes):
        return fresh
    if request.opens:
        created_at, title = request.opens
        connection.execute(JOB.insert().values(id=request.job, created_at=created_at, title=title))
    last = connection.execute(select(func.max(EVENT.c.seq)).where(EVENT.c.job == request.job)).scalar() or 0
    numbered = tuple(event.stored(last + count, request.received_at) for count, event in enumerate(fresh, 1))
    if numbered:
        connection.execute(EVENT.insert(), [rows.row(request.job, event) for event in numbered])
    stored |= {event.id: event for event in numbered}
    return Appended(tuple(stored[event.id] for event in request.events), numbered, not numbered and not request.opens)


def _fresh(stored: Mapping[str, Event], events: Sequence[Event]) -> list[Event] | OtherBytes:
    """The events that are new, each once; OtherBytes when an id stands for two contents."""
    fresh: dict[str, Event] = {}
    for event in events:
        twin = stored.get(event.id) or fresh.get(event.id)
        if twin is None:
            fresh[event.id] = event
        elif not rows.same(twin, event):
            return OtherBytes(event.id)
    return list(fresh.values())
