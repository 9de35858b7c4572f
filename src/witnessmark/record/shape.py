"""What the body of each kind of event must hold. Further keys are kept; so is an unknown kind, and it is reported."""

import re
from collections.abc import Callable, Mapping
from typing import Any

from witnessmark.record.event import Event

_TEXT, _MAYBE, _MAP, _MAYBE_MAP, _LIST, _WHOLE, _BASIS, _FLAG = (
    "text", "text or nothing", "a mapping", "a mapping or nothing", "a list", "a whole number",
    "an id, a number of the log, or nothing", "true or false")
_HASH, _HASHES, _MARK, _SEEN = (
    "64 hex digits, the SHA-256 of a photo", "a list of hashes of photos",
    "x and y as texts between 0 and 1, or nothing", "a mapping of characteristic, place and round as texts")
_HASH64 = "64 hex digits, a SHA-256"
_WORDS = "a mapping of names to texts"
_CHANCE = "a text of a number above 0 and below 1, as 0.97, or nothing"
_WORK, _ENTRIES = (
    "a list of mappings with operation and place as names, and amount and unit where there are any, as texts",
    "a mapping of quantities to lists of entries, each with its value as text")
WHEN = ("before", "between", "after")
DECISIONS = ("used again", "machined", "replaced", "adjusted", "look again")
ANSWERS = ("yes", "no")
BACK = "back from machining"  # the round in which a head is measured again
EXTENTS = ("quick", "full")
WAYS = ("tighten", "loosen")
DOUBTS = ("lost count", "torque fell", "unlike the others", "turned too far", "other")
SETTLED = ("slackened, begun again", "new bolt, begun again", "looked at, left as it is")
SIGNED = ("done", "not done")
_WAY, _DOUBT, _SETTLED, _SIGNED = (f"one of: {', '.join(words)}" for words in (WAYS, DOUBTS, SETTLED, SIGNED))
_LINKS = "a text of 16 hex digits for each event that was closed, or nothing"
_SEAL = "64 hex digits, a SHA-256, or nothing"
_HASHED = "a mapping of names to SHA-256 hashes of 64 hex digits"
_COUNT = "a text of a whole number from 1 on"
_WHEN, _DECISION, _ANSWER, _EXTENT = (f"one of: {', '.join(words)}" for words in (WHEN, DECISIONS, ANSWERS, EXTENTS))

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
        "question?": _MAYBE_MAP, "method?": _MAYBE, "photos?": _HASHES, "mark?": _MARK,
    },
    "question_answered": {"reading": _TEXT, "answer": _WHOLE},
    "taken_back": {"event": _TEXT},
    "waived": {"characteristic": _TEXT, "place": _TEXT, "round?": _TEXT, "scope?": _TEXT, "reason?": _TEXT},
    "noted": {"about": _TEXT, "text": _TEXT},
    "photo_added": {"photo": _HASH, "type": _TEXT, "bytes": _WHOLE, "width": _WHOLE, "height": _WHOLE, "about": _SEEN,
                    "note?": _MAYBE, "mark?": _MARK},
    "zero_checked": {"gauge": _TEXT, "found": _TEXT, "unit": _TEXT, "against": _TEXT, "when": _WHEN,
                     "allowed?": _MAYBE, "passed": _FLAG},
    "gauges_compared": {"first": _TEXT, "second": _TEXT, "on": _TEXT, "first_read": _TEXT, "second_read": _TEXT,
                        "unit": _TEXT},
    "decided": {"characteristic": _TEXT, "place": _TEXT, "round": _TEXT, "decision": _DECISION, "operation?": _MAYBE,
                "why": _TEXT, "based_on?": _BASIS},
    "customer_answered": {"about": _LIST, "answer": _ANSWER, "ceiling?": _MAYBE, "currency?": _MAYBE,
                          "said_by?": _MAYBE, "note?": _MAYBE, "based_on?": _BASIS},
    "route_chosen": {"extent": _EXTENT, "based_on?": _BASIS},
    "geometry_entered": {"entries": _ENTRIES, "based_on?": _BASIS},
    "prices_entered": {"name": _TEXT, "text": _TEXT, "hash": _TEXT, "based_on?": _BASIS},
    "work_set": {"work": _WORK, "based_on?": _BASIS},
    "plan_asked": {"pins": _WORK, "forbid": _WORK, "wanted?": _CHANCE, "based_on?": _BASIS},
    "plan_ordered": {"name": _TEXT, "work": _WORK, "cost?": _MAYBE, "currency?": _MAYBE, "why?": _MAYBE,
                     "based_on?": _BASIS},
    "tightening_begun": {"joint": _TEXT, "way": _WAY, "procedure": _MAP, "wrench?": _MAYBE, "angle_by?": _MAYBE,
                         "threads?": _MAYBE, "extension?": _MAYBE_MAP, "bolts?": _MAYBE_MAP, "note?": _MAYBE},
    "bolt_turned": {"run": _TEXT, "bolt": _TEXT, "stage": _COUNT, "wrench?": _MAYBE, "angle_by?": _MAYBE,
                    "final_torque?": _MAYBE, "stretch?": _MAYBE, "unit?": _MAYBE, "note?": _MAYBE},
    "bolt_doubted": {"run": _TEXT, "bolt": _TEXT, "why": _DOUBT, "note?": _MAYBE},
    "bolt_settled": {"run": _TEXT, "bolt": _TEXT, "how": _SETTLED, "note?": _MAYBE},
    "step_signed": {"step": _TEXT, "did": _SIGNED, "text": _TEXT, "note?": _MAYBE},
    "trace_entered": {"bolt": _TEXT, "run?": _MAYBE, "name": _TEXT, "text": _TEXT, "hash": _TEXT},
    "conditions_entered": {"entries": _WORDS, "based_on?": _BASIS},
    "job_closed": {"hash": _HASH64, "events": _COUNT, "papers": _HASHED, "links?": _LINKS, "seal?": _SEAL,
                   "note?": _MAYBE},
}
ASSEMBLY = ("tightening_begun", "bolt_turned", "bolt_doubted", "bolt_settled")  # what happens at the bolts, in order

_MEANINGS: Mapping[str, Mapping[str, str]] = {
    "number": {"value": _TEXT, "unit": _TEXT, "step?": _MAYBE},
    "deviation": {"value": _TEXT, "unit": _TEXT, "step?": _MAYBE},
    "interval": {"low": _TEXT, "high?": _MAYBE, "unit": _TEXT},
    "look": {"says": _TEXT, "value?": _MAYBE, "unit?": _MAYBE},
}

_Rule = tuple[str, bool, str, Callable[[Any], bool]]  # key, whether it must be there, what it must be, the test

_PART = re.compile(r"0\.(?=0*[1-9])[0-9]{1,12}")
_FROM_ONE = re.compile(r"[1-9][0-9]{0,8}")
_OF_LINKS = re.compile("([0-9a-f]{16})*")
_SHARE = re.compile(r"0(\.[0-9]{1,12})?|1(\.0{1,12})?")


def is_hash(value: Any) -> bool:
    """Whether a value is a SHA-256 as it is written here: 64 hex digits in small letters."""
    return isinstance(value, str) and re.fullmatch("[0-9a-f]{64}", value) is not None


def _is_mark(value: Any) -> bool:
    return value is None or (isinstance(value, Mapping) and all(
        isinstance(value.get(key), str) and _SHARE.fullmatch(value[key]) for key in ("x", "y")))


def _is_seen(value: Any) -> bool:
    return isinstance(value, Mapping) and all(
        value.get(key) is None or isinstance(value[key], str) for key in ("characteristic", "place", "round"))


def _are_hashed(value: Any) -> bool:
    return isinstance(value, Mapping) and all(is_hash(one) for one in value.values())


def _are_words(value: Any) -> bool:
    return isinstance(value, Mapping) and all(isinstance(one, str) for one in value.values())


def _is_name(value: Any) -> bool:
    return isinstance(value, str) and bool(value.strip()) and len(value) <= 200


def _is_work(value: Any) -> bool:
    return isinstance(value, list | tuple) and all(
        isinstance(one, Mapping) and all(_is_name(one.get(key)) for key in ("operation", "place"))
        and all(one.get(key) is None or isinstance(one[key], str) for key in ("amount", "unit")) for one in value)


def _are_entries(value: Any) -> bool:
    return isinstance(value, Mapping) and all(
        isinstance(each, list | tuple) and all(
            isinstance(one, Mapping) and isinstance(one.get("value"), str)
            and all(text is None or isinstance(text, str) for text in one.values()) for one in each)
        for each in value.values())


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
    _HASH: is_hash,
    _HASHES: lambda v: isinstance(v, list | tuple) and all(is_hash(one) for one in v),
    _MARK: _is_mark,
    _SEEN: _is_seen,
    _WHEN: lambda v: isinstance(v, str) and v in WHEN,
    _DECISION: lambda v: isinstance(v, str) and v in DECISIONS,
    _ANSWER: lambda v: isinstance(v, str) and v in ANSWERS,
    _EXTENT: lambda v: isinstance(v, str) and v in EXTENTS,
    _WAY: lambda v: isinstance(v, str) and v in WAYS,
    _DOUBT: lambda v: isinstance(v, str) and v in DOUBTS,
    _SETTLED: lambda v: isinstance(v, str) and v in SETTLED,
    _SIGNED: lambda v: isinstance(v, str) and v in SIGNED,
    _HASH64: is_hash,
    _HASHED: _are_hashed,
    _LINKS: lambda v: v is None or (isinstance(v, str) and bool(_OF_LINKS.fullmatch(v))),
    _SEAL: lambda v: v is None or is_hash(v),
    _WORDS: _are_words,
    _COUNT: lambda v: isinstance(v, str) and bool(_FROM_ONE.fullmatch(v)),
    _CHANCE: lambda v: v is None or (isinstance(v, str) and bool(_PART.fullmatch(v))),
    _WORK: _is_work,
    _ENTRIES: _are_entries,
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
    found = [f"meaning: {one}" for one in _misses(meaning, rules)]
    if meaning["kind"] == "look" and (meaning.get("value") is None) != (meaning.get("unit") is None):
        found.append("meaning: how much and its unit stand together, or neither of them")
    return found


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
