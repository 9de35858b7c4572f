"""A YAML text with the place of every word.

Every scalar stays the text that was written: `5.950` keeps its zero, `no` is a word, a date is a text. Only an empty
plain scalar, `null` and `~` are None. Anchors, aliases and tags are refused, so that nothing can grow while it is read.

Source: YAML 1.1 and 1.2 grammar as read by libyaml; which scalars mean None is ours (narrower than YAML's core schema).
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import islice
from typing import Any

import yaml

from witnessmark.text import grammar
from witnessmark.text.fault import Fault, Faulty, Path, path_text

Plain = dict[str, "Plain"] | list["Plain"] | str | None
Place = tuple[int, int]

MOST_BYTES = 5_000_000
MOST_ENTRIES = 1_000_000
MOST_DEPTH = 40
MOST_FAULTS = 50

# What YAML cannot hold (YAML 1.2.2, section 5.1, c-printable), lone halves of surrogate pairs included.
ODD = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
HALF = re.compile("[\ud800-\udfff]")
LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


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


def read(text: str | bytes, name: str) -> Document:
    """Read one YAML document. Raises Faulty with every fault that can be told from this text, in its order."""
    written = _characters(text, name)
    build = _built(written, name)
    if build.faults:
        raise Faulty(build.faults)
    return Document(name, build.data, build.values, build.keys)


def _built(written: str, name: str) -> "_Build":
    build = _Build(name)
    try:
        for event in _events(written):
            build.take(event)
    except _Stop:
        return build  # the fault that stops the reading is kept with the others
    except yaml.MarkedYAMLError as error:
        build.faults.append(grammar.explain(error, written, name))
    except (yaml.YAMLError, ValueError, OverflowError) as error:  # the pure Python parser lets these two out of escapes
        build.faults.append(
            Fault(
                "grammar",
                f"the text cannot be read as YAML ({error}); look for a backslash in double "
                "quotes that begins no known escape",
                name,
                1,
                1,
            )
        )
    return build


def _characters(text: str | bytes, name: str) -> str:
    """The text as characters, once its size, its coding and its characters are known to be good."""
    size = len(text) if isinstance(text, bytes) else len(text.encode("utf-8", "surrogatepass"))
    if size > MOST_BYTES:
        raise Faulty(
            [
                Fault(
                    "too_large",
                    f"the text has {size:,} bytes, and at most {MOST_BYTES:,} are read; split it into several files",
                    name,
                )
            ]
        )
    written = _decoded(text, name) if isinstance(text, bytes) else text
    written = written.removeprefix("\ufeff")  # a byte order mark is no part of the text
    odd = list(islice(_odd_characters(written, name), MOST_FAULTS + 1))
    if odd:
        raise Faulty(_capped(odd, name))
    return written


def _decoded(text: bytes, name: str) -> str:
    try:
        return text.decode("utf-8")
    except UnicodeDecodeError as error:
        before = text[: error.start].decode("utf-8")
        message = (
            f"byte {error.start + 1} of the file is {text[error.start]:#04x}, which is no UTF-8; "
            "save the file as UTF-8 (plain text, no other coding)"
        )
        raise Faulty([Fault("not_utf8", message, name, *_line_and_column(before, len(before)))]) from None


def _odd_characters(text: str, name: str) -> Iterator[Fault]:
    for found in ODD.finditer(text):
        what = "NUL (a zero byte)" if found[0] == "\0" else f"the control character U+{ord(found[0]):04X}"
        yield Fault(
            "odd_character",
            f"{what} cannot stand in a text file; delete it, or check that the file is a text",
            name,
            *_line_and_column(text, found.start()),
        )


def _line_and_column(text: str, index: int) -> Place:
    lines = re.split("\r\n|[\r\n\x85\u2028\u2029]", text[:index])
    return len(lines), len(lines[-1]) + 1


def _capped(faults: list[Fault], name: str) -> list[Fault]:
    if len(faults) <= MOST_FAULTS:
        return faults
    return [
        *faults[:MOST_FAULTS],
        Fault("too_many", f"more faults follow; the first {MOST_FAULTS} are told: mend these, then read again", name),
    ]


def _events(text: str) -> Iterator[yaml.Event]:
    loader = LOADER(text)
    try:
        while loader.check_event():
            yield loader.get_event()
    finally:
        loader.dispose()


class _Stop(Exception):
    """The text is refused as a whole: nothing more is worth reading."""


@dataclass(slots=True)
class _Level:
    """A list or a mapping that is still open; `key` is the key whose value comes next, None where it was refused."""

    path: Path | None  # None: read over, since it hangs on a refused key; its places are not kept
    into: dict[str, Plain] | list[Plain]
    key: str | None = None
    at_key: bool = True
    lines: dict[str, int] = field(default_factory=dict)  # line of each key met

    def below(self, part: str | int) -> Path | None:
        return None if self.path is None else (*self.path, part)


class _Build:
    """Takes the parser's events one by one: plain data and places come out, faults are kept."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.data: Plain = None
        self.values: dict[Path, Place] = {}
        self.keys: dict[Path, Place] = {}
        self.faults: list[Fault] = []
        self.levels: list[_Level] = []
        self.documents = 0
        self.entries = 0

    def take(self, event: yaml.Event) -> None:
        if isinstance(event, yaml.DocumentStartEvent):
            self._document(event)
        elif isinstance(event, (yaml.MappingEndEvent, yaml.SequenceEndEvent)):
            self.levels.pop()
        elif isinstance(event, yaml.NodeEvent):
            self._node(event)

    def _node(self, event: yaml.NodeEvent) -> None:
        self.entries += 1
        if self.entries > MOST_ENTRIES:
            self._fault(event, "too_large", f"more than {MOST_ENTRIES:,} entries; split the text into several files")
            raise _Stop
        self._marks(event)
        if isinstance(event, (yaml.AliasEvent, yaml.ScalarEvent)):
            self._put(event, _scalar(event))
        else:
            self._open(event, {} if isinstance(event, yaml.MappingStartEvent) else [])

    def _document(self, event: yaml.Event) -> None:
        self.documents += 1
        if self.documents > 1:
            self._fault(
                event,
                "documents",
                "a second document begins here; one file holds one document, "
                "so delete the line `---` or move what follows into a file of its own",
            )
            raise _Stop

    def _marks(self, event: yaml.NodeEvent) -> None:
        """Refuse what could make a small text grow, or turn a word into something else."""
        if isinstance(event, yaml.AliasEvent):
            self._fault(
                event,
                "alias",
                f"*{event.anchor} repeats another entry, which is not read here; "
                "write the entry out, or put the text in quotes",
            )
        elif event.anchor is not None:
            self._fault(
                event,
                "anchor",
                f"&{event.anchor} marks an entry for repeating, which is not read here; "
                "delete the mark, or put the text in quotes",
            )
        tag = getattr(event, "tag", None)
        if HALF.search(getattr(event, "value", "")):
            self._fault(
                event,
                "odd_character",
                "an escape here gives half a character, which no text file holds; write the character itself",
            )
        if tag is not None:
            self._fault(
                event,
                "tag",
                f"the tag {_short(str(tag))!r} is not read: every value is the text as written; "
                "delete the tag, or put the text in quotes",
            )

    def _open(self, event: yaml.NodeEvent, into: dict[str, Plain] | list[Plain]) -> None:
        if len(self.levels) >= MOST_DEPTH:
            self._fault(event, "too_deep", f"nested deeper than {MOST_DEPTH} levels; check brackets and indents")
            raise _Stop
        level = self.levels[-1] if self.levels else None
        if level is not None and isinstance(level.into, dict) and level.at_key:
            self._fault(event, "key_not_text", "a list or a mapping stands where a key must be; write one word")
            level.key, level.at_key = None, False
            self.levels.append(_Level(None, into))
        else:
            self.levels.append(_Level(self._put(event, into), into))

    def _put(self, event: yaml.NodeEvent, value: Plain) -> Path | None:
        """Put a value, or a key, where it belongs; gives the path of a value, None for a key and what is read over."""
        path: Path | None = ()
        if not self.levels:
            self.data = value
        else:
            level = self.levels[-1]
            if isinstance(level.into, list):
                path = level.below(len(level.into))
                level.into.append(value)
            elif level.at_key:
                self._key(level, event)
                return None
            else:
                level.at_key = True
                path = None if level.key is None else level.below(level.key)
                if level.key is not None:
                    level.into[level.key] = value
        if path is not None:
            self.values[path] = _place(event)
        return path

    def _key(self, level: _Level, event: yaml.NodeEvent) -> None:
        level.key, level.at_key = None, False
        if not isinstance(event, yaml.ScalarEvent):
            return
        key, path = str(event.value), level.below(str(event.value))
        if key in level.lines:
            self._fault(
                event,
                "duplicate_key",
                f"the key {_short(key)!r} stands here a second time, "
                f"first in line {level.lines[key]}; keep one of the two",
                path,
            )
            return
        level.key, level.lines[key] = key, _place(event)[0]
        if path is not None:
            self.keys[path] = _place(event)

    def _fault(self, event: yaml.Event, kind: str, message: str, path: Path | None = None) -> None:
        self.faults.append(Fault(kind, message, self.name, *_place(event), path_text(path or self._path())))
        if len(self.faults) > MOST_FAULTS:
            self.faults = _capped(self.faults, self.name)
            raise _Stop

    def _path(self) -> Path:
        """Where the next value would stand, or its nearest parent that has a path."""
        level = self.levels[-1] if self.levels else None
        if level is None or level.path is None:
            return next((level.path for level in reversed(self.levels) if level.path is not None), ())
        if isinstance(level.into, list):
            return (*level.path, len(level.into))
        return level.path if level.at_key or level.key is None else (*level.path, level.key)


def _scalar(event: yaml.NodeEvent) -> str | None:
    if not isinstance(event, yaml.ScalarEvent):
        return None  # an alias: already a fault, never followed
    plain = event.style in (None, "")
    return None if plain and event.value in ("", "null", "~") else str(event.value)


def _place(event: yaml.Event) -> Place:
    assert event.start_mark is not None, "the parser marks every event"
    return event.start_mark.line + 1, event.start_mark.column + 1


def _short(word: str) -> str:
    return word if len(word) <= 60 else word[:57] + "..."
