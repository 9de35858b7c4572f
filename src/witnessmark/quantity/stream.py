"""A gauge's or a keyboard's stream of characters, cut anywhere, as whole lines."""

import codecs
from dataclasses import dataclass

from witnessmark.quantity.outcome import LONGEST


@dataclass(frozen=True, slots=True)
class Line:
    """One line without its end. `refused` is empty, or a sentence on why the line is only kept and not read."""

    text: str
    refused: str = ""


class Lines:
    """Gathers chunks of one device and gives the lines that they complete.

    A line ends with CR, LF or both. Blanks before its first character and control characters anywhere (NUL, STX, ETX
    and kin; a tab is a blank) are dropped. A byte that is no UTF-8 stays visible as `\\xb5`. What is kept of an
    unfinished line is limited, so a device that never ends a line cannot fill the memory.
    """

    def __init__(self) -> None:
        self._decode = codecs.getincrementaldecoder("utf-8")("backslashreplace")
        self._begun: list[str] = []
        self._length = 0
        self._after_return = False

    def feed(self, chunk: str | bytes) -> tuple[Line, ...]:
        """Take one chunk; give the lines that end in it, oldest first."""
        text = self._decode.decode(chunk) if isinstance(chunk, bytes) else chunk
        lines: list[Line] = []
        for character in text:
            line = self._take(character)
            if line is not None:
                lines.append(line)
        return tuple(lines)

    @property
    def begun(self) -> str:
        """The line that has not ended yet, as far as it is kept."""
        return "".join(self._begun)

    def _take(self, character: str) -> Line | None:
        twin = character == "\n" and self._after_return  # the LF of a CR+LF, perhaps in another chunk
        self._after_return = character == "\r"
        if twin:
            return None
        if character in "\r\n":
            return self._end()
        character = " " if character == "\t" else character
        control = ord(character) < 0x20 or 0x7F <= ord(character) < 0xA0
        if control or (not self._length and character == " "):
            return None
        self._length += 1
        if self._length <= LONGEST:
            self._begun.append(character)
        return None

    def _end(self) -> Line:
        text, length = self.begun, self._length
        self._begun, self._length = [], 0
        if length <= LONGEST:
            return Line(text)
        return Line(
            text,
            f"{length} characters in one line, of which the first {LONGEST} are kept. "
            "A reading is shorter: check the gauge's cable and its line end.",
        )
