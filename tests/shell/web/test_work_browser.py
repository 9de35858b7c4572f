"""Work, plan and order in a real browser: by keys alone, and each step moves drawing and ledger at once."""

import re

import pytest

from desk.sheets import tern
from shell.web.browser import browsing, served
from shell.web.worked import DAY
from witnessmark.shell.demo import demo_events
from witnessmark.shell.store.store import Store
from witnessmark.shell.web.app import create_app

pytestmark = [pytest.mark.browser, pytest.mark.slow]
NOW = "2026-11-25T10:00:00Z"


@pytest.fixture(scope="module")
def shop(tmp_path_factory):
    from itertools import count

    store = Store.open(tmp_path_factory.mktemp("store"))
    for name in ("tern", "wren"):
        store.create(name, created_at=DAY, title=name, events=demo_events(name))
    numbers = count(1)
    app = create_app(store, tern.catalogue(), lambda: NOW, lambda: f"n{next(numbers):09d}")
    with served(app) as address, browsing() as browser:
        yield store, address, browser
    store.close()


@pytest.fixture
def page(shop):
    _, address, browser = shop
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    faults = []
    made = context.new_page()
    made.on("pageerror", lambda error: faults.append(str(error)))
    made.address = address
    yield made
    assert not faults
    context.close()


def value(page, term, column):
    """before (1) or predicted (2) of a row of the ledger."""
    cell = page.locator(".ledger tbody tr", has=page.locator("summary", has_text=re.compile(f"^{term}"))).first
    return cell.locator("td").nth(column - 1).inner_text().split("\n")[0]


def to_key(page, name, most=120):
    """Tab until the key with this data-key has the hand."""
    for _ in range(most):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement?.dataset.key") == name:
            return
    raise AssertionError(f"no Tab leads to {name}")


def pressed(page):
    with page.expect_response(lambda answer: "/intended/" in answer.url):
        page.keyboard.press("Enter")
    page.wait_for_function("() => document.getElementById('main').getAttribute('aria-busy') !== 'true'")


def test_a_step_by_key_moves_drawing_and_ledger_and_the_hand_stays_on_its_key(page):
    page.goto(f"{page.address}/jobs/tern/intended?valve=inl-4f")
    found = value(page, "stem height", 1)
    page.locator("summary", has_text="stem height").first.click()
    to_key(page, "seat_cut +")
    for n in range(1, 4):
        pressed(page)
        assert page.evaluate("document.activeElement?.dataset.key") == "seat_cut +"
        assert float(value(page, "stem height", 2)) == pytest.approx(float(found) + 0.05 * n)
        assert f"stem height {float(found) + 0.05 * n:.2f}" in page.locator(".drawing svg title").first.text_content()
    opened = page.locator("details[open] summary").first.inner_text()
    assert opened.startswith("stem height"), "what was open stays open"


def test_what_crosses_a_limit_is_said_to_who_does_not_see_it(page):
    page.goto(f"{page.address}/jobs/tern/intended?valve=inl-1f")
    to_key(page, "seat_cut +")
    for _ in range(12):
        pressed(page)
        if "Stem height" in page.locator("#said").text_content():
            break
    told = page.locator("#said").text_content()
    assert "Stem height Inl 1F" in told and "seat cut" in told and "44.25" in told


def test_from_the_judged_head_to_the_order_by_keys_alone(page, shop):
    store, _, _ = shop
    page.goto(f"{page.address}/jobs/wren/decide")

    def follow(words):
        for _ in range(200):
            page.keyboard.press("Tab")
            if (page.evaluate("document.activeElement?.textContent?.trim()") or "") == words:
                with page.expect_navigation():
                    page.keyboard.press("Enter")
                return
        raise AssertionError(f"no Tab leads to {words}")

    follow("intended work")
    assert page.url.endswith("/jobs/wren/intended")
    follow("plan")
    first = page.locator(".step h2").all_inner_texts()
    assert any(title.startswith("Cut the seat") for title in first)
    for _ in range(100):  # the fold of the step that is to go
        page.keyboard.press("Tab")
        title = page.evaluate("document.activeElement?.closest('.step')?.querySelector('h2')?.textContent || ''")
        if title.startswith("Cut the seat") and page.evaluate("document.activeElement.tagName") == "SUMMARY":
            page.keyboard.press("Enter")
            break
    follow("plan without it")
    assert not any(title.startswith("Cut the seat") for title in page.locator(".step h2").all_inner_texts())
    follow("let go")
    assert page.locator(".step h2").all_inner_texts() == first
    follow("order A")
    assert store.job("wren").order["name"] == "A"
    follow("order")
    assert page.url.endswith("/jobs/wren/order") and "ordered" in page.inner_text("#main .setup-title")


@pytest.mark.parametrize("size", [(1280, 800), (390, 844)])
@pytest.mark.parametrize("light", ["light", "dark"])
def test_nothing_on_them_spills_or_covers(shop, size, light):
    _, address, browser = shop
    context = browser.new_context(viewport={"width": size[0], "height": size[1]}, color_scheme=light)
    made = context.new_page()
    for sheet in ("intended", "intended?view=head", "plan", "order"):
        made.goto(f"{address}/jobs/tern/{sheet}")
        assert made.evaluate("document.documentElement.scrollWidth") <= size[0], sheet
        assert not made.evaluate(CUT_OFF), sheet
    context.close()


# Cells whose letters do not fit: wider inside than out, where nothing scrolls.
CUT_OFF = """[...document.querySelectorAll("#main td, #main th, #main .key, #main .amount")]
  .filter(one => one.getClientRects().length && one.scrollWidth > one.clientWidth + 1 && !one.closest(".scrolls"))
  .map(one => one.textContent.trim().slice(0, 40))"""


def test_the_head_comes_back_is_measured_again_and_what_the_work_does_not_explain_is_flagged(page, shop):
    store, address, _ = shop
    store.create("HL-0149", created_at=DAY, title="Wren", events=demo_events("wren"))
    page.request.post(f"{address}/api/jobs/HL-0149/order", data={"id": "order-wren", "name": "A"})
    page.goto(f"{address}/jobs/HL-0149/order")
    page.get_by_role("link", name="measure again").click()
    assert "re-measure 0 of" in page.inner_text(".jobline")
    rows = page.request.get(f"{address}/api/jobs/HL-0149/ledger").json()["rows"]
    expected = {one["location"]: one["predicted"] for one in rows if one["characteristic"] == "installed_height"}
    readings = {"inl-1": expected["inl-1"], "exh-1": expected["exh-1"] + 0.30}
    for place, value in readings.items():
        page.goto(f"{address}/jobs/HL-0149/bench?characteristic=installed_height&place={place}&round=back%20from%20machining")
        page.keyboard.type(f"{value:.2f}")
        page.keyboard.press("Enter")
        page.wait_for_function("() => document.querySelector('#titleblock')?.textContent.includes('kept')")
        page.wait_for_timeout(300)
    assert [one.round for one in store.job("HL-0149").readings][-2:] == ["back from machining"] * 2
    page.goto(f"{address}/jobs/HL-0149/order")
    told = {row.split("\t")[1]: row for row in page.locator("#before-and-after ~ .scrolls tr").all_inner_texts()
            if row.startswith("spring installed height")}  # fmt: skip
    assert "not explained" in told["Exh 1"] and "not explained" not in told["Inl 1"]
