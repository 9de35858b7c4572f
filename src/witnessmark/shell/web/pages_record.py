"""The record sheet: every event of a job in order, its closing, and the papers that are taken away."""

from collections.abc import Mapping
from types import MappingProxyType
from urllib.parse import quote

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from witnessmark.desk.sheets.chrome import Cell
from witnessmark.desk.sheets.closed import closed_sheet
from witnessmark.desk.sheets.record import record_sheet
from witnessmark.shell.web.pages import page, remembered
from witnessmark.shell.web.pages_at import paper_of
from witnessmark.shell.web.pages_close import add_closing
from witnessmark.shell.web.pages_common import chrome_of, jobs_cell, limits_cell, round_of, state_of
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.trouble import Trouble, shortened


def router(services: Services) -> APIRouter:
    """GET /jobs/{job}/record and /jobs/{job}/report.pdf, and all of closing."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/jobs/{job}/record")
    def record(request: Request, job: str, at: str = "", sheet: str = "") -> HTMLResponse:
        return _sheet(services, request, job, at=at, number=_number(sheet))

    def show(request: Request, job: str, typed: dict[str, str], status: int) -> Response:
        return _sheet(services, request, job, typed, status)

    add_closing(routes, services, show)

    @routes.get("/jobs/{job}/report.pdf")
    def paper(request: Request, job: str) -> Response:
        now = state_of(services, job, round_of(request))
        unit = remembered(request).unit
        content = _report(services, job, now.round, unit, paper_of(request))
        named = f"attachment; filename*=UTF-8''{quote(job)}-report.pdf"
        return Response(content, media_type="application/pdf", headers={"Content-Disposition": named})

    return routes


def _sheet(
    services: Services, request: Request, job: str, typed: Mapping[str, str] = MappingProxyType({}), status: int = 200,
    at: str = "", number: int = 0,
) -> HTMLResponse:  # fmt: skip
    now = state_of(services, job)
    events = services.store.events(job)
    told = record_sheet(now.job, events, services.catalogue, at, number)
    kept = next((entry.at for entry in reversed(told.entries) if entry.at), "")
    cells = [limits_cell(now), Cell("last kept", kept[:16].replace("T", " ") or "nothing yet"), jobs_cell(services)]
    chrome = chrome_of(now, request, told.title, "record", cells)
    return page(request, "record.html", status, chrome=chrome, sheet=told, typed=typed, told=typed.get("said", ""),
                by=remembered(request).by, closed=closed_sheet(now, events, services.clock()))  # fmt: skip


def _report(services: Services, job: str, round_: str, unit: str, paper: str) -> bytes:
    # The typesetter is heavy: it comes in with the first report that somebody asks for.
    from witnessmark.shell.papers.photos import stored
    from witnessmark.shell.papers.report import report_pdf
    from witnessmark.shell.papers.typeset import TypesetFault

    try:
        return report_pdf(services.store.events(job), services.catalogue, display=unit, round_=round_, paper=paper,
                          photos=stored(services.store.photos))  # fmt: skip
    except TypesetFault as fault:
        what = f"The report could not be set: {shortened(fault, 300)}"
        cure = "The record itself is whole: export it, and send this sentence to whoever looks after the tool."
        raise Trouble(503, what, cure, where="report") from None


def _number(sheet: str) -> int:
    if not sheet:
        return 0
    if not (sheet.isascii() and sheet.isdigit() and len(sheet) < 7):
        raise Trouble(404, f"The record has no sheet {shortened(sheet)}.", "Sheets are numbered from 1.", where="sheet")
    return int(sheet)
