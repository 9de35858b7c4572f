"""Every sheet for everybody: rules of WCAG as axe knows them, in both lights, all sizes, larger letters, forced colours."""

from io import BytesIO

import pytest

from shell.web.sheets import sheets
from stories.head import JOB, demo_text
from witnessmark.record.jobfile import read_job
from witnessmark.shell.resources import catalogue
from witnessmark.shell.web.app import create_app

pytestmark = [pytest.mark.browser, pytest.mark.slow]

SHEETS = sheets(create_app(None, catalogue(), str, str))
WAYS = {
    "day": {"size": (1280, 800), "light": "light"},
    "night": {"size": (1280, 800), "light": "dark"},
    "phone by day": {"size": (390, 844), "light": "light"},
    "phone at night": {"size": (390, 844), "light": "dark"},
    "small phone, letters larger": {"size": (320, 640), "light": "light", "letters": "larger"},
    "letters larger, left hand": {"size": (1280, 800), "light": "dark", "letters": "larger", "hand": "left"},
    "forced colours": {"size": (1280, 800), "light": "dark", "forced": "active"},
    "phone on its side": {"size": (844, 390), "light": "light"},
    "tablet upright": {"size": (800, 1100), "light": "light"},
    "zoomed to 200 %": {"size": (640, 400), "light": "light"},
}


@pytest.fixture(scope="module")
def shop(tmp_path_factory, browser):
    from conftest import serve

    running = serve(tmp_path_factory.mktemp("store"))
    events = read_job(demo_text("tern.yaml"), "tern.yaml", demo_text)
    running.store.create(JOB, created_at="2026-11-25T08:00:00Z", title="Tern 2.0", events=events)
    add_photo(browser, running.address)
    begin_run(browser, running.address)
    yield running
    running.stop()


def add_photo(browser, address):
    """One photo of a chamber, with a mark, so that the sheet of photos has what it is for."""
    from PIL import Image

    kept = BytesIO()
    Image.new("RGB", (640, 480), "#556655").save(kept, "JPEG")
    context = browser.new_context()
    file = {"name": "chamber.jpg", "mimeType": "image/jpeg", "buffer": kept.getvalue()}
    told = context.request.post(f"{address}/api/jobs/{JOB}/photo", multipart={
        "file": file, "characteristic": "head_cracks", "place": "chamber-3", "note": "at the bridge", "x": "0.4", "y": "0.6"})
    assert told.ok, told.text()
    context.close()


def begin_run(browser, address):
    """The head bolts begun, so that the tightening sheet has a bolt of now; the cam caps stay as they are."""
    context = browser.new_context()
    words = {"wrench": "W-01", "angle_by": "A-01", "extension": "60 mm", "threads": "paste"}
    told = context.request.post(f"{address}/api/jobs/{JOB}/tighten/head/begin", data=words)
    assert told.ok, told.text()
    context.close()


@pytest.fixture
def opened(browser, shop):
    """Opens a page as a way of looking has it."""
    made = []

    def open_(size, light="light", forced="none", **cookies):
        context = browser.new_context(viewport={"width": size[0], "height": size[1]}, color_scheme=light,
                                      forced_colors=forced, reduced_motion="reduce")  # fmt: skip
        made.append(context)
        context.add_cookies([{"name": name, "value": value, "url": shop.address} for name, value in cookies.items()])
        return context.new_page()

    yield open_
    for context in made:
        context.close()


# What axe looks at does not change with the way a tablet is held; where things stand does, and is tested in all ways.
RULED = [way for way in WAYS if way not in ("phone at night", "letters larger, left hand", "phone on its side",
                                            "tablet upright")]  # fmt: skip


@pytest.mark.parametrize("way", RULED)
def test_no_sheet_breaks_a_rule_of_access(opened, shop, way):
    from axe_playwright_python.sync_playwright import Axe

    page, faults, broken = opened(**WAYS[way]), [], []
    page.on("pageerror", lambda error: faults.append(str(error)))
    for sheet in SHEETS:
        page.goto(shop.address + sheet)
        found = Axe().run(page).response["violations"]
        broken += [(sheet, one["id"], [node["target"] for node in one["nodes"]][:3]) for one in found]
    assert not broken, "\n".join(map(str, broken))
    assert not faults, faults


@pytest.mark.parametrize("way", WAYS)
def test_no_sheet_spills_sideways_and_no_target_is_too_small(opened, shop, way):
    page, spilled, small = opened(**WAYS[way]), [], []
    width = WAYS[way]["size"][0]
    least = 44 if width <= 640 else 56
    for sheet in SHEETS:
        page.goto(shop.address + sheet)
        if page.evaluate("document.documentElement.scrollWidth") > width:
            spilled.append(sheet)
        small += page.evaluate(TARGETS, [sheet, least])
    assert not spilled, spilled
    assert not small, "\n".join(map(str, small))


# Keys, blanks and cells; a link inside a sentence or a table is text and follows the line. Rounded up: 55.6 is 56.
TARGETS = """([sheet, least]) => [...document.querySelectorAll(
      "button, .key, select, textarea, input:not([type=hidden],[type=checkbox],[type=radio]), .titleblock a, .jobline a")]
    .filter(one => one.getClientRects().length && getComputedStyle(one).opacity !== "0")
    .map(one => [one, one.getBoundingClientRect()])
    .filter(([one, box]) => box.height < (one.closest(".quiet, .checking, h1, .zero-row") ? 44 : least) - 0.5)
    .map(([one, box]) => [sheet, one.tagName, one.textContent.trim().slice(0, 24) || one.name, Math.round(box.height)])"""


def test_every_drawing_has_a_name_and_the_larger_ones_their_data_beside_them(opened, shop):
    page, nameless, alone = opened((1280, 800)), [], []
    for sheet in SHEETS:
        page.goto(shop.address + sheet)
        nameless += page.evaluate(NAMELESS, sheet)
        alone += page.evaluate(ALONE, sheet)
    assert not nameless, "\n".join(map(str, nameless))
    assert not alone, "name what holds the same by data-table:\n" + "\n".join(map(str, alone))


NAMELESS = """sheet => [...document.querySelectorAll("svg")]
    .filter(one => !one.closest("[aria-hidden=true]"))
    .filter(one => one.getAttribute("role") !== "img"
      || !(document.getElementById(one.getAttribute("aria-labelledby"))?.textContent.trim()))
    .map(one => [sheet, one.outerHTML.slice(0, 120)])"""
# A large drawing stands in an element whose data-table names what holds the same in rows, and that has some.
ALONE = """sheet => [...document.querySelectorAll("svg[role=img]")]
    .filter(one => !one.closest("[aria-hidden=true]") && one.getBoundingClientRect().width > 200)
    .filter(one => {
      const table = document.getElementById(one.closest("[data-table]")?.dataset.table);
      return !table?.querySelector("td, li, dd, a, input, [role=listitem]") || getComputedStyle(table).display === "none";
    })
    .map(one => [sheet, one.querySelector("title").textContent.slice(0, 80)])"""


def test_all_that_can_be_done_can_be_reached_by_tab_and_is_seen_when_it_is(opened, shop):
    page, hidden = opened((1280, 800)), []
    for sheet in SHEETS:
        page.goto(shop.address + sheet)
        hidden += [(sheet, *one) for one in walked(page)]
    assert not hidden, "\n".join(map(str, hidden))


def walked(page, most=160):
    """Tabs through a page; gives what has the focus without being seen or without showing that it has it."""
    wrong = []
    for _ in range(most):
        page.keyboard.press("Tab")
        told = page.evaluate(FOCUSED)
        if told is None:
            break
        if told[1]:
            wrong.append(told)
    return wrong


FOCUSED = """() => {
  const one = document.activeElement;
  if (!one || one === document.body || one.dataset.walked) return null;
  one.dataset.walked = "yes";
  const box = one.getBoundingClientRect();
  const name = `${one.tagName} ${one.id} ${(one.textContent || one.name || "").trim().slice(0, 30)}`;
  const ring = [one, one.closest(".read")].filter(Boolean).some(each => getComputedStyle(each).outlineStyle !== "none"
    && parseFloat(getComputedStyle(each).outlineWidth) >= 2);
  if (!ring) return [name, "shows no focus"];
  const [x, y] = [Math.min(Math.max(box.left + Math.min(box.width / 2, 20), 1), innerWidth - 1),
    Math.min(Math.max(box.top + Math.min(box.height / 2, 20), 1), innerHeight - 1)];
  const top = document.elementFromPoint(x, y);
  const covered = top && !one.contains(top) && !top.contains(one) && top.closest(".titleblock, .jobline");
  return [name, covered ? "lies under the frame" : ""];
}"""


def test_on_the_bench_tab_goes_as_the_hand_does(opened, shop):
    page = opened((1280, 800))
    page.goto(f"{shop.address}/jobs/{JOB}/bench")
    seen = []
    for _ in range(90):
        page.keyboard.press("Tab")
        part = page.evaluate("document.activeElement?.closest('#act, #what, #where, #titleblock, #jobline')?.id")
        if part and part not in seen:
            seen.append(part)
    assert seen == ["act", "what", "where", "titleblock", "jobline"]


def test_letters_larger_put_the_series_under_the_keys_and_nothing_scrolls(opened, shop):
    page = opened((1280, 800), letters="larger")
    page.goto(f"{shop.address}/jobs/{JOB}/bench")
    act, what, where = (page.locator(f"#{one}").bounding_box() for one in ("act", "what", "where"))
    assert page.evaluate("getComputedStyle(document.documentElement).fontSize") == "20px"
    assert what["y"] >= act["y"] + act["height"] - 1 and abs(what["x"] - act["x"]) < 2 and where["x"] < act["x"]
    assert page.evaluate("document.documentElement.scrollHeight") <= 800
    assert page.locator(".row.now").bounding_box()["y"] + 40 < what["y"] + what["height"]


def test_the_left_hand_has_its_keys_at_the_left(opened, shop):
    page = opened((1280, 800), hand="left")
    page.goto(f"{shop.address}/jobs/{JOB}/bench")
    act, what, where = (page.locator(f"#{one}").bounding_box()["x"] for one in ("act", "what", "where"))
    assert act < what < where


@pytest.mark.parametrize("letters", ["", "larger"])
def test_on_the_smallest_phone_fields_stack_in_the_order_act_what_where(opened, shop, letters):
    page = opened((320, 640), **({"letters": letters} if letters else {}))
    page.goto(f"{shop.address}/jobs/{JOB}/bench")
    act, what, where = (page.locator(f"#{one}").bounding_box() for one in ("act", "what", "where"))
    assert act["y"] < what["y"] < where["y"]
    assert page.locator(".jobline").bounding_box()["y"] < act["y"]
    clipped = page.evaluate("""[...document.querySelectorAll("#act button, .row.now *, .draw h1")]
      .filter(one => one.getClientRects().length && one.closest("svg") === null && one.scrollWidth > one.clientWidth + 1
        && getComputedStyle(one).display !== "inline").map(one => one.textContent.trim())""")
    assert not clipped


def test_a_reading_is_kept_and_taken_back_without_a_pointer(opened, shop):
    page = opened((1280, 800))
    page.goto(f"{shop.address}/jobs/{JOB}/bench?characteristic=stem_diameter&place=inl-1f/top/along")
    page.keyboard.type("5.964")
    page.keyboard.press("Enter")
    page.wait_for_selector('#echo.kept:has-text("5.964")')
    page.keyboard.type("*")
    page.keyboard.press("Enter")
    page.wait_for_selector('#echo:has-text("taken back")')


def test_the_whole_of_this_device_is_set_by_keys_alone_and_without_a_script(browser, shop):
    context = browser.new_context(viewport={"width": 1280, "height": 800}, java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{shop.address}/jobs/{JOB}/head")
    page.locator("#cell-device").focus()
    page.keyboard.press("Enter")
    page.get_by_role("group", name="letters").get_by_role("button", name="larger").focus()
    page.keyboard.press("Enter")
    assert page.get_by_role("status").inner_text() == "letters: larger, kept on this device"
    page.get_by_role("link", name="back to the sheet").focus()
    page.keyboard.press("Enter")
    page.wait_for_url(f"**/jobs/{JOB}/head")
    assert page.locator("html").get_attribute("data-letters") == "larger"
    context.close()


def test_sound_and_speech_come_only_where_they_were_asked_for(opened, shop):
    heard = """window.heard = [];
      window.AudioContext = class { constructor() { this.currentTime = 0; this.state = "running"; this.destination = {}; }
        createOscillator() { return { frequency: {}, connect: (to) => to, start: () => window.heard.push("tick"), stop() {} }; }
        createGain() { return { gain: { setValueAtTime() {}, exponentialRampToValueAtTime() {} }, connect: (to) => to }; } };
      speechSynthesis.speak = (said) => window.heard.push(said.text); speechSynthesis.cancel = () => {};"""
    for cookies, expected in (({}, []), ({"sound": "on", "spoken": "on"}, ["tick", "inlet 1 front top, along, 5.963, kept"])):
        page = opened((1280, 800), **cookies)
        page.add_init_script(heard)
        page.goto(f"{shop.address}/jobs/{JOB}/bench?characteristic=stem_diameter&place=inl-1f/top/along")
        page.keyboard.type("5.963")
        page.keyboard.press("Enter")
        page.wait_for_selector('#echo.kept:has-text("5.963")')
        assert page.evaluate("window.heard") == expected


def tab_to(page, selector, most=140):
    """Presses Tab until that has the focus; AssertionError where Tab does not lead there."""
    for _ in range(most):
        page.keyboard.press("Tab")
        if page.evaluate("selector => Boolean(document.activeElement?.matches(selector))", selector):
            return
    raise AssertionError(f"{selector} was not reached by {most} tabs on {page.url}")


def test_a_job_goes_from_the_door_to_the_record_by_keys_alone(opened, shop):
    page = opened((1280, 800))
    page.goto(f"{shop.address}/jobs")
    tab_to(page, ".fresh a")
    page.keyboard.press("Enter")
    page.wait_for_url("**/new")
    for blank, text in (("id", "HL-0901"), ("engine", "Wren 125")):
        tab_to(page, f"#job-{blank}")
        page.keyboard.type(text)
    for blank, text in (("layout", "in"), ("cylinders", "1"), ("inl", "1"), ("exh", "1"), ("gear", "rocker")):
        tab_to(page, f"[name={blank}]")
        page.keyboard.type(text)
    tab_to(page, ".begin")
    page.keyboard.press("Enter")
    page.wait_for_selector("main:not(.setup), .faults")
    assert "/jobs/HL-0901" in page.url, page.locator("#amiss").inner_text()
    page.goto(f"{shop.address}/jobs/HL-0901/bench?characteristic=valve_lash&place=inl-1")
    tab_to(page, "#blank-high")
    page.keyboard.type("0.12")
    tab_to(page, "#limit-form button:not([type=button])")
    page.keyboard.press("Enter")
    page.wait_for_selector("#limitless", state="detached")
    tab_to(page, "#line")
    page.keyboard.type("0.08 0.10")
    page.keyboard.press("Enter")
    page.wait_for_selector("#echo.kept")
    tab_to(page, ".jobline a[href$='/record']")
    page.keyboard.press("Enter")
    page.wait_for_url("**/record")
    assert page.locator(".raw-came", has_text="0.08 0.10").count() == 1
