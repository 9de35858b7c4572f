"""What the device holds of the bench page itself: loaded again without the store, one state of the files, no more."""

import pytest

from shell.web.away import Serving
from shell.web.shop import JOB, Shop
from shell.web.waiting import BOX, HELD, HERE, WIDE, echo, opened, type_, typed, until
from witnessmark.shell.store.store import Store

pytestmark = [pytest.mark.browser, pytest.mark.slow]


def test_the_bench_is_loaded_again_while_the_store_is_away_and_goes_on_where_the_hand_was(tmp_path, browser):
    shop = Shop(tmp_path)
    shop.open_job()
    shop.measure()
    shop.store.close()
    serving = Serving(tmp_path)
    context = browser.new_context(viewport=WIDE)
    serving.begin()
    try:
        page = opened(context, serving.address)
        until(page, HELD, seconds=10)
        serving.kill()
        type_(page, "5.951", "5.950")
        until(page, f"async () => {{ const [w] = await ({BOX})(); return w.length === 2; }}")
        page.reload()
        until(page, "document.querySelector('#station span').textContent === 'bottom, across'")
        type_(page, "5.949")
        echo(page, "2 more wait")
        serving.begin()
        echo(page, "5.949 kept as it came", seconds=20)
    finally:
        context.close()
        serving.kill()
    store = Store.open(tmp_path)
    places = [(reading.raw, reading.place.removeprefix("inl-3f/")) for reading in typed(store)]
    assert places == [("5.951", "middle/across"), ("5.950", "bottom/along"), ("5.949", "bottom/across")]
    store.close()


def test_the_device_holds_one_state_of_the_files_and_nothing_that_the_store_says(context, address):
    page = opened(context, address)
    until(page, HELD, seconds=10)
    held = page.evaluate("""async () => {
      const names = await caches.keys();
      const found = await Promise.all(names.map(async (name) => (await (await caches.open(name)).keys()).map((one) => one.url)));
      return [names, found.flat()];
    }""")
    names, found = held
    digest = page.get_attribute("link[rel=stylesheet]", "href").split("/")[2]
    assert names == [f"bench-{digest}"]
    assert all(f"/static/{digest}/" in url or url.endswith(f"/jobs/{JOB}/bench") for url in found), found
    wanted = {
        f"{address}/static/{digest}/{name}" for name in ("entry.js", "outbox.js", "box.js", "bench.css", "style.css")
    }
    assert wanted <= set(found)


def test_files_of_an_older_state_are_let_go(context, address):
    page = context.new_page()
    page.goto(f"{address}/jobs")
    page.evaluate("caches.open('bench-000000000000').then(() => undefined)")
    page.goto(address + HERE)
    until(page, HELD, seconds=10)
    until(page, "async () => !(await caches.keys()).includes('bench-000000000000')", seconds=10)


def test_a_page_that_was_never_looked_at_is_not_made_up(context, address):
    page = opened(context, address)
    until(page, HELD, seconds=10)
    context.set_offline(True)
    from playwright.sync_api import Error

    with pytest.raises(Error, match="ERR_"):
        page.goto(f"{address}/jobs/{JOB}/head")
    context.set_offline(False)
