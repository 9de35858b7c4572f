"""The verification of an assembled engine for programs, and the conditions of its tests."""

from typing import Annotated, Any

from fastapi import APIRouter, Request
from pydantic import Field, StringConstraints
from starlette.concurrency import run_in_threadpool

from witnessmark.desk.conditions import enter_conditions
from witnessmark.desk.verify_data import verification_data
from witnessmark.shell.web.plan_shapes import Seen
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.shapes import Done, Stamped

Said = Annotated[str, StringConstraints(max_length=200)]


class ConditionsIn(Stamped):
    """Conditions by name; one that is sent empty is struck out, one that is not sent stays."""

    conditions: Annotated[dict[Said, Said], Field(max_length=40)]
    seen: Seen = None


def router(services: Services, responses: dict[int | str, dict[str, Any]], stamped: Any, done: Any) -> APIRouter:
    """GET /api/jobs/{job}/verification; POST /api/jobs/{job}/conditions."""
    routes = APIRouter(prefix="/api/jobs/{job}", tags=["verify"], responses=responses)

    @routes.get("/verification", summary="Before, predicted and after; compression and leakage of each cylinder")
    def verification(job: str) -> Any:
        return verification_data(services.snapshots.state(job))

    @routes.post("/conditions", response_model=Done, summary="The conditions of the tests: air, orifice, warm or cold")
    async def conditions(request: Request, job: str, sent: ConditionsIn) -> Any:
        stamp = await stamped(services, request, sent)

        def kept() -> Any:
            events = enter_conditions(services.snapshots.state(job), stamp, sent.conditions, sent.seen)
            return done(services.store.append(job, events, services.clock()))

        return await run_in_threadpool(kept)

    return routes
