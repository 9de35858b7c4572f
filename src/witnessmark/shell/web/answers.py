"""Every exception that may reach the door, turned into what, where, what to do. One table."""

import logging
from collections.abc import Iterable, Mapping
from typing import Any

from fastapi import FastAPI
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from witnessmark.desk.bench import Refused
from witnessmark.record.event import EventFault
from witnessmark.shell.store import fault
from witnessmark.shell.store.fault import StoreFault
from witnessmark.shell.web.middleware import Tell
from witnessmark.shell.web.trouble import Told, Trouble, shortened
from witnessmark.text.fault import Fault, Faulty
from witnessmark.text.near import near

LOG = logging.getLogger("witnessmark.web")


def add_answers(app: FastAPI, tell: Tell) -> None:
    """Give the application one handler for each kind of exception that is no bug, and one for what is."""

    async def http(request: Request, exc: Exception) -> Response:
        assert isinstance(exc, HTTPException)
        return tell(request, exc if isinstance(exc, Trouble) else _toolkit(request, exc))

    async def sent(request: Request, exc: Exception) -> Response:
        assert isinstance(exc, RequestValidationError)
        return tell(request, not_understood(exc))

    async def faulty(request: Request, exc: Exception) -> Response:
        assert isinstance(exc, Faulty)
        return tell(request, Trouble(422, _counted(exc.faults), "Mend what is listed and send it again.",
                                     where=exc.faults[0].name, faults=told(exc.faults)))  # fmt: skip

    async def refusal(request: Request, exc: Exception) -> Response:
        assert isinstance(exc, Refused)
        faults = [fault for fault in exc.faults if isinstance(fault, Fault)]
        return tell(request, Trouble(422, str(exc), "Nothing was kept. Mend it and send it again.",
                                     faults=told(faults)))  # fmt: skip

    async def unkept(request: Request, exc: Exception) -> Response:
        assert isinstance(exc, StoreFault | EventFault)
        return tell(request, Trouble(status_of(exc), str(exc)))

    async def bug(request: Request, exc: Exception) -> Response:
        LOG.error("the tool itself went wrong at %s %s", request.method, request.url.path, exc_info=exc)
        return tell(request, Trouble(500, "The tool itself went wrong here; what was kept before stands.",
                                     "Its log names the place: send it to whoever looks after the tool."))  # fmt: skip

    app.add_exception_handler(HTTPException, http)
    app.add_exception_handler(RequestValidationError, sent)
    app.add_exception_handler(Faulty, faulty)
    app.add_exception_handler(Refused, refusal)
    app.add_exception_handler(StoreFault, unkept)
    app.add_exception_handler(EventFault, unkept)
    app.add_exception_handler(Exception, bug)


STATUS: Mapping[type[Exception], int] = {
    fault.NoSuchJob: 404, fault.JobExists: 409, fault.OtherBytes: 409, fault.JobIdRefused: 422, EventFault: 422,
    fault.TooMany: 413, fault.StoreFull: 507,
}  # fmt: skip


def status_of(exc: Exception) -> int:
    """The HTTP status of a fault of the store; whatever else is wrong with it, it cannot serve now."""
    return STATUS.get(type(exc), 503)


def _toolkit(request: Request, exc: HTTPException) -> Trouble:
    path, method = shortened(request.url.path), request.method
    if exc.status_code == 404:
        guess = near(request.url.path, _addresses(request))
        return Trouble(404, f"Nothing is kept at {path}.",
                       f"Did you mean {guess}?" if guess else "Go back to the start sheet.", where=path)  # fmt: skip
    if exc.status_code == 405:
        allowed = (exc.headers or {}).get("allow") or (exc.headers or {}).get("Allow", "")
        return Trouble(405, f"{path} cannot be asked by {shortened(method)}.", f"It takes {allowed}." if allowed else
                       "Look at /api/openapi.json.", where=path, headers=dict(exc.headers or {}))  # fmt: skip
    if exc.status_code == 400:
        return Trouble(400, "What was sent cannot be read: the JSON is broken off, too deep, or no JSON.",
                       "Look at /api/openapi.json for the shape that is taken.", where="body")  # fmt: skip
    return Trouble(exc.status_code, shortened(exc.detail, 200), where=path, headers=dict(exc.headers or {}))


def _addresses(request: Request) -> Iterable[str]:
    """Addresses that can be meant: those without a blank in them."""
    described = request.app.openapi()["paths"]
    return (*(path for path in described if "{" not in path), "/jobs", "/new", "/api/openapi.json")


def not_understood(exc: RequestValidationError) -> Trouble:
    """The toolkit's list of what is amiss, each in one sentence of ours."""
    faults = [Told(_place(one["loc"]), _sentence(one)) for one in exc.errors()[:20]]
    first = faults[0] if faults else Told("body", "Nothing could be read.")
    unsent = "" if len(faults) < 2 else f" And {len(faults) - 1} more, listed."
    return Trouble(422, f"{first.where}: {first.message}{unsent}", "Nothing was kept. Mend it and send it again.",
                   where=first.where, faults=faults)  # fmt: skip


def _place(parts: tuple[Any, ...]) -> str:
    if len(parts) == 2 and parts[0] == "body" and isinstance(parts[1], int):  # where the JSON breaks off
        return f"body, character {parts[1]}"
    named = [str(part) for part in parts if part not in {"body", "query", "path", "header"}]
    return shortened(".".join(named) or str(parts[0] if parts else "body"), 80)


_SENTENCES = {
    "missing": "it is missing",
    "extra_forbidden": "no such key is known here",
    "json_invalid": "this is no JSON",
    "string_too_short": "it is empty or too short",
    "string_too_long": "it is longer than {max_length} characters",
    "too_long": "it has more than {max_length} entries",
    "string_type": "text is wanted",
    "string_unicode": "half of a character pair came; text must be whole",
    "int_type": "a whole number is wanted",
    "int_parsing": "a whole number is wanted",
    "greater_than_equal": "it must be at least {ge}",
    "less_than_equal": "it must be at most {le}",
    "literal_error": "it must be one of {expected}",
    "string_pattern_mismatch": "this is not how it is written here; the pattern is {pattern}",
    "model_attributes_type": "an object with named values is wanted",
    "dict_type": "an object with named values is wanted",
    "list_type": "a list is wanted",
    "bool_parsing": "yes or no is wanted",
    "value_error": "{error}",
}


def _sentence(one: dict[str, Any]) -> str:
    pattern = _SENTENCES.get(one["type"])
    if pattern is None:
        return f"{one['msg'][:1].lower()}{one['msg'][1:]}."
    return pattern.format_map({key: str(value) for key, value in (one.get("ctx") or {}).items()}) + "."


def told(faults: Iterable[Fault]) -> list[Told]:
    """Faults of a text as the pages tell them."""
    return [Told(":".join(str(n) for n in (one.name, one.line, one.column) if n) or one.path,
                 f"{one.path}: {one.message}" if one.path else one.message, one.line, one.column)
            for one in faults]  # fmt: skip


def _counted(faults: tuple[Fault, ...]) -> str:
    return f"{faults[0]}" if len(faults) == 1 else f"{len(faults)} places must be mended; nothing was kept."
