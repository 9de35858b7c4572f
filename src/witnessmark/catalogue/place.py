"""Places on an engine: one grammar for machine ids, and the one form in which people see them.

    id = [bank/] where [/station ...]         left/gasket-face/diagonal-1      inl-3f/middle/across

`where` is a valve (and with it its guide, seat, spring and what opens it), a chamber, a face of the head, the head,
a camshaft with one of its journals (and with it its bore and its cap) or lobes, the cam drive, a bolt, or the engine
as a whole. A bank is
written only where no cylinder number tells it. On a camshaft that serves both sides the lobe names its valve in full,
`cam/lobe-inl-3`, as `lobe-3` would not tell the two apart.

Words   Positions f, m, r: front, middle, rear. Stations are open: any lower-case word, number or hyphened pair.
Errors  PlaceError, saying what was read and what a place looks like.
"""

import re
from dataclasses import dataclass
from functools import lru_cache

BANKS = ("left", "right")
FACES = ("gasket-face", "inlet-face", "exhaust-face", "upper-face")
SIDES = {"inl": "Inl", "exh": "Exh"}
MOST_CYLINDERS = 16
MOST_STATIONS = 4
LONGEST = 80

_VALVE = re.compile(r"(inl|exh)-([1-9][0-9]?)([fmr]?)")
_CAM = re.compile(r"cam(?:-(inl|exh))?")
_LOBE = re.compile(r"lobe-(?:(inl|exh)-)?([1-9][0-9]?)([fmr]?)")
_JOURNAL = re.compile(r"journal-([1-9][0-9]?)")
_CHAMBER = re.compile(r"chamber-([1-9][0-9]?)")
_BOLT = re.compile(r"bolt-([1-9][0-9]?)")
_STATION = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_BETWEEN = re.compile(r"between-(\d+)-(\d+)")
_DIRECTIONS = ("along", "across")


class PlaceError(ValueError):
    """A text that names no place; the message says what was read and what to write."""


@dataclass(frozen=True, slots=True)
class Place:
    """One place: `where` without bank and station, and what the words in it say."""

    bank: str
    where: str
    station: str
    side: str = ""  # "inl" or "exh" where the place tells
    cylinder: int | None = None
    position: str = ""  # f, m, r, or "" where there is one

    @property
    def location(self) -> str:
        """The id without its station."""
        return f"{self.bank}/{self.where}" if self.bank else self.where


@lru_cache(maxsize=8192)
def parse(place: str) -> Place:
    """Read a machine id; PlaceError if it is none."""
    if len(place) > LONGEST:
        raise PlaceError(f"a place is at most {LONGEST} characters long, this one has {len(place)}")
    words = place.split("/")
    bank = words.pop(0) if words[0] in BANKS else ""
    if not words:
        raise PlaceError(f"'{place}' names a bank only; write what is on it, such as '{bank}/gasket-face'")
    found = _where(words, place)
    stations = words[found.where.count("/") + 1 :]
    if bank and found.cylinder is not None:
        raise PlaceError(f"'{place}': the cylinder number already tells the bank; write '{place[len(bank) + 1 :]}'")
    _check_stations(stations, place)
    return Place(bank, found.where, "/".join(stations), found.side, found.cylinder, found.position)


def _where(words: list[str], place: str) -> Place:
    first = words[0]
    if valve := _VALVE.fullmatch(first):
        return Place("", first, "", valve[1], _cylinder(valve[2], place), valve[3])
    if cam := _CAM.fullmatch(first):
        return _on_cam(first, cam[1] or "", words[1] if len(words) > 1 else "", place)
    if chamber := _CHAMBER.fullmatch(first):
        return Place("", first, "", "", _cylinder(chamber[1], place))
    if first in FACES:
        return Place("", first, "", {"inlet-face": "inl", "exhaust-face": "exh"}.get(first, ""))
    if first in ("head", "drive", "engine") or _BOLT.fullmatch(first):
        return Place("", first, "")
    raise PlaceError(
        f"'{place}' names no place; write a valve such as 'inl-3f', a face such as 'gasket-face/diagonal-1', "
        "'head/height-1', 'chamber-3', a cam place such as 'cam-inl/journal-3', 'drive', "
        "'engine', or a bolt such as 'bolt-7'"
    )


def _on_cam(cam: str, side: str, part: str, place: str) -> Place:
    if _JOURNAL.fullmatch(part):
        return Place("", f"{cam}/{part}", "", side)
    lobe = _LOBE.fullmatch(part)
    if lobe is None:
        return Place("", cam, "", side)
    if bool(side) == bool(lobe[1]):
        cure = f"{cam}/lobe-{lobe[2]}{lobe[3]}" if side else f"{cam}/lobe-inl-{lobe[2]}{lobe[3]}"
        raise PlaceError(f"'{place}': a lobe names its side once; write it like '{cure}'")
    return Place("", f"{cam}/{part}", "", side or lobe[1], _cylinder(lobe[2], place), lobe[3])


def _cylinder(number: str, place: str) -> int:
    if int(number) > MOST_CYLINDERS:
        raise PlaceError(f"'{place}': cylinder {number} is beyond {MOST_CYLINDERS}, the most that an engine has here")
    return int(number)


def _check_stations(stations: list[str], place: str) -> None:
    if len(stations) > MOST_STATIONS:
        raise PlaceError(f"'{place}' has {len(stations)} station words; {MOST_STATIONS} are the most")
    for word in stations:
        if not _STATION.fullmatch(word):
            raise PlaceError(f"'{place}': '{word}' is no station; use lower-case letters, digits and single hyphens")


def location(place: str) -> str:
    """The place without its station: "left/gasket-face", "cam-inl/journal-3"."""
    return parse(place).location


def station(place: str) -> str:
    """The station alone: "middle/across", or "" where there is one reading."""
    return parse(place).station


def valve_kind(place: str) -> str:
    """The side that a place belongs to: "inl", "exh", or "" where it tells none."""
    return parse(place).side


def position(place: str) -> str:
    """f, m or r of the valve or lobe that a place names, else ""."""
    return parse(place).position


def cylinder(place: str) -> int | None:
    """The cylinder number that a place names, else None."""
    return parse(place).cylinder


def shown(place: str) -> str:
    """The form that people see: "Inl 3F middle, across", "Inl cam journal 3 front, along", "Left bolt 7"."""
    known = parse(place)
    words = " ".join(filter(None, (known.bank, _shown_where(known))))
    return (words[0].upper() + words[1:]) + _shown_station(known.station)


def _shown_where(place: Place) -> str:
    if valve := _VALVE.fullmatch(place.where):
        return f"{SIDES[valve[1]]} {valve[2]}{valve[3].upper()}"
    cam, _, part = place.where.partition("/")
    if known := _CAM.fullmatch(cam):
        shaft = f"{SIDES[known[1]]} cam" if known[1] else "cam"
        return f"{shaft} {_shown_part(part)}".rstrip()
    return place.where.replace("-", " ")


def _shown_part(part: str) -> str:
    lobe = _LOBE.fullmatch(part)
    if lobe is None:
        return part.replace("-", " ")
    side = f"{SIDES[lobe[1]]} " if lobe[1] else ""
    return f"lobe {side}{lobe[2]}{lobe[3].upper()}"


def _shown_station(station: str) -> str:
    if not station:
        return ""
    words = [_shown_word(word) for word in station.split("/")]
    tail = f", {words.pop()}" if len(words) > 1 and words[-1] in _DIRECTIONS else ""
    return " " + " ".join(words) + tail


def _shown_word(word: str) -> str:
    if between := _BETWEEN.fullmatch(word):
        return f"between {between[1]} and {between[2]}"
    if word.isdigit():
        return f"place {word}"
    end = re.fullmatch(r"(inlet|exhaust|front|rear)-(edge|end)", word)
    return f"{end[1]} {end[2]}" if end else word.replace("-", " ")
