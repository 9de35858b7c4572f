"""One process writes to a store. The operating system's own lock says so, and lets go when the process ends."""

import os
import sys
from pathlib import Path

from witnessmark.shell.store.fault import StoreLocked, told

if sys.platform == "win32":
    import msvcrt

    def _hold(handle: int) -> None:
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
else:
    import fcntl

    def _hold(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)


class Lock:
    """The right to write into a folder's store, held from `take` to `release`."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._handle: int | None = None

    def take(self) -> None:
        """Take the lock or raise StoreLocked at once, naming the process that holds it where it can be read."""
        with told(str(self._path.parent)):
            handle = os.open(self._path, os.O_RDWR | os.O_CREAT, 0o644)
        try:
            _hold(handle)
        except OSError:
            holder = _holder(handle)
            os.close(handle)
            raise StoreLocked(f"{self._path.parent}: another process{holder} is writing to this store; "
                              "close it there, or open the store for reading only") from None
        try:
            with told(str(self._path.parent)):
                _sign(handle)
        except BaseException:
            os.close(handle)
            raise
        self._handle = handle

    def release(self) -> None:
        """Let go. The file stays: removing it would let two processes lock two files of one name."""
        if self._handle is not None:
            os.close(self._handle)
            self._handle = None


def _sign(handle: int) -> None:
    """Write down who holds the lock, for the message of those who are refused."""
    if hasattr(os, "pwrite"):  # elsewhere a locked file cannot be read by others anyway
        os.ftruncate(handle, 0)
        os.pwrite(handle, str(os.getpid()).encode(), 0)


def _holder(handle: int) -> str:
    try:
        number = os.read(handle, 32).decode("ascii", "replace").strip()
    except OSError:  # some systems refuse to read what another process has locked; the message does without
        return ""
    return f" (number {number})" if number.isdigit() else ""
