"""The bench page in a real browser: keys, pad, a gauge's burst, a second page, the store away and back."""

import time

import pytest

from shell.web.browser import served
from shell.web.shop import JOB

pytestmark = [pytest.mark.browser, pytest.mark.slow]
HERE = f"/jobs/{JOB}/bench?characteristic=stem_diameter&place=inl-3f/middle/across"
WIDE, PHONE = {"width": 1280, "height": 800}, {"width": 390, "height": 844}


@pytest.fixture
def address(shop):
    with served(shop.app()) as address:
        yield address


@pytest.fixture
def page(browser, address):
    context = browser.new_context(viewport=WIDE)
    page = context.new_page()
    page.set_default_timeout(6000)
    told = []
    page.on("console", lambda message: told.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: told.append(str(error)))
    page.goto(address + HERE)
    page.told = told
    yield page
    context.close()
    assert not told, told


PALM = """() => {
  const touch = (key, pointerId, kind) => {
    const at = document.querySelector(`.pad [data-key='${key}']`);
    const { x, y } = at.getBoundingClientRect();
    const more = { bubbles: true, pointerId, pointerType: "touch", clientX: x + 9, clientY: y + 9 };
    at.dispatchEvent(new PointerEvent(kind, more));
  };
  touch("1", 11, "pointerdown"); touch("2", 12, "pointerdown");
  touch("1", 11, "pointerup"); touch("2", 12, "pointerup");
}"""


def type_(page, text):
    page.keyboard.type(text)
    page.keyboard.press("Enter")


def until(page, script, *more, seconds=5.0):
    """Ask until it holds. The page forbids what the driver's own waiting needs: evaluating text."""
    end = time.monotonic() + seconds
    while not page.evaluate(script, *more):
        assert time.monotonic() < end, f"{script} never held; the page says {page.inner_text('#act')!r}"
        time.sleep(0.03)


def at(page, name, detail, echo=""):
    until(page, "([n, d, e]) => document.querySelector('#station b').textContent === n"
          " && document.querySelector('#station span').textContent === d"
          " && document.getElementById('echo').textContent.includes(e)", [name, detail, echo])  # fmt: skip


def readings(shop):
    return [(r.place, r.raw, r.state) for r in shop.store.job(JOB).readings if r.device != "d-setup"]


def test_a_number_with_enter_is_kept_and_the_walk_goes_on(shop, page):
    type_(page, "5.951")
    at(page, "Inl 3F", "bottom, along", "5.951 kept as it came, by M-07")
    until(page, "document.querySelector('.row.now .wd').textContent.includes('so far, 4 of 6')")
    assert readings(shop) == [("inl-3f/middle/across", "5.951", "counted")]


def test_a_burst_of_twenty_a_second_with_double_enter_loses_and_doubles_nothing(shop, page):
    values = [f"5.9{n:02d}" for n in range(50, 65)]
    for value in values:
        page.keyboard.type(value)
        page.keyboard.press("Enter")
        page.keyboard.press("Enter")
    at(page, "Inl 4R", "top, along", "5.964 kept")
    kept = readings(shop)
    assert [raw for _, raw, _ in kept] == values
    assert len({place for place, _, _ in kept}) == len(values), "each went to its own station"


def test_what_cannot_be_read_stays_with_its_bad_part_waved_and_goes_at_the_next_character(page):
    type_(page, "5..952")
    page.wait_for_selector("#raw u")
    assert page.inner_text("#under").strip().endswith("Two points. Rub one out.")
    page.keyboard.type("5")
    assert page.inner_text("#raw").strip("\u200b") == "5"
    assert page.is_hidden("#under")


def test_two_meanings_are_asked_below_the_line_and_one_key_answers(shop, page):
    type_(page, "2 tenths")
    page.wait_for_selector("#under [data-key='*1']")
    page.click("#under [data-key='*1']")
    at(page, "Inl 3F", "bottom, along")
    assert shop.store.job(JOB).readings[-1].answered == 0


def test_a_number_on_a_row_reached_by_the_arrows_is_a_correction_with_one_digit_for_the_reason(shop, page):
    page.keyboard.press("ArrowLeft")
    at(page, "Inl 3F", "middle, along")
    until(page, "document.getElementById('station').dataset.was === '5.952'")
    type_(page, "5.953")
    page.wait_for_selector("#under [data-key='!1']")
    type_(page, "3")
    at(page, "Inl 3F", "middle, across", "dirt kept as the reason")
    states = {r.raw: r.state for r in shop.store.job(JOB).readings if r.place == "inl-3f/middle/along"}
    assert states == {"5.952": "superseded", "5.953": "counted"}


def test_keys_of_a_numeric_pad_alone_take_back_leave_out_and_answer(shop, page):
    type_(page, "5.951")
    at(page, "Inl 3F", "bottom, along", "kept")
    type_(page, "*")
    at(page, "Inl 3F", "middle, across", "taken back")
    type_(page, "-")
    at(page, "Inl 3F", "bottom, along", "not measured")
    type_(page, "*1")
    until(page, "!document.querySelector('.ask')")
    assert not shop.store.job(JOB).questions


def test_the_display_unit_changes_and_the_unit_of_the_line_does_not(page):
    type_(page, "/")
    until(page, "document.querySelector('.row .val').firstChild.textContent === '0.2347'")
    assert page.inner_text("#unit") == "mm"


def test_a_second_page_shows_what_the_first_one_keeps(browser, address, page):
    other = browser.new_context(viewport=WIDE)
    second = other.new_page()
    second.goto(address + HERE)
    type_(page, "5.951")
    until(second, "document.querySelector('.row.now .wd').textContent.includes('4 of 6')", seconds=2.5)
    other.close()


def test_what_is_typed_while_the_store_is_away_waits_dashed_and_goes_once(shop, page):
    page.context.set_offline(True)
    type_(page, "5.951")
    until(page, "document.getElementById('echo').textContent.includes('waits')")
    assert "wait" in page.get_attribute("#echo", "class")
    page.context.set_offline(False)
    at(page, "Inl 3F", "bottom, along", "kept as it came")
    page.reload()
    page.wait_for_timeout(300)
    assert [raw for _, raw, _ in readings(shop)] == ["5.951"]
    page.told.clear()  # the browser tells each request that found nobody


def test_a_comparing_gauge_asks_first_what_it_was_set_to(shop, page, address):
    page.goto(f"{address}/jobs/{JOB}/bench?characteristic=guide_bore&place=inl-1f/top/along&gauge=B-02")
    page.fill("#setting-form [name=set_to]", "6.000")
    page.fill("#setting-form [name=set_with]", "M-07")
    page.click("#setting-form button")
    until(page, "!document.getElementById('unset')")
    assert [setting.set_to for setting in shop.store.job(JOB).settings.values()] == ["6.000"]


def test_a_limit_is_typed_where_it_is_missing_and_never_in_the_way(shop, page, address):
    page.goto(f"{address}/jobs/{JOB}/bench?characteristic=seat_width&place=exh-1f/1")
    page.click("#where h1")
    page.keyboard.press("Escape")
    type_(page, "1.6")
    at(page, "Exh 1F", "place 2", "1.6 kept")
    page.fill("#limit-form [name=low]", "2.0")
    page.fill("#limit-form [name=high]", "1.4")
    page.click("#limit-form button:not([type])")
    until(page, "document.getElementById('limit-told').textContent.includes('cannot be taken')")
    page.fill("#limit-form [name=low]", "1.4")
    page.fill("#limit-form [name=high]", "2.0")
    page.click("#limit-form button:not([type])")
    until(page, "!document.getElementById('limitless')")
    assert any(limit.characteristic == "seat_width" for limit in shop.state().sheet.limits)
    page.told.clear()  # the browser tells the answer 422


def test_the_gauge_is_changed_in_place(page):
    page.click("#cell-gauge")
    page.click("[data-set=gauge][data-value=M-11]")
    until(page, "document.getElementById('unit').textContent === 'in'")
    assert "bench" in page.url
    type_(page, "0.2344")
    at(page, "Inl 3F", "bottom, along", "by M-11")


def test_the_pad_keeps_a_reading_by_touch_and_drops_a_palm(shop, browser, address):
    context = browser.new_context(viewport=PHONE, has_touch=True)
    page = context.new_page()
    page.goto(address + HERE)
    for key in "5.951":
        page.tap(f".pad [data-key='{key}']")
    page.tap("[data-key=keep]")
    at(page, "Inl 3F", "bottom, along", "5.951 kept")
    page.evaluate(PALM)
    assert page.inner_text("#raw").strip("\u200b") == ""
    assert [raw for _, raw, _ in readings(shop)] == ["5.951"]
    context.close()


@pytest.mark.parametrize("size", [WIDE, PHONE], ids=["wide", "phone"])
def test_nothing_scrolls_and_every_key_is_large_enough(browser, address, size):
    context = browser.new_context(viewport=size)
    page = context.new_page()
    page.goto(address + HERE)
    box = page.evaluate("() => [document.documentElement.scrollWidth, document.documentElement.scrollHeight]")
    assert box == [size["width"], size["height"]]
    small = page.evaluate("""() => [...document.querySelectorAll('.key,.row,.titleblock button')]
        .filter((k) => k.offsetParent).map((k) => [k.textContent.trim(), k.offsetWidth, k.offsetHeight])
        .filter(([, w, h]) => w < 50 || h < 52)""")
    assert not small
    context.close()


def test_the_page_holds_against_the_rules_for_everybody(page):
    from axe_playwright_python.sync_playwright import Axe

    found = Axe().run(page).response["violations"]
    assert not found, [(one["id"], [node["target"] for node in one["nodes"]][:3]) for one in found]
