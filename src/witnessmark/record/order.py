"""Which of several entries is the later one, said the same in whatever order they arrived and however clocks stood.

An entry that names the one that it was based on is later than that one: its writer had seen it. Where no entry had
sight of the other, the time where it was typed decides. Within one device its own count goes before its clock, so that
a clock set back in mid-morning turns nothing round; between devices a wrong clock may, and the earlier entry is kept.
The numbers of the log take no part. The idea of an order by sight: Lamport, "Time, clocks, and the ordering of events
in a distributed system", CACM 21 (1978) 558-565 (from memory).
"""

from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime
from math import inf

from witnessmark.record.event import Event

Key = tuple[float, str, int, str]


def keys(entries: Iterable[Event]) -> dict[str, Key]:
    """id -> the rank of an entry by device and clock; the larger is the later."""
    counted: dict[str, list[Event]] = {}
    found: dict[str, Key] = {}
    for one in entries:
        if one.device_seq > 0:
            counted.setdefault(one.device, []).append(one)
        else:
            found[one.id] = (moment(one.at), one.device, 0, one.id)
    for device, several in counted.items():
        latest = -inf
        for one in sorted(several, key=lambda one: (one.device_seq, moment(one.at), one.id)):
            latest = max(latest, moment(one.at))
            found[one.id] = (latest, device, one.device_seq, one.id)
    return found


def last(entries: Sequence[Event], gone: frozenset[str], rank: Mapping[str, Key]) -> Event | None:
    """The entry that holds: not taken back, and seen by no later one that holds; None where all are taken back."""
    standing = [one for one in entries if one.id not in gone]
    seen = _seen(entries, standing)
    open_ends = [one for one in standing if one.id not in seen]
    return max(open_ends or standing, key=lambda one: rank[one.id], default=None)


def bases(entries: Sequence[Event], gone: frozenset[str]) -> dict[str, str]:
    """id -> the nearest entry that it goes back to and that was not taken back; without one it is left out."""
    above = _above(entries)
    found: dict[str, str] = {}
    for one in above:
        here: str | None = above[one]
        passed = {one}
        while here is not None and here in gone and here not in passed:
            passed.add(here)
            here = above.get(here)
        if here is not None and here not in passed:
            found[one] = here
    return found


def moment(at: str) -> float:
    """Seconds since 1970 of a time as it was typed; without a zone it is taken for UTC, without sense as the first."""
    try:
        read = datetime.fromisoformat(at)
        return (read if read.tzinfo else read.replace(tzinfo=UTC)).timestamp()
    except (ValueError, OverflowError):
        return -inf


def _seen(entries: Sequence[Event], standing: Sequence[Event]) -> set[str]:
    """Ids that an entry which stands goes back to, also past entries that were taken back."""
    above = _above(entries)
    seen: set[str] = set()
    for one in standing:
        here = above.get(one.id)
        while here is not None and here not in seen:
            seen.add(here)
            here = above.get(here)
    return seen


def _above(entries: Sequence[Event]) -> dict[str, str]:
    """id -> the id of the entry that it was based on, where that is one of these. A number is one of the log."""
    ids = {one.id for one in entries}
    by_number = {one.seq: one.id for one in entries if one.seq}
    found: dict[str, str] = {}
    for one in entries:
        named = one.body.get("based_on")
        aim = by_number.get(named, "") if isinstance(named, int) else named
        if aim in ids and aim != one.id:
            found[one.id] = aim
    return found
