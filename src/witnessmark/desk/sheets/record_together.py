"""The entries of a record about putting together, in words: runs, bolts, doubts, steps, traces, conditions, closing."""

from collections.abc import Callable, Mapping
from typing import Any

from witnessmark.desk.sheets.phrase import plural
from witnessmark.record.event import Event

Words = tuple[str, str, str]  # what, as it came, as it was understood
TOOLS = ("wrench", "angle_by", "threads")
SHORT = 16  # digits of a hash that are shown


def _text(value: object) -> str:
    return value if isinstance(value, str) else ""


def _listed(*parts: str) -> str:
    return ", ".join(part for part in parts if part)


def _begun(body: Mapping[str, Any]) -> Words:
    way = "loosening" if body.get("way") == "loosen" else "tightening"
    procedure = body.get("procedure")
    plain = procedure if isinstance(procedure, Mapping) else {}
    stages = plain.get("stages")
    bolts = plain.get("bolts")
    told = [f"{key.replace('_', ' ')} {_text(body.get(key))}" for key in TOOLS if body.get(key)]
    extension, uses = body.get("extension"), body.get("bolts")
    if isinstance(extension, Mapping):
        told.append(f"extension {_text(extension.get('length'))} at {_text(extension.get('angle')) or '0'}°")
    if isinstance(uses, Mapping):
        told += [f"{'bolts' if name == 'all' else f'bolt {name}'} {_text(word)}" for name, word in uses.items()]
    size = [plural(len(bolts), "bolt")] if isinstance(bolts, Mapping) else []
    size += [plural(len(stages), "stage")] if isinstance(stages, list | tuple) else []
    what = f"{way} of {_text(plain.get('term')) or _text(body.get('joint'))} begun"
    return what, "", _listed(*size, *told, _text(body.get("note")))


def _turned(body: Mapping[str, Any]) -> Words:
    final = " ".join(filter(None, (_text(body.get("final_torque")), _text(body.get("unit")))))
    tools = [f"{name} {_text(body.get(key))}" for key, name in (("wrench", "wrench"), ("angle_by", "angle by")) if
             body.get(key)]  # fmt: skip
    said = f"through stage {_text(body.get('stage'))}"
    return (f"bolt {_text(body.get('bolt'))} turned", _text(body.get("final_torque")),
            _listed(said, f"final torque {final}" if final else "", *tools, _text(body.get("note"))))  # fmt: skip


def _doubted(body: Mapping[str, Any]) -> Words:
    return f"bolt {_text(body.get('bolt'))} in doubt", "", _listed(_text(body.get("why")), _text(body.get("note")))


def _settled(body: Mapping[str, Any]) -> Words:
    return f"bolt {_text(body.get('bolt'))} settled", "", _listed(_text(body.get("how")), _text(body.get("note")))


def _signed(body: Mapping[str, Any]) -> Words:
    step = _text(body.get("step")).replace("_", " ")
    return f"step {step}: {_text(body.get('did'))}", "", _listed(_text(body.get("text")), _text(body.get("note")))


def _trace(body: Mapping[str, Any]) -> Words:
    lines = len(_text(body.get("text")).splitlines())
    said = f"{plural(lines, 'line')}, {_text(body.get('hash'))[:SHORT]}"
    return f"trace of bolt {_text(body.get('bolt'))}", _text(body.get("name")), said


def _conditions(body: Mapping[str, Any]) -> Words:
    entries = body.get("entries")
    told = entries if isinstance(entries, Mapping) else {}
    return "conditions of the tests", "", _listed(*(f"{name.replace('_', ' ')} {text}" for name, text in told.items()))


def _closed(body: Mapping[str, Any]) -> Words:
    papers = body.get("papers")
    named = ", ".join(sorted(papers)) if isinstance(papers, Mapping) else ""
    said = f"hash {_text(body.get('hash'))[:SHORT]} over {_text(body.get('events'))} entries"
    return "job closed", "", _listed(said, named, _text(body.get("note")))


KINDS: Mapping[str, Callable[[Mapping[str, Any]], Words]] = {
    "tightening_begun": _begun, "bolt_turned": _turned, "bolt_doubted": _doubted, "bolt_settled": _settled,
    "step_signed": _signed, "trace_entered": _trace, "conditions_entered": _conditions, "job_closed": _closed,
}  # fmt: skip


def together_words(event: Event) -> Words | None:
    """An entry about putting together in words; None for one of another kind."""
    make = KINDS.get(event.kind)
    return make(event.body) if make else None
