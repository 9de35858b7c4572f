"""One fault of the user's text: where it is, what it is, what to do. A fault is a value; many are told together."""

from collections.abc import Iterable
from dataclasses import dataclass

Path = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Fault:
    """A fault found in a text.

    `kind` is a short slug by which tests, manual and pages know the fault:

        too_large       more bytes, or more entries, than a text may have
        not_utf8        a byte that is no UTF-8
        odd_character   a character that YAML cannot hold, such as NUL
        tab_indent      a tab where spaces must stand
        grammar         the text breaks YAML's grammar
        too_deep        lists and mappings nested too deep
        anchor, alias   `&name` and `*name`, which are not read
        tag             `!name`, which is not read
        key_not_text    a list or a mapping used as a key
        duplicate_key   the same key twice in one mapping
        documents       a second document after `---`
        too_many        so many faults that the rest is not told
        missing         a key that must be there
        unknown_key     a key that means nothing here
        value           a value that is not what its key asks for

    `line` and `column` count from 1; 0 means that no place is known. `path` is the way from the top of the
    text, as `limits.stem_diameter[0].unit`; positions in a list count from 0.
    """

    kind: str
    message: str
    name: str = ""
    line: int = 0
    column: int = 0
    path: str = ""

    def __str__(self) -> str:
        place = ":".join([self.name, *(str(number) for number in (self.line, self.column) if number)]).strip(":")
        return ": ".join(part for part in (place, self.path, self.message) if part)


class Faulty(Exception):
    """Raised by a door that cannot go on: it carries every fault found, in the order of the text."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults: tuple[Fault, ...] = tuple(faults)
        super().__init__("\n".join(map(str, self.faults)))


def path_text(path: Path) -> str:
    """`("limits", "stem_diameter", 0, "unit")` as `limits.stem_diameter[0].unit`."""
    return "".join(f"[{part}]" if isinstance(part, int) else f".{part}" for part in path).removeprefix(".")
