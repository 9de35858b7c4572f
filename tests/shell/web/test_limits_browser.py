"""The limits sheet in a real browser: ten limits in inch by keyboard alone, and two devices on one entry."""

import pytest

from shell.web.browser import browsing, served
from shell.web.shop import JOB, Shop

pytestmark = [pytest.mark.browser, pytest.mark.slow]


@pytest.fixture
def bench(tmp_path):
    shop = Shop(tmp_path)
    shop.open_job(limits="")
    with served(shop.app()) as address, browsing() as browser:
        yield shop, f"{address}/jobs/{JOB}/limits", browser
    shop.store.close()


def test_ten_limits_in_inch_are_typed_by_keyboard_alone(bench):
    shop, address, browser = bench
    page = browser.new_page()
    page.goto(f"{address}?entry=stem_diameter;inl;;;#entry-low")
    for n in range(10):
        page.wait_for_selector("#entry-low:focus, #entry-high:focus")
        page.keyboard.type(f"{0.2 + n / 1000:.4f}")
        if n == 0:
            page.keyboard.press("Tab")
            for _ in range(3):
                page.keyboard.press("Tab")
            page.keyboard.type("in")
            page.keyboard.press("Tab")
            page.keyboard.type("41")
        with page.expect_navigation():
            page.keyboard.press("Enter")
    limits = shop.state().sheet.limits
    assert len(limits) == 10 and {one.page for one in limits} == {"41"}
    assert {one.unit for one in limits if one.characteristic != "face_angle"} == {"in"}  # an angle has its own unit
    page.close()


def test_what_two_devices_type_for_one_entry_is_told_to_the_second_and_stays_in_its_blanks(bench):
    shop, address, browser = bench
    one, two = (browser.new_context().new_page() for _ in range(2))
    for page in (one, two):
        page.goto(f"{address}?entry=margin;;;;#entry-low")
    for page, said in ((one, "0.8"), (two, "0.9")):
        page.fill("#entry-low", said)
        page.press("#entry-low", "Enter")
        page.wait_for_load_state()
    assert "stands" in two.inner_text("#amiss") or "another device" in two.inner_text("#amiss")
    assert two.input_value("#entry-low") == "0.9"
    assert [limit.low_text for limit in shop.state().sheet.limits] == ["0.8"]
