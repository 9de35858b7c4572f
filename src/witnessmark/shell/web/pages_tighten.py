"""The tightening sheets: one joint, one key a bolt. Every form works without a script; Enter and a foot switch do."""

from collections.abc import Callable, Mapping
from urllib.parse import quote

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from witnessmark.assemble.stages import Run
from witnessmark.desk import tighten
from witnessmark.desk.bench import Refused
from witnessmark.desk.clamp import Dial, dial_now, numbers_of, warnings_of
from witnessmark.desk.commands import Stamp
from witnessmark.desk.sheets.chrome import Cell
from witnessmark.desk.sheets.report import last_day
from witnessmark.desk.sheets.tighten import TightenSheet, tighten_sheet
from witnessmark.desk.state import State
from witnessmark.record.event import Event, EventFault, digest
from witnessmark.shell.papers import TypesetFault
from witnessmark.shell.papers.orders import tighten_pdf
from witnessmark.shell.papers.typeset import PAPERS_KNOWN
from witnessmark.shell.store.fault import OtherBytes
from witnessmark.shell.web.pages import page
from witnessmark.shell.web.pages_common import chrome_of, stamp_of, state_of
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.trouble import Trouble, shortened

Make = Callable[[State, Stamp, str, FormData], tuple[Event, ...]]


def router(services: Services) -> APIRouter:
    """GET /jobs/{job}/tighten/{joint}; POST .../{begin, press, doubt, settle}."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/jobs/{job}/tighten/{joint}.pdf")
    def pdf(job: str, joint: str, paper: str = "a4", blank: bool = False) -> Response:
        now, events = state_of(services, job), services.store.events(job)
        return pdf_of(f"tightening-{joint}", lambda: tighten_pdf(
            now, joint, date=last_day(events), checksum=digest(events), size=paper_of(paper), blank=blank))  # fmt: skip

    @routes.get("/jobs/{job}/tighten/{joint}")
    def sheet(request: Request, job: str, joint: str) -> Response:
        return _sheet(request, state_of(services, job), joint, "")

    @routes.post("/jobs/{job}/tighten/{joint}/{form}")
    async def take(request: Request, job: str, joint: str, form: str) -> Response:
        make = FORMS.get(form)
        if make is None:
            known = f"It has {', '.join(FORMS)}."
            raise Trouble(404, f"The tightening sheet has no form {shortened(form, 40)}.", known, where="address")
        async with request.form(max_fields=30, max_files=0) as fields:
            return await run_in_threadpool(_take, services, request, job, joint, make, fields)

    return routes


def paper_of(size: str) -> str:
    """A size of paper that is known."""
    return size if size in PAPERS_KNOWN else PAPERS_KNOWN[0]


def pdf_of(name: str, make: Callable[[], bytes]) -> Response:
    """A paper as an answer; what keeps it from being made is told."""
    try:
        made = make()
    except Refused as refused:
        said = str(refused)
        raise Trouble(404, f"{said[:1].upper()}{said[1:]}.", "The limit sheet says how joints are tightened.",
                      where=name) from None  # fmt: skip
    except TypesetFault as fault:
        raise Trouble(500, "The paper could not be set.", str(fault), where=name) from None
    return Response(made, media_type="application/pdf",
                    headers={"content-disposition": f'inline; filename="{quote(name)}.pdf"'})  # fmt: skip


def text_of(fields: FormData, name: str) -> str:
    """One blank of a form as text."""
    value = fields.get(name)
    return value.strip() if isinstance(value, str) else ""


def _begin(now: State, stamp: Stamp, joint: str, fields: FormData) -> tuple[Event, ...]:
    def text(name: str) -> str:
        return text_of(fields, name)

    extension = {key: text(key) for key in ("length", "angle") if text(key)}
    return tighten.begin(now, stamp, joint, text("way") or "tighten", text("wrench"), text("angle_by"), text("threads"),
                         extension or None, text("bolts"), text("note"))  # fmt: skip


def _press(now: State, stamp: Stamp, _joint: str, fields: FormData) -> tuple[Event, ...]:
    words = (text_of(fields, name) for name in ("run", "line", "saw", "wrench", "angle_by"))
    return tighten.press(now, stamp, *words)


def _doubt(now: State, stamp: Stamp, _joint: str, fields: FormData) -> tuple[Event, ...]:
    return tighten.doubt(now, stamp, *(text_of(fields, name) for name in ("run", "bolt", "why", "note")))


def _settle(now: State, stamp: Stamp, _joint: str, fields: FormData) -> tuple[Event, ...]:
    return tighten.settle(now, stamp, *(text_of(fields, name) for name in ("run", "bolt", "how", "note")))


FORMS: Mapping[str, Make] = {"begin": _begin, "press": _press, "doubt": _doubt, "settle": _settle}


def _take(services: Services, request: Request, job: str, joint: str, make: Make, fields: FormData) -> Response:
    now = state_of(services, job)
    try:
        services.store.append(job, make(now, stamp_of(services, request), joint, fields), services.clock())
    except OtherBytes:
        return _sheet(request, state_of(services, job), joint, "Somebody else did this at the same moment: look.", 409)
    except (Refused, EventFault) as refused:
        said = str(refused)
        return _sheet(request, now, joint, f"{said[:1].upper()}{said[1:]}.", 422)
    return RedirectResponse(f"/jobs/{quote(job)}/tighten/{quote(joint)}", 303)


def _sheet(request: Request, now: State, joint: str, told: str, status: int = 200) -> Response:
    sheet = tighten_sheet(now, joint, warnings_of(now, joint))
    if sheet is None:
        known = ", ".join(tighten.joints(now))
        cure = f"The limit sheet has {known}." if known else "Enter how it is tightened on the limit sheet."
        raise Trouble(404, f"No joint is called {shortened(joint, 40)}.", cure, where="joint")
    chrome = chrome_of(now, request, sheet.title, "assemble", _cells(sheet))
    run = tighten.run_now(now, joint)
    procedure = run.procedure if run else tighten.joints(now)[joint]
    told, dial = _dialled(now, run, told)
    return page(request, "tighten.html", status, chrome=chrome, sheet=sheet, told=told, dial=dial, seq=now.job.seq,
                numbers=numbers_of(procedure, sheet.threads))  # fmt: skip


def _dialled(now: State, run: Run | None, told: str) -> tuple[str, Dial | None]:
    """The setting behind the extension, or why there is none."""
    try:
        return told, dial_now(now, run) if run else None
    except Refused as refused:
        said = str(refused)
        return told or f"{said[:1].upper()}{said[1:]}.", None


def _cells(sheet: TightenSheet) -> list[Cell]:
    cells = [Cell("procedure", sheet.source or "not named"), Cell("wrench", sheet.wrench or "not named"),
             Cell("threads", sheet.threads or "not said")]  # fmt: skip
    return [*cells, Cell("paper", "tightening sheet", href=f"/jobs/{sheet.job}/tighten/{sheet.joint}.pdf")]
