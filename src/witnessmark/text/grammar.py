"""What the YAML parser says, in plain words: what stands there and what to do about it."""

import re

import yaml

from witnessmark.text.fault import Fault

# Pattern in the parser's problem (libyaml and the pure Python parser word some of them differently) -> our words.
WORDS: tuple[tuple[str, str], ...] = (
    (
        "mapping values are not allowed",
        "a colon stands where no key can be; put the text in quotes, or check the indent of this line",
    ),
    (
        "could not find expected ':'|expected ':'",
        "this line is no `key: value`; add the colon and a space, or indent the line under its key",
    ),
    (
        "block end|expected '-' indicator|did not find expected key|expected <block end>",
        "this line does not line up with the lines above it; give lines of one list or mapping the same indent",
    ),
    ("unexpected end of stream", "a quote opened here is never closed; close it"),
    (
        "unexpected document separator|document indicator",
        "a line `---` or `...` stands inside quotes; close the quote above it",
    ),
    (
        "expected ',' or|expected node content|expected the node content|flow sequence|flow mapping",
        "a bracket is not closed, or a comma is missing; close `[` with `]` and `{` with `}`",
    ),
    (
        "unknown escape|escape sequence|hexa?decimal|Unicode character code",
        "a backslash in double quotes begins an unknown escape; use single quotes, or write two backslashes",
    ),
    (
        "sequence entries are not allowed",
        "a dash begins a list where none can be; put it on a line of its own under its key",
    ),
    ("mapping keys are not allowed", "a question mark begins a key where none can be; put the text in quotes"),
    ("undefined tag handle|tag|URI", "an exclamation mark begins a tag, which is not read; put the text in quotes"),
    (
        "scanning an anchor|scanning an alias|anchor",
        "`&` and `*` begin a mark for repeating, which is not read; put the text in quotes",
    ),
    (
        "directive|incompatible YAML|version",
        "a line that begins with % is an order to the parser; delete it, or put the text in quotes",
    ),
    ("document start", "the text goes on after its end; one file holds one list or one mapping, or a `---` is missing"),
    (
        "indentation indicator|chomping|comment or line break|comment or a line break",
        "only `|` or `>` and an indent may stand where a block of text opens; move the rest down",
    ),
)


def explain(error: yaml.MarkedYAMLError, text: str, name: str) -> Fault:
    """The parser's complaint as a fault with its place. Nothing of the parser's own words is needed to mend it."""
    problem, mark = str(error.problem or ""), error.problem_mark or error.context_mark
    line, column = (mark.line, mark.column) if mark else (0, 0)
    here = _character(text, line, column)
    if here == "\t" or "tab character" in problem or "\\t" in problem:
        return Fault(
            "tab_indent",
            "a tab stands where spaces must be; indent with spaces, two for each level",
            name,
            line + 1,
            column + 1,
        )
    if "nesting depth" in problem:
        return Fault("too_deep", "brackets are nested too deep; close those that are open", name, line + 1, column + 1)
    if "cannot start any token" in problem:
        return Fault(
            "grammar", f"a value cannot begin with {here!r}; put the text in quotes", name, line + 1, column + 1
        )
    if "end of stream" in problem and error.context_mark:  # the quote that opens is the place to look at
        line, column = error.context_mark.line, error.context_mark.column
    complaints = (problem, str(error.context or ""))  # what went wrong says more than what was being read
    words = next((words for said in complaints for pattern, words in WORDS if re.search(pattern, said)), None)
    return Fault(
        "grammar",
        words or f"YAML's grammar is broken here ({problem}); compare the line with its neighbours",
        name,
        line + 1,
        column + 1,
    )


def _character(text: str, line: int, column: int) -> str:
    lines = re.split("\r\n|[\r\n\x85\u2028\u2029]", text)
    return lines[line][column : column + 1] if line < len(lines) else ""
