"""What the body of each kind of event must hold. Further keys are kept; so is an unknown kind, and it is reported."""

from collections.abc import Callable, Mapping
from typing import Any

from witnessmark.record.event import Event

_TEXT, _MAYBE, _MAP, _MAYBE_MAP, _LIST, _WHOLE, _BASIS, _FLAG = (
    "text", "text or nothing", "a mapping", "a mapping or nothing", "a list", "a whole number",
    "an id, a number of the log, or nothing", "true or false")

# key -> what it must be; a trailing "?" on the key means that it may be missing
SHAPES: Mapping[str, Mapping[str, str]] = {
    "job_opened": {"job": _MAP, "engine?": _MAYBE_MAP, "based_on?": _BASIS},
    "engine_described": {"engine": _MAP, "based_on?": _BASIS},
    "gauge_entered": {"gauge": _TEXT, "fields": _MAP, "based_on?": _BASIS},
    "part_entered": {"part": _TEXT, "kind": _TEXT, "at?": _MAYBE, "new?": _FLAG, "based_on?": _BASIS},
    "limits_entered": {"name": _TEXT, "text": _TEXT, "hash": _TEXT, "based_on?": _BASIS},
    "setting_made": {"setting": _TEXT, "gauge": _TEXT, "set_to": _TEXT, "unit": _TEXT, "with?": _MAYBE, "s?": _MAYBE},
    "reading_taken": {
        "characteristic": _TEXT, "place": _TEXT, "raw": _TEXT, "round?": _TEXT, "part?": _MAYBE, "gauge?": _MAYBE,
        "gauge_revision?": "a whole number or nothing", "setting?": _MAYBE, "reader?": _TEXT, "meaning?": _MAYBE_MAP,
        "assumed?": _LIST, "supersedes?": _MAYBE, "reason?": _MAYBE, "temperature?": _MAYBE_MAP, "note?": _MAYBE,
        "question?": _MAYBE_MAP,
    },
    "question_answered": {"reading": _TEXT, "answer": _WHOLE},
    "taken_back": {"event": _TEXT},
    "waived": {"characteristic": _TEXT, "place": _TEXT, "round?": _TEXT, "scope?": _TEXT, "reason?": _TEXT},
    "noted": {"about": _TEXT, "text": _TEXT},
}

_MEANINGS: Mapping[str, Mapping[str, str]] = {
    "number": {"value": _TEXT, "unit": _TEXT, "step?": _MAYBE},
    "deviation": {"value": _TEXT, "unit": _TEXT, "step?": _MAYBE},
    "interval": {"low": _TEXT, "high?": _MAYBE, "unit": _TEXT},
}

_Rule = tuple[str, bool, str, Callable[[Any], bool]]  # key, whether it must be there, what it must be, the test

_HOLDS: Mapping[str, Callable[[Any], bool]] = {
    _TEXT: lambda v: isinstance(v, str),
    _MAYBE: lambda v: v is None or isinstance(v, str),
    _MAP: lambda v: isinstance(v, Mapping),
    _MAYBE_MAP: lambda v: v is None or isinstance(v, Mapping),
    _LIST: lambda v: isinstance(v, list | tuple) and all(isinstance(one, str) for one in v),
    _WHOLE: lambda v: isinstance(v, int) and not isinstance(v, bool) and v >= 0,
    "a whole number or nothing": lambda v: v is None or (isinstance(v, int) and not isinstance(v, bool) and v >= 1),
    _BASIS: lambda v: v is None or (isinstance(v, str | int) and not isinstance(v, bool)),
    _FLAG: lambda v: isinstance(v, bool),
}


def _rules(shape: Mapping[str, str]) -> tuple[_Rule, ...]:
    return tuple((key.rstrip("?"), not key.endswith("?"), wanted, _HOLDS[wanted]) for key, wanted in shape.items())


_BODIES = {kind: _rules(shape) for kind, shape in SHAPES.items()}
_MEANING = {kind: _rules(shape) for kind, shape in _MEANINGS.items()}
_ASKED = _rules({"kind": _TEXT, "text": _TEXT})
_ABSENT = object()


def problems(event: Event) -> tuple[str, ...]:
    """Every reason why the body of an event cannot be applied, as sentences; () when it can."""
    rules = _BODIES.get(event.kind)
    if rules is None:
        return (f"this version knows no event '{event.kind}'; a newer version may have written it",)
    found = _misses(event.body, rules)
    if event.kind == "reading_taken" and not found:
        found = _reading(event.body)
    return tuple(found)


def _misses(body: Mapping[str, Any], rules: tuple[_Rule, ...]) -> list[str]:
    found = []
    for name, needed, wanted, holds in rules:
        value = body.get(name, _ABSENT)
        if value is _ABSENT:
            if needed:
                found.append(f"'{name}' is missing; it must be {wanted}")
        elif not holds(value):
            found.append(f"'{name}' must be {wanted}")
    return found


def _reading(body: Mapping[str, Any]) -> list[str]:
    meaning, question = body.get("meaning"), body.get("question")
    if meaning is None and question is None:
        return ["a reading needs a meaning, or a question that is open about it"]
    found = [] if meaning is None else _meaning(meaning)
    if question is not None:
        found += _question(question)
    return found


def _meaning(meaning: Mapping[str, Any]) -> list[str]:
    rules = _MEANING.get(str(meaning.get("kind")))
    if rules is None:
        return [f"a meaning of kind '{meaning.get('kind')}' is unknown; known are {', '.join(_MEANINGS)}"]
    return [f"meaning: {one}" for one in _misses(meaning, rules)]


def _question(question: Mapping[str, Any]) -> list[str]:
    found = _misses(question, _ASKED)
    answers = question.get("answers")
    if not isinstance(answers, list | tuple) or not answers:
        return [*found, "a question needs a list of answers"]
    for position, answer in enumerate(answers, 1):
        found += [f"answer {position}: {one}" for one in _answer(answer)]
    return found


def _answer(answer: Any) -> list[str]:
    if not isinstance(answer, Mapping):
        return ["must be a mapping"]
    if answer.get("do") == "measure again":
        return []
    if answer.get("do") != "take":
        return ["'do' must be 'take' or 'measure again'"]
    meaning = answer.get("meaning")
    return _meaning(meaning) if isinstance(meaning, Mapping) else ["'take' needs a meaning to take"]
