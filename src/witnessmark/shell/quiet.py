"""Silence for a library that prints on standard output although it was told not to.

It writes below Python, to file descriptor 1, so the descriptor itself is turned away while it works. One at a time: a
descriptor belongs to the whole process.
"""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from threading import RLock

_ONE_AT_A_TIME = RLock()


@contextmanager
def quiet() -> Iterator[None]:
    """Nothing reaches standard output meanwhile."""
    with _ONE_AT_A_TIME:
        sys.stdout.flush()
        kept = os.dup(1)
        nowhere = os.open(os.devnull, os.O_WRONLY)
        try:
            os.dup2(nowhere, 1)
            yield
        finally:
            os.dup2(kept, 1)
            os.close(nowhere)
            os.close(kept)
