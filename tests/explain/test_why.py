"""Every reason has its sentence, in millimetre and in inch, with the numbers that decided."""

import re

import pytest

from bench_job import BORE, LEAVES, MICROMETER, STEM, Shop
from witnessmark.explain.why import REASONS, why
from witnessmark.explain.words import limit_words, settle_words, unit_of, value_words, verdict_words

SHEET = """  stem_diameter:
    - {for: inl, service: {low: 5.940}, new: {low: 5.965, high: 5.980}, unit: mm, stations: worst, page: 41}
  stem_taper:
    - {service: {high: 0.010}, unit: mm}
  head_flatness:
    - {service: {high: 0.055}, unit: mm, page: 40}
  valve_lash:
    - {for: inl, service: {low: 0.05, high: 0.08}, unit: mm}
  head_cracks:
    - {accept: [none], page: 12, to_check: yes}
  spring_pocket:
    - {service: {high: 0.10}, unit: mm}
"""


@pytest.fixture(scope="module")
def results():
    shop = Shop(SHEET, gauges={"M-07": MICROMETER, "B-02": BORE, "L-04": LEAVES})
    shop.stem("inl-1f", *["5.961"] * 6)
    shop.stem("inl-1r", *["5.931"] * 6)
    shop.stem("inl-2f", *["5.941"] * 6)
    shop.stem("inl-2r", "5.960", "5.960", "5.960", "5.960", "5.941", "5.960")
    shop.stem("inl-3f", "5.960", "5.960", "5.960", "5.960", "5.950", "5.960")
    shop.stem("exh-1f", *["5.955"] * 6)
    for line in ("0.05 0.06",):
        shop.type("head_flatness", "gasket-face/inlet-edge", line, "L-04")
    shop.type("valve_lash", "inl-1f", "0.05 0.06", "L-04")
    shop.type("valve_lash", "inl-1r", "0.03 0.04", "L-04")
    for place, says, method in (("chamber-1/deck", "none", "penetrant"), ("chamber-2/deck", "none", "eye"),
                                ("chamber-3/deck", "unsure", "eye"), ("chamber-4/deck", "crack", "eye")):  # fmt: skip
        look(shop, "head_cracks", place, says, method)
    look(shop, "spring_pocket", "inl-1f", "fretted", "lens", "0.12")
    look(shop, "spring_pocket", "inl-1r", "fretted", "lens")
    return shop.state().judgement.results


def look(shop, name, place, says, method, amount=None):
    meaning = {"kind": "look", "says": says, "value": amount, "unit": "mm" if amount else None}
    shop.add("reading_taken", {"characteristic": name, "place": place, "raw": f"{says} {amount or ''}".strip(),
                               "meaning": meaning, "round": "as found", "reader": "1", "method": method})  # fmt: skip


def test_every_reason_is_met_and_has_words(results):
    assert {result.reason for result in results} == set(REASONS)


def test_every_sentence_is_whole_and_has_numbers(results):
    for result in results:
        for unit in ("mm", "in"):
            sentence = why(result, unit)
            assert sentence[0].isupper() or sentence[0].isdigit() or sentence[0] == "("
            assert sentence.endswith(".") and "None" not in sentence.replace("None,", "")
            assert result.says or re.search(r"\d", sentence)
            assert "safe" not in sentence


def one(results, location, reason):
    return next(result for result in results if result.location == location and result.reason == reason)


def test_what_is_out_says_by_how_much_and_where_the_limit_stands(results):
    result = one(results, "inl-1r", "value out")
    assert why(result).startswith(
        "5.931 is 0.009 under the least 5.940 you entered, further than U 0.0032 mm (k = 2) can explain."
    )
    assert why(result).endswith("Limit: Tern book (invented), page 41.")
    assert verdict_words(result) == ("out", "by 0.009")


def test_inches_are_shown_with_the_decimals_of_a_shop_micrometer(results):
    result = one(results, "inl-1r", "value out")
    assert value_words(result, "in") == "0.2335" and limit_words(result.against, result, "in") == "least 0.2339"


def test_a_limit_is_shown_as_it_was_written(results):
    assert (
        limit_words(one(results, "inl-1f", "value within").against, one(results, "inl-1f", "value within"))
        == "least 5.940"
    )


def test_leaves_are_shown_as_a_pair_and_name_the_leaf_that_settles(results):
    result = one(results, "gasket-face", "leaves close")
    assert value_words(result) == "0.05–0.06" and settle_words(result) == "leaf 0.055"


def test_what_is_too_close_says_its_cure(results):
    result = one(results, "inl-2f", "value close")
    assert verdict_words(result)[1].startswith(("needs U", "2 readings", "3 readings", "4 readings"))


def test_a_series_in_progress_says_how_far_it_is():
    shop = Shop(SHEET)
    shop.stem("inl-1f", *["5.961"] * 5)
    assert verdict_words(next(r for r in shop.results("stem_diameter"))) == ("within", "so far, 5 of 6")
    assert len(STEM) == 6


@pytest.mark.parametrize(
    ("location", "reason", "sentence"),
    [
        ("chamber-1", "look within", "None, penetrant: the limit you entered accepts none."),
        ("chamber-2", "look unproven", "None, by eye: nothing was seen, and this way of looking misses fine cracks, cracks "
         "under carbon or paint, and everything below the surface. Penetrant would settle it."),
        ("chamber-3", "look doubt", "Unsure, by eye: that is no yes and no no. Penetrant would settle it."),
        ("chamber-4", "look out", "Crack, by eye: outside the limit you entered, which accepts none."),
        ("inl-1f", "look amount out", "Fretted 0.12 mm, under a lens: outside the limit you entered, which accepts most 0.10."),
        ("inl-1r", "look amount unsaid", "Fretted, under a lens: the limit you entered is most 0.10, and how much was not said. "
         "Measure it."),
    ],
)  # fmt: skip
def test_what_was_looked_at_says_how_and_what_that_is_worth(results, location, reason, sentence):
    assert why(one(results, location, reason)).startswith(sentence)


def test_a_limit_that_was_copied_says_that_it_is_to_be_checked(results):
    found = one(results, "chamber-1", "look within")
    assert why(found).endswith("Limit: Tern book (invented), page 12, copied and still to be checked.")
    assert settle_words(one(results, "chamber-2", "look unproven")) == "penetrant would settle"
    assert (value_words(one(results, "inl-1f", "look amount out")), value_words(found)) == ("fretted 0.12 mm", "none")
    assert "(0.0047 in" not in why(one(results, "inl-1f", "look amount out"), "in")
    assert value_words(one(results, "inl-1f", "look amount out"), "in") == "fretted 0.0047 in"


@pytest.mark.parametrize(("display", "value", "limit", "by"), [
    ("mm", "1.820", "most 1.6", "by 0.220"), ("in", "71.7", "most 63.0", "by 8.7"),
])  # fmt: skip
def test_a_roughness_is_told_in_micrometre_or_microinch_and_not_with_zeros_before_it(display, value, limit, by):
    tester = {"kind": "surface_tester", "unit": "µm", "resolution": "0.001"}
    shop = Shop("  deck_finish:\n    - {service: {high: 1.6}, unit: µm}\n", gauges={"S-1": tester})
    shop.type("deck_finish", "gasket-face/trace-1", "1.820", "S-1")
    result = shop.only("deck_finish")
    assert (value_words(result, display), limit_words(result.against, result, display)) == (value, limit)
    unit = {"mm": "µm", "in": "µin"}[display]
    assert unit_of(result, display) == unit and f" {unit} (k = 2)" in why(result, display)
    assert verdict_words(result, display)[1] in (by, "so far, 1 of 3")
