"""Closing, proof, evidence and tables of a job for programs."""

from typing import Annotated, Any

from fastapi import APIRouter, Request
from pydantic import StringConstraints
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from witnessmark.record.proof import proof
from witnessmark.shell.web.pages_close import download, evidence_of, shut
from witnessmark.shell.web.pages_common import state_of
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.shapes import Done, Short, Stamped
from witnessmark.shell.web.trouble import Trouble, shortened

BYTES = {"type": "string", "format": "binary"}


class CloseIn(Stamped):
    """A closing. `note` says why where something stays open; `seen` is the number of the last entry that was shown."""

    note: Annotated[str, StringConstraints(max_length=2000)] = ""
    seen: Short = ""
    unit: Short = "mm"


def router(services: Services, responses: dict[int | str, dict[str, Any]], stamped: Any, done: Any) -> APIRouter:
    """POST /api/jobs/{job}/close; GET proof, evidence, tables/{name} of a job."""
    routes = APIRouter(prefix="/api/jobs/{job}", tags=["closing"], responses=responses)

    @routes.post("/close", response_model=Done, summary="Close the job; its papers are made and kept first")
    async def close(request: Request, job: str, sent: CloseIn) -> Any:
        stamp = await stamped(services, request, sent)
        unit = "in" if sent.unit == "in" else "mm"
        return done(await run_in_threadpool(
            lambda: shut(services, state_of(services, job), stamp, sent.note, sent.seen, unit)))

    @routes.get("/proof", summary="Every closing held against the record: sound or not, where not, what came after")
    def proved(job: str) -> Any:
        return _proof(services, state_of(services, job).job.id)

    @routes.get("/evidence", summary="The bundle of evidence", response_class=Response,
                responses={200: {"content": {"application/zip": {"schema": BYTES}}}})
    def evidence(job: str) -> Response:
        return download(evidence_of(services, state_of(services, job)), "application/zip", f"{job}-evidence.zip")

    @routes.get("/tables/{name}", summary="A flat table as CSV: readings, events or bolts", response_class=Response,
                responses={200: {"content": {"text/csv": {"schema": {"type": "string"}}}}})  # fmt: skip
    def flat(job: str, name: str) -> Response:
        from witnessmark.desk.tables import TABLES, table
        from witnessmark.shell.flat import csv_bytes

        if name not in TABLES:
            raise Trouble(404, f"No table is called {shortened(name, 40)}.", f"There are {', '.join(TABLES)}.",
                          where="address")  # fmt: skip
        now = state_of(services, job)
        made = csv_bytes(table(now, services.store.events(now.job.id), name))
        return download(made, "text/csv", f"{job}-{name}.csv")

    return routes


def _proof(services: Services, job: str) -> dict[str, Any]:
    found = proof(services.store.events(job))
    return {
        "events": found.events, "checksum": found.checksum, "sound": found.sound,
        "places": [{"number": one.number, "event": one.event or None, "text": one.text} for one in found.places],
        "closings": [{"id": one.event.id, "hash": one.hash, "events": one.events, "at": one.event.at,
                      "by": one.event.by, "papers": dict(one.papers), "sound": one.sound} for one in found.closings],
        "later": [one.id for one in found.later],
    }  # fmt: skip
