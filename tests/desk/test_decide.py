"""What a person decides beside the verdict, what the customer says to it, quick or full, photos, trust in gauges."""

import pytest

from bench_job import MICROMETER, Shop
from witnessmark.desk import checks, decide
from witnessmark.desk.bench import Refused
from witnessmark.desk.commands import Stamp

LIMITS = "  stem_diameter:\n    - {service: {low: 5.940}, unit: mm, page: 41}\n"
STEM = ("stem_diameter", "inl-1f/middle/across")


def stamp(n):
    return Stamp(f"x{n}", "2026-11-25T09:00:00Z", "J. M.", "bench-1", n)


def refusal(call, *args, **more):
    with pytest.raises(Refused) as told:
        call(*args, **more)
    return str(told.value)


def keep(shop, events):
    shop.log += [event.stored(len(shop.log) + n, "") for n, event in enumerate(events, 1)]
    return shop.state()


def decided(shop, n=1, decision="replaced", why="stem worn through"):
    return keep(shop, decide.decide(shop.state(), stamp(n), "stem_diameter", "inl-1f", decision, why, "valve_replace"))


def test_a_decision_stands_beside_the_verdict_and_moves_no_reading():
    shop = Shop(LIMITS)
    shop.type(*STEM, "5.931", "M-07")
    before = shop.state().judgement
    after = decided(shop)
    assert after.judgement == before
    (one,) = after.job.decisions
    assert (one.decision, one.operation, one.why, one.by) == ("replaced", "valve_replace", "stem worn through", "J. M.")


def test_the_later_decision_of_a_row_stands():
    shop = Shop(LIMITS)
    decided(shop, 1, "replaced", "worn")
    state = decided(shop, 2, "used again", "measured once more")
    assert [one.decision for one in state.job.decisions if one.place == "inl-1f"][-1] == "used again"


@pytest.mark.parametrize(("args", "words"), [
    (("stem_diametre", "inl-1f", "replaced", "worn"), "stem_diameter"),
    (("stem_diameter", "valve 1", "replaced", "worn"), "names no place"),
    (("stem_diameter", "inl-1f", "binned", "worn"), "used again"),
    (("stem_diameter", "inl-1f", "replaced", "  "), "reason"),
    (("stem_diameter", "inl-1f", "replaced", "worn", "valve_replac"), "valve_replace"),
])  # fmt: skip
def test_a_decision_that_says_nothing_known_is_refused(args, words):
    assert words in refusal(decide.decide, Shop(LIMITS).state(), stamp(1), *args)


def test_the_customer_says_yes_up_to_a_price():
    shop = Shop(LIMITS)
    decided(shop)
    state = keep(shop, decide.customer_says(shop.state(), stamp(2), (), "yes", "450,00", "eur", "by telephone"))
    (answer,) = state.job.answers
    assert (answer.answer, answer.ceiling, answer.currency) == ("yes", "450.00", "EUR")


def test_the_customer_says_no_to_one_of_them():
    shop = Shop(LIMITS)
    state = decided(shop)
    (event,) = decide.customer_says(state, stamp(2), [state.job.decisions[0].event], "no")
    assert event.body["about"] == [state.job.decisions[0].event] and event.body["ceiling"] is None


@pytest.mark.parametrize(("more", "words"), [
    ({"answer": "perhaps"}, "yes or no"),
    ({"answer": "yes", "ceiling": "a lot", "currency": "EUR"}, "money"),
    ({"answer": "yes", "ceiling": "450"}, "currency"),
    ({"answer": "yes", "ceiling": "450", "currency": "Euro"}, "three letters"),
])  # fmt: skip
def test_an_answer_that_cannot_be_kept_is_refused(more, words):
    shop = Shop(LIMITS)
    assert words in refusal(decide.customer_says, decided(shop), stamp(2), (), **more)


def test_there_must_be_something_to_answer():
    state = Shop(LIMITS).state()
    assert "decide first" in refusal(decide.customer_says, state, stamp(1), (), "yes")
    assert "no decision" in refusal(decide.customer_says, state, stamp(1), ("x9",), "yes")


def test_the_route_is_full_until_quick_is_chosen():
    shop = Shop(LIMITS)
    assert shop.state().job.extent == "full"
    assert keep(shop, decide.choose_route(shop.state(), stamp(1), "quick")).job.extent == "quick"
    assert "quick or full" in refusal(decide.choose_route, shop.state(), stamp(2), "scenic")


def test_a_photo_is_named_where_it_belongs():
    shop = Shop(LIMITS)
    state = keep(shop, decide.add_photo(shop.state(), stamp(1), "a" * 64, (1000, 800, 600), *STEM, note="step here",
                                        mark=("0.4", "0.6")))  # fmt: skip
    (photo,) = state.job.photos
    assert (photo.place, photo.note, photo.width) == (STEM[1], "step here", 800)
    assert "names no place" in refusal(decide.add_photo, state, stamp(2), "a" * 64, (1, 1, 1), STEM[0], "somewhere")


def test_a_zero_check_passes_within_the_doubt_of_the_gauge_or_within_what_is_allowed():
    state = Shop(LIMITS).state()
    zero = {found: checks.check_zero(state, stamp(1), "M-07", found)[0].body for found in ("0.000", "+0.001", "-0.009")}
    assert [zero[found]["passed"] for found in zero] == [True, True, False]
    assert checks.check_zero(state, stamp(1), "M-07", "-0.009", allowed="0.010")[0].body["passed"]
    assert zero["+0.001"]["found"] == "+0.001" and zero["+0.001"]["unit"] == "mm"


def test_a_zero_found_in_another_unit_is_kept_in_that_of_the_gauge():
    body = checks.check_zero(Shop(LIMITS).state(), stamp(1), "M-07", "0.0001 in")[0].body
    assert body["found"] == "0.00254" and body["unit"] == "mm"


def test_leaves_have_no_zero_and_unknown_gauges_are_told():
    state = Shop(LIMITS).state()
    assert "set of leaves" in refusal(checks.check_zero, state, stamp(1), "L-04", "0")
    assert "M-99" in refusal(checks.check_zero, state, stamp(1), "M-99", "0")
    assert "found 'nearly'" in refusal(checks.check_zero, state, stamp(1), "M-07", "nearly")
    assert "before, between, after" in refusal(checks.check_zero, state, stamp(1), "M-07", "0", "closed", "later")


def test_two_gauges_are_held_against_each_other_on_one_part():
    shop = Shop(LIMITS, gauges={"M-07": MICROMETER, "M-08": MICROMETER, "F-1": {"kind": "spring_tester", "unit": "N", "resolution": "1", "calibration": {"U": "2", "k": "2"}}})  # fmt: skip
    state = keep(shop, checks.compare_gauges(shop.state(), stamp(1), "M-07", "M-08", "ring 6", "6.001", "6.000"))
    (one,) = state.job.comparisons
    assert (one.first_read, one.second_read, one.on) == ("6.001", "6.000", "ring 6")
    assert "itself" in refusal(checks.compare_gauges, state, stamp(2), "M-07", "M-07", "ring", "6", "6")
    assert "cannot be compared" in refusal(checks.compare_gauges, state, stamp(2), "M-07", "F-1", "ring", "6", "6")
    assert "on what" in refusal(checks.compare_gauges, state, stamp(2), "M-07", "M-08", " ", "6", "6")


def test_against_a_master_the_full_reading_may_be_typed():
    rod = {"kind": "setting_rod", "unit": "mm", "size": "25.000", "calibration": {"U": "0.002", "k": "2"}}
    state = Shop(LIMITS, gauges={"M-25": MICROMETER, "R-25": rod}).state()
    good = checks.check_zero(state, stamp(1), "M-25", "25.001", "R-25")[0].body
    assert (good["found"], good["read"], good["passed"]) == ("0.001", "25.001", True)
    assert not checks.check_zero(state, stamp(1), "M-25", "25.020", "R-25")[0].body["passed"]
    plain = checks.check_zero(state, stamp(1), "M-25", "+0.001", "R-25")[0].body
    assert plain["passed"] and "read" not in plain
    assert "reads nothing" in refusal(checks.check_zero, state, stamp(1), "R-25", "25.000")
