"""Which side's words the page of this request is drawn in. Only what is read is spoken so; what is written never is."""

from contextvars import ContextVar

from starlette.requests import HTTPConnection
from starlette.types import ASGIApp, Receive, Scope, Send

from witnessmark.explain.dialect import DIALECTS

SPOKEN: ContextVar[str] = ContextVar("spoken", default="")


class Spoken:
    """Plain ASGI: takes the words from the cookie of a GET that is not the API's, for as long as it is answered."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer with the words set."""
        page = scope["type"] == "http" and scope["method"] == "GET" and not scope["path"].startswith("/api/")
        words = HTTPConnection(scope).cookies.get("words", "") if page else ""
        token = SPOKEN.set(words if words in DIALECTS else "")
        try:
            await self.app(scope, receive, send)
        finally:
            SPOKEN.reset(token)
