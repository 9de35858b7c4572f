"""Static files under names that change with their content, so that a browser may keep them for a year."""

from functools import cached_property
from hashlib import sha256
from mimetypes import guess_type
from pathlib import Path

from starlette.requests import Request
from starlette.responses import Response

from witnessmark.draw.svg import css
from witnessmark.shell.web.trouble import Trouble

FOLDER = Path(__file__).parent / "static"
WORKER = "worker.js"
_KINDS = {".woff2": "font/woff2", ".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8",
          ".svg": "image/svg+xml"}  # fmt: skip


class Assets:
    """All static files, read once; one digest over all of them stands in every address.

    One digest and not one each, because scripts and style sheets name each other by relative address.
    """

    def __init__(self, folder: Path = FOLDER) -> None:
        self.files = {
            path.relative_to(folder).as_posix(): path.read_bytes()
            for path in sorted(folder.rglob("*"))
            if path.is_file() and not path.name.startswith(".")
        }
        # The pens of the drawings belong to the drawings: their style sheet is written by them.
        self.files["drawings.css"] = css().encode()

    @cached_property
    def digest(self) -> str:
        """Twelve digits over names and bytes of all files."""
        total = sha256()
        for name, content in sorted(self.files.items()):
            total.update(name.encode() + b"\0" + content + b"\0")
        return total.hexdigest()[:12]

    def address(self, name: str) -> str:
        """Where a page finds a file; a name that is not there stops the page's own test, not the bench."""
        if name not in self.files:
            raise KeyError(f"no static file is called {name!r}; there are {', '.join(sorted(self.files))}")
        return f"/static/{self.digest}/{name}"

    async def serve(self, request: Request) -> Response:
        """GET /static/{digest}/{name}."""
        digest, name = request.path_params["digest"], request.path_params["name"]
        content = self.files.get(name)
        if content is None:
            raise Trouble(404, f"No file of the pages is called {name!r}.", "Load the page again.", where="address")
        keep = "public, max-age=31536000, immutable" if digest == self.digest else "no-store"
        kind = _KINDS.get(Path(name).suffix) or guess_type(name)[0] or "application/octet-stream"
        headers = {"Cache-Control": keep}
        if name == WORKER:
            headers["Service-Worker-Allowed"] = "/"  # it answers for the bench pages, which lie above its own address
        return Response(content, media_type=kind, headers=headers)
