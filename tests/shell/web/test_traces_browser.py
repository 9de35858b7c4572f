"""The sheet of traces in a real browser: files by the file blank, a bolt by the keys alone, nothing off a phone."""

import pytest

from desk.sheets import tern
from desk.test_traces import csv
from desk.worked import Desk
from shell.web.browser import browsing, served
from shell.web.worked import DAY
from witnessmark.desk import tighten
from witnessmark.desk.traces import enter_trace
from witnessmark.shell.store.store import Store
from witnessmark.shell.web.app import create_app

pytestmark = [pytest.mark.browser, pytest.mark.slow]


def test_a_file_is_sent_and_a_bolt_chosen_by_keys(tmp_path):
    desk = Desk("wren")
    desk.do(tighten.begin, "head")
    for n in (1, 2, 3):
        desk.do(enter_trace, csv(n), f"{n}.csv", str(n), "tighten:head:1")
    store = Store.open(tmp_path / "store")
    store.create("wren", created_at=DAY, title="wren", events=tuple(desk.log))
    app = create_app(store, tern.catalogue(), lambda: "2026-12-01T10:00:00Z", lambda: "n1")
    (tmp_path / "bolt-4.csv").write_text(csv(4), "utf-8")
    with served(app) as address, browsing() as browser:
        page = browser.new_page(viewport={"width": 390, "height": 844})
        page.goto(f"{address}/jobs/wren/tighten/head/traces")
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
        small = page.eval_on_selector_all(
            "main a, main button, main input:not([type=hidden]), main summary",
            "all => all.filter(one => one.getBoundingClientRect().height < 56).map(one => one.outerHTML)")  # fmt: skip
        assert small == []
        page.set_input_files("input[type=file]", tmp_path / "bolt-4.csv")
        page.focus(".send .main")
        page.keyboard.press("Enter")
        page.wait_for_selector(".told-of b:has-text('bolt 4')")
        page.focus(".by-bolt tbody tr:nth-child(2) a")
        page.keyboard.press("Enter")
        page.wait_for_selector(".told-of b:has-text('bolt 2')")
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert [one.bolt for one in store.job("wren").traces] == ["1", "2", "3", "4"]
    store.close()
