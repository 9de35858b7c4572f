"""A job closed by keys alone in a real browser, and the sheet held against the rules of access at both sizes."""

from itertools import count

import pytest
from axe_playwright_python.sync_playwright import Axe

from shell import closed
from shell.web.browser import browsing, served
from witnessmark.record.proof import proof
from witnessmark.shell.resources import catalogue
from witnessmark.shell.web.app import create_app

pytestmark = [pytest.mark.browser, pytest.mark.slow]


def to(page, id, most=60):
    """Tab until the element with this id has the hand."""
    for _ in range(most):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement?.id") == id:
            return
    raise AssertionError(f"no Tab leads to {id}")


def test_a_job_is_closed_by_keys_alone(tmp_path):
    store = closed.fill(tmp_path)
    numbers = count(1)
    app = create_app(store, catalogue(), lambda: closed.NOW, lambda: f"n{next(numbers):09d}")
    with served(app) as address, browsing() as browser:
        page = browser.new_context(viewport={"width": 1280, "height": 800}).new_page()
        faults = []
        page.on("pageerror", lambda error: faults.append(str(error)))
        page.goto(f"{address}/jobs/{closed.JOB}/record")
        to(page, "closing-by")
        page.keyboard.type("R. P.")
        page.keyboard.press("Enter")
        page.wait_for_selector(".closing .faults")
        assert page.evaluate("document.activeElement.id") == "closing-note", "the hand is where something is wanted"
        page.keyboard.type("the customer takes it home as it is")
        to(page, "close-job")
        page.keyboard.press("Enter")
        page.wait_for_url("**/record#closing")
        (one,) = proof(store.events(closed.JOB)).closings
        assert one.sound and one.event.by == "R. P."
        assert page.locator(".closing .hash span").all_inner_texts() == [one.hash[at:at + 4].upper() for at in range(0, 64, 4)]
        for width, height in ((1280, 800), (390, 844)):
            page.set_viewport_size({"width": width, "height": height})
            assert page.evaluate("document.documentElement.scrollWidth") <= width
            found = Axe().run(page, options={"runOnly": ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]})
            assert not found.response["violations"], found.generate_report()
        assert not faults
    store.close()
