"""The grammar of the entry line: one line, as typed or sent, is a command or a value.

A numeric pad alone must do, so commands begin with `*`, which no reading does, or are a lone `-` or `/`. Leaves hold
a `*` inside (`0*`, `0.05*0.06`) and stay values.
"""

import re
from dataclasses import dataclass

from witnessmark.quantity.outcome import LONGEST


@dataclass(frozen=True, slots=True)
class Nothing:
    """An empty line: a data key that bounced. It skips no place."""


@dataclass(frozen=True, slots=True)
class TakeBack:
    """`*`: take back the last reading of this device."""


@dataclass(frozen=True, slots=True)
class Answer:
    """`*1` `*2` `*3`: answer the oldest open question."""

    n: int


@dataclass(frozen=True, slots=True)
class LimitLeaf:
    """`*4`: the limit leaf does not enter."""


@dataclass(frozen=True, slots=True)
class CannotBeMeasured:
    """`*5`: this place cannot be measured."""


@dataclass(frozen=True, slots=True)
class WaiveRest:
    """`*6`: the rest of this series is waived."""


@dataclass(frozen=True, slots=True)
class Repeat:
    """`*7`: one more reading here."""


@dataclass(frozen=True, slots=True)
class MeasuredElsewhere:
    """`*8`: this place was measured elsewhere."""


@dataclass(frozen=True, slots=True)
class Note:
    """`*9`: a note follows."""


@dataclass(frozen=True, slots=True)
class NextQuestion:
    """`*0`: to the next open question, or back to where you were."""


@dataclass(frozen=True, slots=True)
class NotMeasured:
    """`-` alone: this place stays not measured."""


@dataclass(frozen=True, slots=True)
class OtherUnit:
    """`/` alone: show in the other unit. It changes the display only."""


@dataclass(frozen=True, slots=True)
class Value:
    """Whatever else came, byte for byte: a reading, to be read by the reader of its kind."""

    text: str


@dataclass(frozen=True, slots=True)
class Unknown:
    """A line that begins as a command and is none: what came and what to do."""

    text: str
    message: str


Entry = (
    Nothing
    | TakeBack
    | Answer
    | LimitLeaf
    | CannotBeMeasured
    | WaiveRest
    | Repeat
    | MeasuredElsewhere
    | Note
    | NextQuestion
    | NotMeasured
    | OtherUnit
    | Value
    | Unknown
)

COMMANDS: dict[str, Entry] = {
    "": Nothing(),
    "*": TakeBack(),
    "*1": Answer(1),
    "*2": Answer(2),
    "*3": Answer(3),
    "*4": LimitLeaf(),
    "*5": CannotBeMeasured(),
    "*6": WaiveRest(),
    "*7": Repeat(),
    "*8": MeasuredElsewhere(),
    "*9": Note(),
    "*0": NextQuestion(),
    "-": NotMeasured(),
    "\u2212": NotMeasured(),
    "/": OtherUnit(),
}


def parse(line: str) -> Entry:
    """What a line says. Blanks around a command do not count; a value keeps every character."""
    word = line.strip()
    if word in COMMANDS:
        return COMMANDS[word]
    if not word.startswith("*"):
        return Value(line)
    if len(word) > LONGEST:
        return Unknown(line, f"{len(word)} characters after *. A command is * and at most one digit.")
    if re.fullmatch(r"\*\s*[0-9.,]*[0-9]", word):
        return Unknown(
            line, f"{word} is no command. A command is * and at most one digit; a reading begins with a digit."
        )
    return Unknown(
        line,
        "A line that begins with * is a command: * alone takes back, *0 to *9 do the rest. Type a reading without it.",
    )
