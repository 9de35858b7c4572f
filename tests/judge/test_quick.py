"""The quick route: the worst places first, all of them where a value comes near, and never another verdict than that."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench_job import LEAVES, MICROMETER, STEM, Shop
from witnessmark.explain.why import why
from witnessmark.explain.words import verdict_words
from witnessmark.judge.quick import is_near
from witnessmark.limits.limit import Limit, Selector

STEMS = (
    "  stem_diameter:\n    - {for: inl, service: {low: 5.940}, new: {low: 5.960, high: 5.970}, unit: mm, page: 41}\n"
)
QUICK = ("top/along", "bottom/along")


class Quick(Shop):
    """A bench on the quick route."""

    def __post_init__(self):
        super().__post_init__()
        self.add("route_chosen", {"extent": "quick", "based_on": None})

    def few(self, valve, *readings):
        for station, line in zip(QUICK, readings, strict=False):
            assert self.type("stem_diameter", f"{valve}/{station}", line, "M-07").status == "kept"

    def missing(self, characteristic, location):
        return [one.place.removeprefix(f"{location}/") for one in self.state().judgement.missing
                if one.characteristic == characteristic and one.place.startswith(f"{location}/")]  # fmt: skip


def test_a_stem_far_from_its_limit_is_finished_with_its_worst_places():
    shop = Quick(STEMS)
    assert shop.missing("stem_diameter", "inl-1f") == list(QUICK)
    shop.few("inl-1f", "5.961", "5.958")
    result = shop.only("stem_diameter")
    assert (result.verdict, result.complete, result.near, result.extent) == ("within", True, False, "quick")
    assert (result.read, result.needed, shop.missing("stem_diameter", "inl-1f")) == (2, 2, [])
    assert why(result).endswith("Read on the quick route: the worst places only.")


@pytest.mark.parametrize(("worst", "near"), [("5.9460", False), ("5.9440", True), ("5.931", True), ("5.941", True)])
def test_a_stem_near_its_limit_is_asked_for_in_full(worst, near):
    """The limit is 5.940 and new work begins at 5.960: a quarter of the way is 5.945."""
    shop = Quick(STEMS)
    shop.few("inl-1f", "5.961", worst)
    result = shop.only("stem_diameter")
    assert (result.near, result.complete) == (near, not near)
    rest = [station for station in STEM if station not in QUICK]
    assert shop.missing("stem_diameter", "inl-1f") == (rest if near else [])
    assert shop.missing("stem_diameter", "inl-1r") == list(QUICK)
    assert {stop.place for stop in shop.state().series("stem_diameter", "inl-1f")} == {
        f"inl-1f/{station}" for station in (STEM if near else QUICK)
    }


def test_a_near_stem_read_in_full_is_finished_and_said_to_be_full():
    shop = Quick(STEMS)
    shop.stem("inl-1f", "5.961", "5.950", "5.950", "5.950", "5.944", "5.950")
    result = shop.only("stem_diameter")
    assert (result.verdict, result.complete, result.extent, result.near) == ("within", True, "full", True)
    assert "quick route" not in why(result)


def test_the_full_route_knows_nothing_of_all_this():
    shop = Shop(STEMS)
    for station in QUICK:
        shop.type("stem_diameter", f"inl-1f/{station}", "5.961", "M-07")
    result = shop.only("stem_diameter")
    assert (result.complete, result.near, result.extent, result.needed) == (False, False, "full", 6)
    assert verdict_words(result) == ("within", "so far, 2 of 6")


def test_a_clearance_near_its_limit_asks_for_both_the_stem_and_the_bore_in_full():
    shop = Quick("  stem_guide_clearance:\n    - {service: {high: 0.080}, unit: mm}\n")
    for valve, bore in (("inl-1f", "6.035"), ("inl-1r", "6.000")):
        shop.few(valve, "5.961", "5.961")
        for station in QUICK:
            shop.type("guide_bore", f"{valve}/{station}", bore, None)
    found = {one.location: (one.verdict, one.near, one.complete) for one in shop.results("stem_guide_clearance")}
    assert found["inl-1f"][1:] == (True, False) and found["inl-1r"] == ("within", False, True)
    for name in ("stem_diameter", "guide_bore"):
        assert shop.missing(name, "inl-1f") == [station for station in STEM if station not in QUICK]
        assert shop.missing(name, "inl-1r") == []


def test_the_bore_gauge_is_asked_for_only_where_the_rocking_test_is_doubtful():
    sheet = ("  stem_wobble:\n    - {service: {high: 0.30}, unit: mm}\n"
             "  stem_guide_clearance:\n    - {service: {high: 0.080}, unit: mm}\n")  # fmt: skip
    shop = Quick(sheet)
    assert shop.missing("guide_bore", "inl-1f") == []
    shop.type("stem_wobble", "inl-1f/along", "0.10", None)
    shop.type("stem_wobble", "inl-1r/along", "0.34", None)
    assert shop.missing("guide_bore", "inl-1f") == []
    assert shop.missing("guide_bore", "inl-1r") == list(QUICK)
    assert shop.missing("guide_bore", "inl-2f") == []


def test_without_a_rocking_limit_the_bore_is_asked_for_everywhere():
    shop = Quick("  stem_guide_clearance:\n    - {service: {high: 0.080}, unit: mm}\n")
    assert shop.missing("guide_bore", "exh-4r") == list(QUICK)


def test_a_mean_of_several_places_rests_on_the_quick_ones():
    shop = Quick("  cam_oil_clearance:\n    - {service: {high: 0.15}, unit: mm}\n")
    for place, line in (("front/along", "25.02"), ("rear/along", "25.03")):
        shop.type("cam_bore_diameter", f"cam-inl/journal-2/{place}", line, None)
        shop.type("cam_journal_diameter", f"cam-inl/journal-2/{place}", "24.96", None)
    results = [one for one in shop.results("cam_oil_clearance") if one.location.startswith("cam-inl/journal-2")]
    assert results and max(one.value for one in results) <= 0.0701


def test_a_gap_near_its_limit_asks_for_the_other_lines():
    shop = Quick("  manifold_face_flatness:\n    - {service: {high: 0.06}, unit: mm}\n", gauges={"L-04": LEAVES})
    shop.type("manifold_face_flatness", "inlet-face/line-1", "0.03 0.04", "L-04")
    shop.type("manifold_face_flatness", "exhaust-face/line-1", "0.05 0.07", "L-04")
    assert shop.missing("manifold_face_flatness", "inlet-face") == []
    assert shop.missing("manifold_face_flatness", "exhaust-face") == ["line-2", "line-3"]


def limit(low=None, high=None, kind="service"):
    return Limit("x", kind, low, high, "", "", "mm", "worst", Selector(), "", "", "even", 1)


@given(st.floats(0, 10), st.floats(0, 2), st.floats(0, 1), st.floats(0.1, 3))
def test_more_doubt_and_less_room_never_take_a_value_away_from_its_limit(room, more, u, width):
    near = is_near("within", (room, room), u, limit(low=0.0), limit(low=width))
    assert near == (room < max(3 * u, width / 4) - 1e-9)
    assert is_near("within", (room, room), u + more, limit(low=0.0), limit(low=width)) >= near
    assert is_near("within", (-room, -room), u, limit(high=0.0), limit(high=-width)) == near


def test_nothing_is_near_a_limit_that_nobody_entered():
    assert not is_near("", (0.0, 0.0), 1.0, None, None)
    assert not is_near("", (0.0, 0.0), 1.0, None, limit(low=0.0))
    assert is_near("too close to call", (9.0, 9.0), 0.1, limit(low=0.0), None)


@settings(max_examples=10, deadline=None)
@given(st.integers(0, 2**32))
def test_what_the_quick_route_finishes_the_full_route_never_calls_out(seed):
    """Stems that wear most at the ends along the thrust, elsewhere as much or less, read with the gauge's own scatter."""
    rng = np.random.default_rng(seed)
    quick, full = Quick(STEMS), Shop(STEMS)
    for valve in ("inl-1f", "inl-1r", "inl-2f", "inl-2r"):
        new, wear = 5.965, rng.uniform(0, 0.03)
        sizes = [new - wear * (1.0 if station in QUICK else rng.uniform(0, 1)) for station in STEM]
        read = [f"{size + rng.normal(0, 0.0012):.3f}" for size in sizes]
        full.stem(valve, *read)
        quick.few(valve, *(line for station, line in zip(STEM, read, strict=True) if station in QUICK))
    by_valve = {one.location: one for one in full.results("stem_diameter")}
    for one in quick.results("stem_diameter"):
        if one.complete:
            assert one.verdict == "within" and by_valve[one.location].verdict != "out"
        assert one.near or one.complete


@pytest.mark.parametrize("extent", ["quick", "full"])
def test_the_route_may_be_chosen_at_any_time_and_changes_no_reading(extent):
    shop = Quick(STEMS, gauges={"M-07": MICROMETER})
    shop.few("inl-1f", "5.961", "5.958")
    before = shop.only("stem_diameter").value
    shop.add("route_chosen", {"extent": extent, "based_on": None})
    result = shop.only("stem_diameter")
    assert (result.value, result.complete) == (before, extent == "quick")
