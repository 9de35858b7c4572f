"""A closed record, and every way to change it: the proof tells which entry is not what was closed."""

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from record.histories import opened, reading
from witnessmark.record.event import Event, canonical, digest
from witnessmark.record.proof import CLOSED, closing_id, links, proof, sealed, stands_after

HASH = "ab" * 32


def events(count: int, start: int = 0) -> list[Event]:
    return [reading(f"r{number}", raw=f"5.{900 + number}") for number in range(start, start + count)]


def close(log: list[Event], number: int = 1, with_links: bool = True) -> Event:
    body = {"hash": digest(log), "events": str(len(log)), "papers": {"full-report": HASH}, "note": None}
    more = {"links": links(log)} if with_links else {}
    event = Event(closing_id(number), CLOSED, {**body, **more}, at="2026-11-26T10:00:00Z", by="R. P.")
    return sealed(event) if with_links else event


def record(count: int = 12, after: int = 3) -> list[Event]:
    """An opening, readings, the closing, and what came after it."""
    log = [opened(), *events(count - 1)]
    return [*log, close(log), *events(after, 100)]


def flipped(event: Event, at: int) -> Event:
    """The event with one letter of a text changed, in one of the places where an event holds texts."""
    changes = (
        replace(event, by=event.by + "x"), replace(event, at=event.at + "0"), replace(event, id=event.id + "x"),
        replace(event, body={**event.body, "raw": "9.999"}), replace(event, kind=event.kind + "x"),
        replace(event, received="x"), replace(event, device="y"),
    )  # fmt: skip
    return changes[at % len(changes)]


def places(log: list[Event]) -> list[str]:
    return [place.text for place in proof(log).places]


def test_a_sound_record_holds_and_shows_what_came_after():
    found = proof(record())
    assert found.sound and found.places == () and len(found.closings) == 1
    assert [event.id for event in found.later] == ["r100", "r101", "r102"]
    assert found.checksum == digest(record()) and found.events == 16


def test_a_job_that_was_never_closed_has_nothing_to_break():
    found = proof(events(3))
    assert found.sound and found.closings == () and found.later == ()
    assert proof(()).sound


@given(at=st.integers(0, 11), how=st.integers(0, 6))
@settings(max_examples=120)
def test_one_change_anywhere_is_named(at, how):
    log = record()
    log[at] = flipped(log[at], how)
    found = places(log)
    assert len(found) == 1
    assert found[0].startswith(f"event {at + 1} ({log[at].kind} {log[at].id}") and "is not what was closed" in found[0]


@given(at=st.integers(0, 11))
@settings(max_examples=40)
def test_one_dropped_is_named_by_its_number_and_its_neighbours(at):
    log = record()
    gone = log.pop(at)
    found = places(log)
    texts = [text for text in found if "is missing" in text]
    assert len(texts) == 1 and texts[0].startswith(f"event {at + 1} of what was closed is missing")
    if 0 < at < 11:
        assert f" {log[at - 1].id}, typed" in texts[0].replace("open)", "open, typed") and f" {log[at].id}, typed" in texts[0]
    assert gone.id not in [place.event for place in proof(log).places]
    assert proof(log).places[0].number in (at + 1, 12)


@given(one=st.integers(0, 11), other=st.integers(0, 11))
@settings(max_examples=80)
def test_two_exchanged_are_both_named(one, other):
    assume(one != other)
    log = record()
    log[one], log[other] = log[other], log[one]
    low, high = sorted((one, other))
    found = places(log)
    assert len(found) == 1 and found[0].endswith("were exchanged")
    assert found[0].startswith(f"event {low + 1} (") and f"event {high + 1} (" in found[0]


@given(at=st.integers(0, 11))
@settings(max_examples=40)
def test_one_put_in_is_named(at):
    log = record()
    log.insert(at, reading("stranger"))
    found = places(log)
    assert found == [text for text in found if "put in" in text] and len(found) == 1
    assert found[0].startswith(f"event {at + 1} (reading_taken stranger")


@given(one=st.integers(0, 11), to=st.integers(0, 10))
@settings(max_examples=60)
def test_one_moved_is_named_with_where_it_stood(one, to):
    assume(abs(one - to) > 1)
    log = record()
    moved = log.pop(one)
    log.insert(to, moved)
    found = places(log)
    assert len(found) == 1 and f" {moved.id}" in found[0] and found[0].endswith(f"stood at number {one + 1} when the job was closed")


@given(one=st.integers(0, 11))
@settings(max_examples=30)
def test_the_closing_exchanged_with_an_entry_is_told_of(one):
    log = record()
    log[one], log[12] = log[12], log[one]
    found = proof(log).places
    assert closing_id(1) in [place.event for place in found]


def test_what_comes_at_the_end_and_before_the_closing_is_a_later_entry():
    """Another bench may write while a job is closed: what it wrote is shown as not covered, and is no fault."""
    log = record()
    log.insert(12, reading("meanwhile"))
    found = proof(log)
    assert found.sound and "meanwhile" in [event.id for event in found.later]


@pytest.mark.parametrize("key", ["hash", "papers", "note", "events", "links"])
def test_a_change_of_the_closing_itself_is_told_as_such(key):
    log = record()
    other = {"hash": "cd" * 32, "papers": {"full-report": "cd" * 32}, "note": "all well", "events": "11",
             "links": links(events(12))}[key]  # fmt: skip
    log[12] = replace(log[12], body={**log[12].body, key: other})
    found = proof(log).places
    assert found and found[0].event == closing_id(1) and "the closing, is not what was written" in found[0].text


def test_a_closing_of_another_shape_is_told_and_not_a_traceback():
    log = record()
    for body in ({}, {"hash": 3, "events": 4, "papers": [], "links": 1, "seal": 2}, {**log[12].body, "events": "x"}):
        log[12] = replace(log[12], body=body)
        assert not proof(log).sound


def test_a_closing_without_links_says_that_it_cannot_say_where():
    log = [opened(), *events(4)]
    log = [*log, close(log, with_links=False)]
    assert proof(log).sound
    log[2] = flipped(log[2], 3)
    assert "nothing that says which of them" in places(log)[0]


def test_a_closing_that_was_taken_out_is_missed_by_the_next_one():
    log = record()
    log.append(close(log, 2))
    assert proof(log).sound and proof(log).later == ()
    del log[12]
    found = places(log)
    assert any("event 13 of what was closed is missing" in text for text in found)
    assert any("the closing 'closed:1' is missing" in text for text in found)


def test_a_change_under_two_closings_is_told_once():
    log = record()
    log.append(close(log, 2))
    log[3] = flipped(log[3], 3)
    assert len(places(log)) == 1


def test_a_record_made_anew_tells_its_first_places_and_no_thousand():
    log = [opened(), *events(400)]
    closing = close(log)
    other = [replace(event, by="someone else") for event in log]
    found = proof([*other, closing]).places
    assert 0 < len(found) <= 20 and found[0].number == 1


def test_a_paper_of_any_day_is_found_in_the_record():
    log = record()
    assert stands_after(log, digest(log[:5])[:16]) == 5
    assert stands_after(log, digest(log)) == len(log)
    assert stands_after(log, "0" * 16) is None


def test_links_are_short_hashes_of_the_canonical_bytes():
    """Source: FIPS 180-4 for the hash, by the library's own function over the bytes."""
    from hashlib import sha256

    log = events(3)
    assert links(log) == "".join(sha256(canonical(event)).hexdigest()[:16] for event in log)


def test_a_long_record_is_proved_within_seconds():
    from time import perf_counter

    log = [opened(), *events(20_000)]
    closed = [*log, close(log)]
    half = [event for n, event in enumerate(closed) if n % 2 == 0 or event.kind == CLOSED]
    start = perf_counter()
    assert proof(closed).sound and not proof(half).sound
    assert perf_counter() - start < 10
