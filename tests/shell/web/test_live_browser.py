"""Two devices on one job: each sees what the other writes, in time, without being disturbed, and after a break as well."""

import json
import socket
import time
from urllib.parse import urlsplit

import pytest

from shell.web.away import Gate
from shell.web.browser import served
from shell.web.shop import JOB

pytestmark = [pytest.mark.browser, pytest.mark.slow]
HERE = f"/jobs/{JOB}/bench?characteristic=stem_diameter&place=inl-3f/middle/across"
THERE = f"/jobs/{JOB}/bench?characteristic=stem_diameter&place=exh-1f/top/along"
WIDE = {"width": 1280, "height": 800}


class Cut(Gate):
    """A door whose open streams can be cut, and that can refuse new ones."""

    cut = 0
    refuse = False

    async def __call__(self, scope, receive, send):
        if scope["type"] == "http" and scope["path"].endswith("/stream"):
            if self.refuse:
                self.streams.append("refused")
                await send(
                    {"type": "http.response.start", "status": 503, "headers": [(b"content-type", b"text/plain")]}
                )
                await send({"type": "http.response.body", "body": b"not now"})
                return
            began = self.cut

            async def until_cut(message):
                if self.cut != began:
                    raise ConnectionAbortedError("the stream is cut on purpose")
                await send(message)

            await super().__call__(scope, receive, until_cut)
            return
        await super().__call__(scope, receive, send)


@pytest.fixture
def gate(shop):
    return Cut(shop.app())


@pytest.fixture
def address(gate):
    with served(gate) as address:
        yield address


@pytest.fixture
def two(browser, address):
    """A page on each of two devices."""
    contexts = [browser.new_context(viewport=WIDE) for _ in range(2)]
    pages = []
    for context, here in zip(contexts, (HERE, THERE), strict=True):
        page = context.new_page()
        page.set_default_timeout(6000)
        page.goto(address + here)
        pages.append(page)
    yield pages
    for context in contexts:
        context.close()


def until(page, script, *more, seconds=5.0):
    end = time.monotonic() + seconds
    while not page.evaluate(script, *more):
        assert time.monotonic() < end, f"{script} never held; the page says {page.inner_text('#act')!r}"
        time.sleep(0.02)


def type_(page, *values):
    for value in values:
        page.keyboard.type(value)
        page.keyboard.press("Enter")


def says(page, words, seconds=5.0):
    until(
        page, "(w) => (document.querySelector('#echo .other')?.textContent || '').includes(w)", words, seconds=seconds
    )


def kept(page, words):
    until(page, "(w) => document.getElementById('echo').textContent.includes(w)", words)


def listens(gate, count=2):
    end = time.monotonic() + 5
    while len(gate.streams) < count:
        assert time.monotonic() < end, f"{gate.streams} listen"
        time.sleep(0.02)


def test_each_device_sees_within_a_second_what_the_other_wrote_and_who_it_was(two, gate):
    one, other = two
    listens(gate)
    type_(one, "5.951")
    kept(one, "5.951 kept as it came")
    says(other, "Inl 3F middle, across 5.951 by the other tablet", seconds=1.0)
    type_(other, "5.933")
    kept(other, "5.933 kept as it came")
    says(one, "Exh 1F top, along 5.933 by the other tablet", seconds=1.0)
    assert one.inner_text("#echo").startswith("5.951 kept as it came"), "beside the own line, not in its place"


def test_the_fields_show_the_reading_of_the_other_device(two, browser, address, gate):
    one, _ = two
    third = browser.new_context(viewport=WIDE)
    page = third.new_page()
    page.goto(address + HERE)
    listens(gate, 3)
    type_(one, "5.951")
    until(page, "document.querySelector('.row.now .wd').textContent.includes('4 of 6')", seconds=1.5)
    third.close()


def test_a_half_typed_line_and_the_hand_stay_where_they_are(two, gate):
    one, other = two
    listens(gate)
    other.keyboard.type("5.9")
    seq = other.evaluate("document.getElementById('station').dataset.seq")
    type_(one, "5.951")
    says(other, "5.951 by the other tablet")
    until(other, "(s) => document.getElementById('station').dataset.seq !== s", seq)
    assert other.inner_text("#raw").strip("\u200b") == "5.9"
    assert other.inner_text("#station b") == "Exh 1F"
    type_(other, "33")
    kept(other, "5.933 kept as it came")


def test_fields_that_the_hand_kept_from_being_read_are_read_when_it_rests(two, gate):
    one, other = two
    listens(gate)
    seq = other.evaluate("document.getElementById('station').dataset.seq")
    type_(one, "5.951")
    for character in "5.93":  # each one breaks off a reading of the fields that may be under way
        other.keyboard.type(character)
        time.sleep(0.05)
    until(other, "(s) => document.getElementById('station').dataset.seq !== s", seq, seconds=2)
    assert other.inner_text("#raw").strip("\u200b") == "5.93"


def test_a_half_typed_blank_keeps_its_words_its_caret_and_the_focus(two, gate):
    one, other = two
    listens(gate)
    other.click("#cell-by")
    other.fill("#write-by", "J. Mason")
    other.evaluate("document.getElementById('write-by').setSelectionRange(3, 3)")
    seq = other.evaluate("document.getElementById('station').dataset.seq")
    type_(one, "5.951")
    until(other, "(s) => document.getElementById('station').dataset.seq !== s", seq)
    there = "(() => { const a = document.activeElement; return [a.id, a.value, a.selectionStart]; })()"
    until(other, f'JSON.stringify({there}) === \'["write-by","J. Mason",3]\'')


def test_a_stream_that_was_cut_is_taken_up_where_it_broke_off(shop, two, gate):
    one, other = two
    listens(gate)
    type_(one, "5.951")
    says(other, "5.951")
    heard = shop.store.job(JOB).seq
    gate.cut += 1
    shop.line("5.950", "inl-3f/bottom/along")
    shop.line("5.949", "inl-3f/bottom/across")
    says(other, "Inl 3F bottom, across 5.949 by the other tablet", seconds=6)
    assert str(heard) in gate.streams[2:], f"it came back with the last number it had heard: {gate.streams}"
    until(other, "(s) => Number(document.getElementById('station').dataset.seq) === s", shop.store.job(JOB).seq)


def test_a_stream_that_is_refused_is_asked_for_again(shop, two, gate):
    _, other = two
    listens(gate)
    gate.refuse = True
    gate.cut += 1
    end = time.monotonic() + 8
    while gate.streams.count("refused") < 2:
        assert time.monotonic() < end, gate.streams
        time.sleep(0.05)
    shop.line("5.951", "inl-3f/middle/across")
    gate.refuse = False
    says(other, "5.951 by the other tablet", seconds=8)


def test_a_page_that_nobody_sees_gives_its_connection_back_and_catches_up(shop, two, gate):
    one, other = two
    listens(gate)
    hide = "(h) => { Object.defineProperty(document, 'hidden', { value: h, configurable: true }); document.dispatchEvent(new Event('visibilitychange')); }"
    other.evaluate(hide, True)
    type_(one, "5.951")
    kept(one, "5.951 kept as it came")
    time.sleep(0.5)
    assert not other.evaluate("document.querySelector('#echo .other')")
    other.evaluate(hide, False)
    says(other, "5.951 by the other tablet")
    until(other, "(s) => Number(document.getElementById('station').dataset.seq) === s", shop.store.job(JOB).seq)


def _reach(line, where):
    """Connect; a server that was begun a moment ago may not listen yet."""
    end = time.monotonic() + 5
    while line.connect_ex((where.hostname, where.port)):
        assert time.monotonic() < end, "the server does not listen"
        time.sleep(0.02)


def _heard(address, after, last="", wait=1.0):
    """What a listener hears within some time: (id, data) of each message, read from a plain socket."""
    where = urlsplit(address)
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP) as line:
        _reach(line, where)
        line.settimeout(0.2)
        header = f"Last-Event-ID: {last}\r\n" if last else ""
        line.sendall(
            f"GET /api/jobs/{JOB}/stream?after={after} HTTP/1.1\r\nHost: {where.netloc}\r\n{header}\r\n".encode()
        )
        came, end = b"", time.monotonic() + wait
        while time.monotonic() < end:
            try:
                came += line.recv(65536)
            except TimeoutError:
                continue
    blocks = came.decode().replace("\r\n", "\n").split("\n\n")
    found = []
    for block in blocks:
        parts = dict(part.split(": ", 1) for part in block.split("\n") if ": " in part)
        if "id" in parts:
            found.append((int(parts["id"]), parts.get("event", ""), parts["data"]))
    return found


@pytest.mark.parametrize("back", [1, 3, 7])
def test_whoever_comes_back_hears_exactly_what_was_missed_in_order(shop, address, back):
    seq = shop.store.job(JOB).seq
    heard = _heard(address, after=0, last=str(seq - back))
    assert [number for number, _, _ in heard] == list(range(seq - back + 1, seq + 1))
    assert all(json.loads(data)["seq"] == number for number, _, data in heard)


def test_whoever_missed_more_than_is_held_reads_the_sheet_again_from_the_last_number(shop, address):
    for n in range(70):
        shop.line(f"5.9{n:02d}", "exh-1f/top/along")
    seq = shop.store.job(JOB).seq
    heard = _heard(address, after=seq - 66)
    assert [(number, event) for number, event, _ in heard] == [(seq, "again")]
