"""The limits sheet: limits typed, changed, removed, checked and copied; what the book allows beside them."""

from dataclasses import replace
from urllib.parse import quote, urlencode

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from witnessmark.desk import limits
from witnessmark.desk.bench import Refused
from witnessmark.desk.sheets.limits import Asked, Typed, following, known_key, limits_sheet
from witnessmark.desk.state import State
from witnessmark.record.event import EventFault
from witnessmark.shell.web.limits_forms import FORMS, Sent, sent_form, typed_of
from witnessmark.shell.web.pages import page, remembered
from witnessmark.shell.web.pages_common import chrome_of, jobs_cell, limits_cell, stamp_of, state_of, unit_cell
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.trouble import Trouble, shortened
from witnessmark.text.fault import Fault

MOST_SOURCES = 40  # jobs whose sheets are offered for copying
KEPT = {
    "entry": "Kept.", "remove": "Taken out.", "check": "Held against the document.", "check-all": "All held against "
    "the document.", "sheet": "The sheet is kept.", "operation": "Kept.", "copy": "Copied; every limit waits to be "
    "held against the document.", "back": "Taken back.",
    "beside": "Kept, but another device kept the sheet at the same moment: both are in the record, and the start sheet "
    "asks which of them holds.",
}  # fmt: skip


def router(services: Services) -> APIRouter:
    """GET /jobs/{job}/limits; POST /jobs/{job}/limits/{form}."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/jobs/{job}/limits")
    def sheet(request: Request, job: str) -> Response:
        return _page(services, request, state_of(services, job), _asked(request))

    @routes.post("/jobs/{job}/limits/{form}")
    async def take(request: Request, job: str, form: str) -> Response:
        if form not in FORMS:
            raise Trouble(404, f"The limits sheet has no form {shortened(form)}.", f"It has {', '.join(FORMS)}.",
                          where="address")  # fmt: skip
        sent = await sent_form(request)
        return await run_in_threadpool(_take, services, request, job, form, sent)

    return routes


def _take(services: Services, request: Request, job: str, form: str, sent: Sent) -> Response:
    now = state_of(services, job)
    try:
        if form == "copy" and sent.file is None and sent.get("from"):
            sent = replace(sent, file=sheet_of(services, sent.get("from")))
        events = FORMS[form](now, stamp_of(services, request), sent)
        services.store.append(job, events, services.clock())
    except (Refused, EventFault) as refused:
        # Once more from the store: what another device has done is shown beside what was typed here.
        return _refused(services, request, state_of(services, job), form, sent, refused)
    after = state_of(services, job)
    held = after.job.limits.event if after.job.limits else ""
    kept = "beside" if events[0].kind == "limits_entered" and held != events[0].id else form
    return RedirectResponse(_next(after, form, sent, kept, held if form != "back" else ""), 303)


def _refused(services: Services, request: Request, now: State, form: str, sent: Sent, refused: Exception) -> Response:
    said = str(refused)
    faults = tuple(fault for fault in getattr(refused, "faults", ()) if isinstance(fault, Fault))
    kind = {"check-all": "check", "remove": "check", "back": "check"}.get(form, form)
    typed = Typed(kind, sent.fields, sent.ticked, f"{said[:1].upper()}{said[1:]}", faults)
    asked = _asked(request)
    if form == "entry":
        was = sent.get("was") or str(typed_of(sent).key)
        asked = replace(asked, entry=_key(now, was))
    elif form == "operation":
        asked = replace(asked, operation=sent.get("operation"))
    return _page(services, request, now, asked, typed, status=422)


def _next(now: State, form: str, sent: Sent, kept: str, event: str) -> str:
    """Where the hand goes on: at the row that was worked on, or at the blanks of the one that follows."""
    asked = {"kept": kept, "event": event, "find": sent.get("find")}
    anchor = {"sheet": "sheet", "copy": "sheet", "check-all": "sheet", "operation": "book"}.get(form, "main")
    if form in ("entry", "remove", "check"):
        key = typed_of(sent).key if form == "entry" else limits.key_from(sent.get("key"))
        asked["show"], anchor = key.characteristic, f"c-{key.characteristic}"
        after = following(now, key) if sent.get("then") == "next" else None
        if after is not None:
            asked |= {"entry": str(after), "page": sent.get("page")}
            anchor = focus_of(now, after.characteristic)
    query = urlencode({name: value for name, value in asked.items() if value})
    return f"/jobs/{quote(now.job.id)}/limits?{query}#{anchor}"


def focus_of(now: State, characteristic: str) -> str:
    """The blank in which the typing begins."""
    return "entry-accept-1" if now.catalogue.characteristics[characteristic].kind == "look" else "entry-low"


def _key(now: State, code: str) -> limits.Key | None:
    try:
        key = limits.key_from(code)
    except Refused:
        return None
    return None if known_key(now, key) else key


def _asked(request: Request) -> Asked:
    query, hand = request.query_params, remembered(request)
    code = query.get("entry", "")
    try:
        entry = limits.key_from(code) if code else None
    except Refused as refused:
        raise Trouble(404, f"{str(refused)[:1].upper()}{str(refused)[1:]}.", where="entry") from None
    return Asked(entry, query.get("operation", "")[:80], query.get("page", "")[:60], query.get("find", "")[:80],
                 query.get("show", "")[:80], hand.unit, hand.by)  # fmt: skip


def _page(
    services: Services, request: Request, now: State, asked: Asked, typed: Typed | None = None, status: int = 200
) -> Response:
    if asked.entry and (why := known_key(now, asked.entry)):
        raise Trouble(404, f"{why[:1].upper()}{why[1:]}.", "Choose one on the limits sheet.", where="entry")
    sheet = limits_sheet(now, asked, typed)
    cells = [limits_cell(now), unit_cell(request), jobs_cell(services)]
    chrome = chrome_of(now, request, sheet.title, "measure", cells)
    kept = request.query_params.get("kept", "") if typed is None else ""
    event = request.query_params.get("event", "")
    back = event if kept in KEPT and now.job.limits is not None and now.job.limits.event == event else ""
    return page(
        request, "limits.html", status, chrome=chrome, sheet=sheet, said=KEPT.get(kept, ""), back=back,
        problems=now.problems, readable=now.job.limits is None or now.sheet is not None,
        sources=_sources(services, now),
    )  # fmt: skip


def sheet_of(services: Services, job: str) -> tuple[str, str]:
    """How the sheet of another job is called, and its text. Raises Refused."""
    if job not in {row.id for row in services.store.jobs()}:
        raise Refused(f"no job on this bench has the number {job[:60]}; choose one of the list")
    held = services.store.job(job).limits
    if held is None:
        raise Refused(f"job {job} has no limit sheet; choose another, or a file")
    return f"job {job}", held.text


def _sources(services: Services, now: State) -> list[tuple[str, str]]:
    """The newest other jobs that have a sheet: number, and number with engine and sheet in words."""
    found = []
    for row in services.store.jobs()[:MOST_SOURCES]:
        job = services.store.job(row.id)
        if job.limits is not None and row.id != now.job.id:
            engine = str(job.header.get("engine") or row.title or "engine not named")
            found.append((row.id, f"{row.id} · {engine} · {job.limits.name}"))
    return found
