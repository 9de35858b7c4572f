"""Everything that the pages do, for machines, with a description at /api/openapi.json."""

from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import Response
from starlette.concurrency import run_in_threadpool

from witnessmark.desk import checks, commands, decide, wanted
from witnessmark.desk.one_limit import Typed, enter_limit
from witnessmark.record.event import Event
from witnessmark.shell.web import (
    api_assemble,
    api_close,
    api_limits,
    api_line,
    api_photos,
    api_plan,
    api_read,
    api_verify,
    shapes,
    stream,
)
from witnessmark.shell.web.services import Services

RESPONSES: dict[int | str, dict[str, Any]] = {
    status: {"model": shapes.Said, "description": words}
    for status, words in (
        (400, "what was sent cannot be read"), (403, "it came from another page"), (404, "no such job or address"),
        (405, "not by this method"), (409, "it was stored before with other content, or is there already"),
        (413, "too large"), (415, "not JSON"), (421, "asked under a foreign name"),
        (422, "understood, and cannot be taken as it is"), (503, "the store cannot write or read now"),
        (507, "no space is left for the store"),
    )
}  # fmt: skip


def router(services: Services) -> APIRouter:
    """All routes under /api/."""
    routes = APIRouter()
    routes.include_router(api_line.router(services, RESPONSES))
    routes.include_router(stream.router(services, RESPONSES))
    routes.include_router(api_photos.router(services, RESPONSES))
    routes.include_router(api_read.router(services, RESPONSES))
    routes.include_router(_jobs(services))
    routes.include_router(_entering(services))
    routes.include_router(api_limits.router(services, RESPONSES, stamped, done))
    routes.include_router(api_plan.router(services, RESPONSES, stamped, done))
    routes.include_router(api_assemble.router(services, RESPONSES, stamped, done))
    routes.include_router(api_verify.router(services, RESPONSES, stamped, done))
    routes.include_router(api_close.router(services, RESPONSES, stamped, done))
    routes.include_router(_remarks(services))
    routes.include_router(_trust(services))
    routes.include_router(_deciding(services))
    return routes


def _jobs(services: Services) -> APIRouter:
    routes = APIRouter(tags=["jobs"], responses=RESPONSES)
    store = services.store

    @routes.get("/api/jobs", response_model=list[shapes.JobOut], summary="Every job on this bench")
    def jobs() -> Any:
        return [shapes.JobOut(id=r.id, title=r.title, created_at=r.created_at, seq=r.seq) for r in store.jobs()]

    @routes.post("/api/jobs", status_code=201, response_model=shapes.Done, summary="Open a job")
    async def open_job(request: Request, sent: shapes.JobIn) -> Any:
        stamp = await stamped(services, request, sent)
        header = sent.model_dump(include={"works", "customer", "complaint", "invented", "also_measure"})
        events = commands.start_job(stamp, {"id": sent.job, "engine": sent.engine_name, **header}, sent.engine)
        opened = {"created_at": services.clock(), "title": sent.engine_name, "events": events}
        return done(await run_in_threadpool(store.create, sent.job, **opened))

    @routes.get("/api/jobs/{job}/export", summary="The job as a file", response_class=Response,
                responses={200: {"content": {"application/yaml": {"schema": {"type": "object"}}}}})  # fmt: skip
    def export(job: str) -> Response:
        from witnessmark.record.export import write_job

        return Response(write_job(store.events(job)), media_type="application/yaml",
                        headers={"Content-Disposition": f'attachment; filename="{job}.yaml"'})  # fmt: skip

    @routes.post("/api/import", status_code=201, response_model=shapes.Done, summary="A job file into the store")
    def take_in(sent: shapes.ImportIn) -> Any:
        from witnessmark.record.jobfile import read_job
        from witnessmark.record.replay import replay

        events = read_job(sent.text, sent.name)
        job = replay(events)
        title = str(job.header.get("engine") or "")
        return done(store.create(sent.job or job.id, created_at=services.clock(), title=title, events=events))

    return routes


def _entering(services: Services) -> APIRouter:
    routes = APIRouter(prefix="/api/jobs/{job}", tags=["entering"], responses=RESPONSES)

    @routes.post("/engine", response_model=shapes.Done, summary="Describe the engine anew")
    async def engine(request: Request, job: str, sent: shapes.EngineIn) -> Any:
        return await _keep(services, request, job, sent, commands.describe_engine, sent.engine)

    @routes.post("/gauge", response_model=shapes.Done, summary="Enter a gauge, or a new revision of it")
    async def gauge(request: Request, job: str, sent: shapes.GaugeIn) -> Any:
        return await _keep(services, request, job, sent, commands.enter_gauge, sent.gauge, sent.fields)

    @routes.post("/limits", response_model=shapes.Done, summary="Enter a limit sheet")
    async def limits(request: Request, job: str, sent: shapes.LimitsIn) -> Any:
        return await _keep(services, request, job, sent, commands.enter_limit_sheet, sent.text, sent.name)

    @routes.post("/limit", response_model=shapes.Done, summary="One service limit typed at the bench")
    async def limit(request: Request, job: str, sent: shapes.LimitIn) -> Any:
        typed = Typed(sent.characteristic, sent.place, sent.low, sent.high, sent.unit, sent.page)
        return await _keep(services, request, job, sent, enter_limit, typed)

    @routes.post("/setting", response_model=shapes.Done, summary="Set a comparing gauge to a size")
    async def setting(request: Request, job: str, sent: shapes.SettingIn) -> Any:
        words = (sent.gauge, sent.set_to, sent.set_with)
        return await _keep(services, request, job, sent, commands.make_setting, *words)

    @routes.post("/part", response_model=shapes.Done, summary="Name a part")
    async def part(request: Request, job: str, sent: shapes.PartIn) -> Any:
        words = (sent.part, sent.kind, sent.place, sent.new)
        return await _keep(services, request, job, sent, commands.enter_part, *words)

    @routes.post("/list", response_model=shapes.Done, summary="What is to be measured beside what has a limit")
    async def to_measure(request: Request, job: str, sent: shapes.ListIn) -> Any:
        return await _keep(services, request, job, sent, wanted.list_to_measure, sent.measure)

    @routes.post("/facts", response_model=shapes.Done, summary="The facts of the job: numbers, distance, customer")
    async def facts(request: Request, job: str, sent: shapes.FactsIn) -> Any:
        return await _keep(services, request, job, sent, wanted.job_facts, sent.facts)

    return routes


def _remarks(services: Services) -> APIRouter:
    routes = APIRouter(prefix="/api/jobs/{job}", tags=["remarks"], responses=RESPONSES)

    @routes.post("/reason", response_model=shapes.Done, summary="Why a correction was made")
    async def reason(request: Request, job: str, sent: shapes.ReasonIn) -> Any:
        return await _keep(services, request, job, sent, commands.give_reason, sent.reading, sent.digit)

    @routes.post("/note", response_model=shapes.Done, summary="A remark about a reading or a place")
    async def note(request: Request, job: str, sent: shapes.NoteIn) -> Any:
        return await _keep(services, request, job, sent, commands.note, sent.about, sent.text)

    @routes.post("/take-back", response_model=shapes.Done, summary="Take one event back")
    async def take_back(request: Request, job: str, sent: shapes.TakeBackIn) -> Any:
        return await _keep(services, request, job, sent, commands.take_back, sent.event)

    return routes


def _trust(services: Services) -> APIRouter:
    routes = APIRouter(prefix="/api/jobs/{job}", tags=["gauges"], responses=RESPONSES)

    @routes.post("/zero", response_model=shapes.Done, summary="A zero check before, between or after a series")
    async def zero(request: Request, job: str, sent: shapes.ZeroIn) -> Any:
        words = (sent.gauge, sent.found, sent.against, sent.when, sent.allowed)
        return await _keep(services, request, job, sent, checks.check_zero, *words)

    @routes.post("/compare", response_model=shapes.Done, summary="Two gauges held against each other on one part")
    async def compare(request: Request, job: str, sent: shapes.CompareIn) -> Any:
        words = (sent.first, sent.second, sent.on, sent.first_read, sent.second_read)
        return await _keep(services, request, job, sent, checks.compare_gauges, *words)

    return routes


def _deciding(services: Services) -> APIRouter:
    routes = APIRouter(prefix="/api/jobs/{job}", tags=["deciding"], responses=RESPONSES)

    @routes.post("/decision", response_model=shapes.Done, summary="What becomes of a part, and why")
    async def decision(request: Request, job: str, sent: shapes.DecisionIn) -> Any:
        words = (sent.characteristic, sent.place, sent.decision, sent.why, sent.operation)
        return await _keep(services, request, job, sent, decide.decide, *words, round_=sent.round)

    @routes.post("/customer", response_model=shapes.Done, summary="The customer's yes or no, with a price ceiling")
    async def customer(request: Request, job: str, sent: shapes.CustomerIn) -> Any:
        words = (sent.about, sent.answer, sent.ceiling, sent.currency, sent.said_by, sent.note)
        return await _keep(services, request, job, sent, decide.customer_says, *words)

    @routes.post("/route", response_model=shapes.Done, summary="Quick route or full route")
    async def route(request: Request, job: str, sent: shapes.RouteIn) -> Any:
        return await _keep(services, request, job, sent, decide.choose_route, sent.extent)

    return routes


async def stamped(services: Services, request: Request, sent: shapes.Stamped) -> commands.Stamp:
    """Who sends it, when, and the bytes as they came."""
    came = api_line.received(await request.body())
    name, at = sent.id or services.fresh(), sent.at or services.clock()
    return commands.Stamp(name, at, sent.by, sent.device, sent.device_seq, came)


async def _keep(
    services: Services, request: Request, job: str, sent: shapes.Stamped, command: Any, *words: Any,
    round_: str = "as found",
) -> Any:  # fmt: skip
    """One command of the desk on the present state, stored before it is answered."""
    stamp = await stamped(services, request, sent)

    def kept() -> shapes.Done:
        events: tuple[Event, ...] = command(services.snapshots.state(job, round_), stamp, *words)
        return done(services.store.append(job, events, services.clock()))

    return await run_in_threadpool(kept)


def done(appended: Any) -> shapes.Done:
    """What an append did, for a machine."""
    return shapes.Done(seq=max((e.seq for e in appended.events), default=0), events=[e.id for e in appended.events],
                       again=appended.again)  # fmt: skip
