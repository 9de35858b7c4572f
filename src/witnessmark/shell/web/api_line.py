"""The way of one reading: a line comes, the desk says what it is, the store keeps it, then it is answered.

Nothing is drawn here: the page reads its fields anew once its queue is empty.
"""

from dataclasses import replace
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import JSONResponse
from starlette.concurrency import run_in_threadpool

from witnessmark.desk.bench import Bench, Outcome
from witnessmark.desk.enter import enter
from witnessmark.desk.route import Stop
from witnessmark.desk.sheets.bench import stop_words
from witnessmark.desk.sheets.hand import ASSUMED, method_in_hand, name_in_hand
from witnessmark.desk.sheets.stops import next_beside
from witnessmark.desk.state import State
from witnessmark.judge.quick import QUICK
from witnessmark.record.event import Event
from witnessmark.shell.web.again import told_again
from witnessmark.shell.web.along import along_sheet
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.shapes import LineIn, LineOut
from witnessmark.shell.web.trouble import Trouble

LEFT_OUT = {"-", "*5", "*8"}  # lines that leave a place and go on


def router(services: Services, responses: dict[int | str, dict[str, Any]]) -> APIRouter:
    """POST /api/jobs/{job}/line."""
    routes = APIRouter(tags=["measuring"], responses=responses)

    @routes.post("/api/jobs/{job}/line", response_model=LineOut, summary="One line of the entry line")
    async def line(request: Request, job: str, sent: LineIn) -> JSONResponse:
        came = received(await request.body())
        return JSONResponse(await run_in_threadpool(keep, services, job, sent, came))

    return routes


def received(body: bytes) -> str:
    """The bytes as they came, as text."""
    try:
        return body.decode("utf-8")
    except UnicodeDecodeError as bad:
        raise Trouble(422, f"Byte {bad.start + 1} of what came is not UTF-8; nothing was kept.",
                      "Send it as UTF-8.", where="body") from bad  # fmt: skip


def keep(services: Services, job: str, sent: LineIn, came: str) -> dict[str, Any]:
    """Ask the desk, store what it gives, and say what came of it."""
    state = _state(services, job, sent)
    bench = _bench(services, state, sent)
    outcome = enter(state, bench, sent.line, came)
    seq, before = state.job.seq, None
    if outcome.events:
        appended = services.store.append(job, outcome.events, services.clock())
        seq = max(event.seq for event in appended.events)
        before = appended.events[0] if appended.again else None
    elif outcome.status == "refused" and sent.id:
        before = _stored(services, job, sent.id, came)
    if before is not None:
        state = _state(services, job, sent)
        outcome, seq = told_again(state, bench, before), before.seq
    elif outcome.status == "kept" and state.job.extent == QUICK:
        outcome = grown(outcome, state, _state(services, job, sent))
    walks = outcome.status in ("kept", "asked") or sent.line.strip() in LEFT_OUT
    beside = next_beside(state, sent.characteristic, sent.place) if walks else None
    return _told(outcome, beside or outcome.next, seq, before is not None)


def grown(outcome: Outcome, before: State, after: State) -> Outcome:
    """On the quick route a value near its limit asks for the other stations of its part: said, and walked at once."""
    known = {(stop.characteristic, stop.place) for stop in before.route}
    fresh = [stop for stop in after.route if (stop.characteristic, stop.place) not in known]
    more = [stop for stop in fresh if not after.done(stop)]
    if not more:
        return outcome
    said = f"{outcome.echo}; near its limit, so {len(more)} more {'place' if len(more) == 1 else 'places'} are read"
    return replace(outcome, echo=said, next=more[0])


def _state(services: Services, job: str, sent: LineIn) -> State:
    """The job as the walk of this line has it: in its order, or along the paper sheet that is typed back."""
    state = services.snapshots.state(job, sent.round, sent.order)
    return along_sheet(state, sent.sheet)


def _stored(services: Services, job: str, name: str, came: str) -> Event | None:
    """The event that this very line was stored as; a line that is refused now may have been taken the first time."""
    return next((one for one in services.store.events(job) if one.id == name and one.received == came), None)


def _bench(services: Services, state: State, sent: LineIn) -> Bench:
    temperature = sent.temperature.plain() if sent.temperature else None
    return Bench(
        sent.id or services.fresh(), sent.characteristic, sent.place, sent.round, _gauge(state, sent), sent.by,
        sent.device, sent.device_seq, sent.at or services.clock(), sent.part, temperature,
        sent.supersedes or _standing(state, sent), sent.reason, sent.question, sent.note, _method(state, sent),
    )  # fmt: skip


def _standing(state: State, sent: LineIn) -> str | None:
    """The reading that stands where the hand went back to correct it; the page may not have seen it yet."""
    if not sent.corrects:
        return None
    here = state.readings_at(sent.characteristic, sent.place)
    return next((one.id for one in reversed(here) if one.state in ("counted", "asked") and one.id != sent.id), None)


def _gauge(state: State, sent: LineIn) -> str | None:
    """The gauge named, else the one in hand; None where the usual one of its kind is assumed."""
    if sent.gauge == ASSUMED:
        return None
    if sent.gauge:
        return sent.gauge
    entry = state.catalogue.characteristics.get(sent.characteristic)
    return (name_in_hand(state, entry, "", sent.device) or None) if entry and entry.measured else None


def _method(state: State, sent: LineIn) -> str | None:
    """How it is looked at: what was named, else the method in hand."""
    entry = state.catalogue.characteristics.get(sent.characteristic)
    if sent.method or entry is None or entry.kind != "look":
        return sent.method or None
    return method_in_hand(state, entry, "", sent.device) or None


def _told(outcome: Outcome, onward: Stop | None, seq: int, again: bool) -> dict[str, Any]:
    return {
        "status": outcome.status, "echo": outcome.echo, "detail": outcome.detail, "seq": seq,
        "next": stop_words(onward) if onward else None, "span": outcome.span,
        "question": dict(outcome.question) if outcome.question else None, "reading": outcome.reading,
        "correction": bool(outcome.extra.get("correction")), "again": again,
    }  # fmt: skip
