"""Verification in a real browser: conditions and the way to the bench by keys alone, and nothing runs off a phone."""

from itertools import count

import pytest

from desk.sheets import tern
from desk.verifying import read_together
from desk.worked import Desk
from shell.web.browser import browsing, served
from shell.web.worked import DAY
from witnessmark.shell.store.store import Store
from witnessmark.shell.web.app import create_app

pytestmark = [pytest.mark.browser, pytest.mark.slow]


def test_conditions_and_the_way_to_the_bench_by_keys_alone(tmp_path):
    store, numbers = Store.open(tmp_path), count(1)
    tried = Desk("wren")
    read_together(tried, cranking_compression="600 kPa")
    for name, log in (("wren", tried.log), ("bare", Desk("wren").log)):
        store.create(name, created_at=DAY, title=name, events=tuple(log))
    app = create_app(store, tern.catalogue(), lambda: "2026-12-01T10:00:00Z", lambda: f"n{next(numbers):09d}")
    with served(app) as address, browsing() as browser:
        page = browser.new_page(viewport={"width": 1280, "height": 800})
        page.goto(f"{address}/jobs/wren/verify")
        for name, text in (("altitude", "1000 ft"), ("inlet_closes", "40"), ("orifice", "0.040 in")):
            page.focus(f"#c-{name}")
            page.keyboard.type(text)
        page.keyboard.press("Enter")
        page.wait_for_function("document.getElementById('c-orifice').defaultValue === '0.040 in'")
        assert store.job("wren").conditions["altitude"] == "1000 ft"
        assert "0.44 mm²" in page.inner_text(".tests")
        page.goto(f"{address}/jobs/bare/verify")
        page.focus(".waits a")
        page.keyboard.press("Enter")
        page.wait_for_selector("#station")
        place = page.eval_on_selector("#station", "one => [one.dataset.characteristic, one.dataset.place]")
        assert place == ["cranking_compression", "chamber-1"]
        assert "as assembled" in page.inner_text("body")
        for scheme in ("light", "dark"):
            phone = browser.new_page(viewport={"width": 390, "height": 844}, color_scheme=scheme)
            phone.goto(f"{address}/jobs/wren/verify")
            assert phone.evaluate("document.documentElement.scrollWidth") == 390
            small = phone.evaluate("""[...document.querySelectorAll('main a, main button, main input, main select')]
                .filter(one => one.type !== 'hidden' && one.getBoundingClientRect().height < 43.5).map(one => one.outerHTML)""")
            assert small == []
            phone.close()
    store.close()
