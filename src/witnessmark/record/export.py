"""A job written out: the same sections that a hand would write, and the log that proves them.

The same events give the same bytes. Times, persons, ids and raw texts stand beside each entry, so that whoever removes
`log:` still has a job file to work on; only what has no section (earlier gauges, stale entries) is lost with it.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from witnessmark.record.event import Event, canonical
from witnessmark.record.exportbeside import beside
from witnessmark.record.job import Job, Reading, Setting, gauge_now
from witnessmark.record.meant import meant
from witnessmark.record.replay import replay
from witnessmark.record.written import HAND, in_hand
from witnessmark.record.writtentogether import written
from witnessmark.text.write import write

FORMAT = "witnessmark-job-1"
USUAL = {key: rank for rank, key in enumerate((
    "id", "engine", "layout", "cylinders", "label", "kind", "value", "low", "high", "unit", "step", "resolution",
    "size", "calibration", "U", "k", "s", "n", "permissible_error", "repeatability", "set", "leaf_error", "text",
    "answers", "meaning", "do", "part", "gauge"))}


def write_job(events: Iterable[Event], job: Job | None = None) -> str:
    """The export of a job: sections and log, as YAML text. `job` may be given when its replay is at hand."""
    ordered = tuple(sorted(events, key=lambda event: event.seq))
    log = [canonical(event).decode("utf-8") for event in ordered]
    return write({**sections(ordered, job), "log": log})


def sections(events: Sequence[Event], job: Job | None = None) -> dict[str, Any]:
    """The sections of an export as plain texts, lists and mappings; empty ones are left out."""
    job = job or replay(events)
    by_id = {event.id: event for event in events}
    found: dict[str, Any] = {
        "format": FORMAT,
        "job": _as_text({"id": job.id, **job.header}),
        "engine": _as_text(job.engine),
        "gauges": {gauge: _as_text(now.fields) for gauge in sorted(job.gauges) if (now := gauge_now(job, gauge))},
        "parts": {name: _text(_without_nothing({"kind": part.kind, "at": part.at, "new": part.new}))
                  for name, part in sorted(job.parts.items())},
        "settings": [_setting(one, by_id[one.event]) for one in job.settings.values()],
        "limits": {"name": job.limits.name, "text": job.limits.text} if job.limits else None,
        "readings": [_reading(one, job) for one in job.readings],
        "waived": [_text({"characteristic": one.characteristic, "place": one.place, "round": one.round,
                          "scope": one.scope, "reason": one.reason, **_made(by_id[one.event])}) for one in job.waived],
        "answers": [_pointing(event, "reading", "answer") for event in _answers(events, job)],
        "taken_back": [_pointing(event, "event") for event in _take_backs(events, job)],
        "notes": [_text({"about": one.about, "text": one.text, **_made(by_id[one.event])}) for one in job.notes],
        **{key: [_text({**one, **_made(by_id[id])}) for id, one in entries]
           for key, entries in beside(job, events).items()},
        "route": job.extent if job.extent_event else None,
        **_work(job),
        "conditions": _text(dict(job.conditions)),
        "assembly": [_text({**one, **_made(by_id[id])}) for id, one in written(job, events)],
    }
    return {key: value for key, value in found.items() if value or key in {"format", "job"}}


ORDER = ("for", "operation", "place", "amount", "value", "unit", "u", "document", "page", "note")  # of an entry's keys


def _work(job: Job) -> dict[str, Any]:
    """Geometry, prices, intended work, what the plan is asked, and the order."""
    def cuts(work: Iterable[Mapping[str, Any]]) -> list[dict[str, Any]]:
        return [_text(_without_nothing({key: one[key] for key in ORDER if key in one})) for one in work]

    asked, order = job.plan_asked, job.order
    return {
        "geometry": {name: cuts(job.geometry[name]) for name in sorted(job.geometry)},
        "prices": {"name": job.prices.name, "text": job.prices.text} if job.prices else None,
        "work": cuts(job.work),
        "plan": _text(_without_nothing({"pins": cuts(asked["pins"]) or None, "forbid": cuts(asked["forbid"]) or None,
                                        "wanted": asked.get("wanted")})) if asked else None,
        "order": _text(_without_nothing({
            "name": order["name"], "work": cuts(order["work"]),
            **{key: order.get(key) for key in ("cost", "currency", "why")}})) if order else None,
    }


def _setting(one: Setting, event: Event) -> dict[str, Any]:
    made = {**_made(event), "id": one.setting}
    return _text(_without_nothing({**made, "gauge": one.gauge, "set_to": one.set_to, "unit": one.unit,
                                   "with": one.with_, "s": one.s}))


def _reading(one: Reading, job: Job) -> dict[str, Any]:
    accepted = one.meaning if one.question is None else None
    unit = accepted.get("unit") if accepted else None
    look = accepted if accepted and accepted.get("kind") == "look" else {}
    plain = not accepted or bool(look) or _says_it(one, job, str(unit))
    entry = {
        "id": one.id, "characteristic": one.characteristic, "place": one.place, "part": one.part, "round": one.round,
        "gauge": one.gauge, "setting": one.setting, "unit": unit, "raw": one.raw,
        "says": look.get("says"), "how_much": look.get("value"), "method": one.method,
        "photos": list(one.photos) or None, "mark": one.mark,
        "meaning": None if plain else accepted, "question": one.question,
        "supersedes": one.supersedes, "reason": one.reason, "temperature": one.temperature, "note": one.note or None,
        "at": one.at or None, "by": one.by or None, "device": _device(one.device),
    }
    return _text(_without_nothing(entry))


def _says_it(one: Reading, job: Job, unit: str) -> bool:
    """Whether the raw text, read again by hand, gives the meaning that was accepted."""
    gauge = gauge_now(job, one.gauge or "")
    setting = job.settings.get(one.setting or "")
    hand = in_hand(gauge.fields if gauge else {}, unit, (setting.set_to, setting.unit) if setting else None)
    return hand is not None and meant(one.raw, hand).meaning == dict(one.meaning or {})


def _answers(events: Sequence[Event], job: Job) -> list[Event]:
    """The answers to questions that stand among the readings."""
    asked = {one.id for one in job.readings if one.question is not None}
    return [event for event in events if event.kind == "question_answered" and _aim(event, "reading") in asked]


def _take_backs(events: Sequence[Event], job: Job) -> list[Event]:
    """The take-backs of what stands in the sections, and the take-backs of those."""
    standing = {one.id for one in job.readings} | {event.id for event in _answers(events, job)}
    asked = [event for event in events if event.kind == "taken_back"]
    found: set[str] = set()
    while more := {event.id for event in asked if _aim(event, "event") in standing | found} - found:
        found |= more
    return [event for event in asked if event.id in found]


def _aim(event: Event, key: str) -> str:
    aim = event.body.get(key)
    return aim if isinstance(aim, str) else ""


def _pointing(event: Event, *keys: str) -> dict[str, Any]:
    return _text({**{key: event.body.get(key) for key in keys}, **_made(event)})


def _made(event: Event) -> dict[str, Any]:
    return _without_nothing({"id": event.id, "at": event.at or None, "by": event.by or None,
                             "device": _device(event.device)})


def _without_nothing(data: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in data.items() if value is not None}


def _text(entry: Mapping[str, Any]) -> dict[str, Any]:
    """An entry in the order of its keys, with every scalar as the text that stands for it in a file."""
    return {key: _as_text(value) for key, value in entry.items()}


def _as_text(data: Any) -> Any:
    """Plain data as texts; its keys in the usual order, then by name, since an event has no order of keys."""
    if isinstance(data, Mapping):
        return {key: _as_text(data[key]) for key in sorted(data, key=lambda key: (USUAL.get(key, len(USUAL)), key))}
    if isinstance(data, list | tuple):
        return [_as_text(value) for value in data]
    if isinstance(data, bool):
        return "true" if data else "false"
    return data if data is None or isinstance(data, str) else str(data)


def _device(device: str) -> str | None:
    """The device, where it is not the hand that writes job files."""
    return device if device not in {"", HAND} else None
