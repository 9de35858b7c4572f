"""A loader's complaints, given as plain dicts with a way to the place, as faults with line and column in our words."""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from witnessmark.text.document import Document
from witnessmark.text.fault import Fault, Path
from witnessmark.text.near import did_you_mean, near

Allowed = Callable[[Path], Iterable[str]]

# Kind of complaint -> sentence; {blanks} are filled from its context, {it} is what was written.
WORDS: Mapping[str, str] = {
    "string_type": "a text belongs here, but {it} stands here; write one value",
    "list_type": "a list belongs here, but {it} stands here; write [one, two] or one line `- one` for each",
    "tuple_type": "a list belongs here, but {it} stands here; write [one, two] or one line `- one` for each",
    "dict_type": "keys with values belong here, but {it} stands here; write `key: value`",
    "model_type": "keys with values belong here, but {it} stands here; write `key: value`",
    "model_attributes_type": "keys with values belong here, but {it} stands here; write `key: value`",
    "dataclass_type": "keys with values belong here, but {it} stands here; write `key: value`",
    "decimal_parsing": "{it} is no number; write digits with a decimal point",
    "decimal_type": "{it} is no number; write digits with a decimal point",
    "float_parsing": "{it} is no number; write digits with a decimal point",
    "float_type": "{it} is no number; write digits with a decimal point",
    "finite_number": "{it} is no finite number; write digits with a decimal point",
    "int_parsing": "{it} is no whole number; write digits only",
    "int_type": "{it} is no whole number; write digits only",
    "int_from_float": "{it} is no whole number; write digits only",
    "bool_parsing": "{it} is neither yes nor no; write yes or no",
    "bool_type": "{it} is neither yes nor no; write yes or no",
    "greater_than": "{it} must be more than {gt}; check the value and its unit",
    "greater_than_equal": "{it} must be at least {ge}; check the value and its unit",
    "less_than": "{it} must be less than {lt}; check the value and its unit",
    "less_than_equal": "{it} must be at most {le}; check the value and its unit",
    "string_too_short": "{it} is too short; write at least {min_length} characters",
    "string_too_long": "{it} is too long; write at most {max_length} characters",
    "string_pattern_mismatch": "{it} has not the form {pattern}; write it in that form",
    "too_short": "{actual_length} given, but at least {min_length} must stand here; add what is missing",
    "too_long": "{actual_length} given, but at most {max_length} may stand here; take the rest out",
    "literal_error": "{it} is none of {expected}; write one of these",
    "enum": "{it} is none of {expected}; write one of these",
    "union_tag_invalid": "{it} is none of {expected_tags}; write one of these",
    "union_tag_not_found": "the key {discriminator} is missing, which says what kind this is; add it",
    "date_parsing": "{it} is no date; write year-month-day, as 2026-03-02",
    "date_type": "{it} is no date; write year-month-day, as 2026-03-02",
    "date_from_datetime_parsing": "{it} is no date; write year-month-day, as 2026-03-02",
    "datetime_parsing": "{it} is no date with time; write it as 2026-03-02T10:15:00Z",
    "datetime_from_date_parsing": "{it} is no date with time; write it as 2026-03-02T10:15:00Z",
    "timezone_aware": "{it} has no time zone; add Z, or the offset as +01:00",
}
CHOOSES = {"literal_error": "expected", "enum": "expected", "union_tag_invalid": "expected_tags"}


def from_validation(
    errors: Iterable[Mapping[str, Any]], document: Document, allowed: Allowed | None = None
) -> list[Fault]:
    """Faults in the order of the text, from dicts with `type`, `loc`, `msg`, `input`, `ctx` as a validator lists them.

    Parts of `loc` that are no key of the data (names of a union's branches) are dropped. `allowed` gives the keys that
    may stand in the mapping at a path; with it a misspelt optional key finds its near word too. A key that is missing
    and an unknown key that looks like it are one slip of the pen, and one fault.
    """
    found = [(dict(error), _path(error, document)) for error in errors]
    missing = {path for error, path in found if error["type"] == "missing"}
    faults: list[Fault] = []
    paired: set[Path] = set()
    for error, path in found:
        if error["type"] in ("extra_forbidden", "unexpected_keyword_argument"):
            choices = {str(other[-1]) for other in missing if other[:-1] == path[:-1]}
            meant = near(str(path[-1]), choices) if path else None
            paired |= {(*path[:-1], meant)} if meant else set()
            faults.append(_unknown_key(path, document, choices | set(allowed(path[:-1]) if allowed else ())))
    for error, path in found:
        if error["type"] == "missing" and path not in paired:
            message = f"the key '{path[-1] if path else ''}' is missing here; add it"
            faults.append(document.fault("missing", message, path))
        elif error["type"] not in ("missing", "extra_forbidden", "unexpected_keyword_argument"):
            faults.append(_value(error, path, document))
    return sorted(dict.fromkeys(faults), key=lambda fault: (fault.line, fault.column, fault.path))


def _unknown_key(path: Path, document: Document, choices: set[str]) -> Fault:
    key = str(path[-1]) if path else ""
    hint = did_you_mean(key, choices - {key})
    if not hint:
        hint = f"; take it out, or use one of {', '.join(sorted(choices))}" if choices else "; take it out"
    return document.fault("unknown_key", f"no key '{key}' is known here{hint}", path, at_key=True)


def _value(error: Mapping[str, Any], path: Path, document: Document) -> Fault:
    at_key = bool(error["loc"]) and error["loc"][-1] == "[key]"
    return document.fault("value", _sentence(error), path, at_key=at_key)


def _path(error: Mapping[str, Any], document: Document) -> Path:
    """The way through the data that `loc` means."""
    here: Any = document.data
    path: Path = ()
    parts: Sequence[str | int] = error["loc"]
    for number, part in enumerate(parts):
        if isinstance(here, Mapping) and str(part) in here:
            here, path = here[str(part)], (*path, str(part))
        elif isinstance(here, list) and isinstance(part, int) and 0 <= part < len(here):
            here, path = here[part], (*path, part)
        elif error["type"] == "missing" and number == len(parts) - 1:
            path = (*path, str(part))
    return path


def _sentence(error: Mapping[str, Any]) -> str:
    kind, context, what = error["type"], dict(error.get("ctx") or {}), error.get("input")
    if kind in ("value_error", "assertion_error"):
        return str(context.get("error") or re.sub("^(Value error|Assertion error), ", "", str(error["msg"])))
    if kind == "union_tag_invalid":
        what = context.get("tag", what)
    if kind not in WORDS:
        return _in_other_words(str(error["msg"]), what)
    try:
        sentence = WORDS[kind].format(it=_what(what), **context)
    except KeyError:  # the context lacks a blank of the sentence
        return _in_other_words(str(error["msg"]), what)
    if kind in CHOOSES and isinstance(what, str):
        choices = re.findall(r"'([^']*)'", str(context.get(CHOOSES[kind], "")))
        hint = did_you_mean(what, choices)
        sentence = sentence.removesuffix("; write one of these") + hint if hint else sentence
    return sentence


def _in_other_words(message: str, what: object) -> str:
    message = re.sub("(?i)invalid", "wrong", re.sub("(?i)failed", "stopped", message))
    return f"{_what(what)} does not belong here: {message[:1].lower()}{message[1:]}"


def _what(value: object) -> str:
    """What stands in the text, short enough for a sentence."""
    if value is None:
        return "nothing"
    if isinstance(value, Mapping):
        return "a mapping of keys"
    if isinstance(value, (list, tuple)):
        return f"a list of {len(value)}"
    text = str(value)
    return f"'{text}'" if len(text) <= 60 else f"'{text[:57]}...'"
