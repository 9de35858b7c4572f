"""The tightening sheet in a real browser: Enter alone walks the pattern, a bounce turns nothing, another bench is seen."""

from itertools import count

import pytest

from desk.sheets import tern
from shell.web.browser import browsing, served
from shell.web.worked import DAY
from witnessmark.shell.demo import demo_events
from witnessmark.shell.store.store import Store
from witnessmark.shell.web.app import create_app

pytestmark = [pytest.mark.browser, pytest.mark.slow]
NOW = "2026-11-26T10:00:00Z"
SAW = '[name="saw"]'
READY = "() => document.activeElement?.name === 'line' || document.activeElement?.matches('.key')"


@pytest.fixture(scope="module")
def shop(tmp_path_factory):
    store = Store.open(tmp_path_factory.mktemp("store"))
    store.create("wren", created_at=DAY, title="wren", events=demo_events("wren"))
    numbers = count(1)
    app = create_app(store, tern.catalogue(), lambda: NOW, lambda: f"n{next(numbers):09d}")
    with served(app) as address, browsing() as browser:
        yield store, address, browser
    store.close()


@pytest.fixture
def bench(shop):
    """Opens the sheet on a bench of its own."""
    _, address, browser = shop
    made, faults = [], []

    def open_(by):
        context = browser.new_context(viewport={"width": 1280, "height": 800})
        context.add_cookies([{"name": "by", "value": by, "url": address}])
        made.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: faults.append(str(error)))
        page.goto(f"{address}/jobs/wren/tighten/head")
        return page

    yield open_
    for context in made:
        context.close()
    assert not faults


def enter(page, text=""):
    """Type and press Enter once the sheet takes keys; the next sheet."""
    page.wait_for_function(READY)
    page.wait_for_timeout(450)  # a bare Enter sooner than this is a bounce
    with page.expect_navigation():
        page.keyboard.type(text)
        page.keyboard.press("Enter")


def test_keys_alone_from_begin_to_tight_and_two_benches_see_each_other(shop, bench):
    store, _, _ = shop
    page, other = bench("J. M."), bench("A. T.")
    page.locator("button[value=tighten]").focus()
    enter(page)
    enter(page)
    assert page.locator(SAW).first.get_attribute("value") == "1.2"
    other.wait_for_function("() => document.querySelector('[name=saw]')?.value === '1.2'")  # it followed by itself

    page.wait_for_timeout(450)
    page.evaluate("() => { const form = document.getElementById('press'); form.requestSubmit(); form.requestSubmit(); }")
    page.wait_for_function("() => document.querySelector('[name=saw]')?.value === '1.3'")
    page.wait_for_load_state()
    page.evaluate("() => document.getElementById('press').requestSubmit()")  # at once: a bounce
    turned = [event for event in store.events("wren") if event.kind == "bolt_turned"]
    assert [(one.body["stage"], one.body["bolt"]) for one in turned] == [("1", "1"), ("1", "2")]

    enter(page, "-")
    assert "does not count as tight" in page.locator(".note").inner_text() or page.locator(".choices").count()
    page.locator(".choices .key").last.focus()
    enter(page)
    for _ in range(6):
        enter(page)
    assert "All 4 bolts are through their last stage." in page.locator(".note").inner_text()
    enter_back = page.locator(".rest .key").first
    enter_back.focus()
    enter(page)
    assert page.locator(SAW).first.get_attribute("value") == "2.4"
