"""The catalogue, the part sheets and the list of what to measure.

GET /catalogue                     every entry by table; find= looks for words
GET /catalogue/methods             the ways of looking
GET /catalogue/{id}, /{id}.pdf     one entry; its bench card on paper=a4 or letter. job= draws it for that engine
GET, POST /jobs/{job}/part/{place} one part with all that is measured on it; its name, new or used, here or on the shelf
GET, POST /jobs/{job}/list         what to measure beside what has a limit
"""

from typing import Any
from urllib.parse import quote

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from witnessmark.desk import commands, wanted
from witnessmark.desk.bench import Refused
from witnessmark.desk.sheets.card import NoCard
from witnessmark.desk.sheets.catalogue import catalogue_sheet, entry_sheet, way_sheets
from witnessmark.desk.sheets.chrome import Cell, Chrome, light
from witnessmark.desk.sheets.part import NoPart, part_of
from witnessmark.desk.sheets.wanted import list_sheet
from witnessmark.desk.state import State
from witnessmark.draw.mark import cell as cell_mark
from witnessmark.draw.mark import word as mark_word
from witnessmark.explain.dialect import catalogue_said
from witnessmark.record.event import Event
from witnessmark.shell.web.pages import page, remembered
from witnessmark.shell.web.pages_at import paper_of
from witnessmark.shell.web.pages_common import (
    chrome_of,
    form_texts,
    limits_cell,
    round_of,
    stamp_of,
    state_of,
    unit_cell,
)
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.trouble import Trouble, shortened

MOST_FIELDS = 400  # more ticks than there are characteristics


def router(services: Services) -> APIRouter:
    """The routes at the head of this file."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/catalogue")
    def whole(request: Request, find: str = "") -> Response:
        sheet = catalogue_sheet(_known(services, request), find[:80])
        return page(request, "catalogue.html", chrome=_chrome(request, "catalogue", services), sheet=sheet)

    @routes.get("/catalogue/methods")
    def methods(request: Request) -> Response:
        ways = way_sheets(_known(services, request))
        chrome = _chrome(request, "ways of looking", services)
        return page(request, "catalogue_methods.html", chrome=chrome, ways=ways)

    @routes.get("/catalogue/{name}.pdf")
    def card(request: Request, name: str) -> Response:
        return _card(services, request, name)

    @routes.get("/catalogue/{name}")
    def entry(request: Request, name: str, job: str = "") -> Response:
        return _entry(services, request, name, job)

    _of_job(routes, services)
    return routes


def _of_job(routes: APIRouter, services: Services) -> None:
    @routes.get("/jobs/{job}/part/{place:path}")
    def part(request: Request, job: str, place: str, kind: str = "") -> Response:
        return _part(request, state_of(services, job, round_of(request)), place, kind)

    @routes.post("/jobs/{job}/part/{place:path}")
    async def name_part(request: Request, job: str, place: str) -> Response:
        async with request.form(max_fields=20, max_files=0) as form:
            fields = form_texts(form)
        return await run_in_threadpool(_name_part, services, request, job, place, fields)

    @routes.get("/jobs/{job}/list")
    def to_measure(request: Request, job: str, kept: str = "") -> Response:
        return _list(services, request, state_of(services, job), None, "The list is kept." if kept else "")

    @routes.post("/jobs/{job}/list")
    async def keep_list(request: Request, job: str) -> Response:
        async with request.form(max_fields=MOST_FIELDS, max_files=0) as form:
            ticked = [name for name in form.getlist("measure") if isinstance(name, str)]
            preset = form_texts(form).get("preset", "")
        return await run_in_threadpool(_keep_list, services, request, job, ticked, preset)


def _known(services: Services, request: Request) -> Any:
    return catalogue_said(services.catalogue, remembered(request).words)


def words_cell(request: Request) -> Cell:
    """Which side of the Atlantic the words are of; pressing it changes over."""
    return Cell("words", remembered(request).words or "as written", control="words")


def _chrome(request: Request, title: str, services: Services, state: State | None = None) -> Chrome:
    cells = (Cell("catalogue", f"{len(services.catalogue.characteristics)} entries", href="/catalogue", grow=not state),
             Cell("ways of looking", str(len(services.catalogue.methods)), href="/catalogue/methods"),
             words_cell(request))  # fmt: skip
    if state is not None:
        return chrome_of(state, request, title, "measure", cells)
    return Chrome(title, (), (*cells, Cell("jobs", "all", href="/jobs"), light()))


def _entry(services: Services, request: Request, name: str, job: str) -> Response:
    now = state_of(services, job) if job else None
    layout, sheet = (now.layout, now.sheet) if now else (None, None)
    try:
        made = entry_sheet(_known(services, request), name, layout, sheet.limits if sheet else ())
    except NoCard as none:
        raise _no_entry(none) from None
    return page(request, "catalogue_entry.html", chrome=_chrome(request, made.card.title, services, now), sheet=made,
                job=now.job.id if now else "")  # fmt: skip


def _no_entry(none: NoCard) -> Trouble:
    said = shortened(none, 200)
    return Trouble(404, f"{said[:1].upper()}{said[1:]}.", "All entries stand at /catalogue.", where="catalogue")


def _card(services: Services, request: Request, name: str) -> Response:
    # The typesetter is heavy: it comes in with the first paper that somebody asks for.
    from witnessmark.shell.papers.cards import card_pdf
    from witnessmark.shell.papers.typeset import TypesetFault

    try:
        content = card_pdf(_known(services, request), name, paper=paper_of(request))
    except NoCard as none:
        raise _no_entry(none) from None
    except TypesetFault as fault:
        raise Trouble(503, f"The card could not be set: {shortened(fault, 300)}", "Read it on its page.",
                      where="card") from None  # fmt: skip
    return Response(content, media_type="application/pdf",
                    headers={"Content-Disposition": f"attachment; filename={name}.pdf"})  # fmt: skip


def _part(request: Request, now: State, place: str, kind: str, said: str = "", fields: Any = None) -> Response:
    unit = remembered(request).unit
    try:
        sheet = part_of(now, place, kind, unit)
    except NoPart as none:
        text = str(none)
        raise Trouble(404, f"{text[:1].upper()}{text[1:]}.", "Pick a valve on the head sheet.", where="part") from None
    cells = [Cell("head sheet", "all valves", href=f"/jobs/{now.job.id}/head"), limits_cell(now), unit_cell(request)]
    return page(
        request,
        "part.html",
        422 if said else 200,
        chrome=chrome_of(now, request, sheet.title, "measure", cells),
        sheet=sheet,
        said=said,
        typed={"part": "", "new": "", "at": "", **(fields or {})},
        cell=lambda line: cell_mark(line.mark, line.scale, line.name),
        mark_word=mark_word,
    )


def _name_part(services: Services, request: Request, job: str, place: str, fields: dict[str, str]) -> Response:
    now, kind = state_of(services, job), fields.get("kind", "")
    try:
        at = None if fields.get("at") == "shelf" else place
        sheet = part_of(now, place, kind)
        events = commands.enter_part(now, stamp_of(services, request), fields.get("part", "")[:60], sheet.kind, at,
                                     fields.get("new") == "yes")  # fmt: skip
    except NoPart as none:
        raise Trouble(404, f"{none}.", "Pick a valve on the head sheet.", where="part") from None
    except Refused as refused:
        return _part(request, now, place, kind, f"{refused}.", fields)
    services.store.append(job, events, services.clock())
    return RedirectResponse(f"/jobs/{quote(job)}/part/{quote(place)}?kind={quote(sheet.kind)}", 303)


def _list(services: Services, request: Request, now: State, ticked: Any, said: str, status: int = 200) -> Response:
    if now.layout is None:
        raise Trouble(409, "Which places there are to measure follows from the engine, and it is not described yet.",
                      f"Describe it at /jobs/{now.job.id}/job.", where="engine")  # fmt: skip
    sheet = list_sheet(now, ticked)
    chrome = _chrome(request, f"What to measure, {now.job.id}", services, now)
    return page(request, "list.html", status, chrome=chrome, sheet=sheet, said=said)


def _keep_list(services: Services, request: Request, job: str, ticked: list[str], preset: str) -> Response:
    now = state_of(services, job)
    try:
        names = wanted.preset(now, preset) if preset else tuple(ticked)
        events: tuple[Event, ...] = wanted.list_to_measure(now, stamp_of(services, request), names)
    except Refused as refused:
        return _list(services, request, now, ticked, f"{refused}.", 422)
    if events:
        services.store.append(job, events, services.clock())
    return RedirectResponse(f"/jobs/{quote(job)}/list?kept=1", 303)
