"""Every sheet for everybody: the rules of WCAG as axe knows them, in both lights and both sizes; targets; no spill."""

import pytest

from stories.head import JOB, demo_text
from witnessmark.record.jobfile import read_job

pytestmark = [pytest.mark.browser, pytest.mark.slow]

SHEETS = ("/", "/new", "/jobs", f"/jobs/{JOB}/bench", f"/jobs/{JOB}/head", f"/jobs/{JOB}/job", f"/jobs/{JOB}/record", "/catalogue",
          f"/catalogue/head_cracks?job={JOB}", "/catalogue/methods", f"/jobs/{JOB}/part/inl-3f", f"/jobs/{JOB}/list",
          f"/jobs/{JOB}/limits", f"/jobs/{JOB}/limits?entry=stem_diameter;inl;;;worst")  # fmt: skip
SIZES = ((1280, 800), (390, 844))


@pytest.fixture
def demo(served):
    events = read_job(demo_text("tern.yaml"), "tern.yaml", demo_text)
    served.store.create(JOB, created_at="2026-11-25T08:00:00Z", title="Tern 2.0", events=events)
    return served


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize("size", SIZES)
def test_no_sheet_breaks_a_rule_of_access(browser, demo, light, size):
    from axe_playwright_python.sync_playwright import Axe

    context = browser.new_context(viewport={"width": size[0], "height": size[1]}, color_scheme=light, reduced_motion="reduce")
    page, faults, broken = context.new_page(), [], []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.on("console", lambda line: faults.append(line.text) if line.type == "error" else None)
    for sheet in SHEETS:
        page.goto(demo.address + sheet)
        found = Axe().run(page).response["violations"]
        broken += [(sheet, one["id"], [node["target"] for node in one["nodes"]][:3]) for one in found]
    context.close()
    assert not broken, broken
    assert not faults, faults


@pytest.mark.parametrize("width", [320, 390, 1280])
def test_no_sheet_spills_sideways_and_no_target_is_too_small(browser, demo, width):
    context = browser.new_context(viewport={"width": width, "height": 844})
    page, spilled, small = context.new_page(), [], []
    for sheet in SHEETS:
        page.goto(demo.address + sheet)
        if page.evaluate("document.documentElement.scrollWidth") > width:
            spilled.append(sheet)
        small += page.evaluate(
            """sheet => [...document.querySelectorAll("button, .key, input:not([type=hidden]):not([type=checkbox]), select")]
                .filter(one => one.offsetParent && getComputedStyle(one).opacity !== "0")
                .map(one => [sheet, one.textContent.trim().slice(0, 20), Math.round(one.getBoundingClientRect().height)])
                .filter(([, , height]) => height < 44)""",
            sheet,
        )
    context.close()
    assert not spilled, spilled
    assert not small, small
