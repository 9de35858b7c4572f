"""What is stored, told at once to every page that looks at the same job: server-sent events, the seq as their id."""

import asyncio
import json
from collections.abc import AsyncIterator
from typing import Any

from fastapi import APIRouter, Header, Query, Request
from fastapi.responses import StreamingResponse
from starlette.concurrency import run_in_threadpool

from witnessmark.record.event import Event
from witnessmark.shell.web.services import Services

MOST_WAITING = 64  # events that wait for one listener; more, and it reads the sheet again
BEAT = 1.0  # seconds


class Listener:
    """One page that listens. The store calls it from its writer's thread."""

    def __init__(self) -> None:
        self._loop = asyncio.get_running_loop()
        self._waiting: asyncio.Queue[Event] = asyncio.Queue(MOST_WAITING)
        self._lost = False

    def hear(self, events: tuple[Event, ...]) -> None:
        """Called after a commit; returns at once."""
        if not self._loop.is_closed():
            self._loop.call_soon_threadsafe(self._put, events)

    def _put(self, events: tuple[Event, ...]) -> None:
        for event in events:
            if self._waiting.full():
                self._lost = True
                return
            self._waiting.put_nowait(event)

    async def next(self) -> str:
        """The next message: an event, a beat after a second of silence, or a wish to read the sheet again."""
        if self._lost:
            self._lost = False
            while not self._waiting.empty():
                self._waiting.get_nowait()
            return "event: again\ndata: more came than was held\n\n"
        try:
            return message(await asyncio.wait_for(self._waiting.get(), BEAT))
        except TimeoutError:
            return ": beat\n\n"


def message(event: Event) -> str:
    """One event as a message: enough to know what to read again, nothing more."""
    told: dict[str, Any] = {"seq": event.seq, "kind": event.kind, "device": event.device}
    told |= {key: event.body[key] for key in ("characteristic", "place", "round") if key in event.body}
    return f"id: {event.seq}\ndata: {json.dumps(told)}\n\n"


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
        listener = Listener()
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
        if len(missed) > MOST_WAITING:
            yield f"event: again\nid: {missed[-1].seq}\ndata: much was stored meanwhile\n\n"
        else:
            for event in missed:
                yield message(event)
        while not await request.is_disconnected():
            yield await listener.next()
    finally:
        end()
