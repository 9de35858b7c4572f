"""Random histories of a job: events as pages, gauges and hands might have sent them, odd text included."""

from typing import Any

from hypothesis import strategies as st

from witnessmark.record.event import Event

ODD = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=12)
NAME = ODD.filter(str.strip)
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
    events += draw(beside(6))
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


HASH = "ab" * 32
DAY = "2026-11-25T09:00:00Z"


def look(id: str, says: str = "crack", raw: str = "2 12", **more: Any) -> Event:
    """What the eye or the lamp found: an answer, and how much."""
    meaning = {"kind": "look", "says": says, "value": "12", "unit": "mm"}
    return reading(id, raw, **{"characteristic": "head_cracks", "place": "chamber-3", "gauge": None,
                               "meaning": meaning, "method": "penetrant", **more})


def photo(id: str, **more: Any) -> Event:
    about = {"characteristic": "head_cracks", "place": "chamber-3", "round": "as found"}
    body = {"photo": HASH, "type": "image/jpeg", "bytes": 81234, "width": 1600, "height": 1200, "about": about}
    return Event(id, "photo_added", {**body, "note": None, "mark": None, **more}, at=DAY, by="A.", device="tablet")


def check(id: str, gauge: str = "M-07", **more: Any) -> Event:
    body = {"gauge": gauge, "found": "0.002", "unit": "mm", "against": "closed", "when": "after", "allowed": None}
    return Event(id, "zero_checked", {**body, "passed": False, **more}, at=DAY, by="A.", device="bench")


def decision(id: str, word: str = "used again", *, at: str = DAY, device: str = "bench", device_seq: int = 0,
             **more: Any) -> Event:
    body = {"characteristic": "stem_diameter", "place": "inl-3f", "round": "as found", "decision": word,
            "operation": None, "why": "within, and the guide is new", **more}
    return Event(id, "decided", body, at=at, by="A.", device=device, device_seq=device_seq)


def says(id: str, answer: str = "yes", *, about: Any = (), at: str = "2026-11-26T09:00:00Z", device: str = "desk",
         **more: Any) -> Event:
    body = {"about": list(about), "answer": answer, "ceiling": None, "currency": None, "said_by": None, "note": None}
    return Event(id, "customer_answered", {**body, **more}, at=at, by="B.", device=device)


def chosen(id: str, extent: str, based_on: Any = None, at: str = DAY) -> Event:
    return Event(id, "route_chosen", {"extent": extent, "based_on": based_on}, at=at, by="A.", device="bench")


def cut(operation: str = "seat_cut", place: str = "inl-3f", **more: Any) -> dict[str, Any]:
    """A piece of work as an entry of the record."""
    return {"operation": operation, "place": place, "amount": "0.20", "unit": "mm", **more}


def worked(id: str, kind: str, body: dict[str, Any], *, at: str = DAY, device: str = "bench", based_on: Any = None) -> Event:
    """What is entered or ordered for the sake of the work."""
    return Event(id, kind, {**body, "based_on": based_on}, at=at, by="A.", device=device)


@st.composite
def for_work(draw: st.DrawFn, id: str, at: str, device: str, seen: Any) -> Event:
    """Sizes of the engine, prices, intended work, what a plan is asked, an order; odd text where a person types."""
    work = draw(st.lists(st.sampled_from([cut(), cut(amount="0.010", unit="in"), {"operation": "valve_replace",
                         "place": "exh-1"}, cut(draw(NAME), draw(NAME))]), max_size=2))  # fmt: skip
    kind, body = draw(st.sampled_from([
        ("geometry_entered", {"entries": {"stroke": [{"value": draw(st.sampled_from(["86", "86.00"])), "unit": "mm"}]}}),
        ("prices_entered", {"name": "prices.yaml", "text": draw(ODD), "hash": "0" * 64}),
        ("work_set", {"work": work}),
        ("plan_asked", {"pins": work, "forbid": [{"operation": "skim", "place": "all"}],
                        "wanted": draw(st.sampled_from([None, "0.90", "0.97"]))}),
        ("plan_ordered", {"name": "A", "work": work, "cost": "560.70", "currency": draw(st.sampled_from(["EUR", None])),
                          "why": draw(ODD)}),
    ]))  # fmt: skip
    return worked(id, kind, body, at=at, device=device, based_on=seen)


def run(id: str, way: str = "tighten", *, at: str = DAY, device: str = "bench", **more: Any) -> Event:
    """A run over the head bolts begun."""
    procedure = {"term": "head bolts", "order": ["1", "2"], "stages": [{"kind": "torque", "value": "25", "unit": "N·m"}]}
    body = {"joint": "head", "way": way, "procedure": procedure, "wrench": "W-01", "angle_by": "A-01", "threads": "oiled"}
    return Event(id, "tightening_begun", {**body, **more}, at=at, by="A.", device=device)


def turned(id: str, run: str, bolt: str = "1", stage: str = "1", *, at: str = DAY, device: str = "bench",
           **more: Any) -> Event:
    """A bolt turned through a stage of a run."""
    return Event(id, "bolt_turned", {"run": run, "bolt": bolt, "stage": stage, **more}, at=at, by="A.", device=device)


@st.composite
def together(draw: st.DrawFn, id: str, at: str, device: str, aim: str) -> Event:
    """What is recorded while the engine is put together; odd text where a person types, runs that never come."""
    kind, body = draw(st.sampled_from([
        ("bolt_turned", {"run": aim, "bolt": "4", "stage": "2", "final_torque": "46", "unit": "N·m"}),
        ("bolt_turned", {"run": aim, "bolt": draw(NAME), "stage": "1"}),
        ("bolt_doubted", {"run": aim, "bolt": "4", "why": "lost count", "note": draw(ODD)}),
        ("bolt_settled", {"run": aim, "bolt": "4", "how": "new bolt, begun again"}),
        ("step_signed", {"step": "turn_by_hand", "did": "done", "text": draw(ODD), "note": draw(ODD)}),
        ("trace_entered", {"bolt": "4", "name": draw(ODD), "text": draw(ODD), "hash": HASH}),
        ("conditions_entered", {"entries": {"air_pressure": draw(ODD)}}),
        ("job_closed", {"hash": HASH, "events": "3", "papers": {"report": HASH}, "note": draw(ODD)}),
    ]))  # fmt: skip
    return Event(id, kind, body, at=at, by="A.", device=device)


@st.composite
def beside(draw: st.DrawFn, most: int = 12) -> list[Event]:
    """What stands beside readings, from devices whose clocks are wrong by days, pointing also at what never comes."""
    ids = [f"b{number}" for number in range(draw(st.integers(1, most)))]
    aims = st.sampled_from([*ids, "never"])
    events = []
    for number, id in enumerate(ids):
        at = f"2026-11-{draw(st.integers(10, 28))}T09:00:00{draw(st.sampled_from(['Z', '+05:00', '']))}"
        device = draw(st.sampled_from(["bench", "tablet", ""]))
        seen = draw(st.none() | aims)
        kind = draw(st.sampled_from(["decision"] * 3 + ["says"] * 3 + ["route", "back", "back", "photo", "check"]
                                    + ["work"] * 3 + ["run"] + ["together"] * 3))
        events.append({
            "decision": lambda id=id, at=at, device=device, n=number, seen=seen: decision(
                id, draw(st.sampled_from(["used again", "replaced"])), at=at, device=device, based_on=seen,
                device_seq=draw(st.sampled_from([0, n + 1])), place=draw(st.sampled_from(["inl-3f", "exh-1"]))),
            "says": lambda id=id, at=at, device=device, seen=seen: says(
                id, draw(st.sampled_from(["yes", "no"])), about=draw(st.lists(aims, max_size=2)), at=at, device=device,
                based_on=seen),
            "route": lambda id=id, at=at, seen=seen: chosen(id, draw(st.sampled_from(["quick", "full"])), seen, at),
            "back": lambda id=id: take_back(id, draw(aims)),
            "photo": lambda id=id: photo(id, note=draw(ODD)),
            "check": lambda id=id: check(id, passed=draw(st.booleans())),
            "run": lambda id=id, at=at, device=device: run(id, draw(st.sampled_from(["tighten", "loosen"])), at=at,
                                                           device=device, bolts={"4": draw(ODD)}),
            "together": lambda id=id, at=at, device=device: draw(together(id, at, device, draw(aims))),
            "work": lambda id=id, at=at, device=device, seen=seen: draw(for_work(id, at, device, seen)),
        }[kind]())
    return events
