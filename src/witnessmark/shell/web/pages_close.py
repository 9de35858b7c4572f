"""Closing a job on the record sheet, and what is taken away of a closed job: its papers as they were, its evidence."""

from collections.abc import Callable
from typing import Any
from urllib.parse import quote

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from witnessmark.desk.bench import Refused
from witnessmark.desk.commands import Stamp
from witnessmark.desk.state import State
from witnessmark.record.event import EventFault
from witnessmark.record.proof import proof
from witnessmark.shell.store.fault import OtherBytes, StoreFault
from witnessmark.shell.web.pages import remembered
from witnessmark.shell.web.pages_at import paper_of
from witnessmark.shell.web.pages_common import form_texts, stamp_of, state_of
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.trouble import Trouble, shortened

MEANWHILE = "Somebody closed the job at the same moment; look at it below. Nothing else was kept."
Show = Callable[[Request, str, dict[str, str], int], Response]


def add_closing(routes: APIRouter, services: Services, show: Show) -> None:
    """POST /jobs/{job}/record/close; GET full-report.pdf, evidence.zip, closed/{number}/{name}.pdf."""

    @routes.post("/jobs/{job}/record/close")
    async def close(request: Request, job: str) -> Response:
        async with request.form(max_fields=10, max_files=0) as fields:
            return await run_in_threadpool(_close, services, request, job, form_texts(fields), show)

    @routes.get("/jobs/{job}/full-report.pdf")
    def full(request: Request, job: str) -> Response:
        now = state_of(services, job)
        made = typeset_or_trouble(lambda: _full(services, now, remembered(request).unit, paper_of(request)))
        return download(made, "application/pdf", f"{job}-full-report.pdf")

    @routes.get("/jobs/{job}/evidence.zip")
    def evidence(job: str) -> Response:
        now = state_of(services, job)
        return download(evidence_of(services, now), "application/zip", f"{job}-evidence.zip")

    @routes.get("/jobs/{job}/closed/{number}/{name}.pdf")
    def kept(job: str, number: int, name: str) -> Response:
        now = state_of(services, job)
        closings = proof(services.store.events(now.job.id)).closings
        papers = closings[number - 1].papers if 1 <= number <= len(closings) else {}
        if name not in papers:
            raise Trouble(404, f"No paper {shortened(name, 40)} was kept with closing {number} of this job.",
                          "The record sheet lists those that there are.", where="address")  # fmt: skip
        return download(services.store.papers.get(str(papers[name])), "application/pdf", f"{job}-{name}.pdf")


def _close(services: Services, request: Request, job: str, typed: dict[str, str], show: Show) -> Response:
    now, stamp = state_of(services, job), stamp_of(services, request)
    by = typed.get("by", "").strip()[:60]
    stamp = Stamp(stamp.id, stamp.at, stamp.by or by, stamp.device)
    try:
        shut(services, now, stamp, typed.get("note", ""), typed.get("seen", ""), remembered(request).unit,
             paper_of(request))  # fmt: skip
    except OtherBytes:
        return show(request, job, {"said": MEANWHILE}, 409)
    except (Refused, EventFault) as refused:
        said = str(refused)
        return show(request, job, {**typed, "said": f"{said[:1].upper()}{said[1:]}."}, 422)
    answer = RedirectResponse(f"/jobs/{quote(job)}/record#closing", 303)
    if by and not remembered(request).by:
        answer.set_cookie("by", quote(by), max_age=31_536_000, samesite="lax")
    return answer


def shut(services: Services, now: State, stamp: Stamp, note: str, seen: str, unit: str, paper: str = "a4") -> Any:
    """Close a job; what the store says. Raises Refused, OtherBytes, and Trouble for a paper that cannot be set."""
    from witnessmark.shell.closing import close_job

    return typeset_or_trouble(lambda: close_job(
        services.store, now, stamp, services.clock(), note=note, seen=seen, display=unit, paper=paper))  # fmt: skip


def typeset_or_trouble(make: Callable[[], Any]) -> Any:
    """What `make` makes; a paper that cannot be set is told, and nothing was kept."""
    from witnessmark.shell.papers.typeset import TypesetFault

    try:
        return make()
    except TypesetFault as fault:
        what = f"A paper could not be set: {shortened(fault, 300)}"
        cure = "The record itself is whole: export it, and send this sentence to whoever looks after the tool."
        raise Trouble(503, what, cure, where="full report") from None


def evidence_of(services: Services, now: State) -> bytes:
    """The bundle of evidence of a job."""
    from witnessmark.shell.evidence import evidence
    from witnessmark.shell.papers.photos import stored

    def paper(hash: str) -> bytes | None:
        try:
            return bytes(services.store.papers.get(hash))
        except StoreFault:
            return None  # the bundle says in its README what is not in it

    events = services.store.events(now.job.id)
    return bytes(typeset_or_trouble(lambda: evidence(now, events, stored(services.store.photos), paper)).data)


def _full(services: Services, now: State, unit: str, paper: str) -> bytes:
    from witnessmark.desk.sheets.full_report import closing_of
    from witnessmark.shell.papers.full import full_pdf
    from witnessmark.shell.papers.photos import stored

    events = services.store.events(now.job.id)
    return full_pdf(now, events, closing_of(events), unit, paper, stored(services.store.photos))


def download(data: bytes, kind: str, name: str) -> Response:
    """A file that is taken away under its name."""
    named = {"Content-Disposition": f"attachment; filename*=UTF-8''{quote(name)}"}
    return Response(data, media_type=kind, headers=named)
