"""Servers for the timing of posts, in a process of their own: the real application, and one that only stores.

python -m benchmarks.server real|bare FOLDER PORT
"""

import secrets
import sys
from pathlib import Path
from typing import Any

from witnessmark.record.event import Event
from witnessmark.shell.cli.serving import now, take_demo
from witnessmark.shell.store.store import Store

JOB = "HL-0147"


def bare(store: Store) -> Any:
    """Stores the same row, durable before it answers, and answers nothing."""
    import json

    from starlette.applications import Starlette
    from starlette.concurrency import run_in_threadpool
    from starlette.requests import Request
    from starlette.responses import Response
    from starlette.routing import Route

    async def line(request: Request) -> Response:
        came = (await request.body()).decode()
        sent = json.loads(came)
        event = Event(sent["id"], "reading_taken", sent["row"], now(), "", "bench", sent["device_seq"], came)
        await run_in_threadpool(store.append, JOB, (event,), now())
        return Response(status_code=204)

    return Starlette(routes=[Route("/line", line, methods=["POST"])])


def main(kind: str, folder: str, port: int) -> None:
    """Serve until the process is ended."""
    from witnessmark.shell.resources import catalogue
    from witnessmark.shell.web.app import create_app, serve

    store = Store.open(Path(folder))
    if not store.jobs():
        take_demo(store)
    app = bare(store) if kind == "bare" else create_app(store, catalogue(), now, lambda: secrets.token_hex(12))
    serve(app, port)


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], int(sys.argv[3]))
