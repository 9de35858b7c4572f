"""Closing a job: what must be settled, what may stay open with a reason, and who wins of two."""

import pytest

from desk.worked import Desk
from witnessmark.desk.bench import Refused
from witnessmark.desk.close import close, draft_closing
from witnessmark.desk.commands import Stamp, note, take_back
from witnessmark.desk.left import left_open, open_doubts
from witnessmark.record.event import Event, digest
from witnessmark.record.proof import proof
from witnessmark.record.shape import problems

HASH = "ab" * 32
WHY = "the customer takes it home as it is"


class Job(Desk):
    """A demo job with its log numbered as a store would."""

    @property
    def events(self):
        return tuple(event.stored(number, "") for number, event in enumerate(self.log, 1))

    def stamp(self, by="R. P."):
        return Stamp(f"x{next(self.numbers)}", "2026-11-26T10:00:00Z", by, "bench-1")

    def draft(self, why=WHY, seen="", by="R. P."):
        return draft_closing(self.now, self.events, self.stamp(by), why, seen)

    def shut(self, why=WHY):
        made = close(self.draft(why), {"full-report": HASH})
        self.log += made  # as it is: the seal is over all of it
        return made


@pytest.fixture
def tern():
    """Without the question that the demo leaves open."""
    job = Job("tern")
    for one in job.now.job.questions:
        job.do(take_back, one.id)
    return job


def refusal(make, *args, **named):
    with pytest.raises(Refused) as refused:
        make(*args, **named)
    return str(refused.value)


def test_a_closing_holds_hash_count_links_papers_and_seal(tern):
    before = tern.events
    (event,) = tern.shut()
    assert (event.id, event.kind, event.by) == ("closed:1", "job_closed", "R. P.")
    assert event.body["hash"] == digest(before) and event.body["events"] == str(len(before))
    assert len(event.body["links"]) == 16 * len(before) and problems(event) == ()
    assert event.body["papers"] == {"full-report": HASH} and event.body["note"] == WHY
    found = proof([*before, event])
    assert found.sound and found.later == ()


def test_a_job_with_an_open_question_is_not_closed_and_the_question_is_named():
    said = refusal(Job("tern").draft)
    assert "stem diameter at Inl 2R middle, across, read as 0.2351" in said and "answer it at the bench" in said


def test_what_is_open_is_named_and_needs_a_note(tern):
    said = refusal(tern.draft, why="  ")
    assert f"{tern.now.judgement.summary['out']} values outside the limit entered: " in said and "say in the note why" in said
    assert "not measured" in said and "nobody has decided" in said
    assert [one.kind for one in tern.draft().left][:2] == ["out", "too close to call"]


def test_a_note_that_is_a_letter_is_refused(tern):
    assert "shorten it" in refusal(tern.draft, why="x" * 2001)


def test_nobody_closes_a_job(tern):
    assert "who you are" in refusal(tern.draft, by=" ")


def test_a_record_that_went_on_since_it_was_shown_is_looked_at_first(tern):
    seen = str(len(tern.log))
    assert tern.draft(seen=seen)
    tern.do(note, "inl-1f", "carbon")
    assert "gone on since" in refusal(tern.draft, seen=seen)


def test_a_job_is_closed_twice_only_when_something_came_between(tern):
    tern.shut()
    said = refusal(tern.draft)
    assert "closed already, 2026-11-26T10:00:00Z, by R. P." in said
    tern.do(note, "inl-1f", "carbon")
    (event,) = tern.shut()
    assert event.id == "closed:2" and proof(tern.events).sound
    assert [len(one.later) for one in proof(tern.events).closings] == [2, 0]


def test_of_two_who_close_at_once_both_make_the_same_name(tern):
    """The store keeps the first; the second has other bytes under the same name and is turned away."""
    one, two = (close(tern.draft(by=by), {})[0] for by in ("R. P.", "J. M."))
    assert one.id == two.id and one != two


def test_a_record_that_was_changed_under_its_closing_is_not_closed_again(tern):
    tern.shut()
    tern.do(note, "inl-1f", "carbon")
    tern.log[5] = Event(tern.log[5].id, "noted", {"about": "x", "text": "y"})
    assert "is not what was closed before" in refusal(tern.draft)


def test_contending_entries_and_entries_that_wait_are_settled_first(tern):
    tern.add(Event("w", "taken_back", {"event": "never"}))
    assert "an entry waits for 'never'" in refusal(tern.draft)


def test_there_must_be_something_to_close(tern):
    assert "nothing to close" in refusal(draft_closing, tern.now, (), tern.stamp(), WHY)


def test_a_doubt_at_a_bolt_stays_open_until_it_is_settled(tern):
    tern.add(
        Event("run", "tightening_begun", {"joint": "head", "way": "tighten", "procedure": {}}),
        Event("d", "bolt_doubted", {"run": "run", "bolt": "4", "why": "lost count"}),
    )
    words = [one.words for one in left_open(tern.now)]
    assert "1 bolt in doubt and not settled: bolt 4, lost count" in words
    tern.add(Event("s", "bolt_settled", {"run": "run", "bolt": "4", "how": "slackened, begun again"}))
    assert not open_doubts(tern.now.job.assembly)
    assert not [one for one in left_open(tern.now) if one.kind == "in doubt"]


def test_a_joint_that_is_not_turned_to_its_end_is_open(tern):
    from witnessmark.desk.tighten import begin, joints

    joint = next(iter(joints(tern.now)))
    assert not [one for one in left_open(tern.now) if one.kind in ("not tight", "not signed")], "only once it is begun"
    tern.do(begin, joint, "tighten")
    kinds = {one.kind: one.words for one in left_open(tern.now)}
    assert ": 0 of " in kinds["not tight"] and "of assembly not signed, the first:" in kinds["not signed"]


def test_the_last_round_that_read_a_value_decides_whether_it_is_open(tern):
    from witnessmark.desk.left import last_values

    first = {(one.characteristic, one.location): one for one in last_values(tern.now)}
    bad = next(one for one in first.values() if one.verdict == "out" and one.characteristic == "margin")
    source = bad.sources[0]
    tern.read_again("margin", source.place, "1.20")
    now = {(one.characteristic, one.location): one for one in last_values(tern.now)}[bad.characteristic, bad.location]
    assert now.round == "back from machining" and now.verdict != "out"
