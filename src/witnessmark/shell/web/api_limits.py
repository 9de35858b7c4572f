"""The limit sheet of a job for programs: entry by entry, as on the limits sheet, each change held against its mark."""

from collections.abc import Callable
from typing import Any

from fastapi import APIRouter, Request
from starlette.concurrency import run_in_threadpool

from witnessmark.desk import limits
from witnessmark.desk.bench import Refused
from witnessmark.desk.commands import Stamp
from witnessmark.desk.state import State
from witnessmark.record.event import Event
from witnessmark.shell.web import limits_shapes as shapes
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.shapes import Done, Stamped
from witnessmark.shell.web.trouble import Trouble

# Hands a command of the desk what it asks for: the state and the stamp.
Command = Callable[[State, Stamp], tuple[Event, ...]]
Keep = Callable[[Request, str, Stamped, Command], Any]


def router(services: Services, responses: dict[int | str, dict[str, Any]], stamped: Any, done: Any) -> APIRouter:
    """GET /api/jobs/{job}/limits and the commands under it. `stamped` and `done` are those of the other commands."""
    routes = APIRouter(prefix="/api/jobs/{job}/limits", tags=["limits"], responses=responses)

    async def keep(request: Request, job: str, sent: Stamped, command: Command) -> Any:
        stamp = await stamped(services, request, sent)

        def kept() -> Any:
            try:
                events = command(services.snapshots.state(job), stamp)
            except limits.Stale as stale:
                said = str(stale)
                raise Trouble(409, f"{said[:1].upper()}{said[1:]}.", f"Look at /api/jobs/{job}/limits and send again.",
                              where="seen") from None  # fmt: skip
            return done(services.store.append(job, events, services.clock()))

        return await run_in_threadpool(kept)

    @routes.get("", response_model=shapes.SheetOut, summary="The limit sheet: its text, its entries and their marks")
    def sheet(job: str) -> Any:
        return _sheet(services.snapshots.state(job))

    _add_entries(routes, keep)
    _add_sheet(routes, keep, services)
    return routes


def _add_entries(routes: APIRouter, keep: Keep) -> None:
    @routes.post("/entry", response_model=Done, summary="One limit into the sheet, or in place of another")
    async def entry(request: Request, job: str, sent: shapes.EntryIn) -> Any:
        was = sent.was.key() if sent.was else None
        return await keep(
            request, job, sent, lambda now, stamp: limits.type_entry(now, stamp, sent.typed(), was, sent.seen)
        )

    @routes.post("/remove", response_model=Done, summary="One limit out of the sheet")
    async def remove(request: Request, job: str, sent: shapes.RemoveIn) -> Any:
        key = sent.entry.key()
        return await keep(request, job, sent, lambda now, stamp: limits.remove_entry(now, stamp, key, sent.seen))

    @routes.post("/check", response_model=Done, summary="One limit, or all, held against the document")
    async def check(request: Request, job: str, sent: shapes.CheckIn) -> Any:
        if sent.entry is None:
            return await keep(request, job, sent, lambda now, stamp: limits.check_all(now, stamp, sent.seen))
        key = sent.entry.key()
        return await keep(
            request, job, sent, lambda now, stamp: limits.check_entry(now, stamp, key, sent.page, sent.seen)
        )


def _add_sheet(routes: APIRouter, keep: Keep, services: Services) -> None:
    @routes.post("/copy", response_model=Done, summary="The sheet of another job, or a text, every entry to be checked")
    async def copy(request: Request, job: str, sent: shapes.CopyIn) -> Any:
        def copied(now: State, stamp: Stamp) -> tuple[Event, ...]:
            source, text = _source(services, sent)
            return limits.copy_sheet(now, stamp, text, source, sent.name, sent.replace)

        return await keep(request, job, sent, copied)

    @routes.post("/operation", response_model=Done, summary="What the book allows of an operation")
    async def operation(request: Request, job: str, sent: shapes.AllowIn) -> Any:
        words = (sent.operation, sent.allowed, sent.most, sent.unit, sent.page, sent.seen)
        return await keep(request, job, sent, lambda now, stamp: limits.allow(now, stamp, *words))

    @routes.post("/sheet", response_model=Done, summary="Name of the sheet, its document, who bears the doubt")
    async def header(request: Request, job: str, sent: shapes.SheetIn) -> Any:
        words = (sent.name, sent.document, sent.doubt, sent.invented, sent.seen)
        return await keep(request, job, sent, lambda now, stamp: limits.name_sheet(now, stamp, *words))


def _source(services: Services, sent: shapes.CopyIn) -> tuple[str, str]:
    if sent.from_job and sent.text:
        raise Refused("name a job to copy from or send a text, not both")
    if not sent.from_job:
        if not sent.text:
            raise Refused("name the job to copy from, or send the text of a sheet")
        return sent.source.strip() or "a sheet sent by a program", sent.text
    held = services.store.job(sent.from_job).limits
    if held is None:
        raise Refused(f"job {sent.from_job} has no limit sheet; choose another, or send a text")
    return f"job {sent.from_job}", held.text


def _sheet(now: State) -> shapes.SheetOut:
    held, sheet = now.job.limits, now.sheet
    entries = [
        shapes.EntryOut(entry=shapes.KeyOut.of(key), mark=limits.mark_of(several), says=[dict(one) for one in several])
        for key, several in limits.entries_now(now).items()
    ]
    book = {name: shapes.AllowedOut(mark=limits.mark_of([one]), says=dict(one))
            for name, one in limits.operations_now(now).items()}  # fmt: skip
    return shapes.SheetOut(
        name=sheet.name if sheet else "", document=sheet.document if sheet else "", mark=limits.sheet_mark(now),
        file=held.name if held else "", text=held.text if held else "", readable=held is None or sheet is not None,
        entries=entries, operations=book,
    )  # fmt: skip
