"""The evidence of a job in one file: its record, its papers as they were closed, its photos, tables, and how to verify.

The same record gives the same bytes. Every member stands in the manifest with its SHA-256; the papers of a closing
stand in the closing as well, and the closing is proved by the record (record/proof.py).
"""

import json
import zipfile
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from io import BytesIO
from typing import Any

from witnessmark.desk.sheets.paper_block import invented
from witnessmark.desk.state import State
from witnessmark.desk.tables import TABLES, table
from witnessmark.record.beside import photos_named
from witnessmark.record.event import Event
from witnessmark.record.export import write_job
from witnessmark.record.proof import Proof, proof
from witnessmark.record.recordfile import write_record
from witnessmark.shell.flat import csv_bytes

FORMAT = "witnessmark-evidence-1"
MANIFEST, YAML, JSON, README = "manifest.json", "record.yaml", "record.json", "README.txt"
PHOTOS = "record-photos"  # beside record.yaml, where a job file looks for its photos
NO_TIME = (1980, 1, 1, 0, 0, 0)  # the first that a zip file knows; the times of a job stand in its record

Get = Callable[[str], bytes | None]
"""Gives the bytes of a photo or a paper by its hash; None for one that is not here."""


@dataclass(frozen=True, slots=True)
class Bundle:
    """A bundle, and a sentence for everything that belongs into it and is not here."""

    data: bytes
    missing: tuple[str, ...]


def bundle(state: State, events: Sequence[Event], photo: Get, paper: Get, now: bytes | None = None) -> Bundle:
    """The evidence of a job. `now` is the full report of a job that is not closed, or that has gone on since."""
    proved = proof(events)
    members: dict[str, bytes] = {
        YAML: write_job(events, state.job).encode(), JSON: write_record(events, state.job.id).encode(),
        **{f"{name}.csv": csv_bytes(table(state, events, name)) for name in TABLES},
    }  # fmt: skip
    missing: list[str] = []
    for name, hash in closed_papers(proved).items():
        _add(members, missing, name, paper(hash), f"{name}: the paper is not in the store")
    for hash in photos_named(events):
        name = f"{PHOTOS}/{hash}.jpg"
        _add(members, missing, name, photo(hash), f"{name}: the photo is not here")
    if now is not None:
        members["papers/now/full-report.pdf"] = now
    members[README] = _readme(state, proved, missing).encode()
    members[MANIFEST] = _manifest(state, proved, members)
    return Bundle(_zipped(members), tuple(missing))


def evidence(state: State, events: Sequence[Event], photo: Get, paper: Get) -> Bundle:
    """The bundle of a job. One that is open, or has gone on since, gets its report of today as well."""
    from witnessmark.desk.sheets.full_report import closing_of
    from witnessmark.shell.papers.full import full_pdf

    proved = proof(events)
    done = proved.closings and not proved.later
    now = None if done else full_pdf(state, events, closing_of(events), photos=photo)
    return bundle(state, events, photo, paper, now)


def closed_papers(proved: Proof) -> Mapping[str, str]:
    """Name in the bundle -> hash, of every paper that a closing names."""
    return {f"papers/closed-{number}/{name}.pdf": str(hash)
            for number, one in enumerate(proved.closings, 1) for name, hash in sorted(one.papers.items())}  # fmt: skip


def _add(members: dict[str, bytes], missing: list[str], name: str, data: bytes | None, said: str) -> None:
    if data is None:
        missing.append(said)
    else:
        members[name] = data


def _manifest(state: State, proved: Proof, members: Mapping[str, bytes]) -> bytes:
    whole: dict[str, Any] = {
        "format": FORMAT, "job": state.job.id, "events": proved.events, "checksum": proved.checksum,
        "closings": [{"id": one.event.id, "hash": one.hash, "events": one.events, "at": one.event.at,
                      "by": one.event.by} for one in proved.closings],
        "files": {name: {"bytes": len(data), "sha256": sha256(data).hexdigest()}
                  for name, data in sorted(members.items())},
    }  # fmt: skip
    return (json.dumps(whole, ensure_ascii=False, indent=1) + "\n").encode()


def _zipped(members: Mapping[str, bytes]) -> bytes:
    out = BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as file:
        for name, data in sorted(members.items()):
            entry = zipfile.ZipInfo(name, NO_TIME)
            entry.external_attr = 0o644 << 16
            entry.compress_type = zipfile.ZIP_STORED if name.endswith((".jpg", ".pdf")) else zipfile.ZIP_DEFLATED
            file.writestr(entry, data)
    return out.getvalue()


def _readme(state: State, proved: Proof, missing: Sequence[str]) -> str:
    closed = [
        f"  number {n}, {one.event.at}, by {one.event.by or 'nobody named'}, over {one.events} entries\n    {one.hash}"
        for n, one in enumerate(proved.closings, 1)
    ]
    lost = ["", "Not in this file, since it was not there when the file was made:", *(f"  {one}" for one in missing)]
    lines = [
        f"Evidence of job {state.job.id}" + (f" ({said})" if (said := invented(state.job)) else ""),
        "",
        "Closed:" if closed else "This job is not closed.",
        *closed,
        f"Later changes: {len(proved.later)}" if closed else "",
        "",
        f"{YAML}      the record: what a hand would write, and under `log:` every entry as it was kept",
        f"{JSON}      the same entries for programs; `witnessmark schema record` prints its schema",
        "*.csv            tables of readings, events and bolts, for a spreadsheet; the record decides, not they",
        "papers/          the papers as they were when the job was closed; papers/now is the report of today",
        f"{PHOTOS}/   the photos, each named by its SHA-256",
        f"{MANIFEST}    every file of this bundle with its length and SHA-256",
        *(lost if missing else ()),
        "",
        "How to verify",
        "1. witnessmark verify THIS-FILE.zip",
        "   It names the file, or the entry of the record, that is not what it was.",
        "2. witnessmark verify THIS-FILE.zip --hash \"F3AF 682C ...\"",
        "   with the hash that is printed on the full report in your hand, or its first 16 digits.",
        "3. Without the tool: `sha256sum` of each file is the sha256 of its line in the manifest. The hash of the",
        "   record begins with nothing, and for each entry in its order takes SHA-256 of (what it had + SHA-256 of",
        "   the line under `log:`).",
        "",
        "What this proves, and what it does not",
        "The hash fits these entries and no others. Whoever changes an entry must change the hash, and then it is not",
        "the one on the paper that was handed over. Nothing here is signed with a key: without a paper, or a copy of",
        "the hash that was kept elsewhere, somebody could make the whole file anew.",
        "",
    ]
    return "\n".join(lines)
