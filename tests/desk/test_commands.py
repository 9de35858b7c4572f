"""Starting a job, and entering engine, gauges, limits, settings and reasons."""

import pytest

from bench_job import MICROMETER, TERN, Shop
from witnessmark.desk import commands
from witnessmark.desk.bench import Refused
from witnessmark.desk.commands import Stamp

NOW = Stamp("e99", "2026-11-24T09:00:00Z", "J. M.", "bench-1", 99)


def refusal(call, *args):
    with pytest.raises(Refused) as told:
        call(*args)
    return str(told.value)


def test_a_job_needs_its_number():
    assert "HL-0147" in refusal(commands.start_job, NOW, {"id": " "}, None)


def test_the_engine_may_wait_but_not_contradict_itself():
    assert commands.start_job(NOW, {"id": "HL-2"}, None)[0].kind == "job_opened"
    assert "cylinders" in refusal(commands.start_job, NOW, {"id": "HL-2"}, {**TERN, "cylinders": "17"})


def test_a_gauge_that_contradicts_itself_is_told_everything_at_once():
    state = Shop().state()
    told = refusal(commands.enter_gauge, state, NOW, "M-1", {**MICROMETER, "calibration": {"U": "-0.002", "k": "0"}})
    assert "calibration.U" in told and "calibration.k" in told


@pytest.mark.parametrize(("fields", "words"), [
    ({"kind": "micrometre", "unit": "mm", "resolution": "0.001"}, "not known"),
    ({"kind": "micrometer", "unit": "mm"}, "no resolution"),
    ({"kind": "leaves", "unit": "mm"}, "no set"),
    ({"kind": "micrometer", "unit": "furlong", "resolution": "1"}, "furlong"),
    ({"kind": "micrometer", "unit": "mm", "resolution": "fine"}, "fine"),
])  # fmt: skip
def test_a_gauge_that_cannot_be_read_is_refused(fields, words):
    assert words in refusal(commands.enter_gauge, Shop().state(), NOW, "M-1", fields)


def test_a_limit_sheet_with_faults_is_not_taken_and_every_fault_has_its_line():
    text = ("format: witnessmark-limits-1\nsheet: {name: TN-3, document: book}\nlimits:\n"
            "  stem_diametre:\n    - {service: {low: 5.9}, unit: mm}\n  margin:\n    - {service: {low: 2, high: 1}, unit: mm}\n")  # fmt: skip
    with pytest.raises(Refused) as told:
        commands.enter_limit_sheet(Shop().state(), NOW, text, "limits.yaml")
    lines = {fault.line for fault in told.value.faults}
    assert {4, 7} <= lines and any("stem_diameter" in fault.message for fault in told.value.faults)


def test_a_bore_gauge_is_set_with_another_gauge_to_a_size_above_nothing():
    state = Shop().state()
    (event,) = commands.make_setting(state, NOW, "B-02", "6.000", "M-07")
    assert (event.body["set_to"], event.body["with"]) == ("6.000", "M-07")
    assert "own master" in refusal(commands.make_setting, state, NOW, "B-02", "6.000", "B-02")
    assert "more than 0" in refusal(commands.make_setting, state, NOW, "B-02", "0", None)
    assert "no gauge X" in refusal(commands.make_setting, state, NOW, "X", "6", None)
    assert "Two points" in refusal(commands.make_setting, state, NOW, "B-02", "6..0", None)


def test_a_bore_gauge_without_a_setting_says_what_it_needs():
    shop = Shop()
    assert "what it was set to" in commands.usable(shop.state(), "guide_bore", "B-02")
    shop.set_to("B-02", "6.000", None)
    assert commands.usable(shop.state(), "guide_bore", "B-02") == ""


def test_the_gauges_that_can_read_a_place_come_first():
    gauges = commands.gauges_for(Shop().state(), "stem_diameter")
    assert gauges[0] == "M-07" and "L-04" not in gauges


def test_one_digit_gives_the_reason_of_a_correction():
    shop = Shop()
    first = shop.type("stem_diameter", "inl-1f/top/along", "5.925", "M-07").reading
    second = shop.type("stem_diameter", "inl-1f/top/along", "5.952", "M-07", supersedes=first).reading
    assert commands.give_reason(shop.state(), NOW, second, "1")[0].body["text"] == "reason: misread"
    assert "1 misread" in refusal(commands.give_reason, shop.state(), NOW, second, "7")
    assert "corrects no other" in refusal(commands.give_reason, shop.state(), NOW, first, "1")
