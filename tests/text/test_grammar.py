"""The parser's complaints in plain words, from both parsers."""

import pytest
import yaml

from witnessmark.text import read as reader
from witnessmark.text.fault import Faulty
from witnessmark.text.read import read

LOADERS = [yaml.SafeLoader] + ([yaml.CSafeLoader] if hasattr(yaml, "CSafeLoader") else [])
CASES = [
    ("a: b: c", 1, "a colon stands where no key can be"),
    ("a: 1\n  b: 2\n", 2, "a colon stands where no key can be"),
    ("a: 1\nbare\nc: 2\n", None, "no `key: value`"),
    ("- a\n- b\nc: 1\n", 3, "line up"),
    ("a:\n   b: 1\n  c: 2\n", 3, "line up"),
    ("a: [1, 2\nb: 3\n", None, "bracket"),
    ("a: {b: 1\n", None, "bracket"),
    ("a: 1]\nb: ]\n", 2, ""),
    ('a: "\\q"', 1, "backslash"),
    ('a: "\\xzz"', 1, "backslash"),
    ('a: 1\nb: "open\nc: 2\n', 2, "never closed"),
    ("a: 'open\n", 1, "never closed"),
    ("a: @x", 1, "cannot begin with '@'"),
    ("a: `x`", 1, "cannot begin with '`'"),
    ("a: %x", 1, "cannot begin with '%'"),
    ("a: - 1", 1, "dash"),
    ("a: |x\n  b\n", 1, "a block of text opens"),
    ("%YAML 9.9\n---\na: 1\n", None, "order to the parser"),
    ("a: &\n", 1, "mark for repeating"),
    ("a: *\n", 1, "mark for repeating"),
    ("a: !x!y z\n", 1, "tag"),
    ("a: 1\n}\n", 2, ""),
]


@pytest.mark.parametrize("which", LOADERS, ids=lambda one: one.__name__)
@pytest.mark.parametrize(("text", "line", "words"), CASES, ids=[case[0] for case in CASES])
def test_broken_grammar_is_told_in_plain_words(which, text, line, words, monkeypatch):
    monkeypatch.setattr(reader, "LOADER", which)
    with pytest.raises(Faulty) as caught:
        read(text, "limits.yaml")
    fault = caught.value.faults[-1]
    assert fault.kind == "grammar"
    assert words in fault.message
    assert "YAML's grammar is broken here" not in fault.message  # every complaint has words of its own
    if line:
        assert fault.line == line


def test_faults_found_before_the_grammar_broke_are_told_too():
    with pytest.raises(Faulty) as caught:
        read("a: 1\na: 2\nb: [", "limits.yaml")
    assert [fault.kind for fault in caught.value.faults] == ["duplicate_key", "grammar"]
