"""A line that comes a second time, because its first answer was lost on the way: it is told what was stored then.

What it would do now is another matter: the reading that it took back is gone, the question that it answered is shut.
"""

from witnessmark.desk.bench import Bench, Outcome
from witnessmark.desk.enter import next_stop
from witnessmark.desk.route import Stop, position
from witnessmark.desk.state import State
from witnessmark.engine.place import shown
from witnessmark.record.event import Event
from witnessmark.record.job import Reading


def told_again(state: State, bench: Bench, event: Event) -> Outcome:
    """The answer to a line from the event that it was stored as; `state` holds that event."""
    if event.kind == "reading_taken":
        return _reading(state, bench, event)
    if event.kind == "taken_back":
        return _taken_back(state, event)
    if event.kind == "question_answered":
        return _answered(state, bench, event)
    words = f"{shown(str(event.body['place']))}: {event.body['reason']}" if event.kind == "waived" else "kept before"
    return Outcome("done", words, next=next_stop(state, bench))


def _reading(state: State, bench: Bench, event: Event) -> Outcome:
    body, question = event.body, event.body.get("question")
    raw, gauge = str(body["raw"]).strip(), body.get("gauge")
    status = _status(event)
    onward = next_stop(state, bench) if status in ("kept", "asked") else _stop(state, bench.characteristic, bench.place)
    by = f", by {gauge}" if gauge else "" if body.get("method") else ", gauge assumed"
    said = {
        "kept": f"{raw} kept as it came{by}",
        "asked": f"{raw} kept, not counted: {shown(bench.place)} is asked back",
    }
    echo = said.get(status, f"{raw} kept as an open question, not as a reading")
    detail = str(question.get("text", "")) if question else ""
    return Outcome(status, echo, detail, (), onward, None, question, event.id,
                   {"correction": bool(body.get("supersedes")) and body.get("reason") != "typed again"})  # fmt: skip


def _status(event: Event) -> str:
    question = event.body.get("question")
    if not question:
        return "kept"
    if event.body.get("meaning") is not None:
        return "asked"
    return "unread" if question.get("kind") == "unread" else "which"


def _taken_back(state: State, event: Event) -> Outcome:
    gone = _known(state, event.body["event"])
    if gone is None:
        return Outcome("done", "taken back")
    return Outcome("done", f"{gone.raw.strip()} at {shown(gone.place)} taken back",
                   next=_stop(state, gone.characteristic, gone.place))  # fmt: skip


def _answered(state: State, bench: Bench, event: Event) -> Outcome:
    asked = _known(state, event.body["reading"])
    if asked is None:
        return Outcome("done", "answered", next=next_stop(state, bench))
    answers = (asked.question or {}).get("answers", ())
    chosen = answers[event.body["answer"]] if event.body["answer"] < len(answers) else {"label": "answered", "do": ""}
    there = _stop(state, asked.characteristic, asked.place)
    here = (asked.characteristic, asked.place) == (bench.characteristic, bench.place)
    stays = _stop(state, bench.characteristic, bench.place)
    onward = there if chosen["do"] == "measure again" else next_stop(state, bench) if here else stays
    return Outcome("done", f"{shown(asked.place)}: {chosen['label']}", next=onward, reading=asked.id)


def _known(state: State, name: str) -> Reading | None:
    return next((reading for reading in state.job.readings if reading.id == name), None)


def _stop(state: State, characteristic: str, place: str) -> Stop | None:
    at = position(state.route, characteristic, place)
    return None if at is None else state.route[at]
