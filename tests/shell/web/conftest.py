"""The half measured job that most tests of the pages begin with; a file that needs another one makes its own."""

import pytest

from shell.web.shop import Shop


@pytest.fixture
def shop(tmp_path):
    shop = Shop(tmp_path)
    shop.open_job()
    shop.measure()
    yield shop
    shop.store.close()
