"""A real Chromium on the pages of an invented job, and a server for it in a thread of this process."""

import os
import shutil
import socket
import threading
from contextlib import contextmanager

import pytest
import uvicorn

ARGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
        "--disable-component-update", "--disable-sync"]  # fmt: skip


def chromium():
    """The browser's path. Without one the test says so loudly; on CI that is a failure."""
    path = shutil.which("chromium") or shutil.which("google-chrome")
    if path is None and os.environ.get("CI"):
        pytest.fail("no Chromium here, so the pages were not tested in a browser: install it")
    if path is None:
        pytest.skip("NO CHROMIUM HERE: the pages were not tested in a browser")
    return path


@contextmanager
def served(app):
    """The application on a free port; gives its address and the server."""
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP) as free:  # TCP_NODELAY needs its name
        free.bind(("127.0.0.1", 0))
        server = uvicorn.Server(uvicorn.Config(app, log_level="error", timeout_graceful_shutdown=1))
        thread = threading.Thread(target=server.run, kwargs={"sockets": [free]})
        thread.start()
        try:
            yield f"http://127.0.0.1:{free.getsockname()[1]}"
        finally:
            server.should_exit = True
            thread.join(15)


@contextmanager
def browsing():
    """A browser."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=chromium(), args=ARGS)
        try:
            yield browser
        finally:
            browser.close()
