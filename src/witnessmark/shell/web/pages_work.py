"""The sheet of intended work: step a cut, and drawing and ledger move with it."""

from collections.abc import Callable, Mapping
from urllib.parse import quote

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from witnessmark.desk import intend
from witnessmark.desk.bench import Refused
from witnessmark.desk.commands import Stamp
from witnessmark.desk.sheets.chrome import Cell
from witnessmark.desk.sheets.judged import Judged
from witnessmark.desk.sheets.work import HERE, SCOPES, NoValve, work_sheet
from witnessmark.desk.state import State
from witnessmark.draw.mark import cell as mark_cell
from witnessmark.draw.shape import Drawing
from witnessmark.record.event import Event, EventFault
from witnessmark.shell.web.pages import page, remembered
from witnessmark.shell.web.pages_common import chrome_of, limits_cell, stamp_of, state_of, unit_cell
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.trouble import Trouble, shortened

Make = Callable[[State, Stamp, FormData], tuple[Event, ...]]
PART = "x-part"  # header by which the page's script asks for its fields alone


def router(services: Services) -> APIRouter:
    """GET /jobs/{job}/intended; POST /jobs/{job}/intended/{step, clear, geometry}."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/jobs/{job}/intended")
    def sheet(request: Request, job: str) -> Response:
        return _sheet(request, state_of(services, job), request.query_params, "")

    @routes.post("/jobs/{job}/intended/{form}")
    async def take(request: Request, job: str, form: str) -> Response:
        make = FORMS.get(form)
        if make is None:
            raise Trouble(404, f"The sheet of intended work has no form {shortened(form, 40)}.",
                          f"It has {', '.join(FORMS)}.", where="address")  # fmt: skip
        async with request.form(max_fields=50, max_files=0) as fields:
            return await run_in_threadpool(_take, services, request, job, make, fields)

    return routes


def _text(fields: FormData, name: str) -> str:
    value = fields.get(name)
    return value if isinstance(value, str) else ""


def _step(now: State, stamp: Stamp, fields: FormData) -> tuple[Event, ...]:
    place = SCOPES.get(_text(fields, "scope"), "") if _text(fields, "valve_axis") else ""
    return intend.step_work(now, stamp, _text(fields, "operation"), place or _text(fields, "place"),
                            _text(fields, "to"), _text(fields, "unit") or "mm", _text(fields, "saw"))  # fmt: skip


def _clear(now: State, stamp: Stamp, fields: FormData) -> tuple[Event, ...]:
    return intend.clear_work(now, stamp, _text(fields, "saw"))


def _geometry(now: State, stamp: Stamp, fields: FormData) -> tuple[Event, ...]:
    names = ("quantity", "value", "unit", "place", "side", "u", "document", "page", "saw_geometry")
    return intend.enter_geometry(now, stamp, *(_text(fields, name).strip() for name in names))


FORMS: Mapping[str, Make] = {"step": _step, "clear": _clear, "geometry": _geometry}


def _take(services: Services, request: Request, job: str, make: Make, fields: FormData) -> Response:
    asked = {name: _text(fields, name) for name in ("valve", "view", "scope")}
    said = ""
    now = state_of(services, job)
    try:
        services.store.append(job, make(now, stamp_of(services, request), fields), services.clock())
    except (Refused, EventFault) as refused:
        said = f"{str(refused)[:1].upper()}{str(refused)[1:]}."
    if request.headers.get(PART):
        return _sheet(request, state_of(services, job), asked, said, part=True, status=422 if said else 200)
    if said:
        return _sheet(request, now, asked, said, status=422)
    words = "&".join(f"{name}={quote(value)}" for name, value in asked.items() if value)
    return RedirectResponse(f"/jobs/{quote(job)}/intended?{words}#main", 303)


def _sheet(
    request: Request, now: State, asked: Mapping[str, str], told: str, *, part: bool = False, status: int = 200
) -> Response:
    unit = remembered(request).unit
    view = "head" if asked.get("view") == "head" else "valve"
    try:
        sheet = work_sheet(now, asked.get("valve", ""), view, asked.get("scope", ""), unit)
    except NoValve as lost:
        raise Trouble(404, f"{str(lost)[:1].upper()}{str(lost)[1:]}.", "Choose a valve on the sheet.",
                      where="valve") from None  # fmt: skip
    except Refused as refused:
        raise Trouble(422, f"{str(refused)[:1].upper()}{str(refused)[1:]}.", "The new sheet takes the engine's layout.",
                      where="engine") from None  # fmt: skip
    chrome = chrome_of(now, request, sheet.title, "decide", _cells(now, request))
    return page(request, "work_fields.html" if part else "work.html", status, chrome=chrome, sheet=sheet, told=told,
                cell=_drawn, scopes=HERE, sheet_class="long")  # fmt: skip


def _cells(now: State, request: Request) -> list[Cell]:
    return [Cell("drawing", "true to scale, details as named"), limits_cell(now), unit_cell(request)]


def _drawn(line: Judged) -> Drawing:
    return mark_cell(line.mark, line.scale, line.name, framed=False)
