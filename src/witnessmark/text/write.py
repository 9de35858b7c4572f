"""The one writer of YAML: the same data gives the same bytes, and reading them gives the same data again.

Block style, two spaces, keys in the order given; a short list of scalars stands in one line. A text is written plain
where no reader of ours can mistake it, else in double quotes; letters of all scripts are kept, control and invisible
characters become escapes.
"""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence

from witnessmark.text.fault import Fault, Faulty, Path, path_text

LINE = 100  # a list of scalars up to this width stays in one line
SIMPLE_KEY = 900  # YAML lets an ordinary key be 1024 characters long (YAML 1.2.2, section 7.4.2)
MOST_DEPTH = 40

# Words, numbers, ids and dates: nothing in them, first or last, that YAML gives a meaning to.
PLAIN = re.compile(r"(?:[^\W_]|[_./(°½⅛¼⅜⅝¾⅞]|[-+−][\d.])(?:[\w ./()+*%°−½⅛¼⅜⅝¾⅞'@=;-]|:(?=\w))*")
NOT_PLAIN = re.compile(r"null|\.\..*|.*\s", re.DOTALL)
ESCAPES = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t", "\r": "\\r", "\0": "\\0"}


def write(data: object) -> str:
    """YAML text of dicts, lists, texts and None. `read(write(data)).data == data`.

    Raises Faulty where data holds anything else, is nested too deep, or holds half of a surrogate pair, which no text
    file can hold.
    """
    return "".join(f"{line}\n" for line in _lines(data, (), 0))


def _lines(data: object, path: Path, depth: int) -> Iterator[str]:
    """The lines of one value, not yet indented under its parent."""
    short = _short(data, path)
    if short is not None:
        yield short
    elif depth >= MOST_DEPTH:
        raise Faulty([Fault("too_deep", f"nested deeper than {MOST_DEPTH} levels", path=path_text(path))])
    elif isinstance(data, Mapping):
        for key, value in data.items():
            yield from _pair(key, value, path, depth)
    elif isinstance(data, Sequence):
        for index, value in enumerate(data):
            yield from _hung("- ", _lines(value, (*path, index), depth + 1))


def _pair(key: object, value: object, path: Path, depth: int) -> Iterator[str]:
    if not isinstance(key, str):
        raise Faulty([Fault("key_not_text", f"the key {key!r} is no text", path=path_text(path))])
    word, path = _text(key, path), (*path, key)
    short = _short(value, path)
    if len(word) > SIMPLE_KEY:
        yield f"? {word}"
        yield from _hung(": ", _lines(value, path, depth + 1))
    elif short is not None:
        yield f"{word}: {short}"
    else:
        yield f"{word}:"
        yield from (f"  {line}" for line in _lines(value, path, depth + 1))


def _hung(mark: str, lines: Iterator[str]) -> Iterator[str]:
    for number, line in enumerate(lines):
        yield f"{'  ' if number else mark}{line}"


def _short(value: object, path: Path) -> str | None:
    """The value in one line, or None where it needs lines of its own."""
    if value is None or isinstance(value, str):
        return _scalar(value, path)
    if isinstance(value, Mapping):
        return None if value else "{}"
    if not isinstance(value, Sequence) or isinstance(value, bytes):
        raise Faulty(
            [
                Fault(
                    "value",
                    f"{type(value).__name__} cannot be written; give text, None, a list or a dict",
                    path=path_text(path),
                )
            ]
        )
    if not all(item is None or isinstance(item, str) for item in value):
        return None
    line = "[" + ", ".join(_scalar(item, (*path, index)) for index, item in enumerate(value)) + "]"
    return line if len(line) <= LINE or not value else None


def _scalar(value: str | None, path: Path) -> str:
    return "null" if value is None else _text(value, path)


def _text(text: str, path: Path) -> str:
    if PLAIN.fullmatch(text) and not NOT_PLAIN.fullmatch(text) and text.isprintable():
        return text
    return f'"{"".join(map(_escaped(path), text))}"'


def _escaped(path: Path) -> Callable[[str], str]:
    def escaped(character: str) -> str:
        if character in ESCAPES:
            return ESCAPES[character]
        if character.isprintable():
            return character
        code = ord(character)
        if 0xD800 <= code <= 0xDFFF:
            raise Faulty(
                [
                    Fault(
                        "odd_character",
                        f"U+{code:04X} is half a character, which no text file holds",
                        path=path_text(path),
                    )
                ]
            )
        return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"

    return escaped
