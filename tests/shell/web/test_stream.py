"""What one page keeps, another page hears; whoever hears too slowly is told to read again."""

import asyncio
import json

from witnessmark.record.event import Event
from witnessmark.shell.web.stream import MOST_WAITING, Listener, message

READING = Event("r-1", "reading_taken", {"characteristic": "stem_diameter", "place": "inl-3f", "raw": "5.952"}, seq=7)


def test_a_message_carries_the_number_of_the_event_and_where_to_look():
    said = message(READING)
    assert said.startswith("id: 7\ndata: ") and said.endswith("\n\n")
    told = json.loads(said.splitlines()[1].removeprefix("data: "))
    place = {"characteristic": "stem_diameter", "place": "inl-3f"}
    assert told == {"seq": 7, "kind": "reading_taken", "device": "", **place}


def test_what_another_thread_stores_is_heard():
    async def listened():
        listener = Listener()
        await asyncio.to_thread(listener.hear, (READING,))
        return await listener.next()

    assert asyncio.run(listened()) == message(READING)


def test_silence_beats_so_that_a_lost_page_is_noticed():
    async def listened():
        return await Listener().next()

    assert asyncio.run(listened()) == ": beat\n\n"


def test_more_than_the_queue_holds_asks_to_read_the_sheet_again():
    async def listened():
        listener = Listener()
        listener.hear((READING,) * (MOST_WAITING + 1))
        await asyncio.sleep(0)
        return await listener.next(), await listener.next()

    first, second = asyncio.run(listened())
    assert first.startswith("event: again\n")
    assert second == ": beat\n\n", "what was dropped is not told twice"
