"""The assembly sheet: every step that follows from engine and work, the one of now large, signed by a person."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from urllib.parse import quote, urlencode

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from witnessmark.desk import steps, tighten
from witnessmark.desk.bench import Refused
from witnessmark.desk.commands import Stamp, take_back
from witnessmark.desk.sheets.chrome import Cell
from witnessmark.desk.sheets.report import last_day
from witnessmark.desk.sheets.steps import Row, StepsSheet, steps_sheet
from witnessmark.desk.sheets.tighten import standing_of
from witnessmark.desk.state import State
from witnessmark.desk.steps_joints import belongs
from witnessmark.record.event import Event, EventFault, digest
from witnessmark.shell.papers.orders import assembly_pdf
from witnessmark.shell.store.fault import OtherBytes
from witnessmark.shell.web.pages import page, remembered
from witnessmark.shell.web.pages_common import chrome_of, stamp_of, state_of, unit_cell
from witnessmark.shell.web.pages_tighten import paper_of, pdf_of, text_of
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.trouble import Trouble, shortened

SHEETS = {"parts-order": ("order", "the parts order"), "shims": ("order", "the shims"), "verify": ("verify", "verify")}


def router(services: Services) -> APIRouter:
    """GET /jobs/{job}/assemble; POST /jobs/{job}/assemble/{sign, back}."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/jobs/{job}/assemble.pdf")
    def pdf(request: Request, job: str, paper: str = "a4", blank: bool = False) -> Response:
        now, events = state_of(services, job), services.store.events(job)
        return pdf_of("assembly", lambda: assembly_pdf(
            now, date=last_day(events), checksum=digest(events), display=remembered(request).unit,
            size=paper_of(paper), blank=blank))  # fmt: skip

    @routes.get("/jobs/{job}/assemble")
    def sheet(request: Request, job: str) -> Response:
        return _sheet(request, state_of(services, job), {})

    @routes.post("/jobs/{job}/assemble/{form}")
    async def take(request: Request, job: str, form: str) -> Response:
        if form not in ("sign", "back"):
            raise Trouble(404, f"The assembly sheet has no form {shortened(form, 40)}.", "It has sign and back.",
                          where="address")  # fmt: skip
        async with request.form(max_fields=20, max_files=0) as fields:
            return await run_in_threadpool(_take, services, request, job, form, fields)

    return routes


def _take(services: Services, request: Request, job: str, form: str, fields: FormData) -> Response:
    now = state_of(services, job)
    typed = {name: text_of(fields, name) for name in ("step", "note", "did", "seen", "by", "event")}
    stamp = stamp_of(services, request)
    try:
        services.store.append(job, _events(now, stamp, form, typed), services.clock())
    except OtherBytes:
        said = "Somebody signed it at the same moment."
        return _sheet(request, state_of(services, job), {**typed, "said": said}, 409)
    except (Refused, EventFault) as refused:
        said = str(refused)
        return _sheet(request, now, {**typed, "said": f"{said[:1].upper()}{said[1:]}."}, 422)
    answer = RedirectResponse(f"/jobs/{quote(job)}/assemble", 303)
    if typed["by"] and not remembered(request).by:
        answer.set_cookie("by", quote(typed["by"][:60]), max_age=31_536_000, samesite="lax")
    return answer


def _events(now: State, stamp: Stamp, form: str, typed: Mapping[str, str]) -> tuple[Event, ...]:
    if form == "back":
        if typed["event"] not in {one.event for one in now.job.signed}:
            raise Refused("that signature is taken back already, or was never given")
        return take_back(now, stamp, typed["event"])
    named = Stamp(stamp.id, stamp.at, stamp.by or typed["by"], stamp.device, stamp.device_seq, stamp.received)
    return steps.sign(now, named, typed["step"], typed["note"], typed["seen"] or None, typed["did"] or "done")


@dataclass(frozen=True, slots=True)
class Link:
    """A way from a step to the sheet where its numbers stand, and how that stands."""

    href: str
    words: str


def _links(now: State, row: Row) -> tuple[Link, ...]:
    base = f"/jobs/{now.job.id}"
    found = []
    if row.sheet == "tightening":
        for name, procedure in tighten.joints(now).items():
            if belongs(row.id, procedure):
                found.append(Link(f"{base}/tighten/{quote(name)}", f"{procedure.term}: {standing_of(now, name)}"))
        if not found:
            found.append(Link(f"{base}/limits", "no tightening is entered for it: the limit sheet"))
    elif row.sheet in SHEETS:
        where, words = SHEETS[row.sheet]
        found.append(Link(f"{base}/{where}", words))
    for name, term in row.check:
        asked = urlencode({"characteristic": name, "round": "as assembled"})
        found.append(Link(f"{base}/bench?{asked}", f"measure: {term}"))
    return tuple(found)


def _sheet(request: Request, now: State, typed: Mapping[str, str], status: int = 200) -> Response:
    try:
        sheet = steps_sheet(now, remembered(request).unit)
    except Refused as refused:
        said = str(refused)
        raise Trouble(422, f"{said[:1].upper()}{said[1:]}.", "The new sheet takes the engine's layout.",
                      where="engine") from None  # fmt: skip
    shown = _shown(sheet, typed.get("step") or request.query_params.get("step", ""))
    chrome = chrome_of(now, request, "Assembly", "assemble", _cells(now, request))
    filled: dict[str, Any] = {"sheet": sheet, "shown": shown, "links": _links(now, shown) if shown else (),
                              "typed": typed, "told": typed.get("said", ""), "seq": now.job.seq,
                              "by": remembered(request).by, "joints": _joints(now)}  # fmt: skip
    return page(request, "assemble.html", status, chrome=chrome, **filled)


def _shown(sheet: StepsSheet, asked: str) -> Row | None:
    """The step that stands large: the one asked for, else the one to do now, else the first that is not done."""
    by_id = {row.id: row for row in sheet.rows}
    left = next((row for row in sheet.rows if row.state != "done"), None)
    return by_id.get(asked) or by_id.get(sheet.next) or left


def _joints(now: State) -> tuple[tuple[str, str, str], ...]:
    return tuple((name, one.term, standing_of(now, name)) for name, one in tighten.joints(now).items())


def _cells(now: State, request: Request) -> list[Cell]:
    return [Cell("paper", "assembly sheet", href=f"/jobs/{now.job.id}/assemble.pdf"), unit_cell(request)]
