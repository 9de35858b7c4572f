"""The entry line: one line in, events or a refusal out. The grammar is quantity.entry's; the walk is the route's."""

import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any
from urllib.parse import unquote

from witnessmark.catalogue.entry import Characteristic
from witnessmark.desk.bench import ROUNDS, Bench, Outcome, Refused, in_use
from witnessmark.desk.look import dialect, read_look
from witnessmark.desk.reading import READER, Read, read
from witnessmark.desk.route import Stop, position
from witnessmark.desk.state import State
from witnessmark.engine.place import PlaceError, location, shown
from witnessmark.engine.walk import misplaced
from witnessmark.quantity import entry as grammar
from witnessmark.record.event import Event
from witnessmark.record.job import Reading

REASONS = {"1": "misread", "2": "wrong place", "3": "dirt", "4": "unit", "5": "other"}


def enter(state: State, bench: Bench, line: str, received: str = "") -> Outcome:
    """What one line does at a station. Nothing is stored here: the events are for the caller to keep, then to show."""
    if state.layout is None:
        return Outcome("refused", detail="describe the engine first: its layout tells which places there are")
    entry = grammar.parse(line)
    try:
        if label := _LABEL.fullmatch(line.strip()):
            return _scanned(state, unquote(label[1]), unquote(label[2]))
        if bench.characteristic not in state.catalogue.characteristics:
            raise Refused(f"no characteristic is called '{bench.characteristic}'; take one of the catalogue")
        return HANDLERS[type(entry)](state, bench, entry, received or line)
    except Refused as refused:
        return Outcome("refused", detail=str(refused))


_LABEL = re.compile(r"(?:WM:|https?://[^/\s]+/at/)([^/\s]+)/(\S+)")
"""The code of a label, as a scanner types it: `WM:HL-0147/inl-3f`, or an address of this bench."""


def _scanned(state: State, job: str, place: str) -> Outcome:
    """A label was scanned: the walk goes on at its place. Raises Refused for a label of another job."""
    if job != state.job.id:
        raise Refused(f"that label belongs to job {job[:60]}, and this is {state.job.id}: mind which tray it lies in")
    try:
        there = location(place)
    except PlaceError as error:
        raise Refused(str(error)) from None
    here = [stop for stop in state.route if stop.location == there]
    if not here:
        raise Refused(f"nothing is asked for at {shown(there)}; choose what to measure there by its name")
    stop = next((stop for stop in here if not state.done(stop)), here[0])
    return Outcome("done", f"label read: {shown(there)}", next=stop)


def next_stop(state: State, bench: Bench, *, also_done: bool = True) -> Stop | None:
    """The next station on the route that is not done, going round once; None when all is done."""
    route = state.route
    here = position(route, bench.characteristic, bench.place)
    start = -1 if here is None else here
    for stop in (*route[start + 1 :], *route[: max(start, 0)]):
        if not state.done(stop):
            return stop
    if here is not None and not also_done and not state.done(route[here]):
        return route[here]
    return None


def event(bench: Bench, kind: str, body: Mapping[str, Any], received: str, suffix: str = "") -> Event:
    """An event of this device."""
    return Event(
        id=bench.id + suffix, kind=kind, body=body, at=bench.at, by=bench.by, device=bench.device,
        device_seq=bench.device_seq, received=received,
    )  # fmt: skip


def _value(state: State, bench: Bench, entry: grammar.Value, received: str) -> Outcome:
    return keep(state, bench, entry.text, received)


def keep(state: State, bench: Bench, text: str, received: str) -> Outcome:
    """Keep one value as a reading: counted, or as an open question."""
    characteristic = state.catalogue.characteristics[bench.characteristic]
    _fits(state, bench)
    if characteristic.kind == "look":
        found = read_look(characteristic, text, bench.place, dialect(state.job))
        by = {"method": _method(state, bench, characteristic), **_seen(bench)}
    else:
        use = in_use(state, bench.gauge, characteristic)
        found = read(state, bench, use, text)
        by = {"gauge": use.name, "gauge_revision": use.revision, "setting": _setting(use, found), **_seen(bench)}
    replaced = bench.supersedes or _typed_before(state, bench)
    body = {
        "characteristic": bench.characteristic, "place": bench.place, "part": bench.part, "round": bench.round,
        **by, "raw": text, "reader": READER,
        "meaning": found.meaning, "assumed": [*found.assumed], "supersedes": replaced,
        "reason": bench.reason or ("not given" if bench.supersedes else "typed again" if replaced else None),
        "temperature": dict(bench.temperature) if bench.temperature else None, "note": bench.note or None,
        "question": found.question,
    }  # fmt: skip
    made = event(bench, "reading_taken", body, received)
    stay = found.status in ("unread", "which")
    return Outcome(
        found.status, echo(state, bench, text, found, characteristic.kind == "look"), found.message, (made,),
        _here(state, bench) if stay else next_stop(state, bench), found.span, found.question, bench.id,
        {"correction": bool(bench.supersedes)},
    )  # fmt: skip


def _method(state: State, bench: Bench, entry: Characteristic) -> str:
    """How it is looked at: what was named, else what is usual. Raises Refused for a method that this does not have."""
    if bench.method and bench.method not in entry.methods:
        known = ", ".join(entry.methods)
        raise Refused(f"{entry.term} is not looked at by '{bench.method[:40]}'; it has {known}")
    return bench.method or next(iter(entry.methods), "")


def _seen(bench: Bench) -> dict[str, Any]:
    """Photos and the mark on the drawing, where there are any."""
    found: dict[str, Any] = {"photos": list(bench.photos)} if bench.photos else {}
    return {**found, "mark": dict(bench.mark)} if bench.mark else found


def echo(state: State, bench: Bench, text: str, found: Read, look: bool = False) -> str:
    """What is said once the store has it."""
    if look and found.status == "kept":
        return f"{(found.meaning or {}).get('says')} kept for {shown(bench.place)}"
    with_ = f", by {bench.gauge}" if bench.gauge else ", gauge assumed"
    if found.status == "kept":
        return f"{text.strip()} kept as it came{with_}"
    if found.status == "asked":
        return f"{text.strip()} kept, not counted: {shown(bench.place)} is asked back"
    return f"{text.strip()} kept as an open question, not as a reading"


def _setting(use: Any, found: Read) -> str | None:
    needs = found.meaning is not None and found.meaning["kind"] == "deviation"
    return use.setting.setting if needs and use.setting is not None else None


def _fits(state: State, bench: Bench) -> None:
    """What is read must be read here: a measured characteristic, a place of it in this engine, a known round."""
    assert state.layout is not None
    entry = state.catalogue.characteristics[bench.characteristic]
    if not entry.measured:
        raise Refused(f"{entry.term} is worked out from other readings; measure those")
    if bench.round not in ROUNDS:
        raise Refused(f"'{bench.round}' is no round; take one of {', '.join(ROUNDS)}")
    why = misplaced(state.layout, entry, bench.place)
    if why:
        raise Refused(why)


def _typed_before(state: State, bench: Bench) -> str | None:
    """The open text at this station, from the same device, that this line is typed in place of."""
    here = [r for r in state.readings_at(bench.characteristic, bench.place) if r.state == "asked" and r.meaning is None]
    mine = [reading for reading in here if reading.device == bench.device]
    return mine[-1].id if mine else None


def _here(state: State, bench: Bench) -> Stop | None:
    at = position(state.route, bench.characteristic, bench.place)
    return None if at is None else state.route[at]


def _nothing(state: State, bench: Bench, entry: grammar.Nothing, received: str) -> Outcome:
    return Outcome("nothing", next=_here(state, bench))


def _unknown(state: State, bench: Bench, entry: grammar.Unknown, received: str) -> Outcome:
    return Outcome("refused", detail=entry.message, next=_here(state, bench), span=(0, len(entry.text)))


def _take_back(state: State, bench: Bench, entry: grammar.TakeBack, received: str) -> Outcome:
    last = last_of(state, bench.device)
    if last is None:
        raise Refused("nothing of this device is left to take back; another device takes back its own")
    made = event(bench, "taken_back", {"event": last.id}, received)
    at = position(state.route, last.characteristic, last.place)
    return Outcome(
        "done",
        f"{last.raw.strip()} at {shown(last.place)} taken back",
        "",
        (made,),
        None if at is None else state.route[at],
    )


def last_of(state: State, device: str) -> Reading | None:
    """The last reading of a device that still stands."""
    mine = [r for r in state.job.readings if r.device == device and r.state not in ("taken back", "superseded")]
    return max(mine, key=lambda reading: reading.seq, default=None)


def _answer(state: State, bench: Bench, entry: grammar.Answer, received: str) -> Outcome:
    asked = _question(state, bench)
    answers = asked.question["answers"] if asked.question else []
    if entry.n > len(answers):
        raise Refused(f"that question has {len(answers)} answers; *{entry.n} is none of them")
    made = event(bench, "question_answered", {"reading": asked.id, "answer": entry.n - 1}, received)
    chosen = answers[entry.n - 1]
    here = asked.place == bench.place and asked.characteristic == bench.characteristic
    again = chosen["do"] == "measure again"
    at = position(state.route, asked.characteristic, asked.place)
    onward = (
        (None if at is None else state.route[at]) if again else next_stop(state, bench) if here else _here(state, bench)
    )
    return Outcome("done", f"{shown(asked.place)}: {chosen['label']}", "", (made,), onward, reading=asked.id)


def _question(state: State, bench: Bench) -> Reading:
    """The question of the entry line itself, else the oldest open one."""
    open_ones = [reading for reading in state.job.questions if reading.question]
    named = [reading for reading in open_ones if reading.id == bench.question]
    if not (named or open_ones):
        raise Refused("no question is open; a reading begins with a digit, a sign or a point")
    return (named or open_ones)[0]


def _waive(scope: str, reason: str) -> Callable[[State, Bench, Any, str], Outcome]:
    def waive(state: State, bench: Bench, entry: Any, received: str) -> Outcome:
        _fits(state, bench)
        body = {
            "characteristic": bench.characteristic,
            "place": bench.place,
            "round": bench.round,
            "scope": scope,
            "reason": reason,
        }
        what = f"the rest of {shown(location(bench.place))}" if scope == "rest" else shown(bench.place)
        made = event(bench, "waived", body, received)
        return Outcome("done", f"{what}: {reason}", "", (made,), _after_waiving(state, bench, scope))

    return waive


def _after_waiving(state: State, bench: Bench, scope: str) -> Stop | None:
    if scope == "place":
        return next_stop(state, bench)
    series = state.series(bench.characteristic, bench.place)
    last = series[-1] if series else None
    return next_stop(state, _at(bench, last)) if last else None


def _at(bench: Bench, stop: Stop) -> Bench:
    return replace(bench, characteristic=stop.characteristic, place=stop.place)


def _next_question(state: State, bench: Bench, entry: Any, received: str) -> Outcome:
    others = [r for r in state.job.questions if (r.characteristic, r.place) != (bench.characteristic, bench.place)]
    if not others:
        raise Refused("no other question is open")
    at = position(state.route, others[0].characteristic, others[0].place)
    stop = state.route[at] if at is not None else Stop(others[0].characteristic, others[0].place, 1, 1)
    return Outcome("done", f"question about {shown(stop.place)}", "", (), stop, reading=others[0].id)


def _mode(status: str, words: str) -> Callable[[State, Bench, Any, str], Outcome]:
    return lambda state, bench, entry, received: Outcome(status, words, next=_here(state, bench))


def _limit_leaf(state: State, bench: Bench, entry: Any, received: str) -> Outcome:
    return keep(state, bench, "*4", received)


HANDLERS: Mapping[type, Callable[[State, Bench, Any, str], Outcome]] = {
    grammar.Nothing: _nothing,
    grammar.Value: _value,
    grammar.Unknown: _unknown,
    grammar.TakeBack: _take_back,
    grammar.Answer: _answer,
    grammar.LimitLeaf: _limit_leaf,
    grammar.CannotBeMeasured: _waive("place", "cannot be measured"),
    grammar.WaiveRest: _waive("rest", "rest waived"),
    grammar.NotMeasured: _waive("place", "not measured"),
    grammar.MeasuredElsewhere: _waive("place", "measured elsewhere"),
    grammar.NextQuestion: _next_question,
    grammar.OtherUnit: _mode("unit", "shown in the other unit"),
    grammar.Repeat: _mode("repeat", "one more reading here"),
    grammar.Note: _mode("note", "the next line is a note"),
}
