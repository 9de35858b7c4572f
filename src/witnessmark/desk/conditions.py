"""The conditions under which an assembled engine was tried: entered as text, read with their units, told where unread.

Air pressure is that of the place, absolute. A weather report gives it reduced to sea level; where only the altitude is
known the standard atmosphere of ISO 2533 stands in for it.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from witnessmark.desk.bench import Refused
from witnessmark.desk.commands import Stamp
from witnessmark.desk.look import dialect
from witnessmark.desk.state import State
from witnessmark.mechanics.leakage import SEA_LEVEL, air_pressure_at
from witnessmark.quantity.amount import Amount
from witnessmark.quantity.read import read
from witnessmark.record.event import Event
from witnessmark.text.fault import Fault
from witnessmark.text.near import did_you_mean

FEET = ("feet", "foot", "ft")
IN_FOOT = 12
TEXT, COUNT = "text", "count"
LONGEST = 80


@dataclass(frozen=True, slots=True)
class Condition:
    """One condition. `dimension` is one of quantity, or `text`, or `count`; `low`, `high` are what may be [inside].

    `units` are those of a bare number in a metric and in an inch shop; `hints` show how it is written.
    """

    term: str
    dimension: str
    units: tuple[str, str] = ("", "")
    hints: tuple[str, str] = ("", "")
    low: float = 0.0
    high: float = 0.0
    choices: tuple[str, ...] = ()
    cure: str = ""


CONDITIONS: Mapping[str, Condition] = {
    "air_pressure": Condition(
        "air pressure here", "pressure", ("kPa", "inHg"), ("101.3 kPa", "29.92 inHg"), 0.05, 0.11, (),
        "write what a barometer in the shop shows, as 101.3 kPa, 29.92 inHg or 14.7 psi"),
    "altitude": Condition(
        "altitude", "length", ("m", "ft"), ("300 m", "1000 ft"), -500e3, 5000e3, (),
        "write metres or feet, as 300 m or 1000 ft"),
    "air_temperature": Condition(
        "air temperature", "temperature", ("°C", "°F"), ("20 °C", "68 °F"), -40, 60, (),
        "write degrees with their letter, as 20 C or 68 F"),
    "engine": Condition("engine", TEXT, choices=("warm", "cold")),
    "throttle": Condition("throttle", TEXT, choices=("open", "shut")),
    "strokes": Condition("compression strokes", COUNT, ("", ""), ("6", "6"), 1, 30, (),
                         "write a whole number, five to seven are usual"),
    "inlet_closes": Condition(
        "inlet closes by the book", "angle_crank", ("deg crank", "deg crank"), ("44", "44"), -0.4, 2.1, (),
        "write degrees of the crank after bottom dead centre, at a lift of about 1 mm (0.040 in)"),
    "orifice": Condition(
        "orifice of the leak-down set", "length", ("mm", "in"), ("1.00 mm", "0.040 in"), 0.2, 6.0, (),
        "write its bore, as 1.016 mm or 0.040 in"),
    "oil": Condition("oil", TEXT, hints=("5W-30, 90 °C", "5W-30, 195 °F")),
    "oil_speed": Condition("stated speed, r/min", COUNT, ("", ""), ("2000", "2000"), 100, 20000, (),
                           "write revolutions a minute, as 2000"),
}  # fmt: skip
"""Every condition that may be entered, in the order of the sheet."""


@dataclass(frozen=True, slots=True)
class Air:
    """The air of the day [MPa absolute], and where it comes from: entered, altitude or standard (nobody said)."""

    pressure: float
    origin: str


def enter_conditions(
    state: State, stamp: Stamp, sent: Mapping[str, str], saw: str | None = None
) -> tuple[Event, ...]:
    """Conditions anew: one that is sent empty is struck out, one that is not sent stays.

    `saw` is what the sender looked at; None takes what stands. Raises Refused with every fault.
    """
    if saw is not None and saw != (state.job.conditions_event or ""):
        raise Refused("the conditions were changed meanwhile, on another bench or in another window: look, do it again")
    faults: list[str] = []
    told: dict[str, str] = {}
    for name, text in sent.items():
        if name not in CONDITIONS:
            faults.append(f"no condition is called '{name[:40]}'{did_you_mean(name[:40], CONDITIONS)}")
            continue
        try:
            told[name] = _written(name, " ".join(text.split()), dialect(state.job))
        except Refused as refused:
            faults.append(str(refused))
    if faults:
        raise Refused("; ".join(faults), tuple(Fault("value", one) for one in faults))
    kept = {name: text for name, text in {**state.job.conditions, **told}.items() if text}
    if kept == dict(state.job.conditions):
        return ()
    return (stamp.event("conditions_entered", {"entries": kept, "based_on": state.job.conditions_event}),)


def _written(name: str, text: str, shop: str) -> str:
    """The text to keep: as it came, with the unit that a bare number had in this shop."""
    one = CONDITIONS[name]
    if not text:
        return ""
    if one.choices:
        if text.casefold() not in one.choices:
            raise Refused(f"{one.term} is {' or '.join(one.choices)}, and '{text[:40]}' is neither")
        return text.casefold()
    if one.dimension == TEXT:
        if len(text) > LONGEST:
            raise Refused(f"{one.term}: {len(text)} letters; say it in {LONGEST}")
        return text
    unit = one.units[shop == "in"]
    value_of(name, text, unit)
    bare = text.replace(".", "").replace(",", "").replace("-", "").strip().isdecimal()
    return f"{text} {unit}" if bare and unit else text


def value_of(name: str, text: str, unit: str = "") -> float:
    """A condition in the unit inside; `unit` is that of a bare number. Raises Refused with what to write."""
    one = CONDITIONS[name]
    value = _count(one, text) if one.dimension == COUNT else _amount(one, text, unit or one.units[0])
    if not one.low <= value <= one.high:
        raise Refused(f"{one.term} '{text[:40]}' cannot be: {one.cure}")
    return value


def _count(one: Condition, text: str) -> float:
    if not text.isdecimal() or len(text) > 6:
        raise Refused(f"{one.term} '{text[:40]}' cannot be read: {one.cure}")
    return float(text)


def _amount(one: Condition, text: str, unit: str) -> float:
    """As quantity reads it; a length in feet, which no gauge of a bench has, as twelve inches each."""
    foot = next((word for word in FEET if text.casefold().endswith(word)), "")
    feet = one.dimension == "length" and bool(foot or (unit == "ft" and text[-1:].isdigit()))
    body = text[: -len(foot)].strip() if foot else text
    found = read(body, "in" if feet else "mm" if unit == "ft" else unit, dimension=one.dimension)
    if not isinstance(found, Amount):
        raise Refused(f"{one.term} '{text[:40]}' cannot be read: {one.cure}")
    return float(found.inside) * (IN_FOOT if feet else 1)


def condition(state: State, name: str) -> float | None:
    """A condition of the job in the unit inside; None where it was not entered, or cannot be read: see `unread`."""
    text = state.job.conditions.get(name, "")
    return value_of(name, text) if text and not _fault(name, text) else None


def unread(state: State) -> tuple[str, ...]:
    """What is wrong with conditions that the record holds: those of a file that was written by hand, or by another."""
    return tuple(told for name, text in state.job.conditions.items() if (told := _fault(name, text)))


def _fault(name: str, text: str) -> str:
    if name not in CONDITIONS:
        return f"no condition is called '{name[:40]}'{did_you_mean(name[:40], CONDITIONS)}"
    try:
        _written(name, text, "mm")
    except Refused as refused:
        return str(refused)
    return ""


def air_of(state: State) -> Air:
    """The air of the day: as entered, else of the altitude, else that of the standard at sea level."""
    entered = condition(state, "air_pressure")
    if entered is not None:
        return Air(entered, "entered")
    altitude = condition(state, "altitude")
    if altitude is not None:
        return Air(float(air_pressure_at(altitude / 1000)), "altitude")
    return Air(SEA_LEVEL, "standard")
