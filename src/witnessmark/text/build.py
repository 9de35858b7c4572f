"""The parser's events turned into plain data with places; what must not stand in a text is kept as a fault."""

import re
from dataclasses import dataclass, field

import yaml

from witnessmark.text.document import Place, Plain
from witnessmark.text.fault import Fault, Path, path_text

MOST_ENTRIES = 1_000_000
MOST_DEPTH = 40
MOST_FAULTS = 50
HALF = re.compile("[\ud800-\udfff]")  # half of a surrogate pair, which an escape can give


class Stop(Exception):
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


class Build:
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
            raise Stop
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
            raise Stop

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
            raise Stop
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
            self.faults = capped(self.faults, self.name)
            raise Stop

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


def capped(faults: list[Fault], name: str) -> list[Fault]:
    """At most fifty faults, and a word that more follow."""
    if len(faults) <= MOST_FAULTS:
        return faults
    return [
        *faults[:MOST_FAULTS],
        Fault("too_many", f"more faults follow; the first {MOST_FAULTS} are told: mend these, then read again", name),
    ]
