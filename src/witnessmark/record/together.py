"""What is recorded while the engine is put together: bolts turned, steps signed, traces, and the closing of the job."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from witnessmark.record.event import Event
from witnessmark.record.job import Closing, Did, Signed, TraceText
from witnessmark.record.shape import ASSEMBLY

ByKind = Mapping[str, Sequence[Event]]


def did(event: Event) -> Did:
    """One thing that was done at the bolts."""
    return Did(event.kind, event.body, event.id, event.seq, event.at, event.by)


def signed(event: Event) -> Signed:
    """A step of assembly that was signed."""
    body = event.body
    return Signed(body["step"], body["did"], body["text"], body.get("note") or "", *_made(event))


def trace(event: Event) -> TraceText:
    """A trace as it came from the wrench."""
    body = event.body
    return TraceText(body["bolt"], body.get("run"), body["name"], body["text"], body["hash"], *_made(event))


def closing(event: Event) -> Closing:
    """The closing of the job."""
    body = event.body
    return Closing(body["hash"], int(body["events"]), body["papers"], body.get("note") or "", *_made(event),
                   links=body.get("links") or "", seal=body.get("seal") or "")


ADDS: Mapping[str, tuple[str, Callable[[Event], Any]]] = {  # kind -> the field of a job that it lengthens, and how
    **dict.fromkeys(ASSEMBLY, ("assembly", did)), "step_signed": ("signed", signed),
    "trace_entered": ("traces", trace), "job_closed": ("closings", closing)}


def together(kinds: ByKind, gone: frozenset[str]) -> dict[str, Any]:
    """The fields of a job that hold them, each in the order of the log, without what was taken back.

    A bolt of a run that was taken back, or that has not come, is left out with it.
    """
    runs = {event.id for event in kinds.get("tightening_begun", ()) if event.id not in gone}
    found: dict[str, list[Any]] = {field: [] for field, _ in ADDS.values()}
    for kind, (field, make) in ADDS.items():
        found[field] += [make(event) for event in kinds.get(kind, ()) if event.id not in gone and _runs(event, runs)]
    return {field: tuple(sorted(several, key=lambda one: one.seq)) for field, several in found.items()}


def _runs(event: Event, runs: set[str]) -> bool:
    """Whether the run of a bolt stands; what belongs to no run stands by itself."""
    return event.kind not in ASSEMBLY or event.body.get("run", event.id) in runs


def _made(event: Event) -> tuple[str, int, str, str]:
    return event.id, event.seq, event.at, event.by
