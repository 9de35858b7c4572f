"""The order: what goes to the machine shop, what is bought, which shims, and what was before and is after."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from witnessmark.desk.bench import Refused
from witnessmark.desk.planning import plan_of_job
from witnessmark.desk.sheets.order import NAMES, ordered, paper, reasons, total_time
from witnessmark.desk.sheets.report import last_day
from witnessmark.desk.state import State
from witnessmark.record.event import digest
from witnessmark.shell.papers import TypesetFault
from witnessmark.shell.papers.orders import order_pdf
from witnessmark.shell.quiet import quiet
from witnessmark.shell.web.pages import page, remembered
from witnessmark.shell.web.pages_common import chrome_of, limits_cell, state_of, unit_cell
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.trouble import Trouble, shortened


def router(services: Services) -> APIRouter:
    """GET /jobs/{job}/order, and each of its papers as PDF."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/jobs/{job}/order")
    def sheet(request: Request, job: str) -> Response:
        return _sheet(request, state_of(services, job))

    @routes.get("/jobs/{job}/order/{name}.pdf")
    def pdf(request: Request, job: str, name: str, paper: str = "a4") -> Response:
        if name not in NAMES:
            raise Trouble(404, f"No paper of the order is called {shortened(name, 40)}.",
                          f"There are {', '.join(NAMES)}.", where="address")  # fmt: skip
        now, events = state_of(services, job), services.store.events(job)
        size = paper if paper in ("a4", "letter") else "a4"
        try:
            made = order_pdf(now, name, date=last_day(events), checksum=digest(events),
                             display=remembered(request).unit, size=size)  # fmt: skip
        except Refused as refused:
            raise _no_engine(refused) from None
        except TypesetFault as fault:
            raise Trouble(500, "The paper could not be set.", str(fault), where=name) from None
        return Response(made, media_type="application/pdf",
                        headers={"content-disposition": f'inline; filename="{name}.pdf"'})  # fmt: skip

    return routes


def _no_engine(refused: Refused) -> Trouble:
    said = str(refused)
    return Trouble(422, f"{said[:1].upper()}{said[1:]}.", "The new sheet takes the engine's layout.", where="engine")


def _sheet(request: Request, now: State) -> Response:
    unit = remembered(request).unit
    try:
        planned = plan_of_job(now, quiet)
        what = ordered(now, planned)
        papers = [paper(now, planned, name, unit) for name in NAMES]
    except Refused as refused:
        raise _no_engine(refused) from None
    chrome = chrome_of(now, request, "Order", "order", [limits_cell(now), unit_cell(request)])
    return page(request, "order.html", chrome=chrome, job=now.job.id, what=what, papers=papers,
                why=reasons(now, what, unit), time=total_time(what), sheet_class="long")  # fmt: skip
