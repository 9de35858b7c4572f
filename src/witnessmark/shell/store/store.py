"""The store of a shop: one folder, one file, many jobs.

    store = Store.open(folder)
    store.create("HL-0147", created_at=now, title="Tern 2.0")
    store.append("HL-0147", events, received_at=now)   # returns when the events are on the disk
    store.job("HL-0147")                                # the snapshot
    store.photos.put(prepare(data).jpeg)                # the hash by which an event may name the photo
"""

import logging
import re
import sqlite3
import threading
from collections import OrderedDict
from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass, replace
from pathlib import Path

from sqlalchemy import Connection, Engine, func, select

from witnessmark.record.advance import advance
from witnessmark.record.event import Event, canonical
from witnessmark.record.job import Job
from witnessmark.record.replay import replay
from witnessmark.shell.store import connect, rows
from witnessmark.shell.store.check import faults
from witnessmark.shell.store.fault import JobIdRefused, NoSuchJob, StoreClosed, StoreFault, StoreReadOnly, TooMany, told
from witnessmark.shell.store.folder import made
from witnessmark.shell.store.lock import Lock
from witnessmark.shell.store.papers import FOLDER as PAPERS
from witnessmark.shell.store.papers import Papers
from witnessmark.shell.store.photos import FOLDER as PHOTOS
from witnessmark.shell.store.photos import Photos
from witnessmark.shell.store.tables import EVENT, JOB, migrate, version_of
from witnessmark.shell.store.view import copy, view
from witnessmark.shell.store.writer import Appended, Request, Writer

FILE = "witnessmark.sqlite3"
MOST_EVENTS = 100_000     # in one append
MOST_SNAPSHOTS = 64       # kept ready: the start sheet tells of sixty jobs, and one replayed anew for each view is slow
MOST_SINCE = 200          # events of a job kept at hand for its snapshot
MOST_HELD = 5_000         # events of a job that are kept beside its snapshot
SOUND_SQLITE = (3, 51, 3)
LOG = logging.getLogger(__name__)

Listener = Callable[[tuple[Event, ...]], None]


@dataclass(frozen=True, slots=True)
class JobRow:
    """One line of the list of jobs; `seq` is the number of its last event."""

    id: str
    created_at: str
    title: str
    seq: int


@dataclass(frozen=True, slots=True)
class _Ready:
    """A snapshot and the events that it was made of; a long job's events are left out."""

    job: Job
    events: tuple[Event, ...]


class Store:
    """An open store. Every method may be called from any thread."""

    def __init__(self, folder: Path, lock: Lock | None, write: Engine | None, read: Engine) -> None:
        self.folder = folder
        self.photos = Photos(folder / PHOTOS, only_read=write is None)
        self.papers = Papers(folder / PAPERS, only_read=write is None)
        self.warnings = old_sqlite(sqlite3.sqlite_version_info)
        self._lock = lock
        self._write = write
        self._read = read
        self._closed = False
        self._listeners: dict[str, list[Listener]] = {}
        self._guard = threading.Lock()
        self._snapshots: OrderedDict[str, _Ready] = OrderedDict()
        self._since: dict[str, list[Event]] = {}  # committed here since the snapshot that is kept
        self._last: dict[str, int] = {}  # number of the last event committed here
        self._writer = Writer(write, self._committed, self._after_commit) if write is not None else None
        if self._writer:
            self._writer.start()

    @classmethod
    def open(cls, folder: str | Path, *, only_read: bool = False) -> "Store":
        """Open the store in `folder`, creating both when it is opened for writing.

        Raises StoreLocked when another process writes to it, StoreNewer, StoreDamaged, StoreReadOnly, StoreUnreachable.
        """
        place = Path(folder)
        if only_read:
            return cls._to_read(place)
        made(place)
        lock = Lock(place / "witnessmark.lock")
        lock.take()
        write = connect.writing(place / FILE)
        try:
            with told(str(place)), write.begin() as connection:
                migrate(connection)
            Photos(place / PHOTOS).tidy()
        except BaseException:
            write.dispose()
            lock.release()
            raise
        return cls(place, lock, write, connect.reading(place / FILE))

    @classmethod
    def _to_read(cls, place: Path) -> "Store":
        with told(str(place)):
            (place / FILE).stat()
        read = connect.reading(place / FILE)
        try:
            with told(str(place)), read.begin() as connection:
                version_of(connection)
        except BaseException:
            read.dispose()
            raise
        return cls(place, None, None, read)

    def create(self, job: str, *, created_at: str, title: str = "", events: Sequence[Event] = ()) -> Appended:
        """Create a job, with its first events in the same commit. Raises JobExists, JobIdRefused."""
        if not re.fullmatch(r"\w[\w.-]{0,79}", job):
            raise JobIdRefused(f"{job[:80]!r} cannot be the id of a job; take up to 80 letters, digits, "
                               "'-', '_' and '.', with a letter or digit first")
        return self._do(Request(job, _checked(events), created_at, (created_at, title)))

    def append(self, job: str, events: Sequence[Event], received_at: str) -> Appended:
        """Store events, all or none, and return when they are on the disk. Known ones with the same bytes are no fault.

        Raises OtherBytes, NoSuchJob, EventFault (no canonical form), StoreFull and its kin.
        """
        return self._do(Request(job, _checked(events), received_at))

    def events(self, job: str, after: int = 0) -> tuple[Event, ...]:
        """The events of a job with a number above `after`, in order. Raises NoSuchJob."""
        with self._reading() as connection:
            if connection.execute(select(JOB.c.id).where(JOB.c.id == job)).first() is None:
                raise NoSuchJob(job)
            return rows.events_after(connection, job, after)

    def jobs(self) -> tuple[JobRow, ...]:
        """All jobs, the newest first."""
        last = select(EVENT.c.job, func.max(EVENT.c.seq).label("seq")).group_by(EVENT.c.job).subquery()
        asked = select(JOB.c.id, JOB.c.created_at, JOB.c.title, func.coalesce(last.c.seq, 0)).outerjoin(
            last, last.c.job == JOB.c.id).order_by(JOB.c.created_at.desc(), JOB.c.id)
        with self._reading() as connection:
            return tuple(JobRow(*found) for found in connection.execute(asked))

    def job(self, job: str) -> Job:
        """The snapshot of a job as it stands now. Raises NoSuchJob."""
        with self._guard:
            ready = self._snapshots.get(job)
            known = self._known(job, ready) if ready else None
        events = known if known is not None else self._fresh(job, ready.job.seq if ready else 0)
        if ready and not events:
            return ready.job
        quick = advance(ready.job, events) if ready and ready.job.seq else None
        if ready and quick is not None:
            held = ready.events + events if ready.events else ()
            return self._keep(job, _Ready(quick, held if len(held) <= MOST_HELD else ()))
        if ready and ready.job.seq:  # a long job is not held twice, so it is read again from its beginning
            events = ready.events + events if ready.events else self._fresh(job, 0)
        return self._keep(job, _Ready(replay(events), events if len(events) <= MOST_HELD else ()))

    def subscribe(self, job: str, listener: Listener) -> Callable[[], None]:
        """Call `listener` with new events of a job after each commit; the result ends it.

        It is called in the writer's thread and must return at once.
        """
        with self._guard:
            self._listeners.setdefault(job, []).append(listener)

        def end() -> None:
            with self._guard:
                if listener in self._listeners.get(job, ()):
                    self._listeners[job].remove(listener)
        return end

    def backup(self, path: str | Path) -> None:
        """Write a sound copy of the whole store to a new file, while the store is in use, photos and papers beside it.

        Every photo that the copy names was kept before it was named, so the photos are copied last. One that is no
        longer sound is left out, and `check` tells of it in both. Raises StoreFault; then the new file is not there.
        """
        target = Path(path)
        with self._reading() as connection:
            copy(connection, target)
        try:
            self.photos.copy_to(target.parent / PHOTOS)
            self.papers.copy_to(target.parent / PAPERS)
        except StoreFault:
            target.unlink(missing_ok=True)
            raise

    def check(self) -> list[str]:
        """Everything that is wrong with the store, as sentences; [] when it is sound."""
        with self._reading() as connection:
            return faults(connection, self.photos)

    def close(self) -> None:
        """Finish what waits and let go of the file. A second call does nothing."""
        if self._closed:
            return
        self._closed = True
        if self._writer:
            self._writer.stop()
        self._read.dispose()
        if self._write is not None:
            self._write.dispose()
        if self._lock is not None:
            self._lock.release()

    def _do(self, request: Request) -> Appended:
        if self._closed:
            raise StoreClosed("the store is closed; open it again")
        if self._writer is None:
            raise StoreReadOnly("the store was opened for reading only; nothing was stored: "
                                "write through the process that holds it, or open it again once that has ended")
        return self._writer.do(request)

    def _reading(self) -> AbstractContextManager[Connection]:
        if self._closed:
            raise StoreClosed("the store is closed; open it again")
        return view(self._read, str(self.folder))

    def _keep(self, job: str, made: "_Ready") -> Job:
        with self._guard:
            held = self._snapshots.get(job)
            if held is None or held.job.seq <= made.job.seq:  # another thread may have read further meanwhile
                self._snapshots[job] = made
                self._snapshots.move_to_end(job)
                self._since[job] = [event for event in self._since.get(job, ()) if event.seq > made.job.seq]
            while len(self._snapshots) > MOST_SNAPSHOTS:
                self._snapshots.popitem(last=False)
        return made.job

    def _known(self, job: str, ready: "_Ready") -> tuple[Event, ...] | None:
        """What came since a snapshot, where this process, the only writer, has all of it at hand; else None."""
        if self._writer is None or self._writer.busy:
            return None
        seq = ready.job.seq
        since = tuple(event for event in self._since.get(job, ()) if event.seq > seq)
        complete = job not in self._last or seq + len(since) == max(self._last[job], seq)
        return since if complete else None

    def _committed(self, job: str, appended: Appended) -> None:
        """Remember what was committed, without the bytes as they came, for the snapshot that is kept."""
        with self._guard:
            self._last[job] = appended.stored[-1].seq
            since = self._since.setdefault(job, [])
            since += [replace(event, received="") for event in appended.stored]
            del since[:-MOST_SINCE]

    def _fresh(self, job: str, after: int) -> tuple[Event, ...]:
        """What came after a number, without the bytes as they came: a snapshot does not need them."""
        with self._reading() as connection:
            if connection.execute(select(JOB.c.id).where(JOB.c.id == job)).first() is None:
                raise NoSuchJob(job)
            return rows.events_after(connection, job, after, bare=True)

    def _after_commit(self, job: str, appended: Appended) -> None:
        with self._guard:
            listeners = tuple(self._listeners.get(job, ()))
        for listener in listeners:
            try:
                listener(appended.stored)
            except Exception:  # a page that listens badly must not stop the shop's record; it is told in the log
                LOG.exception("a listener to job %s raised; the events are stored", job)


def old_sqlite(version: tuple[int, ...]) -> tuple[str, ...]:
    """A warning when this SQLite may corrupt a file that two connections write at the same instant."""
    if version >= SOUND_SQLITE:
        return ()
    old, sound = (".".join(map(str, numbers)) for numbers in (version, SOUND_SQLITE))
    return (f"SQLite {old} is older than {sound} and can, very rarely, damage a file that two programs write at once; "
            "the store lets only one write, so leave its lock file alone",)


def _checked(events: Sequence[Event]) -> tuple[Event, ...]:
    if len(events) > MOST_EVENTS:
        raise TooMany(f"{len(events)} events at once are more than {MOST_EVENTS}; append them in portions")
    for event in events:
        canonical(event)
    return tuple(events)
