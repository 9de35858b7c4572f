"""What was written, and where: the plain data of a text with the place of every key and every value."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from witnessmark.text.fault import Fault, Path, path_text

Plain = dict[str, "Plain"] | list["Plain"] | str | None
Place = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Document:
    """What was written, as plain dicts, lists, texts and None, and where."""

    name: str
    data: Plain
    values: Mapping[Path, Place] = field(repr=False)
    keys: Mapping[Path, Place] = field(repr=False)

    def place(self, path: Path) -> Place:
        """Line and column, from 1, of the value at `path`, or of its nearest known parent."""
        while path and path not in self.values:
            path = path[:-1]
        return self.values.get(path, (1, 1))

    def key_place(self, path: Path) -> Place:
        """Line and column of the key that ends `path`; of the value or its nearest parent where it is no key."""
        return self.keys.get(path) or self.place(path)

    def fault(self, kind: str, message: str, path: Path, *, at_key: bool = False) -> Fault:
        """A fault at a place of this document."""
        line, column = self.key_place(path) if at_key else self.place(path)
        return Fault(kind, message, self.name, line, column, path_text(path))
