"""Templates and what every page needs to be drawn: static addresses, light, unit, and the page that says no."""

from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response

from witnessmark.desk.route import BY_PART, ORDERS
from witnessmark.desk.sheets.chrome import Cell, Chrome, light
from witnessmark.desk.sheets.device import standing
from witnessmark.draw.shape import Drawing
from witnessmark.draw.svg import svg
from witnessmark.shell.web.assets import Assets
from witnessmark.shell.web.trouble import Trouble

TEMPLATES = Path(__file__).parent / "templates"


class Pages:
    """Renders a template as a page of this application; reach it by `request.app.state.pages`."""

    def __init__(self, assets: Assets) -> None:
        self._env = Environment(loader=FileSystemLoader(TEMPLATES), autoescape=True, undefined=StrictUndefined,
                                trim_blocks=True, lstrip_blocks=True)  # fmt: skip
        self._env.globals.update(static=assets.address, drawn=drawn)

    def page(self, request: Request, template: str, status: int = 200, headers: dict[str, str] | None = None,
             **filled: Any) -> HTMLResponse:  # fmt: skip
        """A page: `chrome` and whatever the template names, with what the device remembers.

        What the template sees besides: `static('file')`, `drawn(drawing, 'id')`, `light`, `unit`, `sheet_class`, and
        `device('letters')`: what stands of a setting on this device.
        """
        hand = remembered(request)
        context = {"light": hand.light, "unit": hand.unit, "sheet_class": "", "device": partial(_standing, request),
                   **filled}  # fmt: skip
        return HTMLResponse(self._env.get_template(template).render(context), status, headers)


@dataclass(frozen=True, slots=True)
class Hand:
    """What this device remembers in its cookies: light ("", day, night), unit of display, person, its own name."""

    light: str
    unit: str
    by: str
    device: str
    order: str = BY_PART  # of the walk
    words: str = ""  # of the trade: british, american, "" as they are written


def remembered(request: Request) -> Hand:
    """The device's settings; a cookie that says nothing known is as good as none."""
    from urllib.parse import unquote

    cookies = request.cookies
    return Hand(
        standing("light", cookies),
        standing("unit", cookies),
        unquote(cookies.get("by", ""))[:60],
        unquote(cookies.get("device", ""))[:60],
        order if (order := unquote(cookies.get("order", ""))) in ORDERS else BY_PART,
        standing("words", cookies),
    )


def _standing(request: Request, name: str) -> str:
    return standing(name, request.cookies)


def drawn(drawing: Drawing, prefix: str, named: bool = True) -> Markup:
    """A drawing as SVG inside a page; `prefix` keeps its ids apart from those of others."""
    return Markup(svg(drawing, prefix, named=named))  # noqa: S704  (the writer escapes every text it is given)


def page(request: Request, template: str, status: int = 200, **filled: Any) -> HTMLResponse:
    """Shorthand for routers: `page(request, "head.html", chrome=..., sheet=...)`."""
    pages: Pages = request.app.state.pages
    return pages.page(request, template, status, **filled)


def wants_data(request: Request) -> bool:
    """True where a machine asked: everything under /api/, and scripts that say so."""
    return request.url.path.startswith("/api/") or "application/json" in request.headers.get("accept", "")


def teller(pages: Pages) -> Any:
    """Makes the answer that says what is the matter, as a page or as data."""

    def tell(request: Request, trouble: Trouble) -> Response:
        headers = dict(trouble.headers or {})
        if wants_data(request):
            return JSONResponse(trouble.body(), trouble.status_code, headers)
        chrome = Chrome("not done", (), (Cell("this page", trouble.where or "not found", grow=True), light()))
        return pages.page(request, "told.html", trouble.status_code, headers, chrome=chrome, trouble=trouble)

    return tell
