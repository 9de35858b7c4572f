"""What the pages say when something cannot be done: what, where, what to do. Never a traceback."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from starlette.exceptions import HTTPException


@dataclass(frozen=True, slots=True)
class Told:
    """One fault inside what was sent: its place (field, or line and column) and a sentence."""

    where: str
    message: str
    line: int = 0
    column: int = 0


class Trouble(HTTPException):
    """Something that cannot be done, with an HTTP status and our own sentences.

    It is the toolkit's own kind of exception, because a body reader lets only that one through.
    """

    def __init__(self, status: int, what: str, do: str = "", where: str = "", faults: Iterable[Told] = (),
                 headers: dict[str, str] | None = None) -> None:  # fmt: skip
        super().__init__(status, what, headers)
        self.what, self.do, self.where = what, do, where
        self.faults = tuple(faults)

    def body(self) -> dict[str, Any]:
        """The same for machines; it can hold no half of a character pair, whatever was sent."""
        return {
            "what": _whole(self.what), "where": _whole(self.where), "do": _whole(self.do),
            "faults": [{"where": _whole(one.where), "message": _whole(one.message), "line": one.line,
                        "column": one.column} for one in self.faults],
        }  # fmt: skip


def _whole(text: str) -> str:
    return text.encode("utf-8", "replace").decode()


def shortened(text: object, most: int = 60) -> str:
    """What was sent, short enough to be read back in a sentence."""
    shown = str(text)
    return shown if len(shown) <= most else f"{shown[:most]}… ({len(shown)} characters)"
