"""How the endpoints keep what a command of the desk makes: on the present state, stored before it is answered."""

from collections.abc import Awaitable, Callable
from typing import Any

from fastapi import Request
from starlette.concurrency import run_in_threadpool

from witnessmark.desk.commands import Stamp
from witnessmark.desk.state import State
from witnessmark.record.event import Event
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.shapes import Stamped

Command = Callable[[State, Stamp], tuple[Event, ...]]
Keep = Callable[[Request, str, Stamped, Command], Awaitable[Any]]


def keeper(services: Services, stamped: Any, done: Any) -> Keep:
    """Keeps one command; `stamped` makes the stamp of what was sent, `done` the answer to what was stored."""

    async def keep(request: Request, job: str, sent: Stamped, command: Command) -> Any:
        stamp = await stamped(services, request, sent)

        def kept() -> Any:
            events = command(services.snapshots.state(job), stamp)
            return done(services.store.append(job, events, services.clock()))

        return await run_in_threadpool(kept)

    return keep
