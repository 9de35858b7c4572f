"""What cannot be fitted as it was asked, and the checks that every question of this room passes first."""

from collections.abc import Sequence
from itertools import pairwise
from math import isfinite

SAME = 1e-6  # mm: two sizes nearer than this are one
MOST_SIZE = 100.0  # mm: no shim comes near; beyond it the unit was mistaken
MOST_LENGTH = 1000.0  # mm: no spring comes near


class FitFault(ValueError):
    """An empty shelf, a size below nothing, one name twice: the message says what, where and what to do."""


def check_length(value: float, where: str, what: str, most: float = MOST_LENGTH) -> None:
    """A length that stands for something: a number, and of a size that the unit allows."""
    if not isfinite(value):
        raise FitFault(f"{where}: {what} is no number ({value:g}); measure it, or leave this place out")
    if abs(value) > most:
        raise FitFault(f"{where}: {what} of {value:g} mm is beyond {most:g} mm; write it in mm")


def check_size(size: float, where: str) -> None:
    """The thickness of a shim that somebody could hold."""
    check_length(size, where, "the size of a shim", MOST_SIZE)
    if size <= 0:
        raise FitFault(f"{where}: a shim of {size:g} mm does not exist; sizes are above nothing, so measure it again")


def check_sizes(sizes: Sequence[float], where: str) -> None:
    """A list of sizes that can be bought: each is one, and none stands twice."""
    for size in sizes:
        check_size(size, where)
    for one, other in pairwise(sorted(sizes)):
        if other - one < SAME:
            raise FitFault(f"{where}: {one:g} mm stands there twice; take one of them out")


def check_ends(low: float, high: float, where: str, what: str, most: float = MOST_LENGTH) -> None:
    """Two ends with something between them."""
    check_length(low, where, f"the lower end of {what}", most)
    check_length(high, where, f"the upper end of {what}", most)
    if low > high:
        raise FitFault(f"{where}: {what} from {low:g} to {high:g} mm holds nothing; are its ends exchanged?")


def check_some(sizes: Sequence[float], what: str) -> None:
    """At least one size that can be bought."""
    if not sizes:
        raise FitFault(f"no {what} stands in the list of sizes; enter the sizes that can be bought")
