"""Traces of a wrench: taken into the record with the lines that they came in, and read again as a set of a joint.

A trace belongs to the run over the joint that was going on. The last one of a bolt counts.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from witnessmark.assemble.signature import Signature, signatures
from witnessmark.assemble.stages import Run
from witnessmark.assemble.tracefile import Trace, read_trace
from witnessmark.assemble.traces import Traced, TraceSet, trace_set, traced
from witnessmark.desk.bench import Refused
from witnessmark.desk.commands import Stamp
from witnessmark.desk.state import State
from witnessmark.desk.tighten import joints, runs
from witnessmark.limits.procedure import Procedure
from witnessmark.record.event import Event
from witnessmark.record.job import TraceText
from witnessmark.record.written import sha256
from witnessmark.text.fault import Faulty
from witnessmark.text.near import did_you_mean


@dataclass(frozen=True, slots=True)
class Analysed:
    """The traces of a joint, what their shapes mean, the texts they are from, and what cannot be read any more."""

    set: TraceSet
    signatures: tuple[Signature, ...]
    texts: tuple[TraceText, ...]
    unread: tuple[str, ...] = ()


def enter_trace(
    state: State, stamp: Stamp, text: str, name: str, bolt: str, run: str = "", joint: str = "", part: int = 0
) -> tuple[Event, ...]:
    """Take the traces of a file: one event for each bolt in it, with the lines of the file that are its own.

    Without `bolt` a column of the file names it, or the end of the file's name. `part` chooses one of two runs that
    stand in one file. Raises Refused with every fault and its line.
    """
    procedure, of_run = _where(state, run, joint)
    try:
        found = read_trace(text, name[:120] or "trace", part)
    except Faulty as faulty:
        count = len(faulty.faults)
        raise Refused(f"not taken: {name[:120] or 'the trace'}, {count} {'fault' if count == 1 else 'faults'}",
                      faulty.faults) from None  # fmt: skip
    if bolt and len(found) > 1:
        raise Refused(f"{name[:120]} holds {len(found)} bolts; leave the blank for the bolt empty: its column says it")
    events = []
    for n, one in enumerate(found):
        whose = _bolt(procedure, bolt.strip() or one.bolt or _named(name, procedure.names()), name)
        body = {"bolt": whose, "run": of_run, "name": name[:120] or "trace", "text": one.text,
                "hash": sha256(one.text)}  # fmt: skip
        same = next((old for old in state.job.traces if (old.bolt, old.run or "", old.hash) == (
            whose, of_run or "", body["hash"])), None)  # fmt: skip
        if same is not None:
            raise Refused(f"this trace of bolt {whose} is in the record already, as {same.name}")
        kept = {key: value for key, value in body.items() if value}
        events.append(stamp.event("trace_entered", kept, f".{n}" if n else ""))
    return tuple(events)


def take_back_trace(state: State, stamp: Stamp, event: str) -> tuple[Event, ...]:
    """Take a trace back, such as one sent for the wrong bolt; the one that the bolt had before counts again."""
    if not any(one.event == event for one in state.job.traces):
        raise Refused("this trace is not in the record any more; look at the sheet again")
    return (stamp.event("taken_back", {"event": event}),)


def _where(state: State, run: str, joint: str) -> tuple[Procedure, str | None]:
    """The procedure that knows the bolts, and the run that the traces belong to."""
    known = joints(state)
    if run:
        begun = next((one for one in runs(state) if one.id == run), None)
        if begun is None:
            raise Refused(f"no run is called '{run[:60]}'; begin one, or leave it out")
        return begun.procedure, run
    name = joint or (next(iter(known)) if len(known) == 1 else "")
    if name not in known:
        had = f"; the limit sheet has: {', '.join(known)}" if known else "; enter it on the limit sheet first"
        raise Refused(f"no joint is called '{name[:60]}'{did_you_mean(name, known) or had}" if name else
                      f"a trace needs its joint{had}")  # fmt: skip
    now = run_of_traces(state, name)
    if now is None and len(known) > 1:
        raise Refused(f"begin the tightening of the {known[name].term} first, so that it is known which joint the "
                      "trace is of")  # fmt: skip
    return (now.procedure, now.id) if now else (known[name], None)


def run_of_traces(state: State, joint: str) -> Run | None:
    """The last run in which the joint was tightened."""
    return next((one for one in reversed(runs(state, joint)) if one.way == "tighten"), None)


def _named(name: str, bolts: Iterable[str]) -> str:
    """The bolt by the end of a file's name: `bolt-4.csv` is bolt 4; "" where it ends with none."""
    stem = re.sub(r"\.\w{1,5}$", "", name)
    last = re.split(r"[\s_.()-]+", stem)[-1]
    digits = re.search(r"\d+$", last)
    names = {bolt.casefold(): bolt for bolt in bolts}
    short = digits[0].lstrip("0") if digits else ""
    return next((names[one.casefold()] for one in (stem, last, short) if one.casefold() in names), "")


def _bolt(procedure: Procedure, bolt: str, name: str) -> str:
    if not bolt:
        raise Refused(f"which bolt is {name[:60]}? Write it in the blank, end the file's name with it, or give the "
                      "file a column bolt")  # fmt: skip
    names = procedure.names()
    if bolt not in names:
        had = did_you_mean(bolt, names) or f"; it has {', '.join(names)}"
        raise Refused(f"the {procedure.term} has no bolt {bolt[:20]}{had}")
    return bolt


def in_order(procedure: Procedure) -> tuple[str, ...]:
    """The bolts in the order in which they are turned."""
    return tuple(dict.fromkeys((*procedure.order, *procedure.names())))


def traces_of(state: State, joint: str) -> Analysed:
    """The traces of a joint from its last tightening, each read once however often the sheet is shown."""
    known = joints(state)
    run = run_of_traces(state, joint)
    procedure = run.procedure if run else known.get(joint)
    names = in_order(procedure) if procedure else ()
    last = {one.bolt: one for one in state.job.traces if one.bolt in names and (
        one.run == run.id if run else one.run is None)}  # fmt: skip
    texts = tuple(last[bolt] for bolt in names if bolt in last)
    return state.memory.once(("traces", joint, tuple((one.bolt, one.hash) for one in texts)),
                             lambda: _analysed(state, texts))  # fmt: skip


def _analysed(state: State, texts: tuple[TraceText, ...]) -> Analysed:
    read, unread = [], []
    for text in texts:
        one = state.memory.once(("trace", text.bolt, text.hash), lambda text=text: _read(text))  # type: ignore[misc]
        if isinstance(one, Traced):
            read.append(one)
        else:
            unread.append(one)
    all_ = trace_set(read)
    return Analysed(all_, signatures(all_), texts, tuple(unread))


def _read(text: TraceText) -> Traced | str:
    """A trace with its key points, or why a record that came from elsewhere holds none."""
    try:
        found: tuple[Trace, ...] = read_trace(text.text, text.name)
    except Faulty as faulty:
        return f"bolt {text.bolt}: {faulty.faults[0]}"
    return traced(text.bolt, found[0].angle, found[0].torque)
