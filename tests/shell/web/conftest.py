"""The half measured job that most tests of the pages begin with; a file that needs another one makes its own."""

import pytest

from shell.web.away import Gate
from shell.web.browser import served
from shell.web.shop import Shop
from shell.web.waiting import WIDE


@pytest.fixture
def shop(tmp_path):
    shop = Shop(tmp_path)
    shop.open_job()
    shop.measure()
    yield shop
    shop.store.close()


@pytest.fixture
def gate(shop):
    return Gate(shop.app())


@pytest.fixture
def address(gate):
    with served(gate) as address:
        yield address


@pytest.fixture
def context(browser, address):
    del address  # the pages are closed before their server is
    context = browser.new_context(viewport=WIDE)
    yield context
    context.close()
