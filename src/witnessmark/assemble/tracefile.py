"""A trace of a wrench from the text of a CSV file. Units are asked for where the header has none, never guessed."""

import re
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from witnessmark.assemble.trace import Floats
from witnessmark.assemble.tracehead import Header, header
from witnessmark.assemble.tracerun import doubted, kept_points, runs_of
from witnessmark.text.fault import Fault, Faulty

MOST_LINES = 200_000
MOST_FAULTS = 20
MOST = {"angle": 1e5, "torque": 1e7}  # in the unit of the file; beyond it no wrench goes (judgement)
NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,2})?", re.ASCII)


@dataclass(frozen=True, slots=True)
class Trace:
    """One bolt's trace: degrees and newton millimetres, in the order read, as far as it goes forward.

    `text` holds the lines of the file that it is made of, as they stand there: header, remarks and points.
    """

    bolt: str
    angle: Floats
    torque: Floats
    text: str = ""


class Row(NamedTuple):
    """A line of numbers."""

    line: int
    angle: float
    torque: float


def read_trace(text: str, name: str, run: int = 0) -> tuple[Trace, ...]:
    """The traces of a file by bolt; the bolt is "" where no column names it. Raises `Faulty` with every fault.

    A file with two runs over a bolt is refused until `run` says which of them counts, from 1.
    """
    lines = text.removeprefix("\ufeff").splitlines()
    if len(lines) > MOST_LINES:
        say = f"{len(lines)} lines; at most {MOST_LINES} are read; keep one bolt a file, or record coarser steps"
        raise Faulty([Fault("too_large", say, name)])
    rows = [(n, line) for n, line in enumerate(lines, 1) if line.strip() and not line.lstrip().startswith("#")]
    if not rows:
        raise Faulty([Fault("missing", "the file is empty; save the trace of the wrench as CSV again", name)])
    mark = next((sign for sign in "\t;" if sign in rows[0][1]), ",")
    below = _cells(rows[1][1], mark) if len(rows) > 1 else []
    head = header(_cells(rows[0][1], mark), below, name, rows[0][0])
    points, faults = _points(rows[head.rows :], mark, head, name)
    if not faults and not points:
        faults = [Fault("missing", "no point follows the header; save the trace of the wrench as CSV again", name)]
    if faults:
        raise Faulty(faults)
    top = [line for n, line in enumerate(lines, 1) if n <= rows[head.rows - 1][0]]
    found = [_trace(bolt, each, head, (lines, top), name, run, faults) for bolt, each in points.items()]
    if faults:
        raise Faulty(_few(faults, name))
    return tuple(one for one in found if one is not None)


def _cells(line: str, mark: str) -> list[str]:
    return [cell.strip().strip('"').strip() for cell in line.split(mark)]


def _few(faults: list[Fault], name: str) -> list[Fault]:
    if len(faults) <= MOST_FAULTS:
        return faults
    return [*faults[:MOST_FAULTS], Fault("too_many", f"and {len(faults) - MOST_FAULTS} more; mend these first", name)]


def _points(
    rows: list[tuple[int, str]], mark: str, head: Header, name: str
) -> tuple[dict[str, list[Row]], list[Fault]]:
    """The numbers of each bolt, and what is no number."""
    points: dict[str, list[Row]] = {}
    faults: list[Fault] = []
    for line, text in rows:
        cells = _cells(text, mark)
        while len(cells) > head.width and not cells[-1]:
            cells.pop()  # a separator at the end of the line
        if len(cells) > head.width:
            say = f"{len(cells)} cells where the header has {head.width}; part the cells by semicolons where numbers " \
                  "have a decimal comma"  # fmt: skip
            faults.append(Fault("grammar", say, name, line))
        else:
            angle, torque = (_number(cells, word, mark, head, faults, name, line) for word in ("angle", "torque"))
            bolt = cells[head.bolt] if head.bolt is not None and head.bolt < len(cells) else ""
            if angle is not None and torque is not None:
                points.setdefault(bolt[:40], []).append(Row(line, angle, torque))
        if len(faults) >= MOST_FAULTS:
            faults.append(Fault("too_many", "and perhaps more; mend these first", name))
            break
    return points, faults


def _number(cells: list[str], word: str, mark: str, head: Header, faults: list[Fault], name: str, line: int
            ) -> float | None:  # fmt: skip
    place = head.angle if word == "angle" else head.torque
    raw = cells[place] if place < len(cells) else ""
    number = (raw if mark == "," else raw.replace(",", ".")).replace("\u2212", "-")
    if not NUMBER.fullmatch(number):
        what = f"'{raw[:20]}' stands where the {word} should be" if raw else f"the {word} is missing"
        faults.append(Fault("value", f"{what}; write a number, or put # before the line", name, line))
        return None
    if not abs(value := float(number)) <= MOST[word]:
        faults.append(Fault("value", f"no {word} is {raw[:20]}; look at the separator and the unit", name, line))
        return None
    return value


def _trace(bolt: str, rows: list[Row], head: Header, source: tuple[list[str], list[str]], name: str, run: int,
           faults: list[Fault]) -> Trace | None:  # fmt: skip
    """The trace of one bolt; what is amiss goes to `faults`."""
    line = np.array([row.line for row in rows])
    angle = np.array([row.angle for row in rows]) * head.degrees
    torque = np.array([row.torque for row in rows]) * head.newton_mm
    who = f"bolt {bolt}: " if bolt else ""
    amiss = doubted(who, line, angle, torque, name)
    runs = runs_of(angle, torque) if not amiss else []
    if len(runs) > 1 and not 1 <= run <= len(runs):
        told = " and ".join(f"lines {line[one.start]} to {line[one.stop - 1]}" for one in runs)
        say = f"{who}the angle falls back here, so there are {len(runs)} runs in one file: {told}; say which one " \
              f"counts (run 1 to {len(runs)})"  # fmt: skip
        amiss = [Fault("value", say, name, int(line[runs[1].start]))]
    elif runs:
        part = runs[run - 1 if len(runs) > 1 else 0]
        line, angle, torque = line[part], angle[part], torque[part]
        amiss = doubted(who, line, angle, torque, name, whole=False)
    faults.extend(amiss)
    if amiss:
        return None
    keep = kept_points(angle, torque)
    lines, top = source
    return Trace(bolt, angle[keep], torque[keep], "\n".join([*top, *(lines[n - 1] for n in line), ""]))
