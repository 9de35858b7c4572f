"""What a person makes of a verdict: used again, machined, replaced, and why; what the customer says to it; the route.

The verdict is the tool's, the decision is a person's: it is kept beside the verdict and changes no reading.
"""

import re
from collections.abc import Sequence

from witnessmark.desk.bench import ROUNDS, Refused
from witnessmark.desk.commands import Stamp
from witnessmark.desk.state import State
from witnessmark.engine.place import PlaceError, parse
from witnessmark.judge.result import WITHIN
from witnessmark.record.event import Event
from witnessmark.record.job import Decision, Photo
from witnessmark.text.near import did_you_mean

DECISIONS = ("used again", "machined", "replaced", "adjusted", "look again")
SPREADS = ("all", "inl", "exh")  # places of a spread over places
ANSWERS = ("yes", "no")
EXTENTS = ("quick", "full")
REST = "within every limit entered"  # why the rest is used again, where nobody says otherwise
_MONEY = re.compile(r"[0-9]{1,9}([.,][0-9]{1,2})?")
_SHARE = re.compile(r"0([.][0-9]{1,6})?|1([.]0{1,6})?")
_CURRENCY = re.compile(r"[A-Za-z]{3}")


def decide(
    state: State, stamp: Stamp, characteristic: str, place: str, decision: str, why: str, operation: str = "",
    saw: str | None = None,
) -> tuple[Event, ...]:  # fmt: skip
    """Decide what becomes of a part or a face. Raises Refused for words that are not known, and without a reason.

    The decision names the one of its row that its writer saw, so that two benches do not replace each other unseen:
    `saw` is that of the page, "" where the page showed none; None takes the one that stands.
    """
    known = state.catalogue.characteristics
    if characteristic not in known:
        raise Refused(f"no characteristic is called '{characteristic[:60]}'{did_you_mean(characteristic, known)}")
    try:
        there = row_place(place)
    except PlaceError as error:
        raise Refused(str(error)) from None
    if decision not in DECISIONS:
        raise Refused(f"'{decision[:40]}' is no decision; take one of {', '.join(DECISIONS)}")
    if operation and operation not in state.catalogue.operations:
        raise Refused(f"no operation is called '{operation[:60]}'{did_you_mean(operation, state.catalogue.operations)}")
    if not why.strip():
        raise Refused("a decision needs its reason: say in a few words why, for whoever asks next year")
    seen = standing(state, characteristic, there)
    if saw is not None and saw != (seen.event if seen else ""):
        now = f"{seen.decision} ({seen.why}), by {seen.by or 'nobody named'}" if seen else "taken back"
        raise Refused(f"this row was decided meanwhile: {now}; look at it and decide again")
    body = {
        "characteristic": characteristic, "place": there, "round": state.round, "decision": decision,
        "operation": operation or None, "why": why.strip(), "based_on": seen.event if seen else None,
    }  # fmt: skip
    return (stamp.event("decided", body),)


def standing(state: State, characteristic: str, place: str) -> Decision | None:
    """The decision that stands for a row of the state's round, or None."""
    row = (characteristic, place, state.round)
    return next((one for one in state.job.decisions if (one.characteristic, one.place, one.round) == row), None)


def use_the_rest(state: State, stamp: Stamp, why: str = REST) -> tuple[Event, ...]:
    """Used again, for every row of the round that is finished, within, and not decided yet: one decision for each."""
    rows = {
        (one.characteristic, row_place(one.location)): one
        for one in state.judgement.results
        if one.round == state.round
    }
    within = [row for row in rows if _all_within(state, row) and standing(state, *row) is None]
    if not within:
        raise Refused("nothing is left that is read to the end, within, and not decided yet")
    bodies = [
        {"characteristic": characteristic, "place": place, "round": state.round, "decision": DECISIONS[0],
         "operation": None, "why": why, "based_on": None}
        for characteristic, place in within
    ]  # fmt: skip
    return tuple(stamp.event("decided", body, f".{n}" if n else "") for n, body in enumerate(bodies))


def row_place(location: str) -> str:
    """The place of the row that a result belongs to: without its station; a spread over places stands as it is."""
    return location if location in SPREADS else parse(location).location


def _all_within(state: State, row: tuple[str, str]) -> bool:
    held = [
        one
        for one in state.judgement.results
        if one.round == state.round and (one.characteristic, row_place(one.location)) == row
    ]
    return all(one.decided and one.verdict == WITHIN for one in held)


def customer_says(
    state: State, stamp: Stamp, about: Sequence[str], answer: str, ceiling: str = "", currency: str = "",
    said_by: str = "", note: str = "",
) -> tuple[Event, ...]:  # fmt: skip
    """The customer's yes or no to decisions, or to all that stand; yes may have a price that it must not pass.

    What is kept names each decision, so that one that was made meanwhile on another bench is not answered unseen.
    """
    known = {decision.event: decision for decision in state.job.decisions}
    for name in about:
        if name not in known:
            raise Refused(f"no decision '{name[:60]}' stands in this job; read the sheet again and choose anew")
    if not known:
        raise Refused("nothing is decided yet, so there is nothing to answer; decide first")
    if answer not in ANSWERS:
        raise Refused(f"'{answer[:40]}' is no answer; write yes or no")
    price = ceiling.strip().replace("\u00a0", "").replace(" ", "")
    if price and not _MONEY.fullmatch(price):
        raise Refused(f"the ceiling '{ceiling[:40]}' is no sum of money; write digits such as 450 or 450.00")
    if price and not _CURRENCY.fullmatch(currency.strip()):
        raise Refused("a ceiling needs its currency in three letters, such as EUR, GBP or USD")
    body = {
        "about": list(about or known), "answer": answer, "ceiling": price.replace(",", ".") or None,
        "currency": currency.strip().upper() if price else None, "said_by": said_by.strip() or None,
        "note": note.strip() or None, "based_on": _answered(state, about or tuple(known)),
    }  # fmt: skip
    return (stamp.event("customer_answered", body),)


def _answered(state: State, about: Sequence[str]) -> str | None:
    """The answer that its writer saw: the one that stands for all of these decisions, None where they differ."""
    seen = {one.answer for one in state.job.decisions if one.event in set(about)}
    return seen.pop() if len(seen) == 1 else None


def choose_route(state: State, stamp: Stamp, extent: str) -> tuple[Event, ...]:
    """Quick, the worst places first and the full set where a value comes near its limit; or full."""
    if extent not in EXTENTS:
        raise Refused(f"'{extent[:40]}' is no route; take quick or full")
    return (stamp.event("route_chosen", {"extent": extent, "based_on": state.job.extent_event}),)


def add_photo(
    state: State, stamp: Stamp, photo: str, size: tuple[int, int, int], characteristic: str, place: str,
    note: str = "", mark: tuple[str, str] | None = None,
) -> tuple[Event, ...]:  # fmt: skip
    """Name a photo that the store has: `photo` is its hash, `size` its bytes, width and height in pixels.

    `mark` says where on the drawing it belongs, as shares of the width and the height.
    """
    mark = checked_mark(mark)
    if characteristic and characteristic not in state.catalogue.characteristics:
        raise Refused(f"no characteristic is called '{characteristic[:60]}'; take one of the catalogue")
    try:
        if place:
            parse(place)
    except PlaceError as error:
        raise Refused(str(error)) from None
    if state.round not in ROUNDS:
        raise Refused(f"'{state.round[:40]}' is no round; take one of {', '.join(ROUNDS)}")
    about = {"characteristic": characteristic, "place": place, "round": state.round}
    body = {
        "photo": photo, "type": "image/jpeg", "bytes": size[0], "width": size[1], "height": size[2],
        "about": {key: value for key, value in about.items() if value}, "note": note.strip() or None,
        "mark": {"x": mark[0], "y": mark[1]} if mark else None,
    }  # fmt: skip
    return (stamp.event("photo_added", body),)


def change_photo(
    state: State, stamp: Stamp, event: str, note: str = "", mark: tuple[str, str] | None = None
) -> tuple[Event, ...]:
    """The photo with another note or mark: the entry that stands is taken back, and a new one stands for it."""
    old, mark = _photo(state, event), checked_mark(mark)
    body = {
        "photo": old.photo, "type": old.type, "bytes": old.bytes, "width": old.width, "height": old.height,
        "about": {key: value for key in ("characteristic", "place", "round") if (value := getattr(old, key))},
        "note": note.strip() or None, "mark": {"x": mark[0], "y": mark[1]} if mark else None,
    }  # fmt: skip
    return stamp.event("photo_added", body), stamp.event("taken_back", {"event": event}, ".back")


def remove_photo(state: State, stamp: Stamp, event: str) -> tuple[Event, ...]:
    """Take a photo back; its picture stays in the store, as the record of what was taken back does."""
    _photo(state, event)
    return (stamp.event("taken_back", {"event": event}),)


def _photo(state: State, event: str) -> Photo:
    found = next((one for one in state.job.photos if one.event == event), None)
    if found is None:
        raise Refused("this photo does not stand in the job any more; read the sheet again")
    return found


def checked_mark(mark: tuple[str, str] | None) -> tuple[str, str] | None:
    """A mark as shares of width and height from 0 to 1; None where both are left out. Raises Refused."""
    if mark is None or mark == ("", ""):
        return None
    if not all(_SHARE.fullmatch(share) for share in mark):
        said = ", ".join(share[:12] or "nothing" for share in mark)
        raise Refused(f"the mark at {said} lies off the drawing: give two shares from 0 to 1, such as 0.43 and 0.61")
    return mark
