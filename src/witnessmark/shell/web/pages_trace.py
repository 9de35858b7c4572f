"""The sheet of traces of a joint: files of the wrench are sent, their key points shown. Works without a script."""

from collections.abc import Sequence
from urllib.parse import quote

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from witnessmark.desk import tighten
from witnessmark.desk.bench import Refused
from witnessmark.desk.sheets.chrome import Cell
from witnessmark.desk.sheets.trace import traces_sheet
from witnessmark.desk.state import State
from witnessmark.desk.traces import enter_trace, take_back_trace
from witnessmark.record.event import EventFault
from witnessmark.shell.web.pages import page, remembered
from witnessmark.shell.web.pages_common import chrome_of, form_texts, stamp_of, state_of, unit_cell
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.trouble import Trouble, shortened
from witnessmark.shell.wrench import wrench_text
from witnessmark.text.fault import Faulty

MOST_FILES = 60
Sent = Sequence[tuple[str, bytes]]


def router(services: Services) -> APIRouter:
    """GET and POST /jobs/{job}/tighten/{joint}/traces; POST .../traces/back."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/jobs/{job}/tighten/{joint}/traces")
    def sheet(request: Request, job: str, joint: str, bolt: str = "") -> Response:
        return _sheet(request, state_of(services, job), joint, bolt)

    @routes.post("/jobs/{job}/tighten/{joint}/traces")
    async def add(request: Request, job: str, joint: str) -> Response:
        async with request.form(max_fields=10, max_files=MOST_FILES) as form:
            files = [file for file in form.getlist("file") if isinstance(file, UploadFile)]
            sent = [(file.filename or "", await file.read()) for file in files]
            fields = form_texts(form)
        return await run_in_threadpool(_add, services, request, (job, joint), sent, fields)

    @routes.post("/jobs/{job}/tighten/{joint}/traces/back")
    async def back(request: Request, job: str, joint: str) -> Response:
        async with request.form(max_fields=10, max_files=0) as form:
            fields = form_texts(form)
        return await run_in_threadpool(_back, services, request, job, joint, fields)

    return routes


def _add(services: Services, request: Request, where: tuple[str, str], sent: Sent, fields: dict[str, str]) -> Response:
    """Keep every file that can be read; the others are told, each with its faults."""
    job, joint = where
    told: list[str] = []
    kept = ""
    sent = [(name, data) for name, data in sent if name or data]
    if not sent:
        told.append("No file came: choose the CSV files of the wrench.")
    for name, data in sent:
        now = state_of(services, job)
        try:
            text = wrench_text(data, name)
            events = enter_trace(now, stamp_of(services, request), text, name, fields.get("bolt", ""), joint=joint,
                                 part=_part(fields))  # fmt: skip
            services.store.append(job, events, services.clock())
            kept = str(events[-1].body["bolt"])
        except Faulty as faulty:
            told += [f"{fault}." for fault in faulty.faults]
        except (Refused, EventFault) as refused:
            said = str(refused)
            told.append(f"{said[:1].upper()}{said[1:]}.")
            told += [f"{fault}." for fault in getattr(refused, "faults", ())]
    if told:
        return _sheet(request, state_of(services, job), joint, kept, list(dict.fromkeys(told)), fields, 422)
    return RedirectResponse(f"/jobs/{quote(job)}/tighten/{quote(joint)}/traces?bolt={quote(kept)}", 303)


def _back(services: Services, request: Request, job: str, joint: str, fields: dict[str, str]) -> Response:
    now = state_of(services, job)
    try:
        events = take_back_trace(now, stamp_of(services, request), fields.get("event", ""))
        services.store.append(job, events, services.clock())
    except (Refused, EventFault) as refused:
        return _sheet(request, now, joint, "", [f"{str(refused)[:1].upper()}{str(refused)[1:]}."], fields, 422)
    return RedirectResponse(f"/jobs/{quote(job)}/tighten/{quote(joint)}/traces", 303)


def _part(fields: dict[str, str]) -> int:
    text = fields.get("part", "").strip()
    return int(text) if text.isascii() and text.isdigit() and len(text) < 4 else 0


def _sheet(
    request: Request, now: State, joint: str, bolt: str = "", told: Sequence[str] = (),
    fields: dict[str, str] | None = None, status: int = 200,
) -> Response:  # fmt: skip
    unit = "lbf·ft" if remembered(request).unit == "in" else "N·m"
    sheet = traces_sheet(now, joint, bolt, unit)
    if sheet is None:
        known = ", ".join(tighten.joints(now))
        cure = f"The limit sheet has {known}." if known else "Enter how it is tightened on the limit sheet."
        raise Trouble(404, f"No joint is called {shortened(joint, 40)}.", cure, where="joint")
    cells = [Cell("traces", sheet.sub), unit_cell(request)]
    chrome = chrome_of(now, request, sheet.title, "assemble", cells)
    return page(request, "trace.html", status, chrome=chrome, sheet=sheet, told=told, typed=fields or {})
