"""Fields of a gauge as somebody types them: kept as a job file would hold them, or told what to mend."""

import pytest

from bench_job import Shop
from witnessmark.desk import commands
from witnessmark.desk.bench import Refused
from witnessmark.desk.gauge import checked_fields
from witnessmark.record.export import write_job
from witnessmark.record.jobfile import read_job

LIMITS = """\
  stem_diameter:
    - {service: {low: 5.940}, unit: mm, page: 41}
  valve_lash:
    - {service: {low: 0.15, high: 0.25}, unit: mm, page: 46}
"""
PLAIN = {"kind": "micrometer", "unit": "mm", "resolution": "0.001"}
LEAVES = {"kind": "leaves", "unit": "mm", "set": ["0.15", "0.18", "0.20"]}


def test_a_bare_number_stands_for_its_own_text_and_a_comma_for_a_point():
    sent = {
        **PLAIN,
        "resolution": " 0,001",
        "calibration": {"U": 0.002, "k": 2, "date": ""},
        "serial": "12,5",
        "note": "",
    }
    assert checked_fields("M-1", sent) == {
        **PLAIN, "calibration": {"U": "0.002", "k": "2"}, "serial": "12,5",
    }  # fmt: skip
    assert checked_fields("L-1", {**LEAVES, "set": [0.15, "0,18"]})["set"] == ["0.15", "0.18"]


@pytest.mark.parametrize(("fields", "told"), [
    ({"unit": None}, "unit: the key 'unit' is missing"),
    ({"unit": "furlong"}, "no unit is called 'furlong'"),
    ({"unit": ["mm"]}, "unit: a text belongs here"),
    ({"resolution": "fine"}, "'fine' is no number"),
    ({"resolution": "1e-3"}, "'1e-3' is no number"),
    ({"resolution": "0"}, "more than zero"),
    ({"resolution": None}, "no resolution"),
    ({"resolution": [1]}, "resolution: a text belongs here"),
    ({"calibration": 3}, "calibration: keys with values belong here"),
    ({"calibration": {"U": "nan"}}, "calibration.U: 'nan' is no number"),
    ({"calibration": {"U": "-0.1", "k": "0"}}, "calibration.k: '0' must be more than zero"),
    ({"repeatability": {"s": "0.001", "n": "2.5"}}, "repeatability.n: '2.5' is no whole number"),
    ({"repeatability": {"s": "0.001", "n": "1"}}, "needs 2 readings or more"),
    ({"permissible_error": True}, "permissible_error: a text belongs here"),
    ({"resolutoin": "0.001"}, "did you mean 'resolution'"),
    ({**LEAVES, "set": 5}, "set: a list belongs here"),
    ({**LEAVES, "set": "0.03 0.04"}, "set: a list belongs here"),
    ({**LEAVES, "set": ["1/64"]}, "in decimals"),
    ({**LEAVES, "set": []}, "no set"),
])  # fmt: skip
def test_what_cannot_be_a_gauge_is_told_by_its_field(fields, told):
    with pytest.raises(Refused) as refused:
        checked_fields("M-1", {**PLAIN, **fields})
    assert told in str(refused.value) and str(refused.value).startswith("gauge M-1")


@pytest.mark.parametrize(("characteristic", "place", "line", "fields"), [
    ("stem_diameter", "inl-1f/top/along", "5.951", {**PLAIN, "resolution": "0,001"}),
    ("stem_diameter", "inl-1f/top/along", "0.2343", {**PLAIN, "unit": "in", "resolution": "1/10000"}),
    ("valve_lash", "inl-1f", "0.18 0.20", {**LEAVES, "set": [0.15, 0.18, "0,20"]}),
])  # fmt: skip
def test_a_gauge_that_was_taken_can_be_read_judged_and_exported(characteristic, place, line, fields):
    shop = Shop(sheet=LIMITS)
    (entered,) = commands.enter_gauge(shop.state(), commands.Stamp("g-1", "2026-11-24T09:00:00Z"), "X-1", fields)
    shop.log.append(entered.stored(len(shop.log) + 1, ""))
    assert shop.type(characteristic, place, line, "X-1").status == "kept"
    assert shop.state().judged[1] == "" and shop.only(characteristic).read == 1
    text = write_job(shop.log)
    assert [event.id for event in read_job(text, "x.yaml")] == [event.id for event in shop.log]


def test_a_gauge_of_an_old_log_that_cannot_be_read_is_told_at_the_bench():
    shop = Shop(sheet=LIMITS, gauges={"X-1": {**PLAIN, "resolution": "fine"}, "X-2": {**LEAVES, "set": 5}})
    for name, line, characteristic, place in (("X-1", "5.951", "stem_diameter", "inl-1f/top/along"),
                                              ("X-2", "0.18", "valve_lash", "inl-1f")):  # fmt: skip
        outcome = shop.type(characteristic, place, line, name)
        assert outcome.status == "refused" and "enter it anew" in outcome.detail
