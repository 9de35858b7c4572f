"""The state of each job as the desk sees it, made once for each number of events."""

from collections import OrderedDict
from threading import Lock
from typing import TYPE_CHECKING, Any

from witnessmark.shell.web.spoken import SPOKEN

if TYPE_CHECKING:
    from witnessmark.desk.state import State

MOST = 32  # states kept; a works has a few jobs open at once


class Snapshots:
    """A small cache: (job, round, order, words) -> state. A state is a value, so pages may share it."""

    def __init__(self, store: Any, catalogue: Any) -> None:
        from witnessmark.desk.state import Memory

        self._store, self._catalogue, self._memory = store, catalogue, Memory()
        self._kept: OrderedDict[tuple[str, str, str, str], State] = OrderedDict()
        self._lock = Lock()

    def state(self, job: str, round_: str = "as found", order: str = "by part") -> "State":
        """The state of a job after its last stored event."""
        from witnessmark.desk.state import state  # it brings numpy: only once a job is looked at

        snapshot = self._store.job(job)
        words = SPOKEN.get()
        key = (job, round_, order, words)
        with self._lock:
            kept = self._kept.get(key)
            if kept is not None and kept.job.seq == snapshot.seq:
                self._kept.move_to_end(key)
                return kept
        fresh = state(snapshot, self._said(words), round_, self._memory, order)
        with self._lock:
            self._kept[key] = fresh
            while len(self._kept) > MOST:
                self._kept.popitem(last=False)
        return fresh

    def _said(self, words: str) -> Any:
        """The catalogue in the words of a device, made once."""
        from witnessmark.explain.dialect import catalogue_said

        return self._memory.once(("catalogue", words), lambda: catalogue_said(self._catalogue, words))
