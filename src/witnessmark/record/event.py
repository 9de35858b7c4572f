"""Events: the evidence of a job, and the one canonical form in which each of them is kept, compared and proved.

Canonical form   JSON in UTF-8, keys sorted, no spaces. It holds what was fixed where the event was typed; `seq` and
                 `received_at` belong to the store that took it in and stay out, so that a copy proves the same.
Plain data       text, whole numbers, true/false, nothing, lists and mappings with text keys. A decimal number is text:
                 its digits are evidence of what the gauge resolved.
Errors           EventFault, a sentence that says where in the event and what to do.
"""

import hashlib
import json
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any, NoReturn

MOST_BYTES = 6_000_000  # one event may carry a limit sheet, and a text of the shop is read up to 5 MB
MOST_DEPTH = 20
SHORT = 40
MOST_WHOLE = 2**53  # a page in a browser holds no larger whole number exactly


class EventFault(ValueError):
    """An event that cannot be kept as it is; the message says where and what to do."""


@dataclass(frozen=True, slots=True)
class Event:
    """One thing that happened. `body` is plain data; `at` is the time where it was typed, and evidence only.

    `received` is the text of the bytes as they came; `seq` (1, 2, 3 ... in a job) and `received_at` are given by the
    store and are 0 and "" before.
    """

    id: str
    kind: str
    body: Mapping[str, Any]
    at: str = ""
    by: str = ""
    device: str = ""
    device_seq: int = 0
    received: str = ""
    seq: int = 0
    received_at: str = ""

    def stored(self, seq: int, received_at: str) -> "Event":
        """The same event with the number and the time that a store gave it."""
        return replace(self, seq=seq, received_at=received_at)


def canonical(event: Event) -> bytes:
    """The bytes of an event that are kept and proved. Raises EventFault for what is not plain data."""
    data = {
        "at": event.at, "body": event.body, "by": event.by, "device": event.device, "device_seq": event.device_seq,
        "id": event.id, "kind": event.kind, "received": event.received,
    }
    for key, value in data.items():
        _plain(value, (key,))
    if not event.id or not event.kind:
        raise EventFault("an event needs an id and a kind; one of them is empty")
    if len(event.id) > 200 or len(event.kind) > 100:
        raise EventFault("an event's id holds at most 200 characters and its kind at most 100; shorten it")
    packed = _packed(data)
    if len(packed) > MOST_BYTES:
        raise EventFault(f"event '{event.id}' takes {len(packed)} bytes; at most {MOST_BYTES} are kept, so split it")
    return packed


def from_canonical(packed: bytes) -> Event:
    """The event that these canonical bytes hold. Raises EventFault for bytes that are not exactly canonical."""
    event = _READ(packed)
    if canonical(event) != packed:
        raise EventFault("not in canonical form (keys sorted, no spaces, each key once); take it from the export again")
    return event


def reader(share: Callable[[str], str] = str) -> Callable[[bytes], Event]:
    """A reader of bytes that were proved canonical when they were put away: three times as quick as to prove them.

    Short texts go through `share`, by which the caller may make equal texts one object: a job repeats a few places and
    gauges for ever. The reader raises EventFault for bytes that hold no event.
    """
    def shared(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        return {key: share(value) if type(value) is str and len(value) < SHORT else value for key, value in pairs}

    decode = json.JSONDecoder(parse_int=_whole, parse_float=_no_float, parse_constant=_no_float,
                              object_pairs_hook=shared).decode

    def read(packed: bytes) -> Event:
        if len(packed) > MOST_BYTES:
            raise EventFault(f"{len(packed)} bytes are more than one event may take, which is {MOST_BYTES}")
        try:
            data = decode(packed.decode("utf-8"))
        except UnicodeDecodeError as bad:
            raise EventFault(f"byte {bad.start + 1} is not UTF-8; take the event from the export again") from None
        except json.JSONDecodeError as bad:
            raise EventFault(f"not JSON at character {bad.pos + 1}; take the event from the export again") from None
        except RecursionError:
            raise EventFault(f"nested deeper than {MOST_DEPTH} levels; no event of this tool is") from None
        return _event(data)
    return read


def digest(events: Iterable[Event]) -> str:
    """One SHA-256 over all events in their order, each link over the one before: 64 hex digits.

    A change, a loss or an exchange of events anywhere changes it. Source: FIPS 180-4 for the hash; the chain: derived.
    """
    link = b""
    for event in events:
        link = hashlib.sha256(link + hashlib.sha256(canonical(event)).digest()).digest()
    return link.hex() or hashlib.sha256(b"").hexdigest()


def _packed(data: Mapping[str, Any]) -> bytes:
    return json.dumps(data, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False).encode("utf-8")


def _event(data: Any) -> Event:
    if not isinstance(data, dict):
        raise EventFault("an event is a mapping of keys to values; this is none")
    for key, kind in _KEYS.items():
        if not isinstance(data.get(key), kind) or isinstance(data[key], bool):
            raise EventFault(f"an event needs '{key}' as {_name(kind)}; take the event from the export again")
    for key in data:
        if key not in _KEYS:
            raise EventFault(f"an event has no key '{key}'; further keys belong into its body")
    return Event(**data)


def _name(kind: type) -> str:
    return {str: "text", int: "a whole number", dict: "a mapping"}[kind]


def _no_float(text: str) -> NoReturn:
    raise EventFault(f"{text} stands without quotes; a decimal number is kept as text, with the digits that were read")


def _whole(digits: str) -> int:
    if len(digits) > len(str(MOST_WHOLE)) + 1:
        raise EventFault(f"{digits[:20]}... is too large for a whole number here; write it as text")
    return int(digits)


_KEYS: Mapping[str, type] = {"at": str, "body": dict, "by": str, "device": str, "device_seq": int, "id": str,
                             "kind": str, "received": str}
_READ = reader()


def _plain(value: Any, path: tuple[str, ...]) -> None:
    if isinstance(value, str):
        _plain_text(value, path)
    elif value is None or isinstance(value, bool):
        return
    elif isinstance(value, int):
        if abs(value) > MOST_WHOLE:
            raise EventFault(f"{_shown(path)}: {value} is too large for a whole number here; write it as text")
    elif len(path) > MOST_DEPTH:
        raise EventFault(f"{_shown(path)}: nested deeper than {MOST_DEPTH} levels; flatten it")
    elif isinstance(value, Mapping):
        for key, inner in value.items():
            if not isinstance(key, str):
                raise EventFault(f"{_shown(path)}: the key {key!r} is no text")
            _plain_text(key, path)
            _plain(inner, (*path, key))
    elif isinstance(value, list | tuple):
        for position, inner in enumerate(value):
            _plain(inner, (*path, str(position + 1)))
    else:
        raise EventFault(f"{_shown(path)}: {type(value).__name__} cannot be kept; write it as text")


def _plain_text(text: str, path: tuple[str, ...]) -> None:
    if "\0" in text:
        raise EventFault(f"{_shown(path)}: holds a NUL character, which no hand and no gauge types; take it out")
    try:
        text.encode("utf-8")
    except UnicodeEncodeError as bad:
        raise EventFault(f"{_shown(path)}: character {bad.start + 1} is half of a pair; type it again") from None


def _shown(path: tuple[str, ...]) -> str:
    return ".".join(path)
