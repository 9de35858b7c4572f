"""The photos of a job: taken with the tablet or sent as a file, marked on the drawing, shown, taken back."""

from dataclasses import dataclass
from urllib.parse import quote

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from witnessmark.desk import decide
from witnessmark.desk.bench import Refused
from witnessmark.desk.sheets.photos import photos_sheet
from witnessmark.desk.state import State
from witnessmark.shell.store.photos import NoSuchPhoto, NotPhoto
from witnessmark.shell.web.api_photos import Sent, keep_photo
from witnessmark.shell.web.pages import page
from witnessmark.shell.web.pages_common import (
    chrome_of,
    form_texts,
    limits_cell,
    round_cell,
    round_of,
    stamp_of,
    state_of,
)
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.trouble import Trouble, shortened

FOREVER = "private, max-age=31536000, immutable"  # named by its bytes


@dataclass(frozen=True, slots=True)
class Amiss:
    """What was typed and why it was not kept; `about` is the photo's event, "" for a new one."""

    about: str = ""
    said: str = ""
    note: str = ""


def router(services: Services) -> APIRouter:
    """GET /jobs/{job}/photos and /jobs/{job}/photos/{hash}; POST /jobs/{job}/photos and .../photos/{event}/{form}."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/jobs/{job}/photos")
    def sheet(request: Request, job: str) -> Response:
        return _sheet(request, state_of(services, job, round_of(request)), Amiss())

    @routes.get("/jobs/{job}/photos/{photo}")
    def picture(job: str, photo: str) -> Response:
        now = state_of(services, job)
        named = {one.photo for one in now.job.photos} | {name for one in now.job.readings for name in one.photos}
        try:
            if photo not in named:
                raise NoSuchPhoto(photo)
            jpeg = services.store.photos.get(photo)
        except (NoSuchPhoto, NotPhoto):
            raise Trouble(404, f"This job shows no photo {shortened(photo, 16)}.", "Look at its sheet of photos.",
                          where="photo") from None  # fmt: skip
        return Response(jpeg, media_type="image/jpeg", headers={"Cache-Control": FOREVER})

    @routes.post("/jobs/{job}/photos")
    async def add(request: Request, job: str) -> Response:
        async with request.form(max_fields=20, max_files=1) as form:
            file, fields = form.get("file"), form_texts(form)
            data = await file.read() if isinstance(file, UploadFile) else b""
        return await run_in_threadpool(_add, services, request, job, data, fields)

    @routes.post("/jobs/{job}/photos/{event}/{form}")
    async def change(request: Request, job: str, event: str, form: str) -> Response:
        async with request.form(max_fields=20, max_files=0) as sent:
            fields = form_texts(sent)
        return await run_in_threadpool(_change, services, request, job, event, form, fields)

    return routes


def _add(services: Services, request: Request, job: str, data: bytes, fields: dict[str, str]) -> Response:
    now = state_of(services, job, round_of(request))
    sent = Sent(stamp_of(services, request), fields.get("characteristic", ""), fields.get("place", ""), now.round,
                fields.get("note", ""), fields.get("x", ""), fields.get("y", ""))  # fmt: skip
    try:
        keep_photo(services, job, data, sent)
    except (Refused, Trouble) as told:
        said = told.what if isinstance(told, Trouble) else f"{str(told)[:1].upper()}{str(told)[1:]}."
        return _sheet(request, now, Amiss("", said, fields.get("note", "")), 422)
    return RedirectResponse(f"/jobs/{quote(job)}/photos?round={quote(now.round)}", 303)


def _change(
    services: Services, request: Request, job: str, event: str, form: str, fields: dict[str, str]
) -> Response:
    now, stamp = state_of(services, job, round_of(request)), stamp_of(services, request)
    try:
        if form == "back":
            events = decide.remove_photo(now, stamp, event)
        else:
            mark = (_share(fields.get("left", "")), _share(fields.get("top", "")))
            events = decide.change_photo(now, stamp, event, fields.get("note", ""), mark)
        services.store.append(job, events, services.clock())
    except Refused as refused:
        said = f"{str(refused)[:1].upper()}{str(refused)[1:]}."
        return _sheet(request, now, Amiss(event, said, fields.get("note", "")), 422)
    return RedirectResponse(f"/jobs/{quote(job)}/photos?round={quote(now.round)}", 303)


def _share(percent: str) -> str:
    """A share from percent as they were typed: 43 is 0.43; what is no number goes on as it is, to be refused."""
    percent = percent.strip()
    if not (percent.isascii() and percent.isdigit() and int(percent) <= 100):
        return percent and f"{percent} %"
    return f"{int(percent) / 100:.2f}"


def _sheet(request: Request, now: State, amiss: Amiss, status: int = 200) -> Response:
    asked = request.query_params
    sheet = photos_sheet(now, asked.get("characteristic", ""), asked.get("place", ""))
    cells = [round_cell(now, f"/jobs/{now.job.id}/photos"), limits_cell(now)]
    chrome = chrome_of(now, request, sheet.title, "measure", cells)
    return page(request, "photos.html", status, chrome=chrome, sheet=sheet, amiss=amiss, sheet_class="long")
