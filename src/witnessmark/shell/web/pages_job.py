"""The sheet of job and gauges and the one that starts a job: forms in, commands of the desk; what was typed is kept."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any
from urllib.parse import quote

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from witnessmark.desk import commands, wanted
from witnessmark.desk.bench import Refused
from witnessmark.desk.sheets.blanks import engine_blank_of, engine_from, gauge_from
from witnessmark.desk.sheets.chrome import Cell, Chrome, light
from witnessmark.desk.sheets.new import new_sheet, register_of, suggested_id
from witnessmark.desk.sheets.setup import Typed, setup_sheet
from witnessmark.desk.state import State, state
from witnessmark.record.event import Event, EventFault
from witnessmark.record.job import GaugeRevision, gauge_now
from witnessmark.record.replay import replay
from witnessmark.shell.store.fault import JobExists, JobIdRefused
from witnessmark.shell.web.pages import page
from witnessmark.shell.web.pages_common import (
    chrome_of,
    form_texts,
    jobs_cell,
    limits_cell,
    stamp_of,
    state_of,
)
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.trouble import Trouble
from witnessmark.text.fault import Fault

MOST_SEARCHED = 10  # jobs whose gauges make up the register
MOST_CHARACTERS = 5_000_000

Make = Callable[[State, commands.Stamp, dict[str, str]], tuple[Event, ...]]


def router(services: Services) -> APIRouter:
    """GET and POST /new; GET /jobs/{job}/job; POST /jobs/{job}/job/{engine, limits, gauge, setting}."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/new")
    def new(request: Request) -> Response:
        return _new_page(services, request, Typed(), ())

    @routes.post("/new")
    async def begin(request: Request) -> Response:
        fields, gauges = await _sent(request, "limits_")
        return await run_in_threadpool(_begin, services, request, fields, gauges)

    @routes.get("/jobs/{job}/job")
    def job_sheet(request: Request, job: str, gauge: str = "", kept: str = "") -> Response:
        said = f"{KEPT[kept]} kept." if kept in KEPT else ""
        return _job_page(services, request, state_of(services, job), Typed(), gauge, said)

    @routes.post("/jobs/{job}/job/{form}")
    async def take(request: Request, job: str, form: str) -> Response:
        make = FORMS.get(form)
        if make is None:
            raise Trouble(
                404, f"The job sheet has no form {form[:40]}.", f"It has {', '.join(FORMS)}.", where="address"
            )
        fields, _ = await _sent(request)
        return await run_in_threadpool(_take, services, request, job, form, fields)

    return routes


KEPT = {"engine": "The engine is", "limits": "The limit sheet is", "gauge": "The gauge is", "setting": "The setting is",
        "facts": "What is said of the job is"}  # fmt: skip


def _engine(now: State, stamp: commands.Stamp, fields: dict[str, str]) -> tuple[Event, ...]:
    return commands.describe_engine(now, stamp, engine_from(fields))


def _limits(now: State, stamp: commands.Stamp, fields: dict[str, str]) -> tuple[Event, ...]:
    text = fields.get("text", "")
    if not text.strip():
        raise Refused("nothing was pasted and no file was chosen; do one of the two")
    return commands.enter_limit_sheet(now, stamp, text, fields.get("name", "").strip() or "limit sheet")


def _gauge(now: State, stamp: commands.Stamp, fields: dict[str, str]) -> tuple[Event, ...]:
    return commands.enter_gauge(now, stamp, fields.get("gauge", ""), gauge_from(fields))


def _setting(now: State, stamp: commands.Stamp, fields: dict[str, str]) -> tuple[Event, ...]:
    size = fields.get("set_to", "").strip()
    unit = fields.get("unit", "").strip()
    gauge = fields.get("gauge", "")
    held = gauge_now(now.job, gauge)
    own = str(held.fields.get("unit") or "mm") if held else ""
    written = f"{size} {unit}" if unit not in ("", own) and size[-1:].isdigit() else size
    return commands.make_setting(now, stamp, gauge, written, fields.get("with") or None)


def _facts(now: State, stamp: commands.Stamp, fields: dict[str, str]) -> tuple[Event, ...]:
    return wanted.job_facts(now, stamp, {name: fields[name] for name in wanted.FACTS if name in fields})


FORMS: dict[str, Make] = {"engine": _engine, "limits": _limits, "gauge": _gauge, "setting": _setting, "facts": _facts}


def _take(services: Services, request: Request, job: str, form: str, fields: dict[str, str]) -> Response:
    now = state_of(services, job)
    try:
        events = FORMS[form](now, stamp_of(services, request), fields)
        services.store.append(job, events, services.clock())
    except (Refused, EventFault) as refused:
        return _job_page(services, request, now, typed_of(form, fields, refused), fields.get("gauge", ""), "", 422)
    return RedirectResponse(f"/jobs/{quote(job)}/job?kept={form}#{_anchor(form)}", 303)


def _anchor(form: str) -> str:
    return {"gauge": "gauges", "setting": "settings"}.get(form, form)


def _job_page(
    services: Services, request: Request, now: State, typed: Typed, gauge: str, said: str, status: int = 200
) -> Response:
    sheet = setup_sheet(now, gauge, typed)
    cells = [limits_cell(now), jobs_cell(services)]
    chrome = chrome_of(now, request, sheet.title, "measure", cells)
    return page(request, "setup.html", status, chrome=chrome, sheet=sheet, said=said, problems=now.problems)


def _new_page(services: Services, request: Request, typed: Typed, chosen: Iterable[str], status: int = 200) -> Response:
    suggested = suggested_id(row.id for row in services.store.jobs())
    sheet = new_sheet(suggested, _register(services), services.catalogue, typed, tuple(chosen))
    chrome = Chrome("start a job", (), (Cell("this page", "start a job", grow=True), jobs_cell(services), light()))
    return page(request, "new.html", status, chrome=chrome, sheet=sheet)


def _register(services: Services) -> dict[str, GaugeRevision]:
    """The gauges of the last jobs: what lies on this bench."""
    return register_of(services.store.job(row.id) for row in services.store.jobs()[:MOST_SEARCHED])


def _begin(services: Services, request: Request, fields: dict[str, str], gauges: list[str]) -> Response:
    job = fields.get("id", "").strip()
    try:
        events = _first_events(services, request, fields, gauges)
        services.store.create(job, created_at=services.clock(), title=fields.get("engine", "").strip(), events=events)
    except (Refused, EventFault, JobExists, JobIdRefused) as refused:
        return _new_page(services, request, _typed_new(fields, refused), gauges, 422)
    return RedirectResponse(f"/jobs/{quote(job)}", 303)


def _first_events(services: Services, request: Request, fields: dict[str, str], gauges: list[str]) -> tuple[Event, ...]:
    """The events of a new job, each checked on the state that those before it make; they are stored in one go."""
    stamp = stamp_of(services, request)
    header: dict[str, Any] = {"id": fields.get("id", "").strip()}
    header |= {key: said for key in ("engine", *wanted.FACTS) if (said := fields.get(key, "").strip())}
    wanted.check_facts({key: header[key] for key in wanted.FACTS if key in header})
    if not header.get("engine"):
        raise Refused("the engine needs a name, such as the one on its tag; the rest may wait")
    if fields.get("invented"):
        header["invented"] = True
    events = commands.start_job(stamp, header, engine_from(_of_engine(fields)) or None)
    opened = state(replay(_numbered(events)), services.catalogue)
    text = fields.get("limits_text", "")
    if text.strip():
        name = fields.get("limits_name", "").strip() or "limit sheet"
        events += commands.enter_limit_sheet(opened, replace(stamp, id=services.fresh()), text, name)
    register = _register(services)
    for name in gauges:
        if name in register:
            events += commands.enter_gauge(opened, replace(stamp, id=services.fresh()), name, register[name].fields)
    return events


def _numbered(events: Iterable[Event]) -> tuple[Event, ...]:
    return tuple(event.stored(n, "") for n, event in enumerate(events, 1))


def _of_engine(fields: dict[str, str]) -> dict[str, str]:
    """The blanks of the layout; `engine` is the name of the engine here."""
    return {key: value for key, value in fields.items() if key != "engine"}


def typed_of(form: str, fields: dict[str, str], refused: Exception) -> Typed:
    """What was typed with what is amiss, for the form that it came from."""
    faults, by_blank = _faults(refused)
    said = str(refused)
    if form == "engine" and by_blank:
        said, faults = "This engine does not hold together yet; nothing was kept.", ()
    return Typed(form, fields, f"{said[:1].upper()}{said[1:]}", faults, by_blank)


def _typed_new(fields: dict[str, str], refused: Exception) -> Typed:
    typed = typed_of("engine" if not str(refused).startswith("the ") else "", fields, refused)
    return replace(typed, form="new")


def _faults(refused: Exception) -> tuple[tuple[Fault, ...], dict[str, str]]:
    """Faults with places as they are; those of an engine by the blank that they belong to."""
    told = getattr(refused, "faults", ())
    placed = tuple(fault for fault in told if isinstance(fault, Fault))
    by_blank: dict[str, str] = {}
    for fault in told:
        if isinstance(fault, tuple) and len(fault) == 2:
            path, message = fault
            name = engine_blank_of(path)
            by_blank[name] = f"{by_blank[name]}; {message}" if name in by_blank else message
    return placed, by_blank


async def _sent(request: Request, prefix: str = "") -> tuple[dict[str, str], list[str]]:
    """The filled blanks and ticked gauges of the form that came; Trouble where what came is no form."""
    kind = request.headers.get("content-type", "")
    if not kind.startswith(("application/x-www-form-urlencoded", "multipart/form-data")):
        cure = "Send it from the sheet, or use the addresses under /api/."
        raise Trouble(415, "A form is wanted here.", cure, where="body")
    async with request.form(max_fields=200, max_files=2, max_part_size=MOST_CHARACTERS) as form:
        gauges = [name for name in form.getlist("gauges") if isinstance(name, str)]
        return await _texts(form, prefix), gauges


async def _texts(form: FormData, prefix: str) -> dict[str, str]:
    """The text blanks of a form, with an uploaded file in place of its text; line ends as the user's file has them."""
    fields = {key: value.replace("\r\n", "\n") for key, value in form_texts(form).items()}
    file = form.get(f"{prefix}file")
    if isinstance(file, UploadFile) and file.filename:
        content = await file.read(MOST_CHARACTERS + 1)
        fields[f"{prefix}text"] = _decoded(content, file.filename)
        fields[f"{prefix}name"] = fields.get(f"{prefix}name", "").strip() or file.filename.rpartition("/")[2][:80]
    return fields


def _decoded(content: bytes, name: str) -> str:
    if len(content) > MOST_CHARACTERS:
        raise Trouble(413, f"{name[:80]} is larger than {MOST_CHARACTERS} bytes.", "A limit sheet is a short text; "
                      "look whether this is the right file.", where="file")  # fmt: skip
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as bad:
        what = f"Byte {bad.start + 1} of {name[:80]} is no UTF-8."
        raise Trouble(422, what, "Save it as UTF-8 text and send it again.", where="file") from None
