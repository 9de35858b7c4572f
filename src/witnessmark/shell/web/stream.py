"""What is stored, told at once to every page that looks at the same job: server-sent events, the seq as their id.

A page that comes back says the last id it heard and is told exactly what it missed, once and in order.
"""

import asyncio
import json
from collections.abc import AsyncIterator
from typing import Any

from fastapi import APIRouter, Header, Query, Request
from fastapi.responses import StreamingResponse
from starlette.concurrency import run_in_threadpool

from witnessmark.engine.place import PlaceError, shown
from witnessmark.record.event import Event
from witnessmark.shell.web.services import Services

MOST_WAITING = 64  # events that wait for one listener; more, and it reads the sheet again
BEAT = 1.0  # seconds


class Listener:
    """One page that listens, from the event after `after`. The store calls it from its writer's thread."""

    def __init__(self, after: int = 0) -> None:
        self._loop = asyncio.get_running_loop()
        self._waiting: asyncio.Queue[Event] = asyncio.Queue(MOST_WAITING)
        self._told = after  # number of the last event that the page was told
        self._lost = 0  # number of the last event that there was no room for

    def hear(self, events: tuple[Event, ...]) -> None:
        """Called after a commit; returns at once."""
        if not self._loop.is_closed():
            self._loop.call_soon_threadsafe(self._put, events)

    def _put(self, events: tuple[Event, ...]) -> None:
        for event in events:
            if self._lost or self._waiting.full():
                self._lost = event.seq
            else:
                self._waiting.put_nowait(event)

    def missed(self, events: tuple[Event, ...]) -> list[str]:
        """What was stored before this page began to listen, or a wish to read the sheet again where that is much."""
        if len(events) > MOST_WAITING:
            self._told = events[-1].seq
            return [again(self._told, "much was stored meanwhile")]
        return [said for event in events if (said := self._once(event))]

    async def next(self) -> str:
        """The next message: an event, a beat after a second of silence, or a wish to read the sheet again."""
        if self._lost:
            self._told, self._lost = max(self._told, self._lost), 0
            while not self._waiting.empty():
                self._waiting.get_nowait()
            return again(self._told, "more came than was held")
        while True:
            try:
                event = await asyncio.wait_for(self._waiting.get(), BEAT)
            except TimeoutError:
                return BEATS
            if said := self._once(event):
                return said

    def _once(self, event: Event) -> str:
        """The message, or "" for an event that was told before: listening begins before what was missed is read."""
        if event.seq <= self._told:
            return ""
        self._told = event.seq
        return message(event)


BEATS = "event: beat\ndata: \n\n"  # an event and no comment, so that the page itself hears a stream that is cut


def again(seq: int, why: str) -> str:
    """The wish that the page reads its sheet again; it stands for all events up to `seq`."""
    return f"event: again\nid: {seq}\ndata: {why}\n\n"


def message(event: Event) -> str:
    """One event as a message: enough to know what to read again and to say who wrote what, nothing more."""
    told: dict[str, Any] = {"seq": event.seq, "kind": event.kind, "device": event.device, "by": event.by}
    told |= {key: event.body[key] for key in ("characteristic", "place", "round") if key in event.body}
    told["says"] = says(event)
    return f"id: {event.seq}\ndata: {json.dumps(told)}\n\n"


def says(event: Event) -> str:
    """What was written, in the words of the bench: "Inl 3F middle, across 5.952". "" where a page only reads again."""
    if event.kind == "taken_back":
        return "one entry taken back"
    if event.kind == "waived":
        return f"{_at(event)} {event.body.get('reason', '')}".strip()
    if event.kind != "reading_taken":
        return ""
    meaning = event.body.get("meaning") or {}
    came = meaning.get("says") if meaning.get("kind") == "look" else event.body.get("raw")
    return f"{_at(event)} {str(came or '').strip()}".strip()


def _at(event: Event) -> str:
    place = str(event.body.get("place", ""))
    try:
        return shown(place)
    except PlaceError:
        return place


def router(services: Services, responses: dict[int | str, dict[str, Any]]) -> APIRouter:
    """GET /api/jobs/{job}/stream."""
    routes = APIRouter(tags=["measuring"], responses=responses)

    @routes.get(
        "/api/jobs/{job}/stream", summary="What is stored, as it is stored", response_class=StreamingResponse,
        responses={200: {"content": {"text/event-stream": {"schema": {"type": "string"}}}}},
    )  # fmt: skip
    async def stream(
        request: Request, job: str, after: int = Query(0, ge=0, le=2**53),
        last_event_id: str = Header("", max_length=16),
    ) -> StreamingResponse:
        start = int(last_event_id) if last_event_id.isascii() and last_event_id.isdigit() else after
        listener = Listener(start)
        end = services.store.subscribe(job, listener.hear)
        try:
            missed = await run_in_threadpool(services.store.events, job, start)
        except BaseException:
            end()
            raise
        return StreamingResponse(_told(request, listener, missed, end), media_type="text/event-stream",
                                 headers={"Cache-Control": "no-store"})  # fmt: skip

    return routes


async def _told(request: Request, listener: Listener, missed: tuple[Event, ...], end: Any) -> AsyncIterator[str]:
    try:
        yield "retry: 1000\n\n"
        for said in listener.missed(missed):
            yield said
        while not await request.is_disconnected():
            yield await listener.next()
    finally:
        end()
