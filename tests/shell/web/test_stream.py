"""What one page keeps, another page hears; whoever hears too slowly is told to read again."""

import asyncio
import json
from dataclasses import replace

from witnessmark.record.event import Event
from witnessmark.shell.web.stream import BEATS, MOST_WAITING, Listener, message, says

READING = Event("r-1", "reading_taken", {"characteristic": "stem_diameter", "place": "inl-3f", "raw": "5.952"}, seq=7)


def _event(kind, **body):
    return Event("e-1", kind, body, seq=1)


def _id(said):
    return int(next(line for line in said.splitlines() if line.startswith("id: ")).removeprefix("id: "))


def test_a_message_carries_the_number_of_the_event_and_where_to_look():
    said = message(READING)
    assert said.startswith("id: 7\ndata: ") and said.endswith("\n\n")
    told = json.loads(said.splitlines()[1].removeprefix("data: "))
    place = {"characteristic": "stem_diameter", "place": "inl-3f"}
    assert told == {"seq": 7, "kind": "reading_taken", "device": "", "by": "", "says": "Inl 3F 5.952", **place}


def test_a_message_says_what_was_written_in_the_words_of_the_bench():
    assert says(_event("reading_taken", place="inl-3f/middle/across", raw="0.2344 in")) == (
        "Inl 3F middle, across 0.2344 in"
    )
    crack = {"kind": "look", "says": "crack", "value": "12", "unit": "mm"}
    assert says(_event("reading_taken", place="chamber-3", raw="2 12", meaning=crack)) == "Chamber 3 crack"
    assert says(_event("waived", place="exh-2r", reason="not measured")) == "Exh 2R not measured"
    assert says(_event("taken_back", event="r-1")) == "one entry taken back"
    assert says(_event("gauge_entered", gauge="M-07")) == ""


def test_a_place_that_is_none_is_said_as_it_stands():
    assert says(_event("reading_taken", place="left corner", raw="1")) == "left corner 1"


def test_what_another_thread_stores_is_heard():
    async def listened():
        listener = Listener()
        await asyncio.to_thread(listener.hear, (READING,))
        return await listener.next()

    assert asyncio.run(listened()) == message(READING)


def test_silence_beats_so_that_a_lost_page_is_noticed():
    async def listened():
        return await Listener().next()

    assert asyncio.run(listened()) == BEATS


def test_what_was_missed_and_is_heard_again_meanwhile_is_told_once_and_in_order():
    async def listened():
        listener = Listener(6)
        listener.hear((READING, replace(READING, seq=8)))  # stored after listening began, before the store was asked
        await asyncio.sleep(0)
        missed = listener.missed((READING, replace(READING, seq=8)))
        listener.hear((replace(READING, seq=9),))
        await asyncio.sleep(0)
        return [*missed, await listener.next()]

    assert [_id(said) for said in asyncio.run(listened())] == [7, 8, 9]


def test_a_page_that_missed_much_reads_the_sheet_and_goes_on_from_there():
    events = tuple(replace(READING, seq=n) for n in range(1, MOST_WAITING + 2))

    async def listened():
        listener = Listener(0)
        missed = listener.missed(events)
        listener.hear((events[-1], replace(READING, seq=len(events) + 1)))
        await asyncio.sleep(0)
        return [*missed, await listener.next()]

    told, onward = asyncio.run(listened())
    assert told.startswith("event: again\n") and _id(told) == len(events)
    assert _id(onward) == len(events) + 1


def test_more_than_the_queue_holds_asks_to_read_the_sheet_again():
    async def listened():
        listener = Listener()
        listener.hear(tuple(replace(READING, seq=n) for n in range(7, 7 + MOST_WAITING + 3)))
        await asyncio.sleep(0)
        return await listener.next(), await listener.next()

    first, second = asyncio.run(listened())
    assert first.startswith("event: again\n")
    assert _id(first) == 7 + MOST_WAITING + 2, "a page that comes back after it is not told again what it has read"
    assert second == BEATS, "what was dropped is not told twice"
