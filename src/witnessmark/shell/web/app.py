"""The application: door, static files, pages, API. `create_app` wires it; `serve` runs it on this machine."""

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

from fastapi import FastAPI
from starlette.middleware.gzip import GZipMiddleware
from starlette.routing import Route

from witnessmark.shell.web import (
    api,
    bench,
    pages_assemble,
    pages_at,
    pages_catalogue,
    pages_decide,
    pages_device,
    pages_gauges,
    pages_job,
    pages_limits,
    pages_order,
    pages_photos,
    pages_plan,
    pages_record,
    pages_sheets,
    pages_tighten,
    pages_trace,
    pages_verify,
    pages_work,
)
from witnessmark.shell.web.answers import add_answers
from witnessmark.shell.web.assets import Assets
from witnessmark.shell.web.middleware import HOSTS, Door
from witnessmark.shell.web.pages import Pages, teller
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.spoken import Spoken

if TYPE_CHECKING:
    from witnessmark.catalogue.entry import Catalogue


def create_app(store: Any, catalogue: "Catalogue", clock: Callable[[], str], fresh: Callable[[], str],
               hosts: Iterable[str] = HOSTS) -> FastAPI:  # fmt: skip
    """The whole application over one store.

    `clock` gives the time as text with its zone, `fresh` an unused name; `hosts` are the names it answers under.
    """
    services = Services(store, catalogue, clock, fresh)
    assets = Assets()
    pages = Pages(assets)
    app = FastAPI(title="Witnessmark", version="1", docs_url=None, redoc_url=None, openapi_url="/api/openapi.json",
                  description="Readings, limits and verdicts of the jobs on this bench.")  # fmt: skip
    app.state.pages = pages
    app.state.services = services
    app.router.routes.append(Route("/static/{digest}/{name:path}", assets.serve, methods=["GET"]))
    for router in _routers():
        app.include_router(router(services))
    tell = teller(pages)
    add_answers(app, tell)
    app.add_middleware(GZipMiddleware, minimum_size=1000)  # leaves event streams as they are
    app.add_middleware(Spoken)
    app.add_middleware(Door, tell=tell, hosts=hosts)
    return app


def _routers() -> tuple[Callable[[Services], Any], ...]:
    """Every room of the shell that answers, in one visible table."""
    return (api.router, bench.router, pages_sheets.router, pages_job.router, pages_record.router,
            pages_at.router, pages_gauges.router, pages_decide.router, pages_plan.router, pages_order.router,
            pages_work.router, pages_trace.router, pages_tighten.router, pages_assemble.router, pages_photos.router,
            pages_catalogue.router, pages_device.router,
            pages_verify.router, pages_limits.router)  # fmt: skip


def serve(app: FastAPI, port: int) -> None:
    """Answer on this machine only, until told to stop; open streams get two seconds to end."""
    import uvicorn

    config = uvicorn.Config(app, host="127.0.0.1", port=port, log_level="warning", timeout_graceful_shutdown=2,
                            server_header=False)  # fmt: skip
    uvicorn.Server(config).run()
