"""The start sheet and the head sheet."""

from collections.abc import Callable
from urllib.parse import quote, urlencode

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from witnessmark.desk.sheets.apart import engine_picture
from witnessmark.desk.sheets.chrome import Cell, Chrome, light
from witnessmark.desk.sheets.face import face_picture
from witnessmark.desk.sheets.head import HeadSheet, head_sheet
from witnessmark.desk.sheets.judged import Judged
from witnessmark.desk.sheets.start import Matter, NextStep, start_sheet
from witnessmark.desk.state import State
from witnessmark.draw.mark import cell as cell_mark
from witnessmark.draw.mark import word as mark_word
from witnessmark.draw.shape import Drawing
from witnessmark.engine.place import PlaceError, parse
from witnessmark.shell.web.pages import page, remembered
from witnessmark.shell.web.pages_common import (
    benches,
    catalogue_cell,
    chrome_of,
    day_words,
    gauges_cell,
    jobs_cell,
    limits_cell,
    round_cell,
    round_of,
    state_of,
    unit_cell,
)
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.trouble import Trouble, shortened

HEAD_QUERY = ("round", "bank", "group", "valve", "values", "cylinder")


def router(services: Services) -> APIRouter:
    """GET /, /jobs, /jobs/{job}, /jobs/{job}/head."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/")
    def first(request: Request, find: str = "") -> HTMLResponse:
        rows = services.store.jobs()
        if rows and not find:
            return _start(services, request, state_of(services, rows[0].id))
        return _jobs(services, request, find)

    @routes.get("/jobs")
    def jobs(request: Request, find: str = "") -> HTMLResponse:
        return _jobs(services, request, find)

    @routes.get("/jobs/{job}")
    def start(request: Request, job: str) -> HTMLResponse:
        return _start(services, request, state_of(services, job, round_of(request)))

    @routes.get("/jobs/{job}/head")
    def head(request: Request, job: str) -> HTMLResponse:
        return _head(request, state_of(services, job, round_of(request)))

    return routes


def _jobs(services: Services, request: Request, find: str) -> HTMLResponse:
    others, total = benches(services, find[:80])
    cells = (Cell("this page", "the benches", grow=True), catalogue_cell(services), light())
    chrome = Chrome("jobs", (), cells)
    return page(request, "jobs.html", chrome=chrome, others=others, total=total, find=find[:80], mark_word=mark_word)


def _start(services: Services, request: Request, state: State) -> HTMLResponse:
    others, _ = benches(services, but=state.job.id)
    sheet = start_sheet(state, others)
    rounds = round_cell(state, f"/jobs/{state.job.id}")
    cells = [limits_cell(state), gauges_cell(state, services.clock()), rounds, jobs_cell(services)]
    cells.append(catalogue_cell(services))
    if came := _came_in(services, state.job.id):
        cells.insert(0, Cell("came in", came))
    return page(
        request,
        "start.html",
        chrome=chrome_of(state, request, sheet.title, "measure", cells),
        sheet=sheet,
        seq=state.job.seq,
        engine=engine_picture(sheet, state.layout),
        next_href=_next_href(sheet.job, sheet.next, state.round),
        matter_href=lambda matter: _matter_href(sheet.job, matter),
        mark_word=mark_word,
    )


def _came_in(services: Services, job: str) -> str:
    row = next((row for row in services.store.jobs() if row.id == job), None)
    return day_words(row.created_at) if row else ""


def bench_href(job: str, characteristic: str, place: str, round_: str = "as found") -> str:
    """The address of the bench at one station."""
    query = urlencode({"characteristic": characteristic, "place": place, "round": round_})
    return f"/jobs/{quote(job)}/bench?{query}"


def _next_href(job: str, step: NextStep, round_: str) -> str:
    if step.stop is not None:
        return bench_href(job, step.stop.characteristic, step.stop.place, round_)
    return f"/jobs/{quote(job)}/{step.page}"


def _matter_href(job: str, matter: Matter) -> str:
    if matter.page == "bench" and matter.place:
        return bench_href(job, matter.characteristic, matter.place)
    return f"/jobs/{quote(job)}/{matter.page}"


def _head(request: Request, state: State) -> HTMLResponse:
    asked = {key: request.query_params.get(key, "") for key in HEAD_QUERY}
    if state.layout is None:
        why = "; ".join(state.problems) or "the engine is not described yet"
        raise Trouble(409, f"There is no head to show: {shortened(why, 200)}.",
                      f"Describe the engine at /jobs/{state.job.id}/job.", where="engine")  # fmt: skip
    _known_valve(asked["valve"])
    unit = remembered(request).unit
    sheet = head_sheet(state, asked["group"], asked["valve"], asked["bank"], unit)
    picture = face_picture(sheet, state.layout)
    numbers = [choice.id for choice in sheet.cylinders]
    chosen = next((choice.id for choice in sheet.cylinders if choice.chosen), numbers[0])
    shown = asked["cylinder"] if asked["cylinder"] in numbers else chosen
    here = _here(state.job.id, asked)
    turned = "" if asked["values"] else "shown"  # pressing the picked valve again turns its values over
    return page(
        request,
        "head.html",
        chrome=chrome_of(
            state, request, f"{sheet.title}, {state.job.id}", "measure", _head_cells(state, request, sheet, here)
        ),
        sheet=sheet,
        seq=state.job.seq,
        sub=_sub(sheet),
        face=picture.drawing,
        values=asked["values"],
        column_width=f"{picture.column:.2f}",
        wide=len(sheet.columns) * picture.column > 910,
        spans=[(number, sum(str(column.cylinder) == number for column in sheet.columns)) for number in numbers],
        shown_cylinder=shown,
        here=here,
        pick=lambda column: here(valve=column.place, values=turned if column.picked else asked["values"]),
        cell=lambda line: drawn_cell(line, picture.column),
        mark_word=mark_word,
    )


def _known_valve(valve: str) -> None:
    try:
        if valve:
            parse(valve)
    except PlaceError as error:
        raise Trouble(404, f"{shortened(valve)} is no valve: {shortened(error, 200)}.", "Pick one on the head sheet.",
                      where="valve") from None  # fmt: skip


Here = Callable[..., str]


def _here(job: str, asked: dict[str, str]) -> Here:
    """Makes the address of this sheet with some of its query changed."""

    def here(**changes: str) -> str:
        query = {key: value for key, value in {**asked, "cylinder": "", **changes}.items() if value}
        return f"/jobs/{quote(job)}/head" + (f"?{urlencode(query)}" if query else "")

    return here


def _head_cells(state: State, request: Request, sheet: HeadSheet, here: Here) -> list[Cell]:
    cells = [round_cell(state, f"/jobs/{state.job.id}/head")]
    if sheet.picked:
        asked = request.query_params.get("values", "")
        text = f"{sheet.picked.name}: {sheet.picked.out or 'none'} out"
        turned = here(values="" if asked else "shown")
        cells.append(Cell("picked valve", text, href=turned))
    return [*cells, limits_cell(state), unit_cell(request)]


def _sub(sheet: HeadSheet) -> str:
    """The line beside the title: how the face was read and what it is held against."""
    if sheet.group.startswith("cams"):
        return "lobes by valve, journals front to rear"
    limit = next((line.limit for line in sheet.flatness if line.limit), "")
    if not sheet.flatness:
        return "seen from below"
    if not limit.startswith("most "):
        return "seen from below · straight-edge and leaves"
    most = limit.removeprefix("most ")
    return f"seen from below · straight-edge and leaves, within while leaf {most} does not enter"


def drawn_cell(line: Judged, column: float) -> Drawing:
    """The mark of one value at the size of a cell, as wide as its column allows."""
    width = max(48.0, min(104.0, column - 8.4))
    scale = line.scale
    return cell_mark(line.mark, type(scale)(scale.lo, scale.hi, width), line.name)
