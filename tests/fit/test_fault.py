"""What makes no sense is refused by a message that says what, where, and what to do."""

from math import inf, nan

import pytest

from witnessmark.fit.cover import cover
from witnessmark.fit.fault import FitFault
from witnessmark.fit.lash import assign
from witnessmark.fit.stack import stack, travel, turns

GOOD = {"places": ["inl-1", "exh-1"], "needed": [2.5, 2.6], "low": [2.47, 2.57], "high": [2.53, 2.63],
        "on_engine": [2.5, None], "shelf": {2.5: 1}, "sizes": [2.5, 2.55, 2.6]}  # fmt: skip


@pytest.mark.parametrize(("change", "message"), [
    ({"on_engine": [2.5]}, r"2 valves are named.* 1 shims on the engine.*give each valve one of each"),
    ({"on_engine": [2.5, None, 2.6]}, r"2 valves are named.* 3 shims on the engine"),
    ({"needed": [2.5]}, r"2 valves are named, and 1 needs"),
    ({"places": ["inl-1", "inl-1"]}, r"inl-1 stands here twice; name each valve once"),
    ({"sizes": [], "shelf": {}}, r"no size can be bought and none lies on the shelf: enter the sizes that exist"),
    ({"sizes": [], "shelf": {2.5: 0}}, r"no size can be bought and none lies on the shelf"),
    ({"sizes": [2.5, -2.6]}, r"sizes that can be bought: a shim of -2.6 mm does not exist; .*measure it again"),
    ({"sizes": [0.0]}, r"sizes that can be bought: a shim of 0 mm does not exist"),
    ({"sizes": [2.5, nan]}, r"sizes that can be bought: the size of a shim is no number"),
    ({"sizes": [inf]}, r"sizes that can be bought: the size of a shim is no number \(inf\)"),
    ({"sizes": [2500.0]}, r"sizes that can be bought: the size of a shim of 2500 mm is beyond 100 mm; write it in mm"),
    ({"sizes": [2.5, 2.6, 2.5]}, r"sizes that can be bought: 2.5 mm stands there twice; take one of them out"),
    ({"shelf": {-2.5: 1}}, r"shelf: a shim of -2.5 mm does not exist"),
    ({"shelf": {nan: 1}}, r"shelf: the size of a shim is no number"),
    ({"shelf": {2.5: -1}}, r"shelf: -1 shims of 2.5 mm cannot lie there; write a whole number, 0 for none"),
    ({"shelf": {2.5: 1.5}}, r"shelf: 1.5 shims of 2.5 mm cannot lie there"),
    ({"shelf": {2.5: nan}}, r"shelf: nan shims of 2.5 mm cannot lie there"),
    ({"on_engine": [-2.5, None]}, r"inl-1, on the engine: a shim of -2.5 mm does not exist; .*measure it again"),
    ({"on_engine": [2.5, nan]}, r"exh-1, on the engine: the size of a shim is no number.*measure it"),
    ({"needed": [2.5, nan]}, r"exh-1: the thickness needed is no number \(nan\); measure it, or leave this place out"),
    ({"needed": [inf, 2.6]}, r"inl-1: the thickness needed is no number"),
    ({"low": [2.47, -inf]}, r"exh-1: the lower end of the window of thickness is no number"),
    ({"high": [nan, 2.63]}, r"inl-1: the upper end of the window of thickness is no number"),
    ({"low": [2.47, 2.7]}, r"exh-1: the window of thickness from 2.7 to 2.63 mm holds nothing; are its ends exchanged"),
])  # fmt: skip
def test_lash_shims(change, message):
    with pytest.raises(FitFault, match=message):
        assign(**{**GOOD, **change})


def test_the_good_question_has_an_answer():
    assert not assign(**GOOD).unfit


def test_no_valve_is_no_fault():
    assert assign([], [], [], [], [], {}, [2.5]).given == ()


@pytest.mark.parametrize(("change", "message"), [
    ({"sizes": []}, r"no shim stands in the list of sizes; enter the sizes that can be bought"),
    ({"sizes": [2.5, 2.5]}, r"2.5 mm stands there twice"),
    ({"sizes": [-2.5]}, r"a shim of -2.5 mm does not exist"),
    ({"needed": nan}, r"the need to cover: the thickness needed is no number"),
    ({"spread": inf}, r"the need to cover: its doubt is no number"),
    ({"spread": -0.1}, r"a doubt of -0.1 mm is below nothing; write it without the sign"),
    ({"low": 2.6}, r"the need to cover: the window from 2.6 to 2.53 mm holds nothing"),
])  # fmt: skip
def test_what_to_have_at_hand(change, message):
    good = {"needed": 2.5, "spread": 0.02, "low": 2.47, "high": 2.53, "sizes": [2.5, 2.55]}
    with pytest.raises(FitFault, match=message):
        cover(**{**good, **change})


@pytest.mark.parametrize(("change", "message"), [
    ({"sizes": []}, r"no spring shim stands in the list of sizes; enter"),
    ({"sizes": [0.0]}, r"spring shims: a shim of 0 mm does not exist"),
    ({"sizes": [nan]}, r"spring shims: the size of a shim is no number"),
    ({"sizes": [0.5, 0.5]}, r"spring shims: 0.5 mm stands there twice"),
    ({"height": nan}, r"spring: the height is no number"),
    ({"target": inf}, r"spring: the height aimed at is no number"),
    ({"low": 38.2}, r"spring: the window of its height from 38.2 to 38.1 mm holds nothing"),
    ({"most": -1.0}, r"spring: at most -1 mm of shims makes no sense; write 0 to 20 mm"),
    ({"most": 1500.0}, r"spring: the most under one spring of 1500 mm is beyond 1000 mm; write it in mm"),
    ({"most": nan}, r"spring: the most under one spring is no number"),
])  # fmt: skip
def test_spring_shims(change, message):
    good = {"height": 38.5, "low": 37.9, "high": 38.1, "target": 38.0, "sizes": [0.25, 0.5], "most": 1.5}
    with pytest.raises(FitFault, match=message):
        stack(**{**good, **change})


def test_adjusters():
    with pytest.raises(FitFault, match=r"adjuster: a travel from 2 to 1 mm holds nothing; are its ends exchanged"):
        travel(1.0, 2.0, 1.0)
    with pytest.raises(FitFault, match=r"adjuster: how far it is pressed in is no number"):
        travel(nan, 0.0, 1.0)
    with pytest.raises(FitFault, match=r"a thread's pitch of 0 mm is not above nothing; what is it, in mm a turn"):
        turns(1.0, 0.0)
    with pytest.raises(FitFault, match=r"the pitch of its thread is no number"):
        turns(1.0, nan)
