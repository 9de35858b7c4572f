"""Putting together in the words of the record: nothing that was done stands there without saying what."""

import pytest

from record.histories import run, turned
from witnessmark.desk.sheets.record_together import KINDS, together_words
from witnessmark.record.event import Event
from witnessmark.record.jobtogether import KINDS as FILE_KINDS

TOLD = [
    (run("r", bolts={"all": "new"}, extension={"length": "60 mm"}), "tightening of head bolts begun",
     "1 stage, wrench W-01, angle by A-01, threads oiled, extension 60 mm at 0°, bolts new"),
    (run("r", "loosen"), "loosening of head bolts begun", "1 stage, wrench W-01"),
    (turned("t", "r", "4", "2", final_torque="46", unit="N·m", wrench="W-02"), "bolt 4 turned",
     "through stage 2, final torque 46 N·m, wrench W-02"),
    (turned("t", "r", "4", "2", final_torque="34", unit="lbf·ft"), "bolt 4 turned", "final torque 34 lbf·ft"),
    (Event("d", "bolt_doubted", {"run": "r", "bolt": "4", "why": "lost count"}), "bolt 4 in doubt", "lost count"),
    (Event("s", "bolt_settled", {"run": "r", "bolt": "4", "how": "new bolt, begun again"}), "bolt 4 settled", "new bolt"),
    (Event("s", "step_signed", {"step": "head_tight", "did": "done", "text": "Tighten the head"}),
     "step head tight: done", "Tighten the head"),
    (Event("c", "trace_entered", {"bolt": "4", "name": "4.csv", "text": "a\nb", "hash": "ab" * 32}), "trace of bolt 4",
     "2 lines, abab"),
    (Event("c", "conditions_entered", {"entries": {"air_pressure": "101.3 kPa"}}), "conditions of the tests",
     "air pressure 101.3 kPa"),
    (Event("c", "job_closed", {"hash": "ab" * 32, "events": "9", "papers": {"full-report": "ab" * 32}}), "job closed",
     "over 9 entries, full-report"),
]  # fmt: skip


@pytest.mark.parametrize(("event", "what", "meaning"), TOLD, ids=lambda one: getattr(one, "kind", ""))
def test_each_says_what_was_done(event, what, meaning):
    found = together_words(event)
    assert found is not None
    assert found[0] == what
    assert meaning in found[2]


def test_every_kind_of_the_section_has_words_and_odd_bodies_break_nothing():
    assert set(KINDS) == {*FILE_KINDS.values(), "conditions_entered"}
    for kind in KINDS:
        for odd in ({}, dict.fromkeys(("procedure", "bolts", "entries", "papers", "text", "extension"), 3)):
            assert together_words(Event("x", kind, odd)) is not None
    assert together_words(Event("x", "noted", {})) is None
