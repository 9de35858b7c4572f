"""What is looked at, judged: answers, methods, how much, repeats, the worst of several places."""

from dataclasses import replace

import pytest

from bench_job import TERN, Shop
from witnessmark.desk.report import row
from witnessmark.explain.why import why
from witnessmark.explain.words import settle_words
from witnessmark.judge.looks import verdict_of
from witnessmark.limits.limit import Limit, Selector

SOUND = "  head_cracks:\n    - {accept: [none], page: 12}\n"
CHAMBER = ("between-seats", "seat-to-plug", "deck")


class Eye(Shop):
    """A bench that also looks."""

    def look(self, place, says, method=None, amount=None, unit=None, name="head_cracks", **more):
        meaning = {"kind": "look", "says": says, "value": amount, "unit": unit}
        body = {"characteristic": name, "place": place, "raw": f"{says} {amount or ''}".strip(), "meaning": meaning,
                "round": "as found", "reader": "1", "method": method, **more}  # fmt: skip
        self.add("reading_taken", body)
        return self.log[-1].id


def looked(sheet, *says, method="penetrant", engine=TERN):
    shop = Eye(sheet, engine=dict(engine))
    for station, one in zip(CHAMBER, says, strict=False):
        shop.look(f"chamber-2/{station}", one, method)
    return shop.only("head_cracks")


@pytest.mark.parametrize(
    ("says", "method", "verdict", "settles"),
    [
        ("none", "penetrant", "within", None),
        ("none", "eye", "too close to call", "penetrant"),
        ("none", "lens", "too close to call", "penetrant"),
        ("crack", "eye", "out", None),
        ("pores", "penetrant", "out", None),
        ("unsure", "eye", "too close to call", "penetrant"),
    ],
)
def test_none_found_is_worth_what_the_method_can_find(says, method, verdict, settles):
    result = looked(SOUND, "none", says, "none", method=method)
    assert (result.verdict, result.settle.method if result.settle else None) == (verdict, settles)
    assert (result.p_within, result.value, result.needed, result.complete) == (None, None, 3, True)
    assert (result.says, result.method) == (says, method)


def test_a_method_proves_only_on_the_metal_that_it_works_on():
    """Aluminium takes no magnetic powder, so nothing found there by it is nothing known."""
    aluminium = looked(SOUND, "none", "none", "none", method="magnetic_dry")
    iron = looked(SOUND, "none", "none", "none", method="magnetic_dry", engine={**TERN, "head": "iron"})
    assert (aluminium.verdict, iron.verdict) == ("too close to call", "within")


def test_the_worst_place_decides_and_a_crack_need_not_wait_for_the_rest():
    result = looked(SOUND, "none", "crack")
    assert (result.verdict, result.decided, result.complete, result.read) == ("out", True, False, 2)
    assert result.extra["deciding"] == "chamber-2/seat-to-plug"
    assert looked(SOUND, "none", "none").decided is False


def test_without_a_limit_there_is_no_verdict():
    result = looked("", "crack", "none", "none")
    assert (result.verdict, result.against, result.reason, result.says) == ("", None, "no limit", "crack")


def test_a_second_look_stands_and_the_first_is_told():
    shop = Eye(SOUND)
    first = [shop.look(f"chamber-2/{station}", "unsure", "eye") for station in CHAMBER]
    second = [shop.look(f"chamber-2/{station}", "none", "penetrant") for station in CHAMBER]
    result = shop.only("head_cracks")
    assert result.verdict == "within"
    assert {source.reading for source in result.sources} == {*first, *second}
    assert {source.says for source in result.sources if source.verdict} == {"none"}


def test_a_look_without_a_method_takes_the_usual_one_and_says_so():
    result = looked(SOUND, "none", "none", "none", method=None)
    assert (result.verdict, result.method, result.assumed) == ("within", "penetrant", ("method assumed",))


@pytest.mark.parametrize(
    ("says", "amount", "unit", "verdict"),
    [
        ("fretted", "0.05", "mm", "within"),
        ("fretted", "0.12", "mm", "out"),
        ("fretted", "0.10", "mm", "within"),
        ("fretted", "0.003", "in", "within"),
        ("fretted", "0.004", "in", "out"),
        ("fretted", None, None, "too close to call"),
        ("sound", None, None, "within"),
        ("swarf", None, None, "too close to call"),
        ("cup missing", None, None, "too close to call"),
    ],
)
@pytest.mark.parametrize("limit", ["high: 0.10}, unit: mm", "high: 0.0039370079}, unit: in"])
def test_how_much_is_held_against_the_most_that_may_be(says, amount, unit, verdict, limit):
    shop = Eye(f"  spring_pocket:\n    - {{service: {{{limit}}}\n")
    shop.look("inl-1f", says, "lens", amount, unit, name="spring_pocket")
    result = shop.only("spring_pocket")
    assert result.verdict == verdict
    if amount:
        assert result.value == pytest.approx(float(amount) * (25.4 if unit == "in" else 1))


def test_an_answer_may_be_accepted_that_is_not_the_good_one():
    sheet = "  seat_contact_position:\n    - {accept: [centred, high]}\n"
    shop = Eye(sheet)
    for valve, says in (("inl-1f", "high"), ("inl-1r", "low"), ("inl-2f", "centred")):
        shop.look(valve, says, "eye", name="seat_contact_position")
    found = {one.location: one.verdict for one in shop.results("seat_contact_position")}
    assert found == {"inl-1f": "within", "inl-1r": "out", "inl-2f": "within"}


def test_an_answer_that_the_catalogue_does_not_have_is_a_doubt():
    assert looked(SOUND, "none", "something new", "none").verdict == "too close to call"


def test_an_accepted_answer_never_becomes_worse_by_a_better_method():
    limit = Limit("x", "service", None, None, "", "", "", "each", Selector(), "d", "", "even", 1, accept=("none",))
    answers = {"none": "good", "crack": "bad", "unsure": "doubt"}
    for says in answers:
        poor, good = (verdict_of(answers, limit, says, None, proves=proves)[0] for proves in (False, True))
        assert poor == good or (poor, good) == ("too close to call", "within")
    both = replace(limit, accept=("none", "crack"))
    assert verdict_of(answers, both, "none", None, proves=False)[0] == "within"


def test_a_look_has_its_keys_for_machines():
    shop = Eye(SOUND)
    shop.look("chamber-1/deck", "none", "eye", photos=["a" * 64])
    plain = row(shop.only("head_cracks"))
    assert (plain["says"], plain["method"], plain["photos"], plain["p_within"]) == ("none", "eye", ["a" * 64], None)
    assert plain["settle_with"] == [{"method": "penetrant", "chance": None}]
    assert plain["limit"]["accept"] == ["none"] and plain["limit"]["to_check"] is False
    assert "misses fine cracks" in plain["why"] and "Penetrant would settle it." in plain["why"]


def test_what_is_not_asked_for_by_a_limit_is_missing_where_it_is():
    missing = Eye(SOUND).state().judgement.missing
    assert {one.place for one in missing} == {f"chamber-{n}/{station}" for n in range(1, 5) for station in CHAMBER}


def test_a_repair_is_held_against_the_same_answers():
    shop = Eye(SOUND)
    shop.look("chamber-1/deck", "crack", "penetrant")
    shop.look("chamber-1/deck", "none", "penetrant", round="back from machining")
    assert {one.round: one.verdict for one in shop.results("head_cracks")} == {
        "as found": "out",
        "back from machining": "within",
    }


def test_an_amount_in_a_unit_that_does_not_measure_it_counts_as_not_said():
    shop = Eye("  spring_pocket:\n    - {service: {high: 0.10}, unit: mm}\n")
    shop.look("inl-1f", "fretted", "lens", "3", "N", name="spring_pocket")
    result = shop.only("spring_pocket")
    assert (result.value, result.reason) == (None, "look amount unsaid")


def test_where_nobody_said_of_what_the_head_is_made_that_is_what_would_settle_it():
    """A dye that proves on aluminium proves nothing on a metal that is not named, and the row says what is missing."""
    unsaid = {key: value for key, value in TERN.items() if key != "head"}
    result = looked(SOUND, "none", "none", "none", engine=unsaid)
    assert (result.verdict, result.settle.kind) == ("too close to call", "material")
    assert settle_words(result) == "say what the head is made of"
    assert why(result).count("say what the head is made of") == 1
    assert looked(SOUND, "none", "none", "none").verdict == "within"
