"""The header of a wrench's CSV file: which column is what, in which unit. A unit that is missing is asked for."""

import re
from dataclasses import dataclass

from witnessmark.quantity.unit import DEGREE, WORDS, Unit, hint, spelled
from witnessmark.text.fault import Fault, Faulty

NAMED = re.compile(r"(angle|torque|bolt|time)(?![a-z])[\s_:/,]*(.*)", re.IGNORECASE | re.DOTALL)
BRACKETS = re.compile(r"[(\[{](.*)[)\]}]", re.DOTALL)
ASKED = {"angle": ("angle", "angle_plane"), "torque": ("torque",)}
EXAMPLE = {"angle": "angle (deg)", "torque": "torque (N·m)' or 'torque (lbf·ft)"}


@dataclass(frozen=True, slots=True)
class Header:
    """Places of the columns, and what one of the file makes in degrees and newton millimetres; `rows` it takes."""

    angle: int
    torque: int
    bolt: int | None
    degrees: float
    newton_mm: float
    width: int
    rows: int = 1


def header(cells: list[str], below: list[str], name: str, line: int) -> Header:
    """The header from its cells; `below` is the next line, which may hold the units. Raises `Faulty`."""
    found: dict[str, int] = {}
    units: dict[str, str] = {}
    faults: list[Fault] = []
    for place, cell in enumerate(cells):
        match = NAMED.fullmatch(cell.strip())
        told = _told(match[2]) if match else None
        if match is None or told is None:
            continue  # a column that is neither, such as the number of the point or the target torque
        word = match[1].lower()
        if word in found:
            say = f"columns {found[word] + 1} and {place + 1} are both called {word}; keep one of them"
            faults.append(Fault("duplicate_key", say, name, line))
        found[word], units[word] = place, told
    units_below = _below(found, units, below)
    units |= units_below
    known = {word: _unit(word, found, units, faults, cells, name, line) for word in ("angle", "torque")}
    angle, torque = known["angle"], known["torque"]
    if faults or angle is None or torque is None:
        raise Faulty(faults)
    return Header(found["angle"], found["torque"], found.get("bolt"), float(angle.factor / DEGREE),
                  float(torque.factor), len(cells), 2 if units_below else 1)  # fmt: skip


def _told(rest: str) -> str | None:
    """The unit behind the name of a column, "" for none; None where the rest is more than a unit."""
    rest = rest.strip()
    match = BRACKETS.fullmatch(rest)
    if match:
        return match[1].strip()
    return rest if not rest or spelled(rest) else None


def _below(found: dict[str, int], units: dict[str, str], below: list[str]) -> dict[str, str]:
    """Units of the line below the header, where it has such a line."""
    bare = [word for word in ("angle", "torque") if word in found and not units[word]]
    cells: dict[str, str] = {
        word: below[found[word]].strip().strip("()[]") for word in bare if found[word] < len(below)
    }
    return cells if cells and all(spelled(cell) and not cell.isdecimal() for cell in cells.values()) else {}


def _unit(word: str, found: dict[str, int], units: dict[str, str], faults: list[Fault], cells: list[str], name: str,
          line: int) -> Unit | None:  # fmt: skip
    if word not in found:
        had = ", ".join(cell.strip()[:20] or "nothing" for cell in cells[:6])
        say = f"no column is called {word}, there is {had}; head the column '{EXAMPLE[word]}'"
        faults.append(Fault("missing", say, name, line))
        return None
    told = units[word]
    if not told:
        say = f"in which unit is the {word}? Write it in the header: '{EXAMPLE[word]}'"
        faults.append(Fault("missing", say, name, line))
        return None
    all_ = spelled(told)
    fit = next((one for one in all_ if one.dimension in ASKED[word]), None)
    if fit is None:
        what = (
            f"'{told[:20]}' is the unit of {WORDS[all_[0].dimension]}" if all_ else f"no unit is called '{told[:20]}'"
        )
        cure = f"write '{EXAMPLE[word]}'" if all_ else hint(told, ASKED[word][0]).removeprefix("; ")
        faults.append(Fault("value", f"{what}, and the column is the {word}; {cure}", name, line))
    return fit
