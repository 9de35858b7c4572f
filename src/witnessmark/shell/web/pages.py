"""Templates and what every page needs to be drawn: static addresses, light, unit, and the page that says no."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from jinja2.ext import Extension
from jinja2.lexer import Token
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response

from witnessmark.desk.route import BY_PART, ORDERS
from witnessmark.desk.sheets.chrome import Cell, Chrome, light
from witnessmark.desk.sheets.device import standing
from witnessmark.draw.shape import Drawing, Group, Shape, Text
from witnessmark.draw.svg import svg
from witnessmark.explain.dialect import DIALECTS, said
from witnessmark.shell.web.assets import Assets
from witnessmark.shell.web.spoken import SPOKEN
from witnessmark.shell.web.trouble import Trouble

TEMPLATES = Path(__file__).parent / "templates"


class Pages:
    """Renders a template as a page of this application; reach it by `request.app.state.pages`."""

    def __init__(self, assets: Assets) -> None:
        self._envs = {dialect: _environment(dialect, assets) for dialect in ("", *DIALECTS)}

    def page(self, request: Request, template: str, status: int = 200, headers: dict[str, str] | None = None,
             **filled: Any) -> HTMLResponse:  # fmt: skip
        """A page: `chrome` and whatever the template names, with what the device remembers.

        What the template sees besides: `static('file')`, `drawn(drawing, 'id')`, `light`, `unit`, `sheet_class`, and
        `device('letters')`: what stands of a setting on this device.
        """
        hand = remembered(request)
        context = {"light": hand.light, "unit": hand.unit, "sheet_class": "", "device": partial(_standing, request),
                   **filled}  # fmt: skip
        return HTMLResponse(self._envs[SPOKEN.get()].get_template(template).render(context), status, headers)


def _environment(dialect: str, assets: Assets) -> Environment:
    """Templates with their own words in one dialect; what is filled into them is never touched."""
    env = Environment(loader=FileSystemLoader(TEMPLATES), autoescape=True, undefined=StrictUndefined,
                      trim_blocks=True, lstrip_blocks=True, extensions=[Words])  # fmt: skip
    env.globals.update(static=assets.address, drawn=drawn, dialect=dialect)
    return env


class Words(Extension):
    """Puts the words of a template, outside its tags, into the dialect of its environment."""

    def filter_stream(self, stream: Any) -> Iterator[Token]:
        """Each token of a template; text between tags is said in the dialect."""
        inside = False
        for token in stream:
            if token.type != "data":
                yield token
                continue
            parts = []
            for part in re.split(r"([<>])", token.value):
                parts.append(part if inside else said(part, str(self.environment.globals.get("dialect") or "")))
                inside = part == "<" or (inside and part != ">")
            yield Token(token.lineno, "data", "".join(parts))


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
        standing("unit", cookies) or _unit_of_job(request),
        unquote(cookies.get("by", ""))[:60],
        unquote(cookies.get("device", ""))[:60],
        order if (order := unquote(cookies.get("order", ""))) in ORDERS else BY_PART,
        standing("words", cookies),
    )


def _unit_of_job(request: Request) -> str:
    """The unit of a job whose gauges read inch, for a device that was never told which to show; else millimetre."""
    from witnessmark.desk.look import dialect  # it brings numpy: only once a job is looked at
    from witnessmark.shell.store.fault import StoreFault

    job = request.path_params.get("job")
    if not job:
        return "mm"
    try:
        return dialect(request.app.state.services.store.job(job))
    except StoreFault:
        return "mm"  # the page itself says that there is no such job


def _standing(request: Request, name: str) -> str:
    return standing(name, request.cookies)


def drawn(drawing: Drawing, prefix: str, named: bool = True) -> Markup:
    """A drawing as SVG inside a page; `prefix` keeps its ids apart from those of others."""
    if words := SPOKEN.get():
        drawing = replace(drawing, name=said(drawing.name, words), shapes=_spoken(drawing.shapes, words))
    return Markup(svg(drawing, prefix, named=named))  # noqa: S704  (the writer escapes every text it is given)


def _spoken(shapes: tuple[Shape, ...], words: str) -> tuple[Shape, ...]:
    """The same shapes with the words on them in a dialect."""
    return tuple(
        replace(shape, text=said(shape.text, words)) if isinstance(shape, Text)
        else replace(shape, shapes=_spoken(shape.shapes, words)) if isinstance(shape, Group) else shape
        for shape in shapes
    )  # fmt: skip


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
