"""What is entered for the sake of the work: it is read at once, told where it cannot be, and never replaced unseen."""

import pytest

from desk.worked import Desk
from witnessmark.desk import intend
from witnessmark.desk.bench import Refused


@pytest.fixture
def desk():
    made = Desk("tern")
    made.do(intend.clear_work)
    return made


def work(desk):
    return [(one["operation"], one["place"], one.get("amount"), one.get("unit")) for one in desk.now.job.work]


def test_a_step_is_kept_a_second_replaces_it_and_nothing_takes_it_out(desk):
    desk.do(intend.step_work, "seat_cut", "inl-2f", "0.20")
    assert work(desk) == [("seat_cut", "inl-2f", "0.20", "mm")]
    desk.do(intend.step_work, "seat_cut", "inl-2f", "0.010", "in")
    assert work(desk) == [("seat_cut", "inl-2f", "0.010", "in")]
    for nothing in ("", "0", "0.00", " 0,0 "):
        desk.do(intend.step_work, "seat_cut", "inl-2f", "0.20")
        desk.do(intend.step_work, "seat_cut", "inl-2f", nothing)
        assert work(desk) == [], nothing


def test_a_part_is_put_in_and_taken_out_again_without_an_amount(desk):
    desk.do(intend.step_work, "valve_replace", "exh-3f", "1")
    assert work(desk) == [("valve_replace", "exh-3f", None, None)]
    desk.do(intend.step_work, "valve_replace", "exh-3f", "")
    assert work(desk) == []


@pytest.mark.parametrize(("place", "count"), [("all", 16), ("inl", 8), ("exh", 8), ("exh-3f", 1)])
def test_a_step_may_mean_all_one_side_or_one(desk, place, count):
    desk.do(intend.step_work, "tip_grind", place, "0.05")
    assert len(work(desk)) == count
    desk.do(intend.step_work, "tip_grind", "inl-1f", "0.10")  # one of them is stepped on: the others stay
    assert len(work(desk)) == count + (place in ("exh", "exh-3f"))


@pytest.mark.parametrize(("args", "words"), [
    (("seat_cutt", "inl-2f", "0.2"), "did you mean 'seat_cut'"),
    (("polish", "inl-2f", "0.2"), "no operation of this engine is called 'polish'"),
    (("seat_cut", "inl-9", "0.2"), "is not done at 'inl-9'"),
    (("seat_cut", "head", "0.2"), "is not done at 'head'"),
    (("seat_cut", "inl-2f", "deep"), "deep"),
    (("seat_cut", "inl-2f", "-0.2"), "-0.2"),
    (("seat_cut", "inl-2f", "0.2", "N"), "mm or in"),
])  # fmt: skip
def test_what_cannot_be_done_is_refused_with_what_to_write(desk, args, words):
    with pytest.raises(Refused, match=words):
        intend.step_work(desk.now, desk.stamp(), *args)


def test_who_saw_older_work_is_told_and_who_saw_this_goes_on(desk):
    saw = desk.now.job.work_event
    desk.do(intend.step_work, "seat_cut", "inl-2f", "0.20", "mm", saw)
    with pytest.raises(Refused, match="changed meanwhile"):
        intend.step_work(desk.now, desk.stamp(), "seat_cut", "inl-2f", "0.30", "mm", saw)
    desk.do(intend.step_work, "seat_cut", "inl-2f", "0.30", "mm", desk.now.job.work_event)
    assert work(desk) == [("seat_cut", "inl-2f", "0.30", "mm")]


def test_nothing_cannot_be_cleared(desk):
    with pytest.raises(Refused, match="nothing to clear"):
        intend.clear_work(desk.now, desk.stamp())


def test_the_whole_work_is_set_at_once_or_not_at_all(desk):
    two = [{"operation": "seat_cut", "place": "inl-2f", "amount": "0.2", "unit": "mm"},
           {"operation": "skim", "place": "head", "amount": "0.004", "unit": "in"}]  # fmt: skip
    desk.do(intend.set_work, two)
    assert len(work(desk)) == 2
    with pytest.raises(Refused):
        intend.set_work(desk.now, desk.stamp(), [*two, {"operation": "skim", "place": "inl-2f", "amount": "1", "unit": "mm"}])
    assert len(work(desk)) == 2


def test_a_size_is_entered_for_all_for_a_side_and_for_one_and_goes_again():
    desk = Desk("tern", left=("geometry_entered",))
    desk.do(intend.enter_geometry, "valve_angle", "15", "deg")
    desk.do(intend.enter_geometry, "valve_angle", "17", "deg", "", "exh")
    desk.do(intend.enter_geometry, "valve_angle", "16", "deg", "inl-1f")
    assert [one["value"] for one in desk.now.job.geometry["valve_angle"]] == ["15", "17", "16"]
    desk.do(intend.enter_geometry, "valve_angle", "18", "deg", "", "exh")
    assert [one["value"] for one in desk.now.job.geometry["valve_angle"]] == ["15", "16", "18"]
    desk.do(intend.forget_geometry, "valve_angle")
    assert "valve_angle" not in desk.now.job.geometry
    with pytest.raises(Refused, match="nothing is entered"):
        intend.forget_geometry(desk.now, desk.stamp(), "valve_angle")


@pytest.mark.parametrize(("args", "words"), [
    (("strokee", "86", "mm"), "did you mean 'stroke'"),
    (("stroke", " ", "mm"), "needs its value"),
    (("stroke", "tall", "mm"), "tall"),
    (("stroke", "86", "N"), "N"),
    (("stroke", "86", "mm", "inl-9"), "inl-9"),
    (("stroke", "86", "mm", "", "", "-1"), "a doubt of -1 is below nothing"),
    (("stroke", "-86", "mm"), "-86 is below nothing"),
])  # fmt: skip
def test_a_size_that_cannot_be_read_is_refused(args, words):
    desk = Desk("tern")
    with pytest.raises(Refused, match=words):
        intend.enter_geometry(desk.now, desk.stamp(), *args)


def test_a_price_list_with_faults_is_refused_with_all_of_them():
    desk = Desk("tern")
    with pytest.raises(Refused) as refused:
        intend.enter_prices(desk.now, desk.stamp(), "format: witnessmark-prices-1\nsheet: {name: A, currency: EUR}\n"
                            "work: {seat_cutt: {cost: 1}, skim: {cost: -1}}\n", "p.yaml")  # fmt: skip
    assert len(refused.value.faults) == 2


def test_a_piston_may_stand_proud_and_a_crown_be_domed():
    desk = Desk("tern")
    for quantity, value, unit in (("deck_clearance", "-0.3", "mm"), ("crown_volume", "-2.5", "mL")):
        desk.do(intend.enter_geometry, quantity, value, unit)
        assert desk.now.job.geometry[quantity][-1]["value"] == value
