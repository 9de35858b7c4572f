"""The canonical form: one event, one row of bytes, and nothing that cannot be kept."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from record.histories import histories, opened, reading
from witnessmark.record.event import MOST_BYTES, Event, EventFault, canonical, digest, from_canonical


@given(histories())
def test_an_event_comes_back_from_its_bytes_as_it_was(events):
    for event in events:
        again = from_canonical(canonical(event))
        assert again == event
        assert canonical(again) == canonical(event)


def test_the_number_of_the_log_is_no_part_of_what_is_proved():
    event = reading("r1")
    assert canonical(event.stored(7, "2026-11-25T09:00:01Z")) == canonical(event)


def test_the_order_of_keys_changes_no_byte():
    one, other = Event("a", "x", {"a": "1", "b": "2"}), Event("a", "x", {"b": "2", "a": "1"})
    assert canonical(one) == canonical(other)


def test_bytes_are_json_in_utf_8_with_sorted_keys_and_no_spaces():
    assert canonical(Event("é", "x", {"b": None, "a": True})) == (
        '{"at":"","body":{"a":true,"b":null},"by":"","device":"","device_seq":0,"id":"é","kind":"x","received":""}'
    ).encode()


@pytest.mark.parametrize(("body", "says"), [
    ({"raw": 5.952}, "body.raw: float cannot be kept; write it as text"),
    ({"raw": "5\0"}, "body.raw: holds a NUL character"),
    ({"a": [{"b\0": "x"}]}, "body.a.1: holds a NUL character"),
    ({"raw": "\ud800"}, "body.raw: character 1 is half of a pair"),
    ({"n": 2**60}, "body.n: .* too large"),
    ({1: "x"}, "body: the key 1 is no text"),
    ({"raw": b"5"}, "body.raw: bytes cannot be kept"),
])
def test_what_is_not_plain_is_refused_with_its_place(body, says):
    with pytest.raises(EventFault, match=says):
        canonical(Event("a", "x", body))


def test_an_event_needs_an_id_and_a_kind():
    with pytest.raises(EventFault, match="needs an id and a kind"):
        canonical(Event("", "x", {}))
    with pytest.raises(EventFault, match="needs an id and a kind"):
        canonical(Event("a", "", {}))
    with pytest.raises(EventFault, match="at most 200"):
        canonical(Event("a" * 201, "x", {}))


def test_an_event_that_is_huge_or_deep_is_refused():
    with pytest.raises(EventFault, match="at most 6000000 are kept"):
        canonical(Event("a", "x", {"text": "x" * MOST_BYTES}))
    deep: dict = {}
    for _ in range(40):
        deep = {"in": deep}
    with pytest.raises(EventFault, match="nested deeper than 20"):
        canonical(Event("a", "x", deep))
    with pytest.raises(EventFault, match=r"nested deeper|not JSON"):
        from_canonical(b"[" * 100_000)


@pytest.mark.parametrize(("packed", "says"), [
    (b"\xff", "byte 1 is not UTF-8"),
    (b"{", "not JSON at character 2"),
    (b"[]", "mapping of keys"),
    (b"{}", "needs 'at' as text"),
    (canonical(reading("r1")).replace(b":", b": ", 1), "not in canonical form"),
    (canonical(reading("r1")).replace(b'"device_seq":0', b'"device_seq":true'), "'device_seq' as a whole number"),
    (canonical(reading("r1")).replace(b'"device_seq":0', b'"device_seq":0.5'), "0.5 stands without quotes"),
    (canonical(reading("r1")).replace(b'"device_seq":0', b'"device_seq":NaN'), "NaN stands without quotes"),
    (canonical(reading("r1")).replace(b'"device_seq":0', b'"device_seq":' + b"9" * 5000), "too large for a whole"),
    (canonical(reading("r1")).replace(b'{"at"', b'{"aa":1,"at"'), "no key 'aa'"),
    (canonical(reading("r1")).replace(b'{"at":', b'{"at":"x","at":'), "not in canonical form"),
])
def test_bytes_that_are_not_canonical_are_refused(packed, says):
    with pytest.raises(EventFault, match=says):
        from_canonical(packed)


@given(st.binary(max_size=60))
def test_any_bytes_give_an_event_or_a_sentence(packed):
    with pytest.raises(EventFault):
        from_canonical(packed)


def test_the_digest_notices_a_change_a_loss_and_an_exchange():
    events = [opened(), reading("r1"), reading("r2"), reading("r3")]
    whole = digest(events)
    assert len(whole) == 64
    assert digest(events) == whole
    changed = [*events[:2], reading("r2", raw="5.953"), events[3]]
    seen = {digest(changed), digest(events[:-1]), digest([events[0], events[2], events[1], events[3]]), digest([])}
    assert whole not in seen
    assert len(seen) == 4


def test_a_page_in_javascript_can_read_every_number_that_is_kept():
    assert json.loads(canonical(Event("a", "x", {"n": 2**53})))["body"]["n"] == 2**53
