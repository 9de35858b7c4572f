"""What machines may read of a job: its snapshot, its judgement, and the trade's catalogue."""

from dataclasses import asdict
from typing import Any, Literal

from fastapi import APIRouter
from fastapi.responses import Response

from witnessmark.desk.report import judgement
from witnessmark.shell.web import shapes
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.trouble import Trouble, shortened
from witnessmark.text.near import did_you_mean


def router(services: Services, responses: dict[int | str, dict[str, Any]]) -> APIRouter:
    """GET routes that give data."""
    routes = APIRouter(tags=["reading"], responses=responses)

    @routes.get("/api/jobs/{job}", response_model=shapes.Snapshot, summary="One job as it stands")
    def snapshot(job: str) -> Any:
        kept = services.store.job(job)
        return shapes.Snapshot(
            id=kept.id, seq=kept.seq, header=dict(kept.header), engine=dict(kept.engine),
            gauges={name: dict(revisions[-1].fields) for name, revisions in kept.gauges.items()},
            limits=kept.limits.name if kept.limits else None, readings=len(kept.readings),
            questions=[one.id for one in kept.questions],
        )  # fmt: skip

    @routes.get("/api/jobs/{job}/judge", response_model=shapes.Judged, summary="Every value against its limit")
    def judged(job: str) -> Any:
        return judgement(services.snapshots.state(job))

    @routes.get("/api/jobs/{job}/report", summary="The inspection report", response_class=Response,
                responses={200: {"content": {"application/pdf": {"schema": {"type": "string", "format": "binary"}}}}})
    def report(job: str, unit: Literal["mm", "in"] = "mm") -> Response:
        return Response(_paper(services, job, unit), media_type="application/pdf")

    @routes.get("/api/catalogue", summary="Every characteristic that the bench knows")
    def catalogue() -> dict[str, list[dict[str, Any]]]:
        return {"characteristics": [one.to_dict() for one in services.catalogue.characteristics.values()]}

    @routes.get("/api/methods", summary="Every way of looking, and what it cannot find")
    def methods() -> dict[str, list[dict[str, Any]]]:
        return {"methods": [asdict(one) for one in services.catalogue.methods.values()]}

    @routes.get("/api/catalogue/{characteristic}", summary="One characteristic")
    def one(characteristic: str) -> dict[str, Any]:
        known = services.catalogue.characteristics
        if characteristic not in known:
            near = did_you_mean(characteristic, known)
            raise Trouble(404, f"No characteristic is called {shortened(characteristic)!r}{near}.",
                          "Look at /api/catalogue.", where="characteristic")  # fmt: skip
        plain: dict[str, Any] = known[characteristic].to_dict()
        return plain

    return routes


def _paper(services: Services, job: str, unit: str) -> bytes:
    # The typesetter is heavy: it comes in with the first report that somebody asks for.
    from witnessmark.shell.papers.photos import stored
    from witnessmark.shell.papers.report import report_pdf
    from witnessmark.shell.papers.typeset import TypesetFault

    try:
        return report_pdf(services.store.events(job), services.catalogue, display=unit,
                          photos=stored(services.store.photos))  # fmt: skip
    except TypesetFault as fault:
        raise Trouble(503, f"The report could not be set: {shortened(fault, 300)}",
                      "The record itself is whole: export it.", where="report") from fault  # fmt: skip
