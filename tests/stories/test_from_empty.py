"""Each invented head from an empty store to its printed report, in a real browser, by somebody without a manual."""

import io

import pikepdf
import pytest
from playwright.sync_api import TimeoutError as PlaywrightTimeout

from stories.person import Person, Told, add_gauge, add_setting, begin, opened, photo
from witnessmark.shell.demo import JOBS

pytestmark = [pytest.mark.browser, pytest.mark.slow, pytest.mark.timeout(400)]
# The single is measured looking where the page says the gauge goes now; the others in bursts, where nobody looks up.
LOOKING = ("wren",)
DECIDED = 4  # rows decided one by one; the rest of a large head is decided in the same way


@pytest.mark.parametrize("name", JOBS)
def test_a_head_from_an_empty_store_to_its_report(name, browser, served, record_property, capsys):
    context = browser.new_context(viewport={"width": 1280, "height": 800}, reduced_motion="reduce")
    person, told = Person(context.new_page(), served.address), Told(name)
    counts = {}
    job = str(told.header["id"])
    for stage, work in (("job and limits", lambda: begin(person, told, told.limits["text"])),
                        ("gauges", lambda: bench_tools(person, told, job)),
                        ("readings", lambda: measure(person, told, served.store, job)),
                        ("questions", lambda: answer(person, served.store, job)),
                        ("photo", lambda: take_photo(person, job)),
                        ("decisions", lambda: decide(person, served.store, job)),
                        ("customer", lambda: customer(person, job))):  # fmt: skip
        before = person.presses
        work()
        counts[stage] = person.presses - before
    report(person, served.store, job)
    readings = len(served.store.job(job).readings)
    record_property("keys", counts)
    with capsys.disabled():
        print(f"\n{name}: {readings} readings; keys: {', '.join(f'{what} {n}' for what, n in counts.items())}")
    context.close()
    assert not person.faults, person.faults


def bench_tools(person, told, job):
    person.page.goto(f"{person.address}/jobs/{job}/job")
    for name, fields in told.gauges.items():
        add_gauge(person, job, name, fields)
    for body in told.settings:
        add_setting(person, body)


def measure(person, told, store, job):
    """Along the route, every station read and none twice."""
    person.page.goto(f"{person.address}/jobs/{job}/bench")
    base, before = store.job(job).seq, person.presses
    if told.name in LOOKING:
        looking(person, told)
    else:
        bursts(person, told, opened(store, job).route, base)
    readings = wait_all(person, store, job)
    assert len({(one.characteristic, one.place) for one in readings}) == len(readings)
    for reading in readings:
        assert reading.raw == told.line(reading.characteristic, reading.place), (reading.characteristic, reading.place)
    again = len(readings) // 7 + 1 if told.name not in LOOKING else 0
    assert person.presses - before == sum(len(one.raw) + 1 for one in readings) + again  # its digits and one Enter, no pointer


def bursts(person, told, route, base):
    """Twenty readings a second, each its digits and an Enter at once, some with a second Enter; nobody looks up."""
    for n, stop in enumerate(route):
        person.type(told.line(stop.characteristic, stop.place))
        person.press("Enter", 2 if n % 7 == 0 else 1)
    try:
        person.page.wait_for_function(
            "count => Number(document.getElementById('station').dataset.seq) >= count", arg=base + len(route), timeout=200000
        )
    except PlaywrightTimeout:
        raise AssertionError(f"lines wait or were refused: {person.page.inner_text('#act')[:300]}") from None


HERE = "() => { const s = document.getElementById('station').dataset; return [s.characteristic, s.place]; }"
GONE_ON = """([c, p]) => { const s = document.getElementById("station").dataset; return s.characteristic !== c || s.place !== p; }"""


def looking(person, told):
    """Type what the gauge shows at the station that the page names, until it leads back to one that was read."""
    seen = []
    while (here := person.page.evaluate(HERE)) not in seen:
        seen.append(here)
        person.type(told.line(*here))
        person.press("Enter")
        try:
            person.page.wait_for_function(GONE_ON, arg=here, polling=15, timeout=10000)
        except PlaywrightTimeout:
            return


def wait_all(person, store, job):
    """The readings, once every line that was typed is kept and the route has nothing more to read."""
    left = []
    for _ in range(100):
        now = opened(store, job)
        asked = {(one.characteristic, one.place) for one in now.job.questions}
        left = [stop for stop in now.route if not now.done(stop) and (stop.characteristic, stop.place) not in asked]
        if not left:
            return now.job.readings
        person.page.wait_for_timeout(100)
    raise AssertionError(f"{len(left)} stations were not read, such as {left[:4]}")


def answer(person, store, job):
    """The next open question is one key away, and its first answer another."""
    for _ in range(len(store.job(job).questions)):
        open_ = len(store.job(job).questions)
        person.type("*0")
        person.press("Enter")
        person.page.wait_for_selector(".row .wd, .ask", timeout=5000)
        person.page.wait_for_timeout(300)
        person.type("*1")
        person.press("Enter")
        for _ in range(50):
            if len(store.job(job).questions) < open_:
                break
            person.page.wait_for_timeout(100)
        else:
            raise AssertionError(f"the question stays open: {person.page.inner_text('#act')[:300]}")
    now = opened(store, job)
    assert not now.job.questions
    assert now.judgement.missing == (), [(one.characteristic, one.place) for one in now.judgement.missing][:5]


def take_photo(person, job):
    person.page.goto(f"{person.address}/jobs/{job}/decide")
    person.follow(f'main a[href="/jobs/{job}/photos"]')
    person.tab_to("#file")
    person.page.set_input_files("#file", files=[{"name": "face.jpg", "mimeType": "image/jpeg", "buffer": photo()}])
    person.write("#new-note", "scratch across the face")
    person.keep()
    assert "scratch across the face" in person.page.content()
    person.page.wait_for_function("() => document.querySelector('article img').complete", timeout=10000)


def decide(person, store, job):
    person.page.goto(f"{person.address}/jobs/{job}/decide")
    rows = person.page.locator("details.decision").count()
    assert rows >= 4
    for n in range(min(rows, DECIDED)):
        person.page.wait_for_selector("details.decision[open]:not(.decided)")
        held = person.page.locator("details.decision[open]:not(.decided)").first.get_attribute("id")
        person.tab_to(f'#{held} input[name="decision"]')
        person.press("ArrowDown", 2)
        person.write(f"#why-{held}", f"outside the limit we entered, {n}")
        person.keep()
        assert len(store.job(job).decisions) == n + 1, person.page.inner_text("main")[:400]
    if person.page.query_selector("form.rest button"):
        person.follow("form.rest button")
    assert len(store.job(job).decisions) > min(rows, DECIDED)


def customer(person, job):
    person.write("#ceiling", "1450")
    person.write("#currency", "EUR")
    person.write("#said_by", "the owner (invented)")
    person.follow('button[name="answer"][value="yes"]')


def report(person, store, job):
    now = store.job(job)
    assert [one.answer for one in now.answers] == ["yes"] and now.photos
    link = person.page.locator(f'a[href^="/jobs/{job}/report.pdf"]').first
    answered = person.page.request.get(person.address + link.get_attribute("href"))
    assert answered.ok and answered.headers["content-type"] == "application/pdf"
    with pikepdf.open(io.BytesIO(answered.body())) as pdf:
        assert len(pdf.pages) >= 3
