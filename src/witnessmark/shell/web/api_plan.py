"""Ledger, plan and fit for programs; geometry, prices, intended work and order entered by programs."""

from typing import Annotated, Any

from fastapi import APIRouter, Query, Request

from witnessmark.desk import intend
from witnessmark.desk.commands import Stamp
from witnessmark.desk.cuts import intended, read_cut
from witnessmark.desk.ledger import ledger_data, ledger_of_job
from witnessmark.desk.order import ask_plan, order_plan
from witnessmark.desk.plan_data import fit_data, plan_data
from witnessmark.desk.planning import plan_of_job
from witnessmark.desk.state import State
from witnessmark.record.event import Event
from witnessmark.shell.quiet import quiet
from witnessmark.shell.web import plan_shapes as shapes
from witnessmark.shell.web.api_keep import Keep, keeper
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.shapes import Done

Cut = Annotated[str, Query(max_length=200)]


def router(services: Services, responses: dict[int | str, dict[str, Any]], stamped: Any, done: Any) -> APIRouter:
    """GET and POST under /api/jobs/{job}/: ledger, plan, fit, geometry, prices, work, order."""
    routes = APIRouter(prefix="/api/jobs/{job}", tags=["plan"], responses=responses)
    _add_reading(routes, services)

    _add_entering(routes, keeper(services, stamped, done))
    return routes


def _add_reading(routes: APIRouter, services: Services) -> None:
    @routes.get("/ledger", summary="What work does to every characteristic: `cut` repeated, else the intended work")
    def ledger(job: str, cut: Annotated[list[Cut], Query(max_length=200)] = []) -> Any:  # noqa: B006
        now = services.snapshots.state(job)
        cuts = tuple(one for text in cut for one in read_cut(now, text)) if cut else intended(now)
        return ledger_data(now, ledger_of_job(now, cuts))

    @routes.get("/plan", summary="The cheapest work that holds, with its proof; or what stands in the way")
    def plan(job: str) -> Any:
        now = services.snapshots.state(job)
        return plan_data(now, plan_of_job(now, quiet))

    @routes.get("/fit", summary="Which lash shim goes where, what to buy, what adjusters have left")
    def fit(job: str) -> Any:
        return fit_data(services.snapshots.state(job))


def _add_entering(routes: APIRouter, keep: Keep) -> None:
    @routes.post("/geometry", response_model=Done, summary="One quantity of the geometry; without a value it goes")
    async def geometry(request: Request, job: str, sent: shapes.GeometryIn) -> Any:
        words = (sent.value, sent.unit, sent.place, sent.side, sent.u, sent.document, sent.page, sent.seen)

        def made(now: State, stamp: Stamp) -> tuple[Event, ...]:
            if not sent.value:
                return intend.forget_geometry(now, stamp, sent.quantity, sent.seen)
            return intend.enter_geometry(now, stamp, sent.quantity, *words)

        return await keep(request, job, sent, made)

    @routes.post("/prices", response_model=Done, summary="A price list, as text")
    async def prices(request: Request, job: str, sent: shapes.PricesIn) -> Any:
        return await keep(request, job, sent, lambda now, stamp: intend.enter_prices(now, stamp, sent.text, sent.name))

    @routes.post("/work", response_model=Done, summary="One step of the intended work; without an amount it goes")
    async def work(request: Request, job: str, sent: shapes.WorkIn) -> Any:
        words = (sent.operation, sent.place, sent.amount, sent.unit, sent.seen)
        return await keep(request, job, sent, lambda now, stamp: intend.step_work(now, stamp, *words))

    @routes.post("/ask", response_model=Done, summary="What the plan is asked: pin, forbid, free, wanted")
    async def ask(request: Request, job: str, sent: shapes.AskIn) -> Any:
        words = (sent.change, sent.operation, sent.place, sent.amount, sent.unit, sent.wanted)
        return await keep(request, job, sent, lambda now, stamp: ask_plan(now, stamp, *words))

    @routes.post("/order", response_model=Done, summary="Order a plan by its name")
    async def order(request: Request, job: str, sent: shapes.OrderIn) -> Any:
        def made(now: State, stamp: Stamp) -> tuple[Event, ...]:
            return order_plan(now, stamp, plan_of_job(now, quiet), sent.name, sent.why)

        return await keep(request, job, sent, made)
