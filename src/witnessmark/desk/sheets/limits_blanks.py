"""The blanks in which one limit is typed: for whom, from what to what, in which unit, on which page."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from witnessmark.catalogue.entry import NOTHING, Characteristic
from witnessmark.desk.limits import DOUBTS, NOT_THERE, Key, entries_now, mark_of
from witnessmark.desk.sheets.blanks import Blank, Choices
from witnessmark.desk.sheets.phrase import shown
from witnessmark.desk.state import State
from witnessmark.engine.walk import locations
from witnessmark.explain.words import unit_of
from witnessmark.limits.entry import POSITIONED, SIDED
from witnessmark.quantity.unit import UnknownUnit, names, unit
from witnessmark.text.fault import Fault

SIDES = {"inl": "Inl", "exh": "Exh"}
POSITIONS = {"f": "front", "m": "middle", "r": "rear"}
METRIC = {"length": "mm", "force": "N", "rate": "N/mm", "torque": "N·m", "pressure": "bar", "volume": "mL"}
INCH = {"length": "in", "force": "lbf", "rate": "lbf/in", "torque": "lbf·ft", "pressure": "psi", "volume": "mL"}
OTHER = {"angle_plane": "deg", "angle_crank": "deg crank", "angle_cam": "deg cam", "time": "s", "ratio": "%"}
RULES = {
    "each": "each reading", "worst": "the worst of a place", "mean": "the mean of a place",
    "spread": "the spread at a place", "spread_of_places": "the spread over all places",
}  # fmt: skip
BLANK_OF = {"service": "high", "service.low": "low", "service.high": "high", "new": "new_high", "new.low": "new_low",
            "new.high": "new_high", "given": "given", "unit": "unit", "stations": "stations", "page": "page",
            "document": "document", "doubt": "doubt", "for": "who", "position": "who", "place": "who",
            "accept": "accept"}  # fmt: skip


@dataclass(frozen=True, slots=True)
class EntryForm:
    """One entry being typed: what it is for, its blanks, and what was before the eyes when it was opened."""

    characteristic: str
    term: str
    was: str  # code of the key that is changed; "" for a new one
    seen: str
    state: str  # of the part, as the catalogue asks for it
    blanks: tuple[Blank, ...]
    more: tuple[Blank, ...]  # seldom needed, folded
    open: bool  # whether those are unfolded, since one of them is filled or at fault
    accept: tuple[tuple[str, str, bool], ...]  # answer, good | bad | doubt, ticked
    accept_fault: str
    to_check: bool
    checked: bool
    following: str  # code of the one that comes after it


def preferred(quantity: str, shown_in: str) -> str:
    """The unit in which a quantity is shown where nothing says otherwise."""
    return (INCH if shown_in == "in" else METRIC).get(quantity) or OTHER.get(quantity, "")


def unit_to_begin(state: State, known: Characteristic, shown_in: str) -> str:
    """The unit of the last limit of the same quantity on the sheet, else what the display shows."""
    of = state.catalogue.characteristics
    for limit in reversed(state.sheet.limits if state.sheet else ()):
        like = of[limit.characteristic]
        if limit.unit and (like.quantity, like.fine) == (known.quantity, known.fine):
            return limit.unit
    return unit_of(known, shown_in) if known.fine else preferred(known.quantity, shown_in)


def entry_form(
    state: State, key: Key, following: str, kept: Mapping[str, str], ticked: Sequence[str],
    faults: Sequence[Fault], shown_in: str, page: str = "",
) -> EntryForm:  # fmt: skip
    """The form of one entry, filled with what was typed last (`kept`), else with what the sheet holds."""
    known = state.catalogue.characteristics[key.characteristic]
    held = entries_now(state).get(key, ())
    filled = _filled(held[0] if held else {}, key, unit_to_begin(state, known, shown_in), page)
    at = by_blank(faults, known.id)
    values = {**filled, **kept} if kept else filled
    blanks, more = _blanks(state, known, key, values, at), _more(state, known, values, at)
    accept = tuple(ticked) if kept else tuple((held[0].get("accept") or ()) if held else ())
    answers = tuple((answer, sort, answer in accept) for answer, sort in known.says.items())
    unfolded = any(one.fault or one.value not in ("", known.rule) for one in more)
    waits = any(one.get("to_check") == "yes" for one in held)
    return EntryForm(
        known.id,
        known.term,
        str(key) if held else "",
        mark_of(held) if held else NOT_THERE,
        known.state,
        blanks,
        more,
        unfolded,
        answers,
        at.get("accept", ""),
        waits,
        kept.get("checked") == "yes",
        following,
    )


def by_blank(faults: Sequence[Fault], characteristic: str) -> Mapping[str, str]:
    """Sentences by the blank that they belong to."""
    found: dict[str, str] = {}
    for fault in faults:
        if not fault.path.startswith(f"limits.{characteristic}["):
            continue
        way = fault.path.partition("]")[2].removeprefix(".").partition("[")[0]
        name = BLANK_OF.get(way)
        if name:
            found[name] = f"{found[name]}; {fault.message}" if name in found else fault.message
    return found


def _filled(entry: Mapping[str, Any], key: Key, unit_: str, page: str) -> dict[str, str]:
    service, new = entry.get("service") or {}, entry.get("new") or {}
    return {
        "who": f"{key.for_};{key.position};{key.place}", "low": service.get("low") or "",
        "high": service.get("high") or "", "new_low": new.get("low") or "", "new_high": new.get("high") or "",
        "given": entry.get("given") or "", "unit": _named(entry.get("unit"), unit_), "stations": key.stations,
        "page": entry.get("page") or ("" if entry else page), "document": entry.get("document") or "",
        "doubt": entry.get("doubt") or "",
    }  # fmt: skip


def _named(written: object, otherwise: str) -> str:
    """A unit by its name, however the sheet spells it."""
    try:
        return unit(str(written)).name if written else otherwise
    except UnknownUnit:
        return str(written)


def _blanks(
    state: State, known: Characteristic, key: Key, values: Mapping[str, str], at: Mapping[str, str]
) -> tuple[Blank, ...]:
    def blank(name: str, label: str, choices: Choices = (), hint: str = "") -> Blank:
        return Blank(name, label, values.get(name, ""), hint, choices, False, at.get(name, ""))

    looked = known.kind == "look"
    found = [blank("who", "for", _who(state, known, key))]
    if known.quantity != NOTHING:
        found += [] if looked else [blank("low", "used again: least")]
        found.append(blank("high", "no more than" if looked else "used again: most"))
        found += [] if looked else [blank("new_low", "new work: least"), blank("new_high", "new work: most")]
        found.append(blank("unit", "unit", tuple((name, name) for name in names(known.quantity))))
    found.append(blank("page", "page"))
    return tuple(found)


def _more(state: State, known: Characteristic, values: Mapping[str, str], at: Mapping[str, str]) -> tuple[Blank, ...]:
    document = state.sheet.document if state.sheet else ""
    rules = (("", f"as usual: {RULES[known.rule]}"), *((rule, RULES[rule]) for rule in _rules(known)))
    doubts = (("", "as the sheet says"), *((one, one) for one in DOUBTS))

    def blank(name: str, label: str, choices: Choices = (), hint: str = "") -> Blank:
        return Blank(name, label, values.get(name, ""), hint, choices, False, at.get(name, ""))

    stated = (blank("given", "stated, not measured"),) if known.kind == "number" else ()
    return (blank("stations", "of many readings", rules), *stated,
            blank("document", "another document", hint=document), blank("doubt", "the doubt", doubts))  # fmt: skip


def _rules(known: Characteristic) -> tuple[str, ...]:
    """What of many readings may be limited, for this kind of characteristic."""
    if known.kind == "form":
        return ("each",)
    several = bool(known.stations)
    found = ["each", *(["worst"] if several else [])]
    if known.kind in ("number", "derived"):
        found += [*(["mean", "spread"] if several else []), "spread_of_places"]
    return tuple(found)


def _who(state: State, known: Characteristic, key: Key) -> Choices:
    """For whom a limit may be: all, a side, a side's front or rear valve, one place."""
    found = {";;": "all"}
    if known.at in SIDED:
        found |= {f"{side};;": words for side, words in SIDES.items()}
    for side, positions in state.layout.valves if state.layout and known.at in POSITIONED else ():
        for one in positions if len(positions) > 1 else ():
            found[f"{side};{one};"] = f"{SIDES[side]} {POSITIONS[one]}"
    if state.layout is not None:
        places = locations(state.layout, known.at)
        found |= {f";;{place}": f"only {shown(place)}" for place in places if len(places) > 1}
    held = f"{key.for_};{key.position};{key.place}"
    return tuple(found.items()) if held in found else (*found.items(), (held, who_words(key)))


def who_words(key: Key) -> str:
    """`Inl`, `Exh front`, `Inl 3F`, `all`."""
    place = shown(key.place) if key.place else ""
    side = SIDES.get(key.for_, "") if not place else ""
    return " ".join(filter(None, (side, POSITIONS.get(key.position, ""), place))) or "all"
