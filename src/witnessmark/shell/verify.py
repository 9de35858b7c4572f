"""Proof of files and stores: an export, a record as JSON, a bundle of evidence, a store. What is wrong, and where.

A job that was closed is held against its closing, so that the entry is named which is not what was closed, also where
somebody brought sections and checksums into line with what he changed.
"""

import json
import re
import zipfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from typing import Any

from witnessmark.desk.bench import Refused
from witnessmark.record.beside import photos_named
from witnessmark.record.event import Event, EventFault, digest, from_canonical, reader
from witnessmark.record.proof import Proof, proof, stands_after
from witnessmark.record.recordfile import checksum_of, is_record, read_record
from witnessmark.shell.files import load_events, numbered, photo_beside, read_bytes
from witnessmark.text.fault import Faulty
from witnessmark.text.read import read

LEAST_DIGITS = 16
MOST_UNPACKED = 2_000_000_000
MOST_TOLD = 50


@dataclass(slots=True)
class Verified:
    """What was found. `facts` are plain data, `later` what came after the last closing, `faults` sentences."""

    facts: dict[str, Any] = field(default_factory=dict)
    later: list[str] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)


def verify_file(path: Path, wanted: str = "") -> Verified:
    """Prove an export, a record or a bundle. `wanted`: the hash on a paper. Raises Refused, Faulty for what is none."""
    digits = hash_digits(wanted)
    if zipfile.is_zipfile(path):
        from witnessmark.shell.verify_bundle import verify_bundle

        return verify_bundle(path, digits)
    data = read_bytes(path)
    if is_record(data):
        return verify_record(data, path.name, digits)
    found = Verified()
    events = _events(path, data, found)
    named = photos_named(events)
    for photo in named:
        try:
            photo_beside(path, photo)
        except Faulty as faulty:
            found.faults += [str(fault) for fault in faulty.faults]
    hold(found, events, digits, photos=len(named))
    return found


def verify_record(data: bytes, name: str, digits: str = "") -> Verified:
    """Prove a record as JSON."""
    found = Verified()
    events = numbered(read_record(data, name))
    hold(found, events, digits, photos=len(photos_named(events)))
    if checksum_of(data, name) != digest(events) and not found.faults:
        found.faults.append(f"{name}: the checksum is not that of its entries, and no closing says which of them was "
                            "changed; take the export again")
    return found


def hash_digits(wanted: str) -> str:
    """The digits of a hash as a person types it, in groups and capitals. Raises Refused for what is too short."""
    digits = re.sub(r"[\s\u00a0\u2002-]", "", wanted).casefold()
    if wanted and not re.fullmatch(r"[0-9a-f]{16,64}", digits):
        raise Refused(f"--hash '{wanted[:70]}' is no hash; type at least {LEAST_DIGITS} of the digits that are on the "
                      "paper, 0 to 9 and A to F")
    return digits


def hold(found: Verified, events: Sequence[Event], digits: str, photos: int) -> Proof:
    """Hold events against their closings and against a hash from a paper, and note what is found."""
    proved = proof(events)
    found.faults[:0] = [place.text for place in proved.places]
    found.facts |= {"events": proved.events, "photos": photos, "checksum": proved.checksum}
    if proved.closings:
        found.facts["closings"] = [
            {"id": one.event.id, "hash": one.hash, "events": one.events, "at": one.event.at, "by": one.event.by,
             "sound": one.sound, "later": len(one.later)} for one in proved.closings]  # fmt: skip
        numbers = {event.id: number for number, event in enumerate(events, 1)}
        found.later = [f"event {numbers[one.id]}, {one.kind} {one.id}, {one.at}{f', by {one.by}' if one.by else ''}"
                       for one in proved.later]  # fmt: skip
    if digits:
        after = stands_after(events, digits)
        if after is None:
            found.faults.append(f"the record never had the hash {digits[:16].upper()}...: the paper is of another "
                                "record, or this one was changed since the paper was made")
        else:
            found.facts["paper"] = {"fits_after": after, "of": proved.events}
    return proved


def _events(path: Path, data: bytes, found: Verified) -> tuple[Event, ...]:
    """The events of an export; one that was changed gives what can still be read of its log, and its faults."""
    try:
        events = load_events(path)
    except Faulty as faulty:
        log = tuple(readable(data, path.name))
        if not log:
            raise
        told = faulty.faults[:MOST_TOLD]
        found.faults += [str(fault) for fault in told]
        return numbered(log)
    if not _lines(data, path.name):
        raise Refused(f"{path}: has no `log:`, so nothing here proves what was read when; "
                      "verify an export, or check this file with `witnessmark check`")
    return events


def _lines(data: bytes, name: str) -> list[Any]:
    whole = read(data, name).data
    log = whole.get("log") if isinstance(whole, Mapping) else None
    return log if isinstance(log, list) else []


def readable(data: bytes, name: str) -> Iterator[Event]:
    """The entries of a log whose file is not sound, as far as they can be read."""
    try:
        lines = _lines(data, name)
    except Faulty:
        return
    seen: set[str] = set()
    for number, line in enumerate(lines, 1):
        event = _entry(line if isinstance(line, str) else "", number)
        if event.id not in seen:
            seen.add(event.id)
            yield event


def _entry(line: str, number: int) -> Event:
    """An entry; of one that cannot be read, its name as far as it goes."""
    packed = line.encode("utf-8", "replace")
    try:
        return from_canonical(packed)
    except EventFault:
        return _loose(packed, number)


def _loose(packed: bytes, number: int) -> Event:
    try:
        event = reader()(packed)
        digest([event])
    except EventFault:
        try:
            told = json.loads(packed)
            name = str(told["id"])[:200]
        except (ValueError, TypeError, KeyError, RecursionError):
            name = f"of line {number}"
        return Event(name or f"of line {number}", "not readable", {})
    return event


def told(faults: Iterable[str]) -> list[str]:
    """Faults in their order, each once, at most fifty."""
    several = list(dict.fromkeys(faults))
    return several if len(several) <= MOST_TOLD else [*several[:MOST_TOLD], f"and {len(several) - MOST_TOLD} more"]


def hashed(data: bytes) -> str:
    """The SHA-256 of bytes as 64 hex digits."""
    return sha256(data).hexdigest()
