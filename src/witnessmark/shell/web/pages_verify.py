"""The sheet of verification, the conditions entered on it, and the same for programs."""

from urllib.parse import quote

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from witnessmark.desk.bench import Refused
from witnessmark.desk.conditions import CONDITIONS, enter_conditions
from witnessmark.desk.sheets.chrome import Cell
from witnessmark.desk.sheets.judged import Judged
from witnessmark.desk.sheets.verify import TITLE, verify_sheet
from witnessmark.desk.state import State
from witnessmark.draw.mark import cell as mark_cell
from witnessmark.draw.shape import Drawing
from witnessmark.record.event import EventFault
from witnessmark.shell.web.pages import page, remembered
from witnessmark.shell.web.pages_common import chrome_of, limits_cell, stamp_of, state_of, unit_cell
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.trouble import Trouble


def router(services: Services) -> APIRouter:
    """GET /jobs/{job}/verify; POST /jobs/{job}/verify/conditions."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/jobs/{job}/verify")
    def sheet(request: Request, job: str) -> Response:
        return _sheet(request, state_of(services, job), "", {})

    @routes.post("/jobs/{job}/verify/conditions")
    async def conditions(request: Request, job: str) -> Response:
        async with request.form(max_fields=50, max_files=0) as fields:
            return await run_in_threadpool(_take, services, request, job, fields)

    return routes


def _take(services: Services, request: Request, job: str, fields: FormData) -> Response:
    now = state_of(services, job)
    typed = {name: value for name in CONDITIONS if isinstance(value := fields.get(name), str)}
    saw = fields.get("saw")
    try:
        events = enter_conditions(now, stamp_of(services, request), typed, saw if isinstance(saw, str) else None)
        if events:
            services.store.append(job, events, services.clock())
    except (Refused, EventFault) as refused:
        return _sheet(request, now, f"{str(refused)[:1].upper()}{str(refused)[1:]}.", typed, 422)
    return RedirectResponse(f"/jobs/{quote(job)}/verify#main", 303)


def _sheet(request: Request, now: State, told: str, typed: dict[str, str], status: int = 200) -> Response:
    try:
        sheet = verify_sheet(now, remembered(request).unit)
    except Refused as refused:
        raise Trouble(422, f"{str(refused)[:1].upper()}{str(refused)[1:]}.", "The new sheet takes the engine's layout.",
                      where="engine") from None  # fmt: skip
    chrome = chrome_of(now, request, TITLE, "verify", _cells(now, request))
    return page(request, "verify.html", status, chrome=chrome, sheet=sheet, told=told, typed=typed, cell=_drawn,
                sheet_class="long")  # fmt: skip


def _cells(now: State, request: Request) -> list[Cell]:
    told = now.job.conditions
    air = told.get("air_pressure") or told.get("altitude") or "not said"
    tried = " · ".join(told[name] for name in ("engine", "air_temperature") if name in told) or "not said"
    return [Cell("air", air, href="#conditions"), Cell("tried", tried, href="#conditions"), limits_cell(now),
            unit_cell(request)]  # fmt: skip


def _drawn(line: Judged) -> Drawing:
    return mark_cell(line.mark, line.scale, line.name, framed=False)
