"""The `engine:` mapping of a job file, read into a layout; every fault of it told at once.

    layout: inline | v | opposed          head, block: aluminium | iron
    cylinders: 1 to 16                    cams: 1 or 2 (of each bank; of the engine where the cam is in the block)
    valves: {inl: [f, r], exh: 1}         cam_journals: of one camshaft
    gear: bucket_shim, rocker, ...        head_bolts: of one head
    banks: {left: [1, 3], right: [2, 4]}  springs: 1 or 2 of each valve
    drive: chain | belt | gear            seal: positive | umbrella | ring | none (of the valve stems)
    fuel: petrol | diesel                 cooling: liquid | air
    hybrid: yes | no

Everything is text. `layout`, `cylinders`, `valves` and `gear` must be written; the rest has a default that follows
from them and is then listed in `Layout.assumed`; what cannot follow (materials, seal, fuel, cooling, hybrid) stays
empty until somebody says it.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from witnessmark.catalogue.entry import DRIVES
from witnessmark.catalogue.place import MOST_CYLINDERS
from witnessmark.engine.shape import COOLINGS, FUELS, GEARS, LAYOUTS, MATERIALS, SEALS, Layout
from witnessmark.text.near import did_you_mean

KEYS = (
    "layout",
    "cylinders",
    "valves",
    "gear",
    "cams",
    "cam_journals",
    "head_bolts",
    "head",
    "block",
    "banks",
    "springs",
    "drive",
    "seal",
    "fuel",
    "cooling",
    "hybrid",
)
SAID = {"head": MATERIALS, "block": MATERIALS, "seal": SEALS, "fuel": FUELS, "cooling": COOLINGS,
        "hybrid": ("yes", "no")}  # fmt: skip
POSITIONS = {1: ("",), 2: ("f", "r"), 3: ("f", "m", "r")}

Path = tuple[str | int, ...]


class LayoutError(ValueError):
    """The engine cannot be laid out; `faults` holds every (path, message)."""

    def __init__(self, faults: Sequence[tuple[Path, str]]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(f"engine.{'.'.join(map(str, path))}: {message}" for path, message in self.faults))


Faults = list[tuple[Path, str]]


def layout(data: Mapping[str, Any]) -> Layout:
    """Lay out an engine from its plain description; LayoutError tells all that keeps it from being laid out."""
    faults: Faults = [((str(key),), _unknown(str(key), KEYS)) for key in data if key not in KEYS]
    kind = _choice(data, "layout", LAYOUTS, faults)
    cylinders = _count(data, "cylinders", 1, MOST_CYLINDERS, faults)
    valves = _valves(data.get("valves"), faults)
    gear = _choice(data, "gear", GEARS, faults)
    banks = _banks(data.get("banks"), kind, cylinders, faults)
    each = max((len(numbers) for _, numbers in banks), default=1)
    in_block = gear.startswith("pushrod")
    default = {
        "cams": _usual_cams(gear, valves),
        "cam_journals": each + 1,
        "head_bolts": 4 if each == 1 else 2 * (each + 1),
        "springs": 1,
    }
    range_of = {"cams": (1, 1 if in_block else 2), "cam_journals": (1, 40), "head_bolts": (2, 99), "springs": (1, 2)}
    cams, journals, bolts, springs = (
        default[key] if data.get(key) is None else _count(data, key, *range_of[key], faults) for key in range_of
    )
    said = {key: "" if data.get(key) is None else _choice(data, key, known, faults) for key, known in SAID.items()}
    drive = "chain" if data.get("drive") is None else _choice(data, "drive", DRIVES, faults)
    if faults:
        raise LayoutError(faults)
    names = ("cam-inl", "cam-exh") if cams == 2 else ("cam",)
    follows = (*default, "drive", *(["banks"] if len(banks) > 1 else []))
    assumed = tuple(key for key in follows if data.get(key) is None)
    return Layout(
        kind, cylinders, valves, gear, names, in_block, journals, bolts, banks=banks, springs=springs, assumed=assumed,
        drive=drive, **said,
    )  # fmt: skip


def _unknown(word: str, choices: Sequence[str]) -> str:
    hint = did_you_mean(word, choices) or f"; known: {', '.join(choices)}"
    return f"'{word}' means nothing here{hint}"


def _choice(data: Mapping[str, Any], key: str, choices: Sequence[str], faults: Faults) -> str:
    value = data.get(key)
    if isinstance(value, str) and value in choices:
        return value
    if value is None:
        faults.append(((key,), f"not written; write one of {', '.join(choices)}"))
    else:
        faults.append(((key,), _unknown(_said(value), choices)))
    return ""


def _said(value: Any) -> str:
    return value if isinstance(value, str) else "a list" if isinstance(value, Sequence) else "a mapping"


def _number(value: Any, low: int, high: int) -> int | None:
    text = str(value) if isinstance(value, str | int) and not isinstance(value, bool) else ""
    number = int(text) if text.isascii() and text.isdigit() and len(text) < 6 else None
    return number if number is not None and low <= number <= high else None


def _count(data: Mapping[str, Any], key: str, low: int, high: int, faults: Faults) -> int:
    value = data.get(key)
    number = _number(value, low, high)
    if number is None:
        said = "not written" if value is None else f"'{_said(value)}' is no number that fits"
        faults.append(((key,), f"{said}; write a whole number from {low} to {high}"))
    return number if number is not None else 0


def _usual_cams(gear: str, valves: tuple[tuple[str, tuple[str, ...]], ...]) -> int:
    """Common practice: three valves or more over buckets or fingers have a camshaft for each side."""
    return 2 if gear.startswith(("bucket", "finger")) and sum(len(each) for _, each in valves) > 2 else 1


def _valves(value: Any, faults: Faults) -> tuple[tuple[str, tuple[str, ...]], ...]:
    if not isinstance(value, Mapping):
        said = "not written" if value is None else f"'{_said(value)}' is no mapping"
        faults.append((("valves",), f"{said}; write the valves of one cylinder, such as {{inl: [f, r], exh: 1}}"))
        return ()
    sides = ("inl", "exh")
    faults.extend((("valves", str(key)), _unknown(str(key), sides)) for key in value if key not in sides)
    found = [(side, _positions(side, value.get(side), faults)) for side in sides]
    total = sum(len(each) for _, each in found)
    if total > 5:
        faults.append((("valves",), f"{total} valves in one cylinder; two to five can be laid out"))
    return tuple(found)


def _positions(side: str, value: Any, faults: Faults) -> tuple[str, ...]:
    words = (value,) if isinstance(value, str | int) else tuple(value) if isinstance(value, Sequence) else ()
    number = _number(words[0], 1, 3) if len(words) == 1 else None
    if number is not None:
        return POSITIONS[number]
    if words in POSITIONS.values():
        return tuple(str(word) for word in words)
    if len(words) == 1 and words[0] in ("f", "m", "r"):
        faults.append((("valves", side), f"one valve needs no letter; write {side}: 1"))
    else:
        faults.append((("valves", side), "write 1 for one valve, [f, r] for two, [f, m, r] for three, front to rear"))
    return ("",)


def _banks(value: Any, kind: str, cylinders: int, faults: Faults) -> tuple[tuple[str, tuple[int, ...]], ...]:
    numbers = tuple(range(1, cylinders + 1))
    if kind in ("", "inline"):
        if value is not None and kind:
            faults.append((("banks",), "an inline engine has one bank; take `banks` out, or write layout: v"))
        return (("", numbers),)
    if cylinders == 1:
        faults.append((("cylinders",), f"one cylinder makes no two banks for layout '{kind}'; write layout: inline"))
    if value is None:
        return (("left", numbers[0::2]), ("right", numbers[1::2]))
    if not isinstance(value, Mapping) or set(value) != {"left", "right"}:
        faults.append((("banks",), "write both banks, such as {left: [1, 3], right: [2, 4]}"))
        return (("left", ()), ("right", ()))
    banks = tuple((bank, _bank(bank, value[bank], cylinders, faults)) for bank in value)
    _check_numbers([number for _, each in banks for number in each], numbers, faults)
    return banks


def _bank(bank: str, value: Any, cylinders: int, faults: Faults) -> tuple[int, ...]:
    words = value if isinstance(value, Sequence) and not isinstance(value, str) else ()
    if not words:
        faults.append((("banks", bank), "write the cylinder numbers of this bank, front to rear, such as [1, 3]"))
    found = [_number(word, 1, max(cylinders, 1)) for word in words]
    for place, (word, number) in enumerate(zip(words, found, strict=True)):
        if number is None:
            faults.append((("banks", bank, place), f"'{_said(word)}' is no cylinder from 1 to {cylinders}"))
    return tuple(number for number in found if number is not None)


def _check_numbers(found: list[int], numbers: tuple[int, ...], faults: Faults) -> None:
    twice = sorted({number for number in found if found.count(number) > 1})
    missing = [number for number in numbers if number not in found]
    if twice:
        faults.append((("banks",), f"cylinder {', '.join(map(str, twice))} stands in two places; write it once"))
    if missing:
        faults.append((("banks",), f"cylinder {', '.join(map(str, missing))} stands in no bank; put it into one"))
