"""The decision sheet: what a person makes of each row that is out or too close, and the customer's yes or no."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from urllib.parse import quote

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from witnessmark.desk import decide
from witnessmark.desk.bench import Refused
from witnessmark.desk.commands import Stamp
from witnessmark.desk.sheets.chrome import job_line, stages_done
from witnessmark.desk.sheets.decide import decide_sheet
from witnessmark.desk.state import State
from witnessmark.draw.mark import word as mark_word
from witnessmark.record.event import Event, EventFault
from witnessmark.shell.web.pages import page, remembered
from witnessmark.shell.web.pages_common import (
    chrome_of,
    limits_cell,
    round_cell,
    round_of,
    stamp_of,
    state_of,
    unit_cell,
)
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.trouble import Trouble, shortened

Make = Callable[[State, Stamp, FormData], tuple[Event, ...]]


def router(services: Services) -> APIRouter:
    """GET /jobs/{job}/decide; POST /jobs/{job}/decide/{row, rest, customer}."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/jobs/{job}/decide")
    def sheet(request: Request, job: str) -> Response:
        return _sheet(request, state_of(services, job, round_of(request)), {})

    @routes.post("/jobs/{job}/decide/{form}")
    async def take(request: Request, job: str, form: str) -> Response:
        make = FORMS.get(form)
        if make is None:
            raise Trouble(404, f"The decision sheet has no form {shortened(form, 40)}.", f"It has {', '.join(FORMS)}.",
                          where="address")  # fmt: skip
        async with request.form(max_fields=1000, max_files=0) as fields:
            return await run_in_threadpool(_take, services, request, job, make, fields)

    return routes


def _text(fields: FormData, name: str) -> str:
    value = fields.get(name)
    return value if isinstance(value, str) else ""


def _row(now: State, stamp: Stamp, fields: FormData) -> tuple[Event, ...]:
    names = ("characteristic", "place", "decision", "why", "operation", "saw")
    characteristic, place, decision, why, operation, saw = (_text(fields, name) for name in names)
    if not decision:
        raise Refused(f"choose first what becomes of it: {', '.join(decide.DECISIONS)}")
    return decide.decide(now, stamp, characteristic, place, decision, _text(fields, "because") or why, operation, saw)


def _rest(now: State, stamp: Stamp, fields: FormData) -> tuple[Event, ...]:  # noqa: ARG001
    return decide.use_the_rest(now, stamp)


def _customer(now: State, stamp: Stamp, fields: FormData) -> tuple[Event, ...]:
    about = [name for name in fields.getlist("about") if isinstance(name, str)]
    names = ("answer", "ceiling", "currency", "said_by", "note")
    return decide.customer_says(now, stamp, about, *(_text(fields, name) for name in names))


FORMS: Mapping[str, Make] = {"row": _row, "rest": _rest, "customer": _customer}


def _take(services: Services, request: Request, job: str, make: Make, fields: FormData) -> Response:
    now = state_of(services, job, round_of(request))
    try:
        services.store.append(job, make(now, stamp_of(services, request), fields), services.clock())
    except (Refused, EventFault) as refused:
        said = str(refused)
        typed = {key: value for key, value in fields.items() if isinstance(value, str)}
        return _sheet(request, now, typed | {"said": f"{said[:1].upper()}{said[1:]}."}, 422)
    back = f"/jobs/{quote(job)}/decide" + (f"?round={quote(now.round)}" if now.round != "as found" else "")
    return RedirectResponse(f"{back}#{quote(_text(fields, 'next') or 'main')}", 303)


def _sheet(request: Request, now: State, typed: Mapping[str, str], status: int = 200) -> Response:
    sheet = decide_sheet(now, remembered(request).unit)
    cells = [round_cell(now, f"/jobs/{now.job.id}/decide"), limits_cell(now), unit_cell(request)]
    chrome = chrome_of(now, request, sheet.title, "decide", cells)
    if sheet.of:
        stages = job_line(now.job.id, "decide", stages_done(now.job), sheet.decided, sheet.of)
        chrome = replace(chrome, stages=stages)
    rows = {(one.characteristic, one.place) for part in sheet.parts for one in part.rows}
    rows |= {(one.characteristic, one.place) for one in sheet.others}
    at_its_row = (typed.get("characteristic"), typed.get("place")) in rows
    told = "" if at_its_row else typed.get("said", "")
    return page(request, "decide.html", status, chrome=chrome, sheet=sheet, typed=typed, told=told, mark_word=mark_word,
                decisions=decide.DECISIONS, sheet_class="long")  # fmt: skip
