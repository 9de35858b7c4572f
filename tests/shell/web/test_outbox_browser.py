"""Lines that wait on the device: the store killed, the tablet offline, answers lost, lines refused, several tabs."""

import pytest

from shell.web.away import Serving, lose, say
from shell.web.shop import JOB, Shop
from shell.web.waiting import BOX, HELD, HERE, WIDE, echo, opened, station, stored, type_, typed, until
from witnessmark.shell.store.store import Store

pytestmark = [pytest.mark.browser, pytest.mark.slow]


def test_a_server_killed_in_the_middle_of_bursts_loses_nothing_doubles_nothing_and_keeps_the_order(tmp_path, browser):
    shop = Shop(tmp_path)
    shop.open_job()
    shop.measure()
    shop.store.close()
    values = [f"5.9{n:02d}" for n in range(40, 70)]
    serving = Serving(tmp_path)
    context = browser.new_context(viewport=WIDE)
    serving.begin()
    try:
        page = opened(context, serving.address)
        type_(page, *values[:10])
        serving.kill()  # some of the ten are on their way
        type_(page, *values[10:20])
        echo(page, "wait")
        serving.begin()
        type_(page, *values[20:])
        until(page, "document.querySelector('#echo').textContent.includes('kept as it came')", seconds=20)
        until(page, f"async () => {{ const [w] = await ({BOX})(); return w.length === 0; }}", seconds=20)
    finally:
        context.close()
        serving.kill()
    store = Store.open(tmp_path)
    kept = typed(store)
    assert [reading.raw for reading in kept] == values
    assert len({reading.place for reading in kept}) == len(values), "each went to its own station"
    assert [event.device_seq for event in store.events(JOB) if event.device == kept[0].device] == list(range(1, 31))
    assert store.check() == []
    store.close()


@pytest.mark.parametrize("reloads", [False, True], ids=["left open", "loaded again offline"])
def test_thirty_readings_typed_offline_are_stored_once_in_order_at_the_stations_the_hand_saw(
    shop, context, address, reloads
):
    page = opened(context, address)
    until(page, HELD, seconds=10)
    values = [f"5.9{n:02d}" for n in range(40, 70)]
    context.set_offline(True)
    saw = []
    for value in values:
        saw.append(station(page))
        type_(page, value)
    until(page, f"async () => {{ const [w] = await ({BOX})(); return w.length === 30; }}")
    assert "wait" in page.get_attribute("#echo", "class"), "drawn dashed"
    if reloads:
        before = station(page)
        page.reload()
        until(
            page,
            "(s) => document.querySelector('#station b').textContent === s[0] && document.querySelector('#station span').textContent === s[1]",
            list(before),
        )
    assert not typed(shop.store)
    assert len(set(saw)) == 30, "the hand walks on while the store is away"
    context.set_offline(False)
    kept = stored(shop.store, 30)
    assert [reading.raw for reading in kept] == values
    from witnessmark.engine.place import shown

    assert [shown(reading.place) for reading in kept] == [f"{name} {detail}" for name, detail in saw]
    echo(page, "5.969 kept as it came")
    page.wait_for_timeout(300)
    assert len(typed(shop.store)) == 30


def test_a_page_closed_with_lines_waiting_sends_them_when_the_bench_is_opened_again(shop, context, address):
    page = opened(context, address)
    context.set_offline(True)
    type_(page, "5.951", "5.950")
    until(page, f"async () => {{ const [w] = await ({BOX})(); return w.length === 2; }}")
    page.close()
    context.set_offline(False)
    opened(context, address, f"/jobs/{JOB}/bench?characteristic=stem_diameter&place=exh-4r/top/along")
    kept = stored(shop.store, 2)
    assert [(r.raw, r.place) for r in kept] == [("5.951", "inl-3f/middle/across"), ("5.950", "inl-3f/bottom/along")]


def test_an_answer_lost_after_the_commit_doubles_nothing(shop, context, gate, address):
    page = opened(context, address)
    gate.tricks += [lose, lose]
    type_(page, "5.951", "5.950")
    kept = stored(shop.store, 2)
    echo(page, "5.950 kept as it came")
    assert [reading.raw for reading in kept] == ["5.951", "5.950"]
    assert len(gate.came) == 4, "two answers were lost, so two lines came twice"
    assert len(typed(shop.store)) == 2


def test_a_take_back_whose_answer_is_lost_takes_back_one_reading(shop, context, gate, address):
    page = opened(context, address)
    type_(page, "5.951", "5.950")
    stored(shop.store, 2)
    echo(page, "5.950 kept as it came")
    gate.tricks.append(lose)
    type_(page, "*")
    echo(page, "5.950 at Inl 3F bottom, along taken back")
    assert [reading.state for reading in typed(shop.store)] == ["counted", "taken back"]


def test_a_store_that_cannot_now_is_asked_again_and_the_lines_behind_wait_their_turn(shop, context, gate, address):
    page = opened(context, address)
    gate.tricks += [say(503), say(507, "No space is left.", "Free some.")]
    type_(page, "5.951", "5.950", "5.949")
    kept = stored(shop.store, 3)
    assert [reading.raw for reading in kept] == ["5.951", "5.950", "5.949"]
    assert len({reading.place for reading in kept}) == 3
    assert len(gate.came) == 5
    echo(page, "5.949 kept as it came")


@pytest.mark.parametrize("status", [409, 422])
def test_a_line_that_is_never_taken_is_told_and_set_aside_and_those_behind_it_go_on(
    shop, context, gate, address, status
):
    page = opened(context, address)
    gate.tricks.append(say(status, "It stands for something else.", "Look."))
    type_(page, "5.951", "5.950")
    assert [(r.raw, r.place) for r in stored(shop.store, 1)] == [("5.950", "inl-3f/bottom/along")]
    until(page, "!document.getElementById('queue').hidden")
    told = page.inner_text("#queue p")
    assert told == "5.951 at Inl 3F middle, across was not taken: It stands for something else. Look."
    page.reload()
    until(page, "!document.getElementById('queue').hidden")
    assert len(gate.came) == 2, "it is not sent for ever"
    page.click("#queue button:has-text('send again')")
    assert [(r.raw, r.place) for r in stored(shop.store, 2)][1] == ("5.951", "inl-3f/middle/across")
    until(page, "document.getElementById('queue').hidden")


@pytest.mark.parametrize("size", [WIDE, {"width": 390, "height": 844}], ids=["wide", "phone"])
def test_no_key_grows_too_small_while_a_line_is_set_aside(browser, gate, address, size):
    context = browser.new_context(viewport=size)
    page = opened(context, address)
    gate.tricks.append(say(409, "It was stored before with other content.", "Type it again if it was another reading."))
    type_(page, "5.951")
    until(page, "!document.getElementById('queue').hidden")
    page.wait_for_timeout(200)
    small = page.evaluate("""() => [...document.querySelectorAll('.entry .key')].filter((k) => k.offsetParent)
        .map((k) => [k.textContent.trim(), k.offsetWidth, k.offsetHeight]).filter(([, w, h]) => w < 50 || h < 56)""")
    assert not small
    box = page.evaluate("() => [document.documentElement.scrollWidth, document.documentElement.scrollHeight]")
    assert box == [size["width"], size["height"]]
    context.close()


def test_a_line_set_aside_can_be_dropped_and_is_then_gone(shop, context, gate, address):
    page = opened(context, address, f"{HERE}&part_at=warm")  # the store itself refuses such a temperature
    type_(page, "5.951")
    until(page, "!document.getElementById('queue').hidden")
    assert "temperature.part" in page.inner_text("#queue")
    page.click("#queue button:has-text('drop it')")
    until(page, "document.getElementById('queue').hidden")
    assert page.evaluate(BOX) == [[], []]
    assert page.evaluate("document.activeElement.id") == "line", "the next burst must not press a key"
    assert not typed(shop.store)


def test_two_tabs_of_one_device_share_one_box_and_one_order(shop, context, gate, address):
    first = opened(context, address)
    second = opened(context, address, f"/jobs/{JOB}/bench?characteristic=stem_diameter&place=exh-1f/top/along")
    context.set_offline(True)
    for n in range(4):
        type_(first, f"5.95{n}")
        until(first, f"async () => {{ const [w] = await ({BOX})(); return w.length === {2 * n + 1}; }}")
        type_(second, f"5.93{n}")
        until(second, f"async () => {{ const [w] = await ({BOX})(); return w.length === {2 * n + 2}; }}")
    context.set_offline(False)
    kept = stored(shop.store, 8)
    assert [reading.raw for reading in kept] == ["5.950", "5.930", "5.951", "5.931", "5.952", "5.932", "5.953", "5.933"]
    assert {reading.place.split("/")[0] for reading in kept if reading.raw.startswith("5.93")} == {"exh-1f"}
    echo(first, "5.953 kept as it came")
    echo(second, "5.933 kept as it came")
    assert len(gate.came) == 8, "one sender"


NO_LOCKS = "Object.defineProperty(navigator, 'locks', { value: undefined });"


@pytest.mark.parametrize("script", ["", NO_LOCKS], ids=["one sender", "a browser without locks"])
def test_a_burst_in_two_tabs_at_once_is_stored_once_each(shop, context, address, script):
    context.add_init_script(script)
    first = opened(context, address)
    second = opened(context, address, f"/jobs/{JOB}/bench?characteristic=stem_diameter&place=exh-1f/top/along")
    for n in range(10):
        type_(first, f"5.95{n}")
        type_(second, f"5.93{n}")
    kept = [reading.raw for reading in stored(shop.store, 20)]
    assert [raw for raw in kept if raw < "5.94"] == [f"5.93{n}" for n in range(10)]
    assert [raw for raw in kept if raw > "5.94"] == [f"5.95{n}" for n in range(10)]
    numbers = [event.device_seq for event in shop.store.events(JOB) if event.device not in ("", "d-setup")]
    assert numbers == sorted(numbers) and len(set(numbers)) == 20


def test_a_line_follows_a_take_back_to_the_station_that_it_leads_to(shop, context, gate, address):
    page = opened(context, address)
    gate.tricks += [say(503)]
    type_(page, "5.951", "5.950", "*", "5.949")
    kept = stored(shop.store, 3)
    places = [(reading.raw, reading.place, reading.state) for reading in kept]
    assert places == [("5.951", "inl-3f/middle/across", "counted"), ("5.950", "inl-3f/bottom/along", "taken back"),
                      ("5.949", "inl-3f/bottom/along", "counted")]  # fmt: skip


OLD = f"""() => {{
  const one = (id, line, more) => ({{ id, device: "d-old", device_seq: more.device_seq, at: "2026-11-24T10:42:18.000Z", by: "",
    line, round: "as found", gauge: null, temperature: null, ...more.place }});
  const place = {{ characteristic: "stem_diameter", place: "inl-3f/middle/across" }};
  localStorage.setItem("lines:{JOB}", JSON.stringify([one("r-old1", "5.951", {{ device_seq: 7, place }}), one("r-old2", "5.950", {{ device_seq: 8 }})]));
  localStorage.setItem("lines:count", "8");
}}"""


def test_lines_that_an_older_page_left_are_moved_into_the_box_and_sent(shop, context, address):
    page = context.new_page()
    page.goto(f"{address}/jobs")
    page.evaluate(OLD)
    page.goto(address + HERE)
    kept = stored(shop.store, 2)
    assert [(r.id, r.raw, r.place) for r in kept] == [("r-old1", "5.951", "inl-3f/middle/across"),
                                                      ("r-old2", "5.950", "inl-3f/bottom/along")]  # fmt: skip
    until(page, "localStorage.getItem('lines:count') === null")
    type_(page, "5.949")
    stored(shop.store, 3)
    assert shop.store.events(JOB)[-1].device_seq > 8, "the count goes on"


NO_ROOM = "Object.defineProperty(window, 'indexedDB', { value: undefined });"


def test_a_browser_that_gives_no_room_says_so_and_sends_what_it_holds(shop, context, address):
    context.add_init_script(NO_ROOM)
    page = opened(context, address)
    context.set_offline(True)
    type_(page, "5.951", "5.950")
    echo(page, "nothing is kept on this tablet while it is offline")
    context.set_offline(False)
    assert [reading.raw for reading in stored(shop.store, 2)] == ["5.951", "5.950"]


FULL = """const put = IDBObjectStore.prototype.put;
IDBObjectStore.prototype.put = function (item) {
  if (this.name === "waiting") throw new DOMException("no room is left", "QuotaExceededError");
  return put.call(this, item);
};"""


def test_a_line_that_the_device_cannot_keep_stays_in_the_line_and_says_why(shop, context, address):
    context.add_init_script(FULL)
    page = opened(context, address)
    type_(page, "5.951")
    until(page, "document.getElementById('under').textContent.includes('could not keep it')")
    assert page.inner_text("#raw").strip("\u200b") == "5.951"
    assert station(page) == ("Inl 3F", "middle, across")
    assert not typed(shop.store)


SPY = """window.kept = [];
const begin = IDBDatabase.prototype.transaction;
IDBDatabase.prototype.transaction = function (stores, mode, options) {
  if (mode === "readwrite") window.kept.push(options?.durability);
  return begin.call(this, stores, mode, options);
};"""


def test_a_line_is_on_the_disk_of_the_device_before_it_is_acknowledged(context, address):
    context.add_init_script(SPY)
    page = opened(context, address)
    type_(page, "5.951")
    echo(page, "kept as it came")
    kept = page.evaluate("window.kept")
    assert len(kept) >= 2 and set(kept) == {"strict"}


CLOCK = """const Real = Date; const off = %d * 86400000;
window.Date = class extends Real {
  constructor(...given) { if (given.length) super(...given); else super(Real.now() + off); }
  static now() { return Real.now() + off; }
};"""


def test_clocks_that_are_wrong_by_days_change_nothing_of_the_order(shop, browser, address):
    late, early = browser.new_context(viewport=WIDE), browser.new_context(viewport=WIDE)
    late.add_init_script(CLOCK % -40)
    early.add_init_script(CLOCK % 12)
    one = opened(late, address)
    two = opened(early, address, f"/jobs/{JOB}/bench?characteristic=stem_diameter&place=exh-1f/top/along")
    for n in range(3):
        type_(two, f"5.93{n}")
        echo(two, f"5.93{n} kept as it came")
        type_(one, f"5.95{n}")
        echo(one, f"5.95{n} kept as it came")
    kept = stored(shop.store, 6)
    assert [reading.raw for reading in kept] == ["5.930", "5.950", "5.931", "5.951", "5.932", "5.952"]
    ats = [event.at for event in shop.store.events(JOB)[-6:]]
    assert ats != sorted(ats), "what each clock said is kept as it came"
    type_(one, "*")
    echo(one, "5.952 at")
    assert [r.raw for r in typed(shop.store) if r.state == "taken back"] == ["5.952"]
    late.close()
    early.close()
