"""Proof of a bundle of evidence: members against the manifest, papers against the closing, the record itself."""

import json
import zipfile
import zlib
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from witnessmark.record.beside import photos_named
from witnessmark.record.event import Event, canonical
from witnessmark.record.jobfile import read_job
from witnessmark.record.proof import Proof
from witnessmark.record.recordfile import read_record
from witnessmark.shell.evidence import FORMAT, JSON, MANIFEST, PHOTOS, YAML, closed_papers
from witnessmark.shell.files import numbered
from witnessmark.shell.verify import MOST_UNPACKED, Verified, hashed, hold, readable
from witnessmark.text.fault import Fault, Faulty

# What a damaged archive raises, by where the damage sits: the directory, a compressed stream, the end of the file; a
# method or a flag that a flipped bit names makes NotImplementedError, RuntimeError (a password) or ValueError. Each is
# told as damage of its member, none is passed over.
_BROKEN = (zipfile.BadZipFile, zlib.error, OSError, NotImplementedError, RuntimeError, EOFError, ValueError)


def verify_bundle(path: Path, digits: str = "") -> Verified:
    """Prove a bundle. Raises Faulty for a file that is none."""
    found = Verified()
    members = _members(path, found)
    manifest = _manifest(members, path.name)
    files = manifest.get("files") if isinstance(manifest.get("files"), Mapping) else {}
    _against_manifest(members, files or {}, found)
    events = _record(members, found)
    proved = hold(found, events, digits, photos=len(photos_named(events)))
    _papers(members, proved, found)
    _photos(members, events, found)
    _same(members, manifest, proved, events, found)
    found.facts["files"] = len(members)
    return found


def _members(path: Path, found: Verified) -> dict[str, bytes]:
    members: dict[str, bytes] = {}
    try:
        with zipfile.ZipFile(path) as file:
            if sum(one.file_size for one in file.infolist()) > MOST_UNPACKED:
                raise Faulty([Fault("file", f"unpacks to more than {MOST_UNPACKED // 10**9} GB, which no bundle does; "
                                            "take it from the export again", str(path))])  # fmt: skip
            for one in file.infolist():
                if one.filename in members:
                    found.faults.append(f"{one.filename}: stands twice in the file; take the export again")
                try:
                    members[one.filename] = file.read(one)
                except _BROKEN as bad:
                    found.faults.append(f"{one.filename}: is damaged ({bad}); take the export again")
                    members[one.filename] = b""
    except _BROKEN as bad:
        said = f"is damaged, so that it cannot be opened ({bad}); take it from the export again"
        raise Faulty([Fault("file", said, str(path))]) from None
    return members


def _manifest(members: Mapping[str, bytes], name: str) -> Mapping[str, Any]:
    if MANIFEST not in members:
        raise Faulty([Fault("file", f"holds no {MANIFEST}, so it is no evidence of this tool", name)])
    try:
        data = json.loads(members[MANIFEST])
    except (ValueError, RecursionError):
        raise Faulty([Fault("file", f"{MANIFEST} is no JSON any more; take the export again", name)]) from None
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        raise Faulty([Fault("file", f"{MANIFEST} does not begin with \"format\": \"{FORMAT}\"", name)])
    return data


def _against_manifest(members: Mapping[str, bytes], files: Mapping[str, Any], found: Verified) -> None:
    for name, said in files.items():
        if name not in members:
            found.faults.append(f"{name}: stands in the manifest and is missing here")
        elif not isinstance(said, Mapping) or said.get("sha256") != hashed(members[name]):
            found.faults.append(f"{name}: is not the file that the manifest names; its SHA-256 is another")
    found.faults += [f"{name}: does not stand in the manifest; somebody put it in"
                     for name in members if name not in files and name != MANIFEST]  # fmt: skip


def _record(members: Mapping[str, bytes], found: Verified) -> tuple[Event, ...]:
    """The events of the bundle; of a record that is not sound, what can still be read."""
    text = members.get(YAML, b"")
    try:
        return numbered(read_job(text, YAML))
    except Faulty as faulty:
        found.faults += [str(fault) for fault in faulty.faults[:5]]
        return numbered(tuple(readable(text, YAML)))


def _papers(members: Mapping[str, bytes], proved: Proof, found: Verified) -> None:
    for name, hash in closed_papers(proved).items():
        if name not in members:
            found.faults.append(f"{name}: the closing names this paper, and it is missing here")
        elif hashed(members[name]) != hash:
            found.faults.append(f"{name}: is not the paper that was closed; the closing names another SHA-256")


def _photos(members: Mapping[str, bytes], events: Sequence[Event], found: Verified) -> None:
    for photo in photos_named(events):
        name = f"{PHOTOS}/{photo}.jpg"
        if name not in members:
            found.faults.append(f"{name}: the record names this photo, and it is missing here")
        elif hashed(members[name]) != photo:
            found.faults.append(f"{name}: is not the photo that the record names")


def _same(members: Mapping[str, bytes], manifest: Mapping[str, Any], proved: Proof, events: Sequence[Event],
          found: Verified) -> None:  # fmt: skip
    """What the manifest and the record as JSON say of the record, held against it."""
    if manifest.get("checksum") != proved.checksum:
        found.faults.append(f"{MANIFEST}: names another checksum than the record has, so one of them was changed")
    said = manifest.get("closings")
    named = {str(one.get("hash")): str(one.get("id")) for one in said or () if isinstance(one, Mapping)} \
        if isinstance(said, list) else {}
    kept = {one.hash for one in proved.closings}
    found.faults += [f"the closing '{id}' is missing in the record, and the manifest names it"
                     for hash, id in named.items() if hash not in kept]  # fmt: skip
    try:
        other = read_record(members.get(JSON, b""), JSON)
    except Faulty as faulty:
        found.faults += [str(fault) for fault in faulty.faults[:5]]
        return
    for number, (one, two) in enumerate(zip(events, other, strict=False), 1):
        if canonical(one) != canonical(two):
            found.faults.append(f"{JSON}: event {number} ({two.kind} {two.id}) is not the one in {YAML}")
            return
    if len(other) != len(events):
        found.faults.append(f"{JSON}: holds {len(other)} entries, and {YAML} {len(events)}")
