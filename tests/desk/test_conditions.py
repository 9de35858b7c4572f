"""Under which conditions an assembled engine was tried: read in either dialect, told where it cannot be meant."""

import pytest

from desk.worked import Desk
from witnessmark.desk.bench import Refused
from witnessmark.desk.conditions import air_of, condition, enter_conditions, unread


def entered(name="wren", **sent):
    desk = Desk(name)
    desk.do(enter_conditions, sent)
    return desk


@pytest.mark.parametrize(("name", "text", "inside"), [
    ("air_pressure", "101.3 kPa", 0.1013), ("air_pressure", "29.92 inHg", 0.101320),
    ("air_pressure", "14.7 psi", 0.101353), ("air_pressure", "1013 mbar", 0.1013), ("air_pressure", "101,3 kPa", 0.1013),
    ("altitude", "300 m", 300e3), ("altitude", "1000 ft", 304.8e3), ("altitude", "1000 feet", 304.8e3),
    ("air_temperature", "20 C", 20), ("air_temperature", "68 F", 20), ("air_temperature", "-5", -5),
    ("orifice", "1.016 mm", 1.016), ("orifice", "0.040 in", 1.016), ("inlet_closes", "44", 0.767945),
    ("strokes", "6", 6), ("oil_speed", "2000", 2000),
])  # fmt: skip
def test_a_condition_is_read_with_its_unit(name, text, inside):
    assert condition(entered(**{name: text}).now, name) == pytest.approx(inside, abs=1e-6 * max(abs(inside), 1))


INCH = {"air_pressure": "29.92 inHg", "altitude": "1000 ft", "orifice": "0.040 in", "air_temperature": "68 °F"}
METRIC = {"air_pressure": "101.3 kPa", "altitude": "300 m", "orifice": "1.00 mm", "air_temperature": "20 °C"}


@pytest.mark.parametrize(("job", "kept"), [("egret", INCH), ("wren", METRIC)])
def test_a_bare_number_has_the_unit_of_the_shop_and_is_kept_with_it(job, kept):
    bare = {name: text.split()[0] for name, text in kept.items()}
    assert entered(job, **bare).now.job.conditions == kept


def test_a_bare_number_of_the_other_shop_is_no_air_of_this_earth():
    with pytest.raises(Refused, match=r"air pressure here '29[.]92' cannot be"):
        entered("wren", air_pressure="29.92")


@pytest.mark.parametrize(("sent", "words"), [
    ({"air_pressure": "29.92 psi"}, "write what a barometer in the shop shows, as 101.3 kPa, 29.92 inHg or 14.7 psi"),
    ({"air_pressure": "thin"}, "air pressure here 'thin' cannot be read"),
    ({"altitude": "300 kPa"}, "write metres or feet, as 300 m or 1000 ft"),
    ({"altitude": "30000 ft"}, "altitude '30000 ft' cannot be"),
    ({"orifice": "40 mm"}, "orifice of the leak-down set '40 mm' cannot be"),
    ({"engine": "tepid"}, "engine is warm or cold, and 'tepid' is neither"),
    ({"strokes": "5.5"}, "write a whole number"),
    ({"weather": "fine"}, "no condition is called 'weather'"),
    ({"air_presure": "101 kPa"}, "did you mean 'air_pressure'"),
    ({"oil": "x" * 81}, "81 letters; say it in 80"),
])  # fmt: skip
def test_what_cannot_be_meant_is_told_with_what_to_write(sent, words):
    with pytest.raises(Refused, match=words):
        entered(**sent)


def test_every_fault_is_told_at_once_and_nothing_of_it_is_kept():
    desk = Desk("wren")
    with pytest.raises(Refused) as refused:
        desk.do(enter_conditions, {"strokes": "many", "engine": "tepid", "altitude": "300 m"})
    assert len(refused.value.faults) == 2
    assert dict(desk.now.job.conditions) == {}


def test_what_is_not_sent_stays_and_what_is_sent_empty_goes():
    desk = entered(engine="Warm", altitude="300 m")
    desk.do(enter_conditions, {"altitude": "", "strokes": "6"})
    assert dict(desk.now.job.conditions) == {"engine": "warm", "strokes": "6"}
    assert enter_conditions(desk.now, desk.stamp(), {"strokes": "6"}) == ()  # nothing is new, so nothing is written


def test_two_benches_do_not_replace_each_other_unseen():
    desk = entered(engine="warm")
    with pytest.raises(Refused, match="changed meanwhile"):
        enter_conditions(desk.now, desk.stamp(), {"strokes": "6"}, "another")
    desk.do(enter_conditions, {"strokes": "6"}, desk.now.job.conditions_event)
    assert len(desk.now.job.conditions) == 2


def test_the_air_is_that_of_the_barometer_else_of_the_altitude_else_of_the_sea():
    """Truth: ISO 2533, 89.87 kPa at 1000 m."""
    assert (air_of(Desk("wren").now).origin, air_of(Desk("wren").now).pressure) == ("standard", 0.101325)
    high = air_of(entered(altitude="1000 m").now)
    assert (high.origin, high.pressure) == ("altitude", pytest.approx(0.08987, abs=1e-5))
    both = air_of(entered(altitude="1000 m", air_pressure="90.5 kPa").now)
    assert (both.origin, both.pressure) == ("entered", pytest.approx(0.0905))


def test_what_another_hand_wrote_into_the_record_is_told_and_not_reckoned_with():
    desk = Desk("wren")
    entries = {"altitude": "high", "orifice": "1.0 mm", "moon": "full"}
    desk.add(desk.stamp().event("conditions_entered", {"entries": entries, "based_on": None}))
    assert len(unread(desk.now)) == 2
    assert condition(desk.now, "altitude") is None and air_of(desk.now).origin == "standard"
    assert condition(desk.now, "orifice") == 1.0
