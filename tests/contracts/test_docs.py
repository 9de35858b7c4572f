"""The manual, held against the product: pages executed, lessons played, references fresh, nothing left undocumented."""

import doctest
import importlib.util
import re
from pathlib import Path

import pytest
from contracts.played import Lesson

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
PAGES = sorted([ROOT / "README.md", ROOT / "CHANGELOG.md", *DOCS.rglob("*.md")])
FENCE = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def blocks(page: Path, kind: str) -> list[str]:
    """The fenced blocks of a page that are marked so."""
    return [text for name, text in FENCE.findall(page.read_text("utf-8")) if name == kind]


def name(page: Path) -> str:
    return str(page.relative_to(ROOT))


EXECUTED = [page for page in PAGES if blocks(page, "python")]


@pytest.mark.parametrize("page", EXECUTED, ids=name)
def test_every_sum_in_the_manual_comes_out_as_printed(page):
    text = "\n".join(blocks(page, "python"))
    told: list[str] = []
    test = doctest.DocTestParser().get_doctest(text, {}, name(page), name(page), 0)
    assert test.examples, f"{name(page)}: a python block shows a session: begin its lines with >>>"
    result = doctest.DocTestRunner(optionflags=doctest.NORMALIZE_WHITESPACE).run(test, out=told.append)
    assert result.failed == 0, "".join(told)


def test_the_first_lesson_happens_as_it_is_told():
    lesson, steps = Lesson(), 0
    for line in "".join(blocks(DOCS / "lessons" / "first-head.md", "bench")).splitlines():
        if line.startswith("="):
            claim, said = line.removeprefix("=").strip().split(": ")
            term, place = claim.split(", ")
            assert lesson.verdict(term.replace(" ", "_"), place) == said, line
            continue
        where, typed, said = (part.strip() for part in line.split("|"))
        gone = where.removeprefix("←").strip() if where.startswith("←") else ""
        assert gone or lesson.here == where, line
        outcome = lesson.type(typed, go=gone)
        assert (outcome.echo or outcome.detail) == said, line
        steps += 1
    assert steps > 15
