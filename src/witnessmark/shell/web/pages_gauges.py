"""The gauges: the register of all jobs, and the sheet of one job with zero checks and comparisons.

GET /gauges                        every gauge that some job knows, what is past due first
GET /jobs/{job}/gauges             those of one job
POST /jobs/{job}/gauges/{zero, compare}
"""

from collections.abc import Callable
from urllib.parse import quote

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from witnessmark.desk import checks
from witnessmark.desk.bench import Refused
from witnessmark.desk.commands import Stamp
from witnessmark.desk.sheets.chrome import Cell, Chrome, light
from witnessmark.desk.sheets.gauges import gauges_sheet, register
from witnessmark.desk.state import State
from witnessmark.record.event import Event, EventFault
from witnessmark.shell.web.pages import page
from witnessmark.shell.web.pages_common import (
    chrome_of,
    form_texts,
    jobs_cell,
    limits_cell,
    stamp_of,
    state_of,
)
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.trouble import Trouble, shortened

MOST_JOBS = 60  # newest first, of which the register is made

Make = Callable[[State, Stamp, dict[str, str]], tuple[Event, ...]]


def router(services: Services) -> APIRouter:
    """The routes at the head of this file."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/gauges")
    def works(request: Request) -> Response:
        jobs = (services.store.job(row.id) for row in services.store.jobs()[:MOST_JOBS])
        held = register(jobs, services.catalogue, services.clock())
        late = sum(one.late for one in held)
        words = f"{len(held)} in all, {late} past due" if late else f"{len(held)} in all"
        chrome = Chrome("gauges", (), (Cell("gauges", words, grow=True), jobs_cell(services), light()))
        return page(request, "gauges_all.html", chrome=chrome, gauges=held, late=late)

    @routes.get("/jobs/{job}/gauges")
    def sheet(request: Request, job: str, kept: str = "") -> Response:
        said = {"zero": "The zero check is kept.", "compare": "The comparison is kept."}.get(kept, "")
        return _page(services, request, state_of(services, job), "", {}, said)

    @routes.post("/jobs/{job}/gauges/{form}")
    async def take(request: Request, job: str, form: str) -> Response:
        make = FORMS.get(form)
        if make is None:
            raise Trouble(404, f"The gauges sheet has no form {shortened(form, 40)}.", f"It has {', '.join(FORMS)}.",
                          where="address")  # fmt: skip
        async with request.form(max_fields=20, max_files=0) as fields:
            typed = form_texts(fields)
        return await run_in_threadpool(_take, services, request, job, form, typed)

    return routes


def _zero(now: State, stamp: Stamp, typed: dict[str, str]) -> tuple[Event, ...]:
    words = (typed.get(name, "").strip() for name in ("gauge", "found", "against", "when", "allowed"))
    gauge, found, against, when, allowed = words
    return checks.check_zero(now, stamp, gauge, found, against, when or "before", allowed)


def _compare(now: State, stamp: Stamp, typed: dict[str, str]) -> tuple[Event, ...]:
    words = (typed.get(name, "").strip() for name in ("first", "second", "on", "first_read", "second_read"))
    return checks.compare_gauges(now, stamp, *words)


FORMS: dict[str, Make] = {"zero": _zero, "compare": _compare}


def _take(services: Services, request: Request, job: str, form: str, typed: dict[str, str]) -> Response:
    now = state_of(services, job)
    try:
        events = FORMS[form](now, stamp_of(services, request), typed)
        services.store.append(job, events, services.clock())
    except (Refused, EventFault) as refused:
        said = str(refused)
        return _page(services, request, now, form, typed, f"{said[:1].upper()}{said[1:]}", 422)
    return RedirectResponse(f"/jobs/{quote(job)}/gauges?kept={form}", 303)


def _page(
    services: Services, request: Request, now: State, form: str, typed: dict[str, str], said: str, status: int = 200
) -> Response:
    kept = {name: typed for name in (form,) if name}
    sheet = gauges_sheet(now, services.clock(), kept.get("zero"), kept.get("compare"))
    chrome = chrome_of(now, request, sheet.title, "measure", [limits_cell(now), jobs_cell(services)])
    return page(request, "gauges.html", status, chrome=chrome, sheet=sheet, said=said)
