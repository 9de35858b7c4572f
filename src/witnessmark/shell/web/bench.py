"""The bench page and the parts of it that are read anew after each line."""

from itertools import islice
from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Form, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse
from pydantic import BaseModel, Field

from witnessmark.desk import decide
from witnessmark.desk.bench import Refused
from witnessmark.desk.route import Stop, position
from witnessmark.desk.sheets.bench import Asked, Bench, Nowhere, bench_sheet, stop_words
from witnessmark.desk.sheets.stops import stops_of
from witnessmark.desk.state import State
from witnessmark.shell.web.along import along_sheet
from witnessmark.shell.web.pages import page, remembered
from witnessmark.shell.web.pages_common import stamp_of, state_of
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.trouble import Trouble

MOST_AHEAD = 96  # stations; an hour's work of a hand

Short = Annotated[str, Field(max_length=120)]


class Place(BaseModel):
    """The part of an address that names a station and what the hand holds there."""

    characteristic: Short = ""
    place: Short = ""
    round: Short = "as found"
    gauge: Short = ""
    method: Short = ""
    part_at: Short = ""
    open: Short = ""
    sheet: Short = ""


def router(services: Services) -> APIRouter:
    """GET /jobs/{job}/bench and GET /jobs/{job}/bench/fields."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/jobs/{job}/bench", response_class=HTMLResponse)
    def bench(request: Request, job: str, place: Annotated[Place, Query()]) -> HTMLResponse:
        return _page(request, job, place, "bench.html")

    @routes.get("/jobs/{job}/bench/fields", response_class=HTMLResponse)
    def fields(request: Request, job: str, place: Annotated[Place, Query()]) -> HTMLResponse:
        return _page(request, job, place, "bench_swap.html")

    @routes.post("/jobs/{job}/route", response_class=HTMLResponse)
    def extent(request: Request, job: str, extent: Annotated[str, Form()] = "") -> RedirectResponse:
        state = state_of(services, job)
        try:
            events = decide.choose_route(state, stamp_of(services, request), extent)
        except Refused as refused:
            raise Trouble(422, f"{refused}.", "Choose quick or full on the bench.", where="route") from None
        services.store.append(job, events, services.clock())
        return RedirectResponse(f"/jobs/{quote(job)}/bench", 303)

    def _page(request: Request, job: str, place: Place, template: str) -> HTMLResponse:
        state = services.snapshots.state(job, place.round or "as found", remembered(request).order)
        state = along_sheet(state, place.sheet)
        sheet = _sheet(request, state, place)
        return page(request, template, sheet=sheet, chrome=sheet.chrome, stray=request.cookies.get("stray", "on"),
                    ahead=[stop_words(stop) for stop in _ahead(state, sheet)])  # fmt: skip

    def _sheet(request: Request, state: State, place: Place) -> Bench:
        hand = remembered(request)
        asked = Asked(place.characteristic, place.place, place.gauge, place.part_at, place.open, hand.unit, hand.by,
                      hand.device, request.cookies.get("stray", "on"), place.method, services.clock())  # fmt: skip
        try:
            return bench_sheet(state, asked)
        except Nowhere as nowhere:
            raise Trouble(404, str(nowhere), "Take a station of the head sheet, or go on from the start sheet.",
                          where="station") from nowhere  # fmt: skip

    return routes


def _ahead(state: State, sheet: Bench) -> tuple[Stop, ...]:
    """The stations that are not done after the present one, so that the hand can walk on while the store is away."""
    route = state.route
    here = position(route, sheet.characteristic, sheet.place)
    if here is not None:
        onward = (*route[here + 1 :], *route[:here])
    else:  # beside the route only the rest of its own stations is known
        beside = stops_of(state, state.catalogue.characteristics[sheet.characteristic])
        at = position(beside, sheet.characteristic, sheet.place)
        onward = () if at is None else beside[at + 1 :]
    return tuple(islice((stop for stop in onward if not state.done(stop)), MOST_AHEAD))
