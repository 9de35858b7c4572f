"""Where the codes of labels lead, and the papers that are taken away besides the report in full.

GET /at/{job}/{place}            opens the bench at that place: at what is read there next, else at the first of it
GET /jobs/{job}/papers/{name}    short.pdf, blank.pdf, labels.pdf, cards.pdf; paper=a4 or letter, round=, order=
GET /jobs/{job}/sheets/{code}    the bench at the first station of a blank sheet that is still to be typed back
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from urllib.parse import quote

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from witnessmark.desk.route import ORDERS, Stop
from witnessmark.desk.sheets.bench import bench_href
from witnessmark.desk.sheets.blank_sheet import NoSheet
from witnessmark.desk.sheets.stops import stops_of
from witnessmark.desk.state import State
from witnessmark.engine.place import PlaceError, location, parse, shown
from witnessmark.shell.web.along import sheet_stops
from witnessmark.shell.web.pages import remembered
from witnessmark.shell.web.pages_common import round_of, state_of
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.trouble import Trouble, shortened

SIZES = ("a4", "letter")
PAPERS = ("short", "blank", "labels", "cards")


def router(services: Services) -> APIRouter:
    """The routes at the head of this file."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/at/{job}/{place:path}")
    def at(request: Request, job: str, place: str) -> Response:
        now = state_of(services, job, round_of(request))
        return _bench(now, next_at(now, place))

    @routes.get("/jobs/{job}/sheets/{code}")
    def back(request: Request, job: str, code: str) -> Response:
        now = _ordered(state_of(services, job, round_of(request)), request)
        stops = sheet_stops(now, code)
        return _bench(now, next((stop for stop in stops if not now.done(stop)), stops[0]), code)

    @routes.get("/jobs/{job}/papers/{name}.pdf")
    def paper(request: Request, job: str, name: str) -> Response:
        now = _ordered(state_of(services, job, round_of(request)), request)
        content = _paper(services, request, now, name)
        named = f"attachment; filename*=UTF-8''{quote(now.job.id)}-{name}.pdf"
        return Response(content, media_type="application/pdf", headers={"Content-Disposition": named})

    return routes


def next_at(now: State, place: str) -> Stop:
    """What is read next at a location; where all is read, the first of it; Trouble 404 where nothing is read there."""
    try:
        parse(place)
    except PlaceError as error:
        raise Trouble(404, f"{shortened(place)} is no place: {shortened(error, 200)}.", "Scan the label again.",
                      where="place") from None  # fmt: skip
    here = [stop for stop in now.route if place in (stop.location, stop.place)]
    if not here:
        every = (stop for entry in now.catalogue.characteristics.values() for stop in stops_of(now, entry))
        here = [stop for stop in every if place in (stop.location, stop.place)]
    if not here:
        raise Trouble(404, f"Nothing is read at {shown(location(place))} on this engine.",
                      "See whether the label is one of this job.", where="place")  # fmt: skip
    return next((stop for stop in here if not now.done(stop)), here[0])


def _bench(now: State, stop: Stop, sheet: str = "") -> Response:
    along = f"&sheet={quote(sheet)}" if sheet else ""
    return RedirectResponse(bench_href(now.job.id, stop.characteristic, stop.place, now.round) + along, 303)


def _ordered(now: State, request: Request) -> State:
    order = request.query_params.get("order", remembered(request).order)
    if order not in ORDERS:
        raise Trouble(404, f"No order is called {shortened(order)}.", f"There are {', '.join(ORDERS)}.", where="order")
    return replace(now, order=order)


def paper_of(request: Request) -> str:
    """The paper that is asked for: A4 where none is named; Trouble 404 for one that is not known."""
    paper = request.query_params.get("paper", SIZES[0])
    if paper not in SIZES:
        raise Trouble(404, f"There is no paper called {shortened(paper)}.", f"There are {', '.join(SIZES)}.",
                      where="paper")  # fmt: skip
    return paper


def _paper(services: Services, request: Request, now: State, name: str) -> bytes:
    # The typesetter is heavy: it comes in with the first paper that somebody asks for.
    from witnessmark.desk.sheets.card import NoCard
    from witnessmark.desk.sheets.labels import NoLabels
    from witnessmark.shell.papers.typeset import TypesetFault

    make = _makers(services, request, now, paper_of(request)).get(name)
    if make is None:
        raise Trouble(404, f"No paper is called {shortened(name)}.", f"There are {', '.join(PAPERS)}.", where="address")
    try:
        return make()
    except (NoSheet, NoCard, NoLabels) as none:
        said = str(none)
        raise Trouble(409, f"{said[:1].upper()}{said[1:]}.", where="paper") from None
    except TypesetFault as fault:
        cure = "The record itself is whole: export it, and send this sentence to whoever looks after the tool."
        raise Trouble(503, f"The paper could not be set: {shortened(fault, 300)}", cure, where="paper") from None


def _makers(services: Services, request: Request, now: State, paper: str) -> Mapping[str, Callable[[], bytes]]:
    from witnessmark.desk.sheets.report import last_day
    from witnessmark.shell.papers.blank import blank_pdf
    from witnessmark.shell.papers.cards import cards_pdf
    from witnessmark.shell.papers.labels import labels_pdf
    from witnessmark.shell.papers.report import short_pdf

    events = services.store.events(now.job.id)
    day, unit = last_day(events), remembered(request).unit
    base = str(request.base_url).rstrip("/") if request.query_params.get("codes") == "address" else ""
    return {
        "short": lambda: short_pdf(now, events, display=unit, paper=paper),
        "blank": lambda: blank_pdf(now, date=day, display=unit, paper=paper),
        "labels": lambda: labels_pdf(now, date=day, base=base, paper=paper),
        "cards": lambda: cards_pdf(now, date=day, paper=paper),
    }
