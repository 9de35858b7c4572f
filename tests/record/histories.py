"""Random histories of a job: events as pages, gauges and hands might have sent them, odd text included."""

from typing import Any

from hypothesis import strategies as st

from witnessmark.record.event import Event

ODD = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=12)
MADE = ("r", "w", "n", "t", "a", "s")


def reading(id: str, raw: str = "5.952", **more: Any) -> Event:
    """A reading with a meaning of its own, unless `meaning` or `question` says otherwise."""
    meaning = {"kind": "number", "value": "5.952", "unit": "mm", "step": "0.001"}
    body = {"characteristic": "stem_diameter", "place": "inl-3f/middle/across", "part": None, "round": "as found",
            "gauge": "M-07", "setting": None, "raw": raw, "meaning": meaning, **more}
    return Event(id, "reading_taken", body, at="2026-11-25T09:00:00Z", by="A.", device="bench")


def asked(id: str, **more: Any) -> Event:
    """A reading with an open question: inch, millimetre, or measure again."""
    question = {"kind": "inch_or_mm", "text": "Inch or millimetre?", "answers": [
        {"label": "in", "meaning": {"kind": "number", "value": "0.2345", "unit": "in", "step": "0.0001"}, "do": "take"},
        {"label": "mm", "meaning": {"kind": "number", "value": "0.2345", "unit": "mm", "step": "0.0001"}, "do": "take"},
        {"label": "measure again", "meaning": None, "do": "measure again"}]}
    return reading(id, raw="0.2345", meaning=None, question=question, **more)


def take_back(id: str, event: str) -> Event:
    return Event(id, "taken_back", {"event": event}, by="A.", device="bench")


def answer(id: str, reading: str, number: int) -> Event:
    return Event(id, "question_answered", {"reading": reading, "answer": number}, by="A.", device="bench")


def opened(**more: Any) -> Event:
    job = {"id": "HL-0147", "engine": "Tern 2.0", "invented": True, "also_measure": []}
    return Event("open", "job_opened", {"job": {**job, **more}, "engine": {"layout": "inline", "cylinders": "4"}})


def gauge(id: str, unit: str = "mm", based_on: Any = None, name: str = "M-07") -> Event:
    fields = {"kind": "micrometer", "unit": unit, "resolution": "0.001"}
    return Event(id, "gauge_entered", {"gauge": name, "fields": fields, "based_on": based_on})


def limits(id: str, text: str, based_on: Any = None) -> Event:
    return Event(id, "limits_entered", {"name": "TN-3", "text": text, "hash": "0" * 64, "based_on": based_on})


@st.composite
def accumulating(draw: st.DrawFn, most: int = 14) -> list[Event]:
    """Readings, corrections, answers, take-backs and redos that point at each other, also at ids that never come."""
    count = draw(st.integers(1, most))
    ids = [f"e{number}" for number in range(count)]
    aims = st.sampled_from([*ids, "never"])
    events = []
    for id in ids:
        kind = draw(st.sampled_from(["reading", "reading", "correction", "asked", "answer", "take back", "take back"]))
        aim = draw(aims)
        events.append({
            "reading": lambda id=id, aim=aim: reading(id),
            "correction": lambda id=id, aim=aim: reading(id, raw="5.951", supersedes=aim, reason="misread"),
            "asked": lambda id=id, aim=aim: asked(id),
            "answer": lambda id=id, aim=aim: answer(id, aim, draw(st.integers(0, 3))),
            "take back": lambda id=id, aim=aim: take_back(id, aim),
        }[kind]())
    return events


@st.composite
def histories(draw: st.DrawFn) -> list[Event]:
    """A whole job, with odd text wherever a person may type, and kinds of event that this version does not know."""
    events = [opened(customer=draw(ODD), complaint=draw(ODD), price=draw(st.integers(-9, 9))), gauge("g1")]
    if draw(st.booleans()):
        events.append(gauge("g2", "in", draw(st.sampled_from(["g1", 2, None, "gone"]))))
    if draw(st.booleans()):
        events.append(limits("l1", draw(ODD)))
        events.append(limits("l2", draw(ODD), draw(st.sampled_from(["l1", None]))))
    if draw(st.booleans()):
        events.append(Event("s", "setting_made", {"setting": "s1", "gauge": "B-02", "set_to": draw(ODD), "unit": "mm",
                                                  "with": None, "s": None}))
    events += draw(accumulating(8))
    for number in range(draw(st.integers(0, 3))):
        events.append(draw(st.sampled_from([
            Event(f"o{number}", "noted", {"about": draw(ODD), "text": draw(ODD)}, by=draw(ODD), at=draw(ODD)),
            Event(f"o{number}", "waived", {"characteristic": "margin", "place": draw(ODD), "reason": draw(ODD)}),
            Event(f"o{number}", draw(ODD) + "?", {"odd": [draw(ODD), None, True, {"deep": draw(ODD)}]}),
            Event(f"o{number}", "taken_back", {"event": ["no", "id"]}),
            reading(f"o{number}", raw=draw(ODD), note=draw(ODD), place=draw(ODD), setting="s1"),
            Event(f"o{number}", "part_entered", {"part": draw(ODD), "kind": "valve", "at": None, "new": False}),
        ])))
    return events
