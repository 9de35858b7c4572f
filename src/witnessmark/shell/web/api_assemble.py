"""Assembly for programs: joints with their stages and bolts, keys at the bolts, steps and their signatures."""

from dataclasses import asdict
from typing import Annotated, Any, Literal

from fastapi import APIRouter, Path, Query, Request

from witnessmark.desk import steps, tighten
from witnessmark.desk.sheets.steps import steps_sheet
from witnessmark.desk.tighten_data import tighten_data
from witnessmark.desk.trace_data import trace_data
from witnessmark.desk.traces import enter_trace, traces_of
from witnessmark.shell.web import assemble_shapes as shapes
from witnessmark.shell.web.api_keep import Keep, keeper
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.shapes import Done

Joint = Annotated[str, Query(max_length=100)]
InPath = Annotated[str, Path(max_length=100)]


def router(services: Services, responses: dict[int | str, dict[str, Any]], stamped: Any, done: Any) -> APIRouter:
    """GET and POST under /api/jobs/{job}/: tighten, steps."""
    routes = APIRouter(prefix="/api/jobs/{job}", tags=["assembly"], responses=responses)

    @routes.get("/tighten", summary="A joint: stages with their order, bolts, what is next, cautions")
    def joint_now(job: str, joint: Joint = "", way: Literal["tighten", "loosen"] = "tighten") -> Any:
        return tighten_data(services.snapshots.state(job), joint, way)

    @routes.get("/steps", summary="Steps of assembly with tool, caution and signature")
    def steps_now(job: str) -> Any:
        return asdict(steps_sheet(services.snapshots.state(job)))

    @routes.get("/tighten/{joint}/traces", summary="Traces of a joint: key points, the set, who is unlike the others")
    def traces_now(job: str, joint: InPath) -> Any:
        now = services.snapshots.state(job)
        tighten_data(now, joint)  # refuses a joint that there is not
        found = traces_of(now, joint)
        return {**trace_data(found.set), "unread": list(found.unread)}

    _add_bolts(routes, keeper(services, stamped, done))
    return routes


def _add_bolts(routes: APIRouter, keep: Keep) -> None:
    @routes.post("/tighten/{joint}/begin", response_model=Done, summary="Begin a run over a joint")
    async def begin(request: Request, job: str, joint: InPath, sent: shapes.BeginIn) -> Any:
        told = {"length": sent.extension, "angle": sent.extension_angle}
        extension = {key: text for key, text in told.items() if text}
        words = (sent.way, sent.wrench, sent.angle_by, sent.threads, extension or None, sent.bolts, sent.note)
        return await keep(request, job, sent, lambda now, stamp: tighten.begin(now, stamp, joint, *words))

    @routes.post("/tighten/press", response_model=Done, summary="One key at the bolt that is next")
    async def press(request: Request, job: str, sent: shapes.PressIn) -> Any:
        words = (sent.run, sent.line, sent.saw, sent.wrench, sent.angle_by)
        return await keep(request, job, sent, lambda now, stamp: tighten.press(now, stamp, *words))

    @routes.post("/tighten/doubt", response_model=Done, summary="A bolt is in doubt")
    async def doubt(request: Request, job: str, sent: shapes.DoubtIn) -> Any:
        words = (sent.run, sent.bolt, sent.why, sent.note)
        return await keep(request, job, sent, lambda now, stamp: tighten.doubt(now, stamp, *words))

    @routes.post("/tighten/settle", response_model=Done, summary="What was done about a bolt in doubt")
    async def settle(request: Request, job: str, sent: shapes.SettleIn) -> Any:
        words = (sent.run, sent.bolt, sent.how, sent.note)
        return await keep(request, job, sent, lambda now, stamp: tighten.settle(now, stamp, *words))

    @routes.post("/tighten/{joint}/traces", response_model=Done, summary="Enter a trace of a bolt")
    async def trace(request: Request, job: str, joint: InPath, sent: shapes.TraceIn) -> Any:
        words = (sent.text, sent.name, sent.bolt, "", joint, sent.part)
        return await keep(request, job, sent, lambda now, stamp: enter_trace(now, stamp, *words))

    @routes.post("/steps", response_model=Done, summary="Sign a step of assembly")
    async def sign(request: Request, job: str, sent: shapes.SignIn) -> Any:
        words = (sent.step, sent.note, sent.seen, sent.did)
        return await keep(request, job, sent, lambda now, stamp: steps.sign(now, stamp, *words))
