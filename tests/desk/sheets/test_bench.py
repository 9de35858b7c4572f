"""The bench page as data: where the gauge goes, how the series stands, what the hand holds."""

import pytest

from shell.web.shop import LIMITS, STEMS, Shop, catalogue
from witnessmark.desk.sheets.bench import Asked, Nowhere, answers_of, bench_sheet, stop_words
from witnessmark.desk.sheets.stops import next_beside, stops_of

STEM = "stem_diameter"


@pytest.fixture(scope="module")
def shop(tmp_path_factory):
    shop = Shop(tmp_path_factory.mktemp("bench"))
    shop.open_job()
    shop.measure()
    yield shop
    shop.store.close()


def sheet(shop, place="inl-3f/middle/across", characteristic=STEM, **more):
    return bench_sheet(shop.state(), Asked(characteristic, place, **more))


def test_the_head_of_the_entry_names_place_station_and_how_many_there_are(shop):
    shown = sheet(shop)
    assert (shown.title, shown.name, shown.detail, shown.n, shown.of) == (
        "Inlet stem diameter", "Inl 3F", "middle, across", 4, 6)  # fmt: skip


def test_the_series_holds_the_valves_of_one_kind_in_the_order_of_a_hand(shop):
    names = [row.name for row in sheet(shop).rows]
    assert names == ["Inl 1F", "Inl 1R", "Inl 2F", "Inl 2R", "Inl 3F", "Inl 3R", "Inl 4F", "Inl 4R"]


def test_every_row_says_value_verdict_and_what_would_help(shop):
    rows = {row.name: (row.value, row.word) for row in sheet(shop).rows}
    assert rows["Inl 1F"] == (f"{min(STEMS['inl-1f']):.3f}", "within")
    assert rows["Inl 1R"] == ("5.931", "out")
    assert rows["Inl 2F"] == ("5.941", "too close to call")
    assert rows["Inl 3R"] == ("", "not measured")
    small = {row.name: row.small for row in sheet(shop).rows}
    assert (small["Inl 1R"], small["Inl 2R"], small["Inl 3F"]) == ("by 0.009", "so far, 5 of 6", "so far, 3 of 6")


def test_an_unfinished_series_is_set_in_an_open_pen(shop):
    pens = {row.name: row.pen for row in sheet(shop).rows}
    assert pens["Inl 3F"] == "v-within sofar" and pens["Inl 1F"] == "v-within"


def test_the_question_stands_in_its_own_row_with_its_answers(shop):
    asked = [row for row in sheet(shop).rows if row.question]
    assert [row.name for row in asked] == ["Inl 2R"]
    assert asked[0].question.answers == ("it was inch", "it was mm", "measure again")
    assert "0.2351" in asked[0].question.text


def test_a_question_of_another_series_is_not_lost_from_sight(shop):
    away = sheet(shop, "gasket-face/diagonal-1", "head_flatness")
    assert away.elsewhere is not None and away.elsewhere.name == "Inl 2R"
    assert sheet(shop).elsewhere is None


def test_a_mark_says_what_it_shows(shop):
    told = {row.name: row.aria for row in sheet(shop).rows}
    assert "5.931 millimetre" in told["Inl 1R"] and "out" in told["Inl 1R"] and "least 5.940" in told["Inl 1R"]
    assert told["Inl 4F"].endswith("not measured")


def test_in_inch_the_values_change_and_the_unit_of_the_line_does_not(shop):
    shown = sheet(shop, unit="in")
    assert [row.value for row in shown.rows][:2] == ["0.2347", "0.2335"]
    assert shown.unit == "mm"
    assert shown.rows[0].beside == "5.961", "what came stays beside what is shown"


def test_the_gauge_in_hand_is_the_one_that_read_last_unless_another_is_chosen(shop):
    assert (sheet(shop).gauge, sheet(shop).unit) == ("M-07", "mm")
    assert (sheet(shop, gauge="M-11").gauge, sheet(shop, gauge="M-11").unit) == ("M-11", "in")
    assumed = sheet(shop, gauge="assumed")
    assert assumed.gauge == "" and "assumed" in next(c.text for c in assumed.chrome.cells if c.label == "gauge")


def test_leaves_in_hand_bring_their_own_keys(shop):
    shown = sheet(shop, "gasket-face/diagonal-1", "head_flatness")
    assert (shown.gauge, shown.leaves) == ("L-04", True)


def test_lines_of_a_face_are_rows_of_their_own(shop):
    rows = [row.name for row in sheet(shop, "gasket-face/diagonal-1", "head_flatness").rows]
    assert "diagonal 1" in rows and len(rows) >= 6


def test_take_back_names_what_this_device_would_take_back(shop):
    assert sheet(shop, device="d-setup").back == "5.952"
    assert sheet(shop, device="another").back == ""


def test_a_row_opened_shows_where_its_doubt_comes_from(shop):
    budget = sheet(shop, open="budget").budget
    assert budget.came == ("5.959", "5.958", "5.952")
    assert "M-07" in " ".join(line.source for line in budget.lines)
    assert budget.picture is not None


def test_arrows_lead_along_the_route_and_along_the_rows(shop):
    ways = {way: stop.place for way, stop in sheet(shop).ways}
    assert ways["previous"] == "inl-3f/middle/along" and ways["next"] == "inl-3f/bottom/along"
    assert ways["up"].startswith("inl-2r") and ways["down"].startswith("inl-3r")


def test_without_a_place_the_next_unread_station_is_shown(shop):
    assert sheet(shop, "").place == "inl-2r/bottom/across"


def test_a_limit_that_is_missing_is_asked_for_beside_the_series(shop):
    shown = sheet(shop, "exh-2r", "seat_width")
    assert shown.limitless.startswith("seat width") and shown.limitless.endswith("Exh")
    assert sheet(shop).limitless == ""


@pytest.mark.parametrize(("characteristic", "place", "words"), [
    ("stem_diametre", "", "did you mean 'stem_diameter'"),
    (STEM, "inl-9f/middle/across", "is no place of stem_diameter"),
    ("guide_clearance", "", "worked out"),
])  # fmt: skip
def test_a_station_that_is_not_there_is_told_by_name(shop, characteristic, place, words):
    if characteristic == "guide_clearance":
        characteristic = next(c.id for c in shop.catalogue.characteristics.values() if c.kind == "derived")
    with pytest.raises(Nowhere, match=words):
        sheet(shop, place, characteristic)


def test_without_limits_the_bench_begins_at_the_first_thing_that_can_be_read(tmp_path):
    shop = Shop(tmp_path)
    shop.open_job(limits="")
    shown = bench_sheet(shop.state(), Asked())
    assert shown.limitless and shown.rows
    assert all(row.word == "not measured" for row in shown.rows)
    shop.store.close()


@pytest.mark.parametrize("layout", [
    {"layout": "v", "cylinders": "8", "valves": {"inl": [""], "exh": [""]}, "gear": "pushrod_hydraulic",
     "head": "iron"},
    {"layout": "inline", "cylinders": "1", "valves": {"inl": [""], "exh": [""]}, "gear": "rocker", "head": "aluminium"},
    {"layout": "opposed", "cylinders": "6", "valves": {"inl": ["f", "m", "r"], "exh": ["f", "r"]},
     "gear": "bucket_shim", "head": "aluminium"},
], ids=["Egret", "Wren", "five valves"])  # fmt: skip
def test_every_characteristic_of_every_layout_has_a_bench_page(tmp_path, monkeypatch, layout):
    monkeypatch.setattr("shell.web.shop.TERN", layout)
    shop = Shop(tmp_path)
    shop.open_job(limits=LIMITS)
    state = shop.state()
    read = [entry for entry in state.catalogue.characteristics.values() if stops_of(state, entry)]
    shown = [bench_sheet(state, Asked(entry.id, unit=unit)) for entry in read for unit in ("mm", "in")]
    assert len(shown) > 30
    assert all(one.drawing and one.name for one in shown)
    shop.store.close()


def test_a_station_in_words_is_what_the_page_needs_to_move_at_once(shop):
    stop = shop.state().route[8]
    assert set(stop_words(stop)) == {"characteristic", "place", "n", "of", "name", "detail"}


def test_a_line_of_a_face_is_judged_by_its_own_leaves(tmp_path):
    shop = Shop(tmp_path)
    shop.open_job()
    for edge, leaf in (("inlet-edge", "0.03"), ("diagonal-1", "0.04"), ("diagonal-2", "0.06")):
        shop.line(leaf, f"gasket-face/{edge}", "head_flatness", "L-04")
    rows = {row.name: (row.value, row.word) for row in sheet(shop, "gasket-face/inlet-edge", "head_flatness").rows}
    assert rows["inlet edge"] == ("0.03–0.04", "within")
    assert rows["diagonal 1"] == ("0.04–0.05", "within"), "the limit leaf does not enter"
    assert rows["diagonal 2"] == ("0.06–0.07", "out")
    shop.store.close()


def test_beside_the_route_the_walk_goes_on_by_itself(shop):
    state = shop.state()
    onward = next_beside(state, "spring_free_length", "inl-1f")
    assert (onward.place, onward.n, onward.of) == ("inl-1r", 1, 1)
    assert next_beside(state, STEM, "inl-3f/middle/across") is None, "the route goes on by itself"
    assert next_beside(state, "nothing", "inl-1f") is None


def test_an_answer_waits_for_how_much_where_that_may_be_said():
    keys = {name: [one.key for one in answers_of(catalogue().characteristics[name])]
            for name in ("head_cracks", "jacket_pressure_test", "valve_neck")}  # fmt: skip
    assert keys["head_cracks"] == ["=1", "2 ", "3 ", "4 "]  # the length of a crack, and none of no crack
    assert keys["jacket_pressure_test"] == ["1 ", "2 ", "3 ", "4 "]  # it holds at a pressure
    assert keys["valve_neck"] == ["=1", "=2", "=3", "=4", "=5"]
