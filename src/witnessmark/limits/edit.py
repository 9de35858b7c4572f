"""Changes to the text of a limit sheet, entry by entry; the rest of the text stays as the user wrote it.

An entry is known by its characteristic, its `Selector` and what it limits (`stations`). Text in, text out; whether the
new text is a good sheet is for `read_sheet` to say.

Errors  Faulty where the text cannot be read, NoEntry where it has no such entry.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from witnessmark.limits.limit import Selector
from witnessmark.limits.model import FORMAT
from witnessmark.text.edit import add, drop, flow, put
from witnessmark.text.fault import Path
from witnessmark.text.read import read

EVERYWHERE = Selector()


class NoEntry(LookupError):
    """The sheet has no entry of this characteristic for these places; the message says which."""


def begun(name: str, document: str) -> str:
    """The text of a sheet without a limit yet."""
    return f"format: {FORMAT}\nsheet: {flow({'name': name, 'document': document})}\nlimits: {{}}\n"


def copy_of(text: str, name: str, copied_from: str = "") -> str:
    """The sheet under another name, every entry flagged to be checked, and where it was copied from.

    `copied_from` names the job or file; left out, it is the sheet's own name. Comments stay.
    """
    sheet = _sheet(text).get("sheet")
    own = sheet.get("name") if isinstance(sheet, Mapping) else None
    text = put(text, ("sheet", "name"), name)
    text = put(text, ("sheet", "copied_from"), copied_from or str(own or "another sheet"))
    for path, entry in reversed(list(_entries(text))):
        if entry.get("to_check") != "yes":
            text = put(text, (*path, "to_check"), "yes")
    return text


def entries(text: str) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """Each entry of the sheet as its text has it, with its characteristic, in the order of the text."""
    for path, entry in _entries(text):
        yield str(path[1]), entry


def operations(text: str) -> Mapping[str, Mapping[str, Any]]:
    """What the sheet says of operations, as its text has it."""
    held = _sheet(text).get("operations")
    return held if isinstance(held, Mapping) else {}


def set_header(text: str, key: str, value: str) -> str:
    """The sheet with this key of its header set, or taken out where the value is empty."""
    held = _at(text, ("sheet",))
    if held.get(key, "") == value:
        return text
    return put(text, ("sheet", key), value) if value else drop(text, ("sheet", key))


def mark_checked(
    text: str, characteristic: str, selector: Selector = EVERYWHERE, stations: str = "", page: str = ""
) -> str:
    """The sheet with this entry held against the document; `page` is where, if the entry did not say so."""
    for path in _found(text, characteristic, selector, stations):
        text = _checked(text, path)
        if page:
            text = put(text, (*path, "page"), page)
    return text


def mark_all_checked(text: str) -> str:
    """The sheet with every entry held against the document."""
    for path, _ in reversed(list(_entries(text))):
        text = _checked(text, path)
    return text


def set_entry(text: str, characteristic: str, entry: Mapping[str, Any]) -> str:
    """The sheet with this entry, in place of the one for the same places, or as one more.

    `entry` as the file has it: `{"for": "inl", "service": {"low": "5.940"}, "unit": "mm", "page": "41"}`. Keys that it
    does not have are taken out, what is the same stays as it was written. Two entries for the same places become one.
    """
    same = [path for path, held in _entries(text) if path[1] == characteristic and _key(held) == _key(entry)]
    if not same:
        return add(text, ("limits", characteristic), dict(entry))
    for path in reversed(same[1:]):
        text = drop(text, path)
    for key, value in entry.items():
        if _at(text, same[0]).get(key) != value:
            text = put(text, (*same[0], key), value)
    for key in [key for key in _at(text, same[0]) if key not in entry]:
        text = drop(text, (*same[0], key))
    return text


def remove_entry(text: str, characteristic: str, selector: Selector = EVERYWHERE, stations: str = "") -> str:
    """The sheet without this entry; a characteristic without entries goes as a whole."""
    for path in reversed(_found(text, characteristic, selector, stations)):
        last = len(_at(text, path[:-1])) == 1
        text = drop(text, path[:-1] if last else path)
    return text


def set_operation(text: str, operation: str, allowed: Mapping[str, str]) -> str:
    """The sheet with what the document says of an operation: `{"allowed": "up to", "most": "0.20", "unit": "mm"}`."""
    held = _sheet(text).get("operations")
    if not held:
        return put(text, ("operations",), {operation: dict(allowed)})
    return put(text, ("operations", operation), dict(allowed))


def remove_operation(text: str, operation: str) -> str:
    """The sheet without what it says of an operation, which is then not known. Raises NoEntry."""
    if operation not in (_sheet(text).get("operations") or {}):
        raise NoEntry(f"the sheet says nothing of '{operation}'; read it again and choose anew")
    return drop(text, ("operations", operation))


def _checked(text: str, path: Path) -> str:
    if "to_check" in _at(text, path):
        text = drop(text, (*path, "to_check"))
    return text


def _sheet(text: str) -> Mapping[str, Any]:
    data = read(text, "limits").data
    return data if isinstance(data, Mapping) else {}


def _at(text: str, path: Path) -> Any:
    data: Any = read(text, "limits").data
    for key in path:
        data = data[key]
    return data


def _entries(text: str) -> Iterator[tuple[Path, Mapping[str, Any]]]:
    limits = _sheet(text).get("limits")
    for key, several in limits.items() if isinstance(limits, Mapping) else ():
        for n, entry in enumerate(several if isinstance(several, list) else ()):
            if isinstance(entry, Mapping):
                yield ("limits", key, n), entry


def _found(text: str, characteristic: str, selector: Selector, stations: str) -> list[Path]:
    wanted = (selector.for_, selector.position, selector.place, stations)
    found = [path for path, entry in _entries(text) if path[1] == characteristic and _key(entry) == wanted]
    if not found:
        of = f", {stations}" if stations else ""
        raise NoEntry(f"the sheet has no limit of '{characteristic}' for {selector}{of}; read it again and choose anew")
    return found


def _key(entry: Mapping[str, Any]) -> tuple[str, str, str, str]:
    """What an entry is known by."""
    return tuple(str(entry.get(key) or "") for key in ("for", "position", "place", "stations"))  # type: ignore[return-value]
