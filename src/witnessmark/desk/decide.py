"""What a person makes of a verdict: used again, machined, replaced, and why; what the customer says to it; the route.

The verdict is the tool's, the decision is a person's: it is kept beside the verdict and changes no reading.
"""

import re
from collections.abc import Sequence

from witnessmark.desk.bench import ROUNDS, Refused
from witnessmark.desk.commands import Stamp
from witnessmark.desk.state import State
from witnessmark.engine.place import PlaceError, parse
from witnessmark.record.event import Event
from witnessmark.text.near import did_you_mean

DECISIONS = ("used again", "machined", "replaced", "adjusted", "look again")
ANSWERS = ("yes", "no")
EXTENTS = ("quick", "full")
_MONEY = re.compile(r"[0-9]{1,9}([.,][0-9]{1,2})?")
_CURRENCY = re.compile(r"[A-Za-z]{3}")


def decide(
    state: State, stamp: Stamp, characteristic: str, place: str, decision: str, why: str, operation: str = ""
) -> tuple[Event, ...]:
    """Decide what becomes of a part or a face. Raises Refused for words that are not known, and without a reason."""
    known = state.catalogue.characteristics
    if characteristic not in known:
        raise Refused(f"no characteristic is called '{characteristic[:60]}'{did_you_mean(characteristic, known)}")
    try:
        there = parse(place).location if place not in ("all", "inl", "exh") else place
    except PlaceError as error:
        raise Refused(str(error)) from None
    if decision not in DECISIONS:
        raise Refused(f"'{decision[:40]}' is no decision; take one of {', '.join(DECISIONS)}")
    if operation and operation not in state.catalogue.operations:
        raise Refused(f"no operation is called '{operation[:60]}'{did_you_mean(operation, state.catalogue.operations)}")
    if not why.strip():
        raise Refused("a decision needs its reason: say in a few words why, for whoever asks next year")
    body = {
        "characteristic": characteristic, "place": there, "round": state.round, "decision": decision,
        "operation": operation or None, "why": why.strip(),
    }  # fmt: skip
    return (stamp.event("decided", body),)


def customer_says(
    state: State, stamp: Stamp, about: Sequence[str], answer: str, ceiling: str = "", currency: str = "",
    said_by: str = "", note: str = "",
) -> tuple[Event, ...]:  # fmt: skip
    """The customer's yes or no to decisions, or to all that stand; yes may have a price that it must not pass."""
    standing = {decision.event for decision in state.job.decisions}
    for name in about:
        if name not in standing:
            raise Refused(f"no decision '{name[:60]}' stands in this job; read the sheet again and choose anew")
    if not about and not standing:
        raise Refused("nothing is decided yet, so there is nothing to answer; decide first")
    if answer not in ANSWERS:
        raise Refused(f"'{answer[:40]}' is no answer; write yes or no")
    price = ceiling.strip().replace("\u00a0", "").replace(" ", "")
    if price and not _MONEY.fullmatch(price):
        raise Refused(f"the ceiling '{ceiling[:40]}' is no sum of money; write digits such as 450 or 450.00")
    if price and not _CURRENCY.fullmatch(currency.strip()):
        raise Refused("a ceiling needs its currency in three letters, such as EUR, GBP or USD")
    body = {
        "about": list(about), "answer": answer, "ceiling": price.replace(",", ".") or None,
        "currency": currency.strip().upper() if price else None, "said_by": said_by.strip() or None,
        "note": note.strip() or None,
    }  # fmt: skip
    return (stamp.event("customer_answered", body),)


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
