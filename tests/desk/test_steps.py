"""Signing the steps of assembly: who may, what is refused with which words, and two people at one step."""

from dataclasses import replace

import pytest

from desk.worked import Desk
from witnessmark.desk.bench import Refused
from witnessmark.desk.commands import describe_engine, take_back
from witnessmark.desk.intend import set_work
from witnessmark.desk.steps import done, facts_of, seen_of, sign, signature, single_use, steps_of
from witnessmark.desk.tighten import begin, press, run_now
from witnessmark.record.event import canonical, from_canonical


@pytest.fixture
def desk():
    return Desk("wren")


def kinds(desk):
    return {one.kind for one in steps_of(desk.now)}


def step(desk, name):
    return next(one for one in steps_of(desk.now) if one.id == name)


def tell(desk, **facts):
    desk.do(describe_engine, dict(desk.now.job.engine) | facts)


def through(desk, name):
    """Sign all that a step waits for, and the step."""
    for gate in step(desk, name).after:
        if not done(desk.now, gate):
            through(desk, gate)
    desk.do(sign, name)


def tightened(desk, joint="head"):
    """Every bolt of a joint through its last stage."""
    desk.do(begin, joint)
    while (run := run_now(desk.now, joint)).next:
        desk.do(press, run.id)


def refusal(desk, *args, stamp=None, **kwargs):
    with pytest.raises(Refused) as refused:
        sign(desk.now, stamp or desk.stamp(), *args, **kwargs)
    return str(refused.value)


def test_a_signature_holds_the_words_the_person_and_a_number_of_its_own(desk):
    (event,) = desk.do(sign, "all_clean")
    assert (event.id, event.kind, event.by) == ("step:all_clean:1", "step_signed", "J. M.")
    assert event.body["did"] == "done" and event.body["note"] is None
    assert event.body["text"].startswith("Clean the bench and every part that goes in. Wash, dry and cover.")
    assert "With: brush, lint-free cloth, lamp." in event.body["text"]
    assert canonical(from_canonical(canonical(event))) == canonical(event)
    assert done(desk.now, "all_clean") and desk.now.job.signed[0].by == "J. M."


def test_the_second_of_two_people_is_told_who_signed_and_when(desk):
    page = seen_of(desk.now, step(desk, "all_clean"))
    both = [sign(desk.now, replace(desk.stamp(), by=name), "all_clean", seen=page)[0] for name in ("J. M.", "A. K.")]
    assert both[0].id == both[1].id and canonical(both[0]) != canonical(both[1])  # the store takes one of them
    desk.add(both[0])
    assert "is signed already, done: J. M., 2026-11-25T10:00:00Z" in refusal(desk, "all_clean", seen=page)


def test_a_signature_that_was_taken_back_keeps_its_number_and_the_step_is_open_again(desk):
    (event,) = desk.do(sign, "all_clean")
    desk.do(take_back, event.id)
    assert not done(desk.now, "all_clean")
    assert desk.do(sign, "all_clean")[0].id == "step:all_clean:2"
    assert done(desk.now, "all_clean")


def test_a_step_that_is_not_there_finds_its_near_word(desk):
    assert "no step of this engine is called 'all_clen'; did you mean 'all_clean'?" in refusal(desk, "all_clen")
    assert "no step of this engine is called 'shims_chosen'" in refusal(desk, "shims_chosen")


def test_nobody_signs_without_a_name(desk):
    assert "say who you are first" in refusal(desk, "all_clean", stamp=replace(desk.stamp(), by="  "))


def test_a_gate_is_named_and_a_note_opens_it(desk):
    assert "not signed yet is Clean the bench" in refusal(desk, "chips_out")
    desk.do(sign, "chips_out", note="washed at the shop, came back sealed")
    assert signature(desk.now, "chips_out").note == "washed at the shop, came back sealed"


def test_in_its_order_no_step_asks_for_a_note_but_one_whose_bolts_are_not_turned():
    desk = Desk("wren")
    tell(desk, seal="positive")
    for one in steps_of(desk.now):
        if one.id == "head_tight":
            assert "head nuts: not tightened yet" in refusal(desk, one.id)
            tightened(desk)
        desk.do(sign, one.id)
    assert all(done(desk.now, one.id) for one in steps_of(desk.now))


def test_what_nobody_told_holds_its_step_until_it_is_told_or_noted(desk):
    desk.do(describe_engine, {key: one for key, one in desk.now.job.engine.items() if key != "seal"})
    through(desk, "valves_in")
    through(desk, "spring_seats")
    assert "which stem seals it has: positive, umbrella, ring or none" in refusal(desk, "seals_asked")
    desk.do(sign, "seals_asked", note="rings, as the old ones")
    assert done(desk.now, "seals_asked")
    tell(desk, seal="ring")
    assert "seals_ring" in kinds(desk) and "seals_asked" not in kinds(desk)
    assert signature(desk.now, "seals_asked").note == "rings, as the old ones"  # it stays in the record


def test_not_done_needs_a_reason_holds_the_gate_and_may_be_done_later(desk):
    assert "say why in the note" in refusal(desk, "all_clean", did="not done")
    assert "no way to sign" in refusal(desk, "all_clean", did="nearly")
    desk.do(sign, "all_clean", note="no hot water today", did="not done")
    assert not done(desk.now, "all_clean")
    assert "not signed yet is Clean the bench" in refusal(desk, "chips_out")
    assert "is signed already, not done" in refusal(desk, "all_clean", note="still none", did="not done")
    assert desk.do(sign, "all_clean")[0].id == "step:all_clean:2"
    assert done(desk.now, "all_clean")
    assert "is signed already, done" in refusal(desk, "all_clean", note="after all", did="not done")


def test_words_that_changed_since_the_page_was_read_are_not_signed(desk):
    page = seen_of(desk.now, step(desk, "valves_in"))
    desk.do(set_work, [{"operation": "valve_replace", "place": "exh-1"}])
    assert "have changed since this page was read" in refusal(desk, "valves_in", seen=page, note="in")
    desk.do(sign, "valves_in", seen=seen_of(desk.now, step(desk, "valves_in")), note="in")
    assert "Changed: new valve: Exh 1." in signature(desk.now, "valves_in").text


def test_a_note_has_an_end(desk):
    assert "2001 characters; 2000 are the most" in refusal(desk, "all_clean", note="x" * 2001)


def test_without_an_engine_there_are_no_steps():
    desk = Desk("wren")
    bare = replace(desk.now, layout=None)
    with pytest.raises(Refused, match="describe the engine first"):
        steps_of(bare)


@pytest.mark.parametrize(("name", "facts", "once"), [
    ("tern", ("stretch", "no"), {"head_bolt"}), ("egret", ("plain", "yes"), set()), ("wren", ("plain", "no"), set()),
    ("petrel", ("stretch", "no"), {"head_bolt"}),
])  # fmt: skip
def test_the_limit_sheet_says_what_the_bolts_are(name, facts, once):
    now = Desk(name).now
    assert (facts_of(now).bolts, facts_of(now).retorque) == facts
    assert single_use(now) == once


def test_a_sheet_that_says_nothing_of_bolts_leaves_them_untold():
    now = Desk("tern", left=("limits_entered",)).now
    assert (facts_of(now).bolts, facts_of(now).retorque, single_use(now)) == ("untold", "untold", set())


def test_bolts_that_are_used_once_are_on_the_order_and_stand_at_their_step():
    """Ten bolts in the head of an inline four."""
    desk = Desk("petrel")
    assert [(one.id, one.quantity) for one in step(desk, "bolts_in").new] == [("head_bolt", 10)]
    assert {one.id for one in step(desk, "parts_there").new} >= {"head_bolt", "head_gasket", "stem_seal"}
    assert step(Desk("wren"), "bolts_in").new == ()
    assert step(Desk("tern"), "bolts_in").new[0].quantity == 10  # by length, and one is out: the sheet wants all new


def test_the_order_brings_the_steps_and_not_what_is_intended_besides(desk):
    order = {"name": "A", "work": [{"operation": "guide_replace", "place": "exh-1"}], "based_on": None}
    desk.add(desk.stamp().event("plan_ordered", order))
    assert "head_cool" in kinds(desk)
    desk.do(set_work, [])
    assert "head_cool" in kinds(desk)


def test_each_of_the_four_engines_has_its_steps_and_no_hundreds():
    found = {name: {one.kind for one in steps_of(Desk(name).now)} for name in ("tern", "egret", "wren", "petrel")}
    assert {"shims_chosen", "pistons_down", "cam_caps", "chain_on"} <= found["tern"]
    assert {"lifters_in", "pushrods_in", "hydraulics_down", "tightened_again"} <= found["egret"]
    assert not {"pistons_down", "cam_caps", "chain_on"} & found["egret"]
    assert {"rockers_on", "lash_set"} <= found["wren"]
    assert {"belt_on", "adjusters_in", "hydraulics_down"} <= found["petrel"]
    assert max(len(steps_of(Desk(name).now)) for name in found) < 80
