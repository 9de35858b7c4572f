"""The sheet `this device`: its settings, kept in its own cookies so that the first paint of every page is right.

GET /settings    all settings as keys; `back` is where the way back leads
POST /settings   name, value: keeps one and comes back to its keys; `by` keeps who reads
"""

from typing import Annotated
from urllib.parse import quote, urlencode, urlsplit

from fastapi import APIRouter, Form
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse

from witnessmark.desk.sheets.chrome import Cell, Chrome, light
from witnessmark.desk.sheets.device import SETTINGS, allowed, device_sheet, said, setting
from witnessmark.shell.web.pages import page, remembered
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.trouble import Trouble, shortened

YEAR = 31_536_000  # seconds
MOST_BY = 60  # letters of who reads
SHEET = "/settings"


def router(_: Services) -> APIRouter:
    """GET and POST /settings; nothing of it goes to the store."""
    routes = APIRouter(include_in_schema=False)

    @routes.get(SHEET)
    def settings(request: Request, back: str = "", kept: str = "") -> HTMLResponse:
        return _sheet(request, back or _came_from(request), kept)

    @routes.post(SHEET)
    def keep(name: Annotated[str, Form()], value: Annotated[str, Form()] = "", back: Annotated[str, Form()] = "",
             ) -> RedirectResponse:  # fmt: skip
        if name != "by" and not allowed(name, value):
            raise _unknown(name, value)
        query = urlencode({"back": _here(back), "kept": name})
        answer = RedirectResponse(f"{SHEET}?{query}#set-{name}", 303)
        _remember(answer, name, value.strip()[:MOST_BY])
        return answer

    return routes


def _sheet(request: Request, back: str, kept: str) -> HTMLResponse:
    hand = remembered(request)
    sheet = device_sheet(request.cookies)
    told = f"by: {hand.by or 'not said'}" if kept == "by" else said(kept, _now(request, kept))
    chrome = Chrome("this device", (), (Cell("this page", "this device", grow=True), Cell("by", hand.by or "not said"),
                                        light()))  # fmt: skip
    return page(request, "device.html", chrome=chrome, settings=sheet, back=_here(back), by=hand.by, told=told)


def _now(request: Request, name: str) -> str:
    return next((one.now for one in device_sheet(request.cookies) if one.setting.name == name), "")


def _remember(answer: RedirectResponse, name: str, value: str) -> None:
    """As remember.js writes them: readable by the pages, for a year, on this site only; nothing said is no cookie."""
    answer.set_cookie(name, quote(value, safe=""), max_age=YEAR if value else 0, path="/", samesite="strict")


def _came_from(request: Request) -> str:
    """The sheet that the hand came from, where it was one of ours."""
    parts = urlsplit(request.headers.get("referer", ""))
    if parts.netloc != request.headers.get("host", "") or parts.path == SHEET:
        return ""
    return f"{parts.path}?{parts.query}" if parts.query else parts.path


def _here(back: str) -> str:
    """A way back that stays on this bench: a path, never another host's."""
    path = back[:600]
    clean = path.startswith("/") and not path.startswith("//") and "\\" not in path and path.isprintable()
    return path if clean else "/"


def _unknown(name: str, value: str) -> Trouble:
    known = setting(name)
    names = ", ".join(one.value or "nothing" for one in known.values) if known else ""
    if known is None:
        return Trouble(422, f"This device has no setting called {shortened(name)}.",
                       f"There are {', '.join(one.name for one in SETTINGS)} and by.", where="settings")  # fmt: skip
    return Trouble(422, f"{shortened(value)} is no value of {known.label}.", f"It may be {names}.", where="settings")
