"""A whole head from empty to full in a real browser by touch alone, and what a second page shows meanwhile."""

import pytest

from stories.head import SINGLE, empty_job, lines
from witnessmark.desk.state import state
from witnessmark.shell.resources import catalogue

pytestmark = [pytest.mark.browser, pytest.mark.slow, pytest.mark.timeout(900)]

# The keys of a station come a moment after its name: a hand touches what it sees, and so waits for them.
KEY_STANDS_AT = """key => { const found = [...document.querySelectorAll("#act [data-key]")].find(one => one.dataset.key === key && one.offsetParent);
    if (!found) return null; const box = found.getBoundingClientRect(); return [box.x + box.width / 2, box.y + box.height / 2]; }"""
ANSWER_KEY = """number => { const keys = [...document.querySelectorAll("#keys.look [data-key]")].map(one => one.dataset.key);
    return keys.find(key => key === "=" + number || key === number + " "); }"""


class Walk:
    """Somebody at the bench page. Every way of entering is a method; the page says where the gauge goes now."""

    def __init__(self, browser, served, viewport, *, touch=False):
        self.opened = empty_job(served.store)
        self.store, self.lines = served.store, lines(self.opened)
        self.context = browser.new_context(viewport=viewport, has_touch=touch, reduced_motion="reduce")
        self.page = self.context.new_page()
        self.faults = []
        self.page.on("pageerror", lambda error: self.faults.append(str(error)))
        self.page.goto(f"{served.address}/jobs/{SINGLE}/bench")
        self.touched = ""

    def here(self):
        return tuple(
            self.page.evaluate(
                "() => { const s = document.getElementById('station').dataset; return [s.characteristic, s.place, s.gauge]; }"
            )
        )

    def all_lines(self):
        return [
            (stop.characteristic, stop.place, self.lines[stop.characteristic, stop.place]) for stop in self.opened.route
        ]

    def touch(self, key):
        """One real touch in the middle of a key, wherever it stands now."""
        if key == self.touched:  # a hand needs a tenth of a second for the same key again; sooner is a bounce
            self.page.wait_for_timeout(90)
        self.touched = key
        x, y = self.page.wait_for_function(KEY_STANDS_AT, arg=key, polling=15).json_value()
        self.page.touchscreen.tap(x, y)

    def touch_line(self, characteristic, line):
        """A line as a finger gives it: an answer is one key that is kept at once, or its key, how much, and keep."""
        if self.opened.catalogue.characteristics[characteristic].kind == "look":
            number, _, amount = line.partition(" ")
            kept = self.page.wait_for_function(ANSWER_KEY, arg=number, polling=15).json_value()
            self.touch(kept)
            if kept.startswith("="):
                assert not amount, f"{characteristic} takes no amount with answer {number}"
                return
            line = amount
        if line.startswith("-"):
            self.touch("sign")
        for key in line.lstrip("+-"):
            self.touch(key)
        self.touch("keep")

    def wait_at(self, stop):
        """Until the page has moved on to a station."""
        self.page.wait_for_function(
            """([c, p]) => { const s = document.getElementById("station").dataset; return s.characteristic === c && s.place === p; }""",
            arg=[stop.characteristic, stop.place], polling=15,
        )  # fmt: skip

    def wait_kept(self, count):
        self.page.wait_for_function(
            "count => Number(document.getElementById('station').dataset.seq) >= count", arg=count, timeout=20000
        )

    def close(self):
        self.context.close()
        assert not self.faults, self.faults


def full(store):
    judged = state(store.job(SINGLE), catalogue()).judgement
    assert judged.summary["missing"] == 0, [one.place for one in judged.missing][:5]
    return judged


def test_by_touch_alone(browser, served):
    walk = Walk(browser, served, {"width": 1280, "height": 800}, touch=True)
    base = walk.store.job(SINGLE).seq
    for n, (characteristic, place, line) in enumerate(walk.all_lines(), 1):
        assert walk.here()[:2] == (characteristic, place)
        walk.touch_line(characteristic, line)
        if n < len(walk.opened.route):
            walk.wait_at(walk.opened.route[n])
    walk.wait_kept(base + len(walk.opened.route))
    full(walk.store)
    walk.close()


def test_a_second_page_shows_the_reading_within_two_seconds(browser, served):
    walk = Walk(browser, served, {"width": 1280, "height": 800})
    other = walk.context.new_page()
    other.goto(f"{served.address}/jobs/{SINGLE}/head")
    bench = walk.context.new_page()
    bench.goto(f"{served.address}/jobs/{SINGLE}/bench")
    walk.page.keyboard.type("0.04 0.06")
    walk.page.keyboard.press("Enter")
    bench.wait_for_function("() => document.querySelector('#rows').textContent.includes('0.04–0.06')", timeout=2000)
    walk.close()
