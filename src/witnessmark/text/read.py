"""A YAML text with the place of every word.

Every scalar stays the text that was written: `5.950` keeps its zero, `no` is a word, a date is a text. Only an empty
plain scalar, `null` and `~` are None. Anchors, aliases and tags are refused, so that nothing can grow while it is read.

Source: YAML 1.1 and 1.2 grammar as read by libyaml; which scalars mean None is ours (narrower than YAML's core schema).
"""

import re
from collections.abc import Iterator
from itertools import islice
from typing import Any

import yaml

from witnessmark.text import grammar
from witnessmark.text.build import MOST_FAULTS, Build, Stop, capped
from witnessmark.text.document import Document, Place, Plain
from witnessmark.text.fault import Fault, Faulty

__all__ = ["Document", "Plain", "read"]

MOST_BYTES = 5_000_000

# What YAML cannot hold (YAML 1.2.2, section 5.1, c-printable), lone halves of surrogate pairs included.
ODD = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


def read(text: str | bytes, name: str) -> Document:
    """Read one YAML document. Raises Faulty with every fault that can be told from this text, in its order."""
    written = _characters(text, name)
    build = _built(written, name)
    if build.faults:
        raise Faulty(build.faults)
    return Document(name, build.data, build.values, build.keys)


def _built(written: str, name: str) -> Build:
    build = Build(name)
    try:
        for event in _events(written):
            build.take(event)
    except Stop:
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
        raise Faulty(capped(odd, name))
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


def _events(text: str) -> Iterator[yaml.Event]:
    loader = LOADER(text)
    try:
        while loader.check_event():
            yield loader.get_event()
    finally:
        loader.dispose()
