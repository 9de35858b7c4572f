"""The plan sheet: what to do, in which order, why, for how much; what else would do; what stands in the way."""

from collections.abc import Callable, Mapping
from urllib.parse import quote

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from witnessmark.desk.bench import Refused
from witnessmark.desk.commands import Stamp
from witnessmark.desk.order import ask_plan, order_plan
from witnessmark.desk.planning import plan_of_job
from witnessmark.desk.sheets.chrome import Cell
from witnessmark.desk.sheets.judged import Judged
from witnessmark.desk.sheets.plan import PlanSheet, plan_sheet
from witnessmark.desk.state import State
from witnessmark.draw.mark import cell as mark_cell
from witnessmark.draw.shape import Drawing
from witnessmark.plan.result import Planned
from witnessmark.record.event import Event, EventFault
from witnessmark.shell.quiet import quiet
from witnessmark.shell.web.pages import page, remembered
from witnessmark.shell.web.pages_common import chrome_of, limits_cell, stamp_of, state_of, unit_cell
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.trouble import Trouble, shortened

Make = Callable[[State, Stamp, FormData], tuple[Event, ...]]
EMPTY = Planned("impossible", (), None)


def router(services: Services) -> APIRouter:
    """GET /jobs/{job}/plan; POST /jobs/{job}/plan/{order, ask}."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/jobs/{job}/plan")
    def sheet(request: Request, job: str) -> Response:
        return _sheet(request, state_of(services, job), {})

    @routes.post("/jobs/{job}/plan/{form}")
    async def take(request: Request, job: str, form: str) -> Response:
        make = FORMS.get(form)
        if make is None:
            raise Trouble(404, f"The plan sheet has no form {shortened(form, 40)}.", f"It has {', '.join(FORMS)}.",
                          where="address")  # fmt: skip
        async with request.form(max_fields=50, max_files=0) as fields:
            return await run_in_threadpool(_take, services, request, job, make, fields)

    return routes


def _text(fields: FormData, name: str) -> str:
    value = fields.get(name)
    return value if isinstance(value, str) else ""


def _order(now: State, stamp: Stamp, fields: FormData) -> tuple[Event, ...]:
    return order_plan(now, stamp, plan_of_job(now, quiet), _text(fields, "name"), _text(fields, "why"))


def _ask(now: State, stamp: Stamp, fields: FormData) -> tuple[Event, ...]:
    names = ("change", "operation", "place", "amount", "unit", "wanted")
    return ask_plan(now, stamp, *(_text(fields, name).strip() for name in names))


FORMS: Mapping[str, Make] = {"order": _order, "ask": _ask}


def _take(services: Services, request: Request, job: str, make: Make, fields: FormData) -> Response:
    now = state_of(services, job)
    try:
        services.store.append(job, make(now, stamp_of(services, request), fields), services.clock())
    except (Refused, EventFault) as refused:
        said = str(refused)
        return _sheet(request, now, {"said": f"{said[:1].upper()}{said[1:]}."}, 422)
    return RedirectResponse(f"/jobs/{quote(job)}/plan#main", 303)


def _sheet(request: Request, now: State, typed: Mapping[str, str], status: int = 200) -> Response:
    unit = remembered(request).unit
    told = typed.get("said", "")
    try:
        planned = plan_of_job(now, quiet)
    except Refused as refused:
        planned, told = EMPTY, told or f"{str(refused)[:1].upper()}{str(refused)[1:]}."
    sheet = plan_sheet(now, planned, unit, request.query_params.get("plan", ""))
    chrome = chrome_of(now, request, sheet.title, "decide", _cells(now, request, sheet))
    return page(request, "plan.html", status, chrome=chrome, sheet=sheet, told=told, cell=_drawn, sheet_class="long")


def _cells(now: State, request: Request, sheet: PlanSheet) -> list[Cell]:
    doubt = now.sheet.bearer if now.sheet else "must be proven good"
    return [Cell("prices", sheet.prices), limits_cell(now), Cell("each value", doubt), unit_cell(request)]


def _drawn(line: Judged) -> Drawing:
    return mark_cell(line.mark, line.scale, line.name, framed=False)
