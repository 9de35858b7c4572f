"""The record sheet: every event of a job in order."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from witnessmark.desk.sheets.chrome import Cell
from witnessmark.desk.sheets.record import record_sheet
from witnessmark.shell.web.pages import page
from witnessmark.shell.web.pages_common import chrome_of, jobs_cell, limits_cell, state_of
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.trouble import Trouble, shortened


def router(services: Services) -> APIRouter:
    """GET /jobs/{job}/record."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/jobs/{job}/record")
    def record(request: Request, job: str, at: str = "", sheet: str = "") -> HTMLResponse:
        now = state_of(services, job)
        told = record_sheet(now.job, services.store.events(job), services.catalogue, at, _number(sheet))
        kept = next((entry.at for entry in reversed(told.entries) if entry.at), "")
        cells = [limits_cell(now), Cell("last kept", kept[:16].replace("T", " ") or "nothing yet"), jobs_cell(services)]
        return page(request, "record.html", chrome=chrome_of(now, request, told.title, "record", cells), sheet=told)

    return routes


def _number(sheet: str) -> int:
    if not sheet:
        return 0
    if not (sheet.isascii() and sheet.isdigit() and len(sheet) < 7):
        raise Trouble(404, f"The record has no sheet {shortened(sheet)}.", "Sheets are numbered from 1.", where="sheet")
    return int(sheet)
