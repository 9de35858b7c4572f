"""The entry line: everything that a pad, a keyboard or a gauge can send at a station."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench_job import LEAVES, STEM, Shop
from witnessmark.desk.commands import Stamp
from witnessmark.desk.one_limit import Typed, enter_limit

STEM_LIMIT = "  stem_diameter:\n    - {for: inl, service: {low: 5.940}, unit: mm, stations: worst}\n"
HERE = "inl-1f/top/along"


@pytest.fixture
def shop():
    return Shop(STEM_LIMIT)


def test_a_number_is_kept_and_the_walk_goes_on(shop):
    outcome = shop.type("stem_diameter", HERE, "5.952", "M-07")
    assert (outcome.status, outcome.next.place) == ("kept", "inl-1f/top/across")
    assert outcome.echo == "5.952 kept as it came, by M-07"
    (event,) = outcome.events
    assert event.body["raw"] == "5.952" and event.body["meaning"] == {
        "kind": "number",
        "value": "5.952",
        "unit": "mm",
        "step": "0.001",
    }


def test_a_series_ends_and_the_next_valve_begins(shop):
    for station in STEM[:-1]:
        shop.type("stem_diameter", f"inl-1f/{station}", "5.952", "M-07")
    assert shop.type("stem_diameter", f"inl-1f/{STEM[-1]}", "5.952", "M-07").next.place == "inl-1r/top/along"


def test_an_inch_reading_among_millimetres_is_asked_back_and_not_counted(shop):
    shop.stem("inl-1f", *["5.952"] * 6)
    outcome = shop.type("stem_diameter", "inl-1r/top/along", "0.2351", "M-07")
    assert outcome.status == "asked" and outcome.next.place == "inl-1r/top/across"
    assert (
        outcome.detail
        == "Inl 1R top, along came as 0.2351: 25.3 times under its neighbours. Read in inch it is 5.972 mm, near them."
    )
    assert [answer["label"] for answer in outcome.question["answers"]] == ["it was inch", "it was mm", "measure again"]
    assert shop.state().reading(outcome.reading).state == "asked"


@pytest.mark.parametrize(
    ("key", "state", "value"),
    [("*1", "counted", 0.2351 * 25.4), ("*2", "counted", 0.2351), ("*3", "measure again", None)],
)
def test_an_answer_settles_the_question_and_the_raw_text_stays(shop, key, state, value):
    shop.stem("inl-1f", *["5.952"] * 6)
    asked = shop.type("stem_diameter", "inl-1r/top/along", "0.2351", "M-07").reading
    shop.type("stem_diameter", "inl-1r/top/across", key, "M-07")
    reading = shop.state().reading(asked)
    assert (reading.state, reading.raw) == (state, "0.2351")
    counted = [s.value for r in shop.results("stem_diameter") for s in r.sources if s.reading == asked]
    assert counted == ([pytest.approx(value)] if value else [])


def test_a_shop_tenth_is_asked_at_the_line_and_stays_there(shop):
    outcome = shop.type("stem_diameter", HERE, "2 tenths", "M-07")
    assert outcome.status == "which" and outcome.next.place == HERE
    again = shop.type("stem_diameter", HERE, "5.950", "M-07")
    assert again.events[0].body["supersedes"] == outcome.reading and again.events[0].body["reason"] == "typed again"
    assert not shop.state().job.questions


def test_two_points_cannot_be_read_and_are_kept_as_a_question(shop):
    outcome = shop.type("stem_diameter", HERE, "5..952", "M-07")
    assert (outcome.status, outcome.next.place) == ("unread", HERE)
    assert outcome.span is not None and "5..952"[slice(*outcome.span)].strip(".") == ""
    assert not shop.results("stem_diameter")


def test_take_back_names_what_it_takes_back_and_goes_there(shop):
    shop.type("stem_diameter", HERE, "5.952", "M-07")
    outcome = shop.type("stem_diameter", "inl-1f/top/across", "*", "M-07")
    assert (outcome.echo, outcome.next.place) == ("5.952 at Inl 1F top, along taken back", HERE)
    assert not shop.results("stem_diameter")


def test_take_back_goes_back_any_number_of_times_and_then_says_so(shop):
    shop.stem("inl-1f", "5.952", "5.953")
    taken = [shop.type("stem_diameter", HERE, "*").echo for _ in range(2)]
    assert [echo.split()[0] for echo in taken] == ["5.953", "5.952"]
    assert "nothing of this device" in shop.type("stem_diameter", HERE, "*").detail


def test_one_device_does_not_take_back_what_another_typed(shop):
    shop.type("stem_diameter", HERE, "5.952", "M-07", device="other")
    assert shop.type("stem_diameter", HERE, "*").status == "refused"


def test_a_bounced_data_key_skips_no_place(shop):
    outcome = shop.type("stem_diameter", HERE, "")
    assert (outcome.status, outcome.events, outcome.next.place) == ("nothing", (), HERE)


@pytest.mark.parametrize(
    ("key", "reason"), [("-", "not measured"), ("*5", "cannot be measured"), ("*8", "measured elsewhere")]
)
def test_a_place_is_left_out_with_its_reason(shop, key, reason):
    assert shop.type("stem_diameter", HERE, key).next.place == "inl-1f/top/across"
    waived = {one.place: one.waived for one in shop.state().judgement.missing}
    assert waived[HERE] == reason


def test_the_rest_of_a_series_is_waived_at_once(shop):
    shop.type("stem_diameter", HERE, "5.952", "M-07")
    assert shop.type("stem_diameter", "inl-1f/top/across", "*6").next.place == "inl-1r/top/along"
    result = shop.only("stem_diameter")
    assert result.complete and result.read == 1


def test_a_correction_supersedes_and_asks_for_its_reason(shop):
    first = shop.type("stem_diameter", HERE, "5.925", "M-07").reading
    outcome = shop.type("stem_diameter", HERE, "5.952", "M-07", supersedes=first)
    assert outcome.extra["correction"] and outcome.events[0].body["reason"] == "not given"
    assert shop.only("stem_diameter").value == pytest.approx(5.952)
    assert shop.state().reading(first).superseded_by == outcome.reading


def test_a_second_reading_of_a_place_is_a_repeat(shop):
    shop.type("stem_diameter", HERE, "5.950", "M-07")
    shop.type("stem_diameter", HERE, "5.952", "M-07")
    assert shop.only("stem_diameter").value == pytest.approx(5.951)


def test_the_limit_leaf_that_does_not_enter_needs_one_key():
    shop = Shop("  head_flatness:\n    - {service: {high: 0.05}, unit: mm}\n", gauges={"L-04": LEAVES})
    shop.type("head_flatness", "gasket-face/inlet-edge", "*4", "L-04")
    assert shop.only("head_flatness").interval == (pytest.approx(0.04), pytest.approx(0.05))


def test_a_leaf_that_the_set_does_not_have_is_named():
    shop = Shop(gauges={"L-04": LEAVES})
    assert shop.type("head_flatness", "gasket-face/inlet-edge", "0.045", "L-04").status == "unread"


def test_a_bore_gauge_reads_its_deviation_from_the_set_size():
    shop = Shop()
    shop.set_to("B-02", "6.000", "M-07")
    shop.type("guide_bore", HERE, "+0.012", "B-02")
    assert shop.only("guide_bore").value == pytest.approx(6.012)


def test_an_inch_gauge_gives_inches_whatever_the_page_shows():
    inch = {"kind": "micrometer", "unit": "in", "resolution": "0.0001", "calibration": {"U": "0.0001", "k": "2"}}
    shop = Shop(gauges={"M-1": inch})
    outcome = shop.type("stem_diameter", HERE, "0.2345", "M-1")
    assert outcome.events[0].body["meaning"]["unit"] == "in"
    assert shop.only("stem_diameter").value == pytest.approx(0.2345 * 25.4)


@pytest.mark.parametrize(("characteristic", "place", "gauge", "words"), [
    ("stem_diametre", HERE, None, "no characteristic is called"),
    ("stem_diameter", "inl-9f/top/along", None, "not read at"),
    ("stem_diameter", HERE, "M-99", "no gauge M-99"),
    ("stem_guide_clearance", HERE, None, "worked out from other readings"),
])  # fmt: skip
def test_what_cannot_be_is_refused_with_a_sentence(shop, characteristic, place, gauge, words):
    outcome = shop.type(characteristic, place, "5.95", gauge)
    assert (outcome.status, outcome.events) == ("refused", ()) and words in outcome.detail


def test_an_engine_that_nobody_described_has_no_places():
    shop = Shop(engine={})
    assert "describe the engine" in shop.type("stem_diameter", HERE, "5.95").detail


@given(st.text(max_size=250))
def test_no_line_whatever_it_holds_ends_in_an_error(line):
    outcome = Shop(STEM_LIMIT).type("stem_diameter", HERE, line, "M-07")
    assert outcome.status in {
        "kept",
        "asked",
        "which",
        "unread",
        "done",
        "unit",
        "repeat",
        "note",
        "nothing",
        "refused",
    }
    assert outcome.status not in {"unread", "refused"} or outcome.detail


def test_without_a_limit_sheet_a_hand_is_still_led_through_everything():
    shop = Shop()
    assert shop.state().route[0].characteristic == "valve_lash" and not shop.state().judgement.missing
    outcome = shop.type("stem_diameter", "inl-1f/top/along", "5.950", "M-07")
    assert outcome.next.place == "inl-1f/top/across"


def test_a_sheet_that_grows_at_the_bench_does_not_shorten_the_walk():
    shop = Shop()
    whole = len(shop.state().route)
    typed = Typed("stem_diameter", "inl-1f/top/along", "5.940", "", "mm", "41")
    for event in enter_limit(shop.state(), Stamp("e50", "2026-11-24T09:00:00Z"), typed):
        shop.add(event.kind, dict(event.body))
    assert len(shop.state().route) == whole
    assert {one.characteristic for one in shop.state().judgement.missing} == {"stem_diameter"}


def test_a_scanned_label_leads_to_its_place_and_keeps_nothing():
    shop = Shop("  margin:\n    - {service: {low: 0.8}, unit: mm}\n")
    for code in ("WM:HL-1/inl-3f", "http://127.0.0.1:8620/at/HL-1/inl-3f"):
        outcome = shop.type("margin", "inl-1f", code)
        assert (outcome.status, outcome.next.place, outcome.events) == ("done", "inl-3f", ())
    other = shop.type("margin", "inl-1f", "WM:HL-2/inl-3f")
    assert other.status == "refused" and "HL-2" in other.detail
    assert "nothing is asked for" in shop.type("margin", "inl-1f", "WM:HL-1/bolt-3").detail
    assert shop.type("margin", "inl-1f", "WM:HL-1/nowhere").status == "refused"
