"""Changes to a YAML text that leave the rest of it as it was written: comments, order, blank lines, ways of writing.

    put(text, ("sheet", "doubt"), "even")       set or add the value of a key
    add(text, ("limits", "margin"), {...})      one more item at the end of a list; begins the list where there is none
    drop(text, ("limits", "margin", 0))         take an item or a key out, with its line

What is new is written in one line. Where a text is written so that a change cannot be set into it (a value of several
lines, `? key`), it is written anew as a whole: then the data are right, and comments are lost.

Errors  Faulty where the text cannot be read. KeyError, IndexError for a path that is not there.
"""

from collections.abc import Callable, Mapping, Sequence
from copy import deepcopy
from typing import Any

import yaml

from witnessmark.text.fault import Faulty, Path
from witnessmark.text.read import LOADER, read
from witnessmark.text.write import write

Span = tuple[int, int]
Node = Any  # of PyYAML, whose kinds of node share no type that says what they hold


def put(text: str, path: Path, value: Any) -> str:
    """The text with `value` at `path`; its parent must be there, the last key may be new."""
    data = _plain(text)
    wanted = deepcopy(data)
    _parent(wanted, path)[path[-1]] = value
    return _held(text, wanted, lambda tree: _put(text, tree, path, value))


def add(text: str, path: Path, value: Any) -> str:
    """The text with one more item at the end of the list at `path`; mappings on the way are begun where none are."""
    wanted = deepcopy(_plain(text))
    missing = _missing(wanted, path)
    if missing < len(path):
        inner: Any = [value]
        for key in reversed(path[missing + 1 :]):
            inner = {key: inner}
        return put(text, path[: missing + 1], inner)
    here: Any = wanted
    for key in path:
        here = here[key]
    here.append(value)
    return _held(text, wanted, lambda tree: _append(text, _node(tree, path), flow(value)))


def drop(text: str, path: Path) -> str:
    """The text without what stands at `path`."""
    wanted = deepcopy(_plain(text))
    del _parent(wanted, path)[path[-1]]
    return _held(text, wanted, lambda tree: _drop(text, _node(tree, path[:-1]), path[-1]))


def flow(value: Any) -> str:
    """A value in one line: `{for: inl, service: {low: 5.940}}`."""
    if isinstance(value, Mapping):
        return f"{{{', '.join(f'{flow(key)}: {flow(each)}' for key, each in value.items())}}}"
    if isinstance(value, Sequence) and not isinstance(value, str):
        return f"[{', '.join(map(flow, value))}]"
    return write(value).rstrip("\n")


def _plain(text: str) -> Any:
    return read(text, "text").data


def _parent(data: Any, path: Path) -> Any:
    for key in path[:-1]:
        data = data[key]
    return data


def _missing(data: Any, path: Path) -> int:
    """How many keys of a path are there and hold something."""
    for n, key in enumerate(path):
        data = data.get(key) if isinstance(data, Mapping) else data[key]
        if not data:
            return n
    return len(path)


def _held(text: str, wanted: Any, change: Callable[[Node], str]) -> str:
    """The changed text if it says what is wanted, else the data written anew."""
    changed = change(yaml.compose(text, Loader=LOADER))
    try:
        if read(changed, "text").data == wanted:
            return changed
    except Faulty:
        return write(wanted)
    return write(wanted)


def _node(tree: Node, path: Path) -> Node:
    for key in path:
        tree = _value(tree, key)
    return tree


def _value(node: Node, key: str | int) -> Node:
    if isinstance(node, yaml.SequenceNode):
        return node.value[int(key)]
    return node.value[_at(node, key)][1]


def _at(node: Node, key: str | int) -> int:
    """Place of a key in its mapping; −1 where it is not there."""
    return next((n for n, (name, _) in enumerate(node.value) if name.value == key), -1)


def _end(node: Node) -> int:
    """Where what is written ends: a block with its last leaf, since its own mark lies beyond blanks and remarks."""
    if isinstance(node, yaml.CollectionNode) and not node.flow_style and node.value:
        last = node.value[-1]
        return _end(last[1] if isinstance(last, tuple) else last)
    return int(node.end_mark.index)


def _put(text: str, tree: Node, path: Path, value: Any) -> str:
    node = _node(tree, path[:-1])
    if isinstance(node, yaml.SequenceNode) or _at(node, path[-1]) >= 0:
        old = _value(node, path[-1])
        start, end = old.start_mark.index, _end(old)
        if not old.value and not node.flow_style and _nested(value):
            return _begun(text, node, (start, end), value)
        gap = " " if start == end else ""  # an empty value has no place of its own behind the colon
        return f"{text[:start]}{gap}{flow(value)}{text[end:]}"
    return _pair(text, node, str(path[-1]), value)


def _pair(text: str, node: Node, key: str, value: Any) -> str:
    """One more key, as the last of its mapping."""
    if node.flow_style:
        return _into_flow(text, node, f"{flow(key)}: {flow(value)}")
    indent = " " * node.value[0][0].start_mark.column
    return _after(text, node, _block(key, value, indent))


def _begun(text: str, node: Node, old: Span, value: Any) -> str:
    """Lines below a key that held nothing so far; a remark behind the key stays there."""
    indent = " " * (node.value[0][0].start_mark.column + 2)
    stop = text.find("\n", old[1])
    rest = text[old[1] :] if stop < 0 else text[old[1] : stop]
    newline = "\r\n" if "\r\n" in text else "\n"
    head = text[: old[0]].rstrip(" ")
    lines = _items(value, indent)
    return f"{head}{rest.rstrip()}{newline}{newline.join(lines)}{newline}{text[stop + 1 :] if stop >= 0 else ''}"


def _nested(value: Any) -> bool:
    """Whether a value holds mappings, so that it gets lines of its own."""
    inner = value.values() if isinstance(value, Mapping) else value if isinstance(value, list) else ()
    return any(isinstance(each, Mapping) or _nested(each) for each in inner)


def _block(key: str, value: Any, indent: str) -> list[str]:
    if not _nested(value) or (isinstance(value, Mapping) and indent):
        return [f"{indent}{flow(key)}: {flow(value)}"]
    return [f"{indent}{flow(key)}:", *_items(value, f"{indent}  ")]


def _items(value: Any, indent: str) -> list[str]:
    if isinstance(value, Mapping):
        return [line for key, each in value.items() for line in _block(key, each, indent)]
    return [f"{indent}- {flow(item)}" for item in value]


def _append(text: str, node: Node, written: str) -> str:
    if node.flow_style:
        return _into_flow(text, node, written)
    dash = text.rfind("-", 0, node.value[-1].start_mark.index)
    indent = " " * (dash - _line_start(text, dash))
    return _after(text, node, [f"{indent}- {written}"])


def _into_flow(text: str, node: Node, written: str) -> str:
    if not node.value:
        return f"{text[: node.start_mark.index + 1]}{written}{text[node.end_mark.index - 1 :]}"
    last = node.value[-1]
    end = _end(last[1] if isinstance(last, tuple) else last)
    return f"{text[:end]}, {written}{text[end:]}"


def _after(text: str, node: Node, lines: Sequence[str]) -> str:
    """Whole lines behind the line in which a block ends, its remark included."""
    newline = "\r\n" if "\r\n" in text else "\n"
    end = text.find("\n", _end(node))
    body = "".join(f"{line}{newline}" for line in lines)
    return f"{text[: end + 1]}{body}{text[end + 1 :]}" if end >= 0 else f"{text}{newline}{body}"


def _drop(text: str, node: Node, key: str | int) -> str:
    at = int(key) if isinstance(node, yaml.SequenceNode) else _at(node, key)
    if len(node.value) == 1:
        empty = "[]" if isinstance(node, yaml.SequenceNode) else "{}"
        return f"{text[: node.start_mark.index]}{empty}{text[_end(node) :]}"
    start, end = _span(node, at)
    if node.flow_style:
        if at + 1 < len(node.value):
            return text[:start] + text[_span(node, at + 1)[0] :]
        return text[: _span(node, at - 1)[1]] + text[end:]
    mark = text.rfind("-", 0, start) if isinstance(node, yaml.SequenceNode) else start
    stop = text.find("\n", end)
    if text[_line_start(text, mark) : mark].strip():  # the first key behind a dash: the next one moves up to it
        return text[:start] + text[_span(node, at + 1)[0] :]
    return text[: _line_start(text, mark)] + (text[stop + 1 :] if stop >= 0 else "")


def _span(node: Node, at: int) -> Span:
    one = node.value[at]
    first, last = one if isinstance(one, tuple) else (one, one)
    return first.start_mark.index, _end(last)


def _line_start(text: str, index: int) -> int:
    return text.rfind("\n", 0, index) + 1
