"""What one device remembers of the hand that holds it: light, letters, side, unit, words, keys, sound, speech.

None of it is part of a job. Each setting is a name, the values it may have (the first is what stands where nothing was
chosen), and words for a key of each. A value that is not in the table counts as not chosen.
"""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Value:
    """One value of a setting, as a key: what is remembered, the word on the key, what it does."""

    value: str
    text: str
    small: str = ""


@dataclass(frozen=True, slots=True)
class Setting:
    """A setting with its values, the usual one first."""

    name: str
    label: str
    values: tuple[Value, ...]


@dataclass(frozen=True, slots=True)
class Shown:
    """A setting with the value that stands now."""

    setting: Setting
    now: str


SETTINGS = (
    Setting("light", "light", (
        Value("", "as the device", "day or night as the rest of this device has it"),
        Value("day", "day"), Value("night", "night"))),
    Setting("letters", "letters", (
        Value("", "usual"),
        Value("larger", "larger", "by a quarter; on the bench the series goes under the keys"))),
    Setting("hand", "hand", (
        Value("", "right", "keys at the right"), Value("left", "left", "keys at the left"))),
    Setting("unit", "shown in", (
        Value("", "as the job", "inch where most gauges of the job read inch"),
        Value("mm", "millimetre"),
        Value("in", "inch", "a number typed has the unit of its gauge"))),
    Setting("words", "words of the trade", (
        Value("", "as written"), Value("british", "British", "tappet, collet, grey"),
        Value("american", "American", "lifter, keeper, gray"))),
    Setting("stray", "keys", (
        Value("on", "all to the line", "a gauge types wherever the focus is"),
        Value("off", "in the line", "only while the line has the focus"))),
    Setting("sound", "sound", (
        Value("", "off"), Value("on", "on", "one short tick for kept, two for asked"))),
    Setting("spoken", "spoken readings", (
        Value("", "off"), Value("on", "on", "place and value, once they are kept"))),
)  # fmt: skip
"""Every setting, in the order of the sheet."""

_BY_NAME = {setting.name: setting for setting in SETTINGS}


def setting(name: str) -> Setting | None:
    """The setting of that name, None where there is none."""
    return _BY_NAME.get(name)


def allowed(name: str, value: str) -> bool:
    """True where the setting exists and may have this value."""
    known = setting(name)
    return known is not None and value in {one.value for one in known.values}


def standing(name: str, remembered: Mapping[str, str]) -> str:
    """The value of a setting that stands: what is remembered where that is one of its values, else the usual one.

    KeyError for a setting that is not in the table.
    """
    value = remembered.get(name, "")
    return value if allowed(name, value) else _BY_NAME[name].values[0].value


def device_sheet(remembered: Mapping[str, str]) -> tuple[Shown, ...]:
    """All settings with the values that stand, for the sheet `this device`."""
    return tuple(Shown(one, standing(one.name, remembered)) for one in SETTINGS)


def said(name: str, value: str) -> str:
    """`letters: larger`, to say what was kept; "" for what is not in the table."""
    known = setting(name)
    text = next((one.text for one in known.values if one.value == value), "") if known else ""
    return f"{known.label}: {text}" if known and text else ""
