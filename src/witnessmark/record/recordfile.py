"""A record as JSON for programs: every event, and the chain hash over all of them. The schema is published.

    {"format": "witnessmark-record-1", "job": "HL-0147", "checksum": "7c3e...", "events": [{"id": ..., "kind": ...}]}

It holds the same evidence as an export, without the sections that a hand may write. One that was changed is refused,
and the entry is named: by its closing where it was closed, else by the checksum alone.
"""

import json
from collections.abc import Iterable, Mapping
from typing import Any

from witnessmark.record.event import Event, EventFault, canonical, digest, from_canonical
from witnessmark.text.fault import Fault, Faulty

FORMAT = "witnessmark-record-1"
KEYS = ("format", "job", "checksum", "events")
TEXTS = ("at", "by", "device", "id", "kind", "received")


def write_record(events: Iterable[Event], job: str) -> str:
    """The record as JSON text; the same events give the same bytes."""
    ordered = tuple(sorted(events, key=lambda event: event.seq))
    whole = {"format": FORMAT, "job": job, "checksum": digest(ordered),
             "events": [json.loads(canonical(event)) for event in ordered]}
    return json.dumps(whole, ensure_ascii=False, indent=1) + "\n"


def is_record(text: bytes) -> bool:
    """Whether a file is such a record, by how it begins."""
    return text.lstrip().startswith(b"{") and FORMAT.encode() in text[:200]


def read_record(text: bytes, name: str) -> tuple[Event, ...]:
    """The events of a record, in order. Raises text.Faulty; a checksum that does not fit is left to `checksum_of`."""
    events: dict[str, Event] = {}
    faults = []
    for number, entry in enumerate(_entries(_parsed(text, name), name), 1):
        try:
            event = from_canonical(_packed(entry))
        except (EventFault, UnicodeEncodeError) as bad:
            faults.append(Fault("log_event", f"event {number} cannot be read: {bad}", name))
            continue
        if event.id in events:
            faults.append(Fault("repeated_id", f"event {number}: the id '{event.id}' stands here twice; take the "
                                               "export again", name))
        events[event.id] = event
    if faults:
        raise Faulty(faults[:200])
    return tuple(events.values())


def checksum_of(text: bytes, name: str) -> str:
    """The checksum that a record says of itself."""
    return str(_parsed(text, name).get("checksum") or "")


def json_schema() -> dict[str, Any]:
    """The JSON Schema of a record."""
    texts: dict[str, Any] = {key: {"type": "string"} for key in TEXTS}
    for key in ("id", "kind"):
        texts[key] = {"type": "string", "minLength": 1}
    event = {
        "type": "object", "additionalProperties": False, "required": [*sorted([*TEXTS, "body", "device_seq"])],
        "properties": {**texts, "body": {"type": "object", "description": "What the event holds, by its kind."},
                       "device_seq": {"type": "integer"}},
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema", "title": "A record of Witnessmark",
        "type": "object", "additionalProperties": False, "required": list(KEYS),
        "properties": {
            "format": {"const": FORMAT}, "job": {"type": "string"},
            "checksum": {"type": "string", "pattern": "^[0-9a-f]{64}$",
                         "description": "SHA-256 over all events, each link over the one before."},
            "events": {"type": "array", "items": event},
        },
    }


def _packed(entry: Any) -> bytes:
    try:
        return json.dumps(entry, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode("utf-8")
    except RecursionError:
        raise EventFault("it is nested too deep; take the export again") from None


def _parsed(text: bytes, name: str) -> Mapping[str, Any]:
    try:
        data = json.loads(text.decode("utf-8"))
    except UnicodeDecodeError as bad:
        raise Faulty([Fault("not_utf8", f"byte {bad.start + 1} is not UTF-8; take the export again", name)]) from None
    except (json.JSONDecodeError, RecursionError, ValueError) as bad:
        where = f"line {bad.lineno}, character {bad.colno}" if isinstance(bad, json.JSONDecodeError) else "its depth"
        raise Faulty([Fault("value", f"is no JSON any more at {where}; take the export again", name)]) from None
    if not isinstance(data, dict) or data.get("format") != FORMAT or not set(data) <= set(KEYS):
        raise Faulty([Fault("format", f"is no record; one begins with \"format\": \"{FORMAT}\" and has "
                                      f"{', '.join(KEYS)}", name)])
    return data


def _entries(data: Mapping[str, Any], name: str) -> list[Any]:
    entries = data.get("events")
    if not isinstance(entries, list) or not entries:
        raise Faulty([Fault("value", "holds no events; take the export again", name)])
    return entries
