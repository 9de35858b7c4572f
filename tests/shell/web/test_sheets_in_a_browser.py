"""Start and head sheets in a real browser: the pick by arrows, and what another hand writes."""

import pytest

from desk.sheets.tern import reading
from shell.web.bench import HEAD, NOW, bench
from shell.web.browser import browsing, served

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def sheet(tmp_path_factory):
    store_at = tmp_path_factory.mktemp("store")
    with bench(store_at) as (client, store), served(client.app) as address, browsing() as browser:
        page = browser.new_page(viewport={"width": 1280, "height": 800})
        told = []
        page.on("console", lambda message: told.append(message.text))
        page.on("pageerror", lambda error: told.append(str(error)))
        yield page, address, store
        assert not told


def test_arrows_walk_over_the_valves_and_enter_turns_to_the_values(sheet):
    page, address, _ = sheet
    page.goto(f"{address}/jobs/{HEAD}/head")
    page.keyboard.press("ArrowRight")
    page.wait_for_selector('[data-valve="inl-1f"][aria-current]')
    page.keyboard.press("ArrowRight")
    page.wait_for_selector('[data-valve="inl-1r"][aria-current]')
    assert page.url.endswith("valve=inl-1r")
    page.keyboard.press("Enter")
    page.wait_for_selector("text=5.931 is 0.009 under the least 5.940 you entered")
    page.keyboard.press("Enter")
    page.wait_for_selector("#face")


def test_the_head_at_a_glance_needs_no_scrolling(sheet):
    page, address, _ = sheet
    page.goto(f"{address}/jobs/{HEAD}/head?valve=exh-3f")
    heights = page.evaluate(
        "[document.querySelector('main').scrollHeight, document.querySelector('main').clientHeight]"
    )
    assert heights[0] <= heights[1]


def test_a_column_stands_under_its_cylinder_and_the_leader_ends_over_it(sheet):
    page, address, _ = sheet
    page.goto(f"{address}/jobs/{HEAD}/head?valve=exh-3f")
    column, leader = page.evaluate("""() => {
      const head = document.querySelector('thead .pick').getBoundingClientRect();
      const lines = [...document.querySelectorAll('#face path.wm-thin')].map(one => {
        const end = one.getPointAtLength(one.getTotalLength()).matrixTransform(one.getScreenCTM());
        return [end.x, end.y, head.top - end.y];
      });
      const near = lines.sort((a, b) => Math.abs(a[2]) - Math.abs(b[2]))[0];
      return [head.left + head.width / 2, near];
    }""")
    assert abs(column - leader[0]) < 2 and abs(leader[2]) < 4


def test_what_another_hand_writes_shows_within_two_seconds(sheet):
    page, address, store = sheet
    page.goto(f"{address}/jobs/{HEAD}")
    page.wait_for_selector("text=14 readings left on the head")
    store.append(HEAD, [reading("late-1", "valve_lash", "exh-4f", "0.29 0.31", "L-04")], NOW)
    page.wait_for_selector("text=13 readings left on the head", timeout=2000)
