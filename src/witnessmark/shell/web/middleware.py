"""What is turned away before any page is asked: foreign hosts, foreign pages, bodies that are too large."""

from collections.abc import Callable, Iterable
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.responses import Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from witnessmark.shell.web.trouble import Trouble, shortened

SAFE = {"GET", "HEAD", "OPTIONS"}
HOSTS = ("127.0.0.1", "localhost", "[::1]")
BODY_MOST = 2_000_000  # bytes; a job of 20,000 readings is sent in parts, a limit sheet is a tenth of this
PHOTO_MOST = 25_100_000  # bytes; a photo of 25 MB with the words that come with it
LINE_MOST = 20_000  # bytes; one entry line with its names
HEADERS = {
    "Content-Security-Policy": "default-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'; "
    "object-src 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
}

Tell = Callable[[Request, Trouble], Response]
"""Makes the page or the JSON that says what is the matter."""


class Door:
    """Plain ASGI round the whole application: host, origin, size, and the headers of every answer."""

    def __init__(self, app: ASGIApp, tell: Tell, hosts: Iterable[str] = HOSTS) -> None:
        self.app, self.tell, self.hosts = app, tell, frozenset(hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, or answer why not."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        trouble = (self._foreign_host(headers) or _foreign_page(scope, headers) or _too_large(scope, headers)
                   or _other_kind(scope, headers))  # fmt: skip
        if trouble is not None:
            await self.tell(Request(scope), trouble)(scope, receive, _with_headers(send))
            return
        counted = _Counted(receive, most(scope["path"]))
        await self.app(scope, counted, _with_headers(send))

    def _foreign_host(self, headers: Headers) -> Trouble | None:
        host = headers.get("host", "")
        if _bare(host) in self.hosts:
            return None
        return Trouble(421, f"This bench does not answer under the name {shortened(host)!r}.",
                       "Open the address that was printed when it started, such as http://127.0.0.1:8620/.",
                       where="Host")  # fmt: skip


def _bare(host: str) -> str:
    """A host without its port; brackets of a numeric address stay."""
    name, colon, port = host.rpartition(":")
    return (name if colon and port.isdigit() else host).lower()


def _foreign_page(scope: Scope, headers: Headers) -> Trouble | None:
    if scope["method"] in SAFE:
        return None
    origin = headers.get("origin")
    foreign = origin is not None and urlsplit(origin).netloc.lower() != headers.get("host", "").lower()
    if not foreign and headers.get("sec-fetch-site", "same-origin") in {"same-origin", "none"}:
        return None
    return Trouble(403, f"This came from another page ({shortened(origin or 'unnamed')}); nothing was kept.",
                   "Do it on the bench's own page.", where="Origin")  # fmt: skip


def _other_kind(scope: Scope, headers: Headers) -> Trouble | None:
    """The API takes JSON; forms belong to the pages."""
    if scope["method"] != "POST" or not scope["path"].startswith("/api/"):
        return None
    kind = headers.get("content-type", "").partition(";")[0].strip().lower()
    if scope["path"].endswith("/photo"):
        return None if kind == "multipart/form-data" else Trouble(
            415, f"{shortened(kind) or 'What was sent without a type'} is not taken here.",
            "Send the photo as multipart/form-data, its bytes under the name file.", where="Content-Type")  # fmt: skip
    if kind == "application/json" or (kind.startswith("application/") and kind.endswith("+json")):
        return None
    return Trouble(415, f"{shortened(kind) or 'What was sent without a type'} is not taken here.",
                   "Send JSON, with Content-Type: application/json.", where="Content-Type")  # fmt: skip


def most(path: str) -> int:
    """How many bytes a body may have at this address."""
    if path.endswith(("/photo", "/photos")) and path.startswith(("/api/jobs/", "/jobs/")):
        return PHOTO_MOST
    return LINE_MOST if path.endswith("/line") else BODY_MOST


def _too_large(scope: Scope, headers: Headers) -> Trouble | None:
    told = headers.get("content-length")
    if told is None:
        return None
    if not told.isdigit():
        return Trouble(400, f"The length {shortened(told)!r} of what was sent is no number.", "Send it again.",
                       where="Content-Length")  # fmt: skip
    return _large(most(scope["path"])) if len(told) > 12 or int(told) > most(scope["path"]) else None


def _large(limit: int) -> Trouble:
    if limit == PHOTO_MOST:
        return Trouble(413, "A photo may have 25 MB, and this has more; nothing was kept.",
                       "Send it in a smaller size.", where="file", headers={"Connection": "close"})  # fmt: skip
    return Trouble(413, f"That is more than {limit:,} bytes; nothing was kept.".replace(",", " "),
                   "Send it in parts, or import the file with the command `witnessmark import`.", where="body",
                   headers={"Connection": "close"})  # fmt: skip


class _Counted:
    """A receive that counts what comes, since a sender need not say how long it will be."""

    def __init__(self, receive: Receive, limit: int) -> None:
        self.receive, self.most, self.came = receive, limit, 0

    async def __call__(self) -> Message:
        message = await self.receive()
        if message["type"] == "http.request":
            self.came += len(message.get("body", b""))
            if self.came > self.most:
                raise _large(self.most)
        return message


def _with_headers(send: Send) -> Send:
    async def sender(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
            headers.setdefault("Cache-Control", "no-store")
        await send(message)

    return sender
