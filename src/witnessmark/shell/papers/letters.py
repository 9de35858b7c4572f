"""Which letters the fonts of the papers can draw, and how the others are written so that nothing is lost silently.

A letter that no font has is written as its code, `‹U+4E2D›`: a name of another script stays identifiable, and the
archive form of PDF refuses letters without a shape. Source of the table format: OpenType `cmap`, formats 4 and 12
(value from memory; held against a name of known letters by the tests).
"""

import re
import struct
import unicodedata
from collections.abc import Iterator
from functools import lru_cache

from witnessmark.shell.papers.folder import FONTS

_LONG = re.compile(r"[^\s\u200b/\-–·]{22,}")
_PIECE = 11
CODE = "‹U+"  # how the code of a letter without a shape begins
BREAK = "\u200b"  # a place where a line may end; it has no shape


def drawable(text: str) -> str:
    """The text with composed letters, control characters as spaces and letters without a shape as their codes."""
    return "".join(_letter(letter) for letter in unicodedata.normalize("NFC", text))


def breakable(text: str) -> str:
    """The text with places to end a line inside words too long for a column."""
    return _LONG.sub(lambda found: BREAK.join(_pieces(found[0])), text)


def _pieces(word: str) -> Iterator[str]:
    return (word[at : at + _PIECE] for at in range(0, len(word), _PIECE))


def _letter(letter: str) -> str:
    if unicodedata.category(letter) in ("Cc", "Zl", "Zp"):
        return " "
    return letter if ord(letter) in covered() else f"{CODE}{ord(letter):04X}›"


@lru_cache(maxsize=1)
def covered() -> frozenset[int]:
    """Every code that at least one of the fonts draws."""
    return frozenset().union(*(_codes(path.read_bytes()) for path in sorted(FONTS.glob("*.ttf"))))


def _codes(font: bytes) -> set[int]:
    """Codes of a font's Unicode tables."""
    (tables,) = struct.unpack_from(">H", font, 4)
    records = {font[12 + 16 * n : 16 + 16 * n]: struct.unpack_from(">II", font, 20 + 16 * n) for n in range(tables)}
    start, _ = records[b"cmap"]
    (count,) = struct.unpack_from(">H", font, start + 2)
    found: set[int] = set()
    for n in range(count):
        _, _, offset = struct.unpack_from(">HHI", font, start + 4 + 8 * n)
        (kind,) = struct.unpack_from(">H", font, start + offset)
        found |= {4: _format_4, 12: _format_12}.get(kind, _nothing)(font, start + offset)
    return found


def _nothing(_font: bytes, _at: int) -> set[int]:
    """Codes of a table of another format: none, since formats 4 and 12 hold all of Unicode."""
    return set()


def _format_4(font: bytes, at: int) -> set[int]:
    (double,) = struct.unpack_from(">H", font, at + 6)
    count = double // 2
    ends = struct.unpack_from(f">{count}H", font, at + 14)
    starts = struct.unpack_from(f">{count}H", font, at + 16 + double)
    deltas = struct.unpack_from(f">{count}h", font, at + 16 + 2 * double)
    offsets = struct.unpack_from(f">{count}H", font, at + 16 + 3 * double)
    found: set[int] = set()
    for n in range(count):
        base = at + 16 + 3 * double + 2 * n
        for code in range(starts[n], min(ends[n], 0xFFFE) + 1):
            glyph = code + deltas[n]
            if offsets[n]:
                (glyph,) = struct.unpack_from(">H", font, base + offsets[n] + 2 * (code - starts[n]))
            if glyph & 0xFFFF:
                found.add(code)
    return found


def _format_12(font: bytes, at: int) -> set[int]:
    (groups,) = struct.unpack_from(">I", font, at + 12)
    found: set[int] = set()
    for n in range(groups):
        first, last, _ = struct.unpack_from(">III", font, at + 16 + 12 * n)
        found.update(range(first, last + 1))
    return found
