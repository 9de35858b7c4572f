"""The manual, held against the product: pages executed, lessons played, references fresh, nothing left undocumented."""

import ast
import doctest
import importlib.util
import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from contracts.played import Lesson
from witnessmark.desk.enter import REASONS as WHY_CORRECTED
from witnessmark.explain.why import REASONS
from witnessmark.judge.result import VERDICTS, Judgement
from witnessmark.limits.limit import BEARERS, SPREAD_RULES, VALUE_RULES
from witnessmark.quantity.entry import COMMANDS
from witnessmark.quantity.read import read
from witnessmark.shell.cli.main import main
from witnessmark.shell.resources import catalogue
from witnessmark.shell.web.app import create_app

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src" / "witnessmark"
DOCS = ROOT / "docs"
PAGES = sorted([ROOT / "README.md", ROOT / "CHANGELOG.md", *DOCS.rglob("*.md")])
# Of a question or a meaning that the tool writes itself into an export.
WORDS_OF_AN_ANSWER = {"take", "measure again"}
KEYS_OF_A_QUESTION = {"label", "do", "answers", "text", "kind", "low", "high", "value", "step"}
FENCE = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def blocks(page: Path, kind: str) -> list[str]:
    """The fenced blocks of a page that are marked so."""
    return [text for name, text in FENCE.findall(page.read_text("utf-8")) if name == kind]


def label(page: Path) -> str:
    return str(page.relative_to(ROOT))


EXECUTED = [page for page in PAGES if blocks(page, "python")]


@pytest.mark.parametrize("page", EXECUTED, ids=label)
def test_every_sum_in_the_manual_comes_out_as_printed(page):
    text = "\n".join(blocks(page, "python"))
    told: list[str] = []
    test = doctest.DocTestParser().get_doctest(text, {}, label(page), label(page), 0)
    assert test.examples, f"{label(page)}: a python block shows a session: begin its lines with >>>"
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


def test_the_pages_made_from_the_source_are_fresh():
    place = importlib.util.spec_from_file_location("reference", ROOT / "tools" / "reference.py")
    reference = importlib.util.module_from_spec(place)
    place.loader.exec_module(reference)
    stale = [str(path) for path, text in reference.pages().items() if (ROOT / path).read_text("utf-8") != text]
    assert not stale, f"run make reference: {stale}"


def test_every_characteristic_stands_with_the_tests_that_name_it():
    told = (DOCS / "reference" / "characteristics-tests.md").read_text("utf-8")
    rows = dict(re.findall(r"^[|] `(\w+)` [|] \w [|] (.*) [|]$", told, re.MULTILINE))
    assert set(rows) == set(catalogue().characteristics)
    assert [name for name, tests in rows.items() if not tests.strip()] == [], "a test names each of these"
    files = set(re.findall(r"tests/([\w/]+[.]py)", told)) | {file for row in rows.values() for file in row.split(", ")}
    assert [file for file in sorted(files) if not (ROOT / "tests" / file).exists()] == []


def test_every_room_stands_in_how_it_fits():
    told = (DOCS / "how-it-fits.md").read_text("utf-8")
    rooms = [str(init.parent.relative_to(SOURCE)) for init in SOURCE.rglob("__init__.py") if init.parent != SOURCE]
    missing = [room for room in rooms if f"**{room}.**" not in told]
    assert not missing, f"name these in ROOMS of tools/reference.py: {missing}"


# the example files


def files_of(page: Path) -> dict[str, str]:
    """The whole files that a page shows: yaml blocks that begin with their name."""
    found = {}
    for text in blocks(page, "yaml"):
        first = re.match(r"# (\S+[.]yaml)\n", text)
        assert first, f"{label(page)}: a yaml block begins with the name of its file, as `# limits.yaml`"
        found[first[1]] = text
    return found


@pytest.fixture(scope="module")
def shelf(tmp_path_factory):
    folder = tmp_path_factory.mktemp("examples")
    for page in PAGES:
        for file, text in files_of(page).items():
            (folder / file).write_text(text, "utf-8")
    return folder


def run(*words: str) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


@pytest.mark.parametrize("file", sorted(file for page in PAGES for file in files_of(page)))
def test_every_example_file_has_nothing_to_mend(shelf, file):
    done = run("check", shelf / file, "--strict")
    assert done.exit_code == 0, done.output


def test_the_example_job_is_judged_as_the_manual_says_it_can_be(shelf):
    done = run("judge", shelf / "wren.yaml", "--json")
    assert done.exit_code == 0, done.output
    rows = {(row["characteristic"], row["location"]): row for row in json.loads(done.output)["results"]}
    assert rows["stem_diameter", "inl-1"]["value"] == 5.452
    assert rows["valve_lash", "inl-1"]["verdict"] == "within"
    assert rows["stem_diameter", "exh-1"]["value"] == pytest.approx(0.2140 * 25.4)


def enums(node: object) -> list[object]:
    """Every value that a published schema lists as a choice."""
    if isinstance(node, dict):
        return [*node.get("enum", ()), *(word for inner in node.values() for word in enums(inner))]
    return [word for inner in node for word in enums(inner)] if isinstance(node, list) else []


def named_by_the_catalogue() -> set[str]:
    return {*catalogue().characteristics, *catalogue().operations}


@pytest.mark.parametrize(("page", "schema"), [("limit-sheet.md", "limits"), ("job-file.md", "job")])
def test_every_key_of_a_file_stands_in_its_page(page, schema):
    told = (DOCS / "manual" / page).read_text("utf-8")
    published = json.loads(run("schema", schema).output)
    shapes = [published, *published["$defs"].values()]
    keys = {key for shape in shapes for key in shape.get("properties", {})} - KEYS_OF_A_QUESTION
    words = {word for shape in shapes for word in enums(shape) if isinstance(word, str)}
    assert len(words) > 5
    unsaid = [word for word in sorted(words - WORDS_OF_AN_ANSWER - named_by_the_catalogue()) if f"`{word}`" not in told]
    assert not unsaid, f"{page} does not say that `{unsaid}` may stand in the file"
    missing = [key for key in sorted(keys) if not re.search(rf"`(?:[^`\n]*\W)?{key}(?:\W[^`\n]*)?`", told)]
    assert not missing, f"{page} says nothing of {missing}"


# what the product can do, looked up in the manual


def commands() -> list[tuple[str, list[str]]]:
    """Each command with its options, from click's own tree."""
    return [(command, [option for parameter in main.commands[command].params for option in parameter.opts
                       if option.startswith("--")]) for command in sorted(main.commands)]  # fmt: skip


@pytest.mark.parametrize(("command", "options"), commands())
def test_every_command_and_option_is_documented(command, options):
    told = (DOCS / "manual" / "commands.md").read_text("utf-8")
    sections = {part.split()[0]: part for part in told.split("\n## witnessmark ")[1:]}
    assert command in sections, f"commands.md has no section for {command}"
    missing = [option for option in options if f"`{option}" not in sections[command]]
    assert not missing, f"commands.md, {command}: nothing of {missing}"
    extra = set(re.findall(r"^- `(--[a-z-]+)", sections[command], re.MULTILINE)) - set(options)
    assert not extra, f"commands.md, {command}: no such option {extra}"


@pytest.fixture(scope="module")
def described():
    return create_app(store=None, catalogue=catalogue(), clock=str, fresh=str).openapi()


def test_every_endpoint_is_documented(described):
    told = (DOCS / "manual" / "endpoints.md").read_text("utf-8")
    served = {f"`{method.upper()} {path}`" for path, methods in described["paths"].items() for method in methods}
    printed = set(re.findall(r"^\| (`(?:GET|POST|PUT|DELETE|PATCH) [^`]+`)", told, re.MULTILINE))
    assert printed == served


def test_every_answer_of_a_line_is_documented(described):
    told = (DOCS / "manual" / "endpoints.md").read_text("utf-8")
    statuses = described["components"]["schemas"]["LineOut"]["properties"]["status"]["enum"]
    assert [status for status in statuses if f"`{status}`" not in told] == []
    codes = {code for methods in described["paths"].values() for one in methods.values() for code in one["responses"]}
    assert [code for code in sorted(codes) if int(code) >= 400 and code not in told] == []


def test_every_kind_of_fault_is_documented():
    told = (DOCS / "manual" / "faults.md").read_text("utf-8")
    kinds = {kind for path in SOURCE.rglob("*.py") for kind in kinds_of(ast.parse(path.read_text("utf-8")))}
    assert {"duplicate_key", "twice", "misfit", "unknown_id", "too_deep", "log_differs"} <= kinds
    assert [kind for kind in sorted(kinds) if f"`{kind}`" not in told] == []


def kinds_of(tree: ast.AST) -> list[str]:
    """Slugs that faults are made with: the first argument of fault(...), or the first of a yielded tuple."""
    firsts = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            called = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            firsts += node.args[:2] if called in ("Fault", "fault", "_fault", "_tell") else []
        elif isinstance(node, ast.Yield) and isinstance(node.value, ast.Tuple):
            firsts += node.value.elts[:1]
    texts = [first.value for first in firsts if isinstance(first, ast.Constant) and isinstance(first.value, str)]
    return [text for text in texts if re.fullmatch(r"[a-z0-9_]{4,}", text)]


def test_every_word_of_a_verdict_is_documented():
    told = (DOCS / "manual" / "verdicts.md").read_text("utf-8")
    words = [*VERDICTS, *REASONS, *BEARERS, *Judgement((), ()).summary, *VALUE_RULES, *SPREAD_RULES]
    assert [word for word in words if f"`{word}`" not in told] == []


def test_every_key_of_the_bench_is_documented():
    told = (DOCS / "manual" / "keys.md").read_text("utf-8")
    lines = [line for line in COMMANDS if line and line != "\u2212"]
    script = (SOURCE / "shell" / "web" / "static" / "entry.js").read_text("utf-8")
    keys = set(re.findall(r'event[.]key === "(\w{3,})"|(Arrow\w+):', script))
    pressed = [one or other for one, other in keys]
    assert len(pressed) >= 7
    assert [key for key in [*lines, *pressed] if f"`{key}`" not in told] == []
    assert all(f"`{digit}` {reason}" in told for digit, reason in WHY_CORRECTED.items())


def test_the_manual_types_numbers_as_they_are_read():
    """The left column of the table of numbers, read in mm as the right column says."""
    as_read = {"5.950": "5.95 mm", "5/8": "0.625 in", "1 5/8": "1.625 in", "0.2345 in": "0.2345 in", "63 µm": "63 µm",
               "2.5 thou": "2.5 thou", ".2345": "0.2345 mm", "+0.012": "0.012 mm", "-0.003": "-0.003 mm"}  # fmt: skip
    told = (DOCS / "manual" / "keys.md").read_text("utf-8")
    for typed, meant in as_read.items():
        found = read(typed, "mm")
        assert f"`{typed}`" in told
        assert f"{float(found.value):g} {found.unit}" == meant
    assert "thousands" in read("5,950", "mm").question
    assert read("8 tenths", "mm").question.startswith("Tenths of a thou")


# the pages themselves


def test_page_one_begins_with_the_job_then_two_commands_then_two_pictures():
    page = (ROOT / "README.md").read_text("utf-8")
    order = ["decisions", "make run", "make test", "pictures/bench.png", "pictures/head.png", "## What it does not do",
             "## Where limits come from", "## How to add a characteristic", "## Licence"]  # fmt: skip
    at = [page.index(word) for word in order]
    assert at == sorted(at)


def test_every_link_leads_somewhere():
    dead = []
    for page in PAGES:
        for target in re.findall(r"\]\(([^)#\s]+)(?:#[^)]*)?\)", page.read_text("utf-8")):
            if not target.startswith("http") and not (page.parent / target).exists():
                dead.append(f"{label(page)}: {target}")
    assert not dead, dead


def test_every_decision_says_question_answer_price_and_what_would_reopen_it():
    folder = DOCS / "decisions"
    pages = [page for page in sorted(folder.glob("*.md")) if page.name != "README.md"]
    index = (folder / "README.md").read_text("utf-8")
    assert len(pages) > 10
    for page in pages:
        text = page.read_text("utf-8")
        lacking = [word for word in ("question.", "answer.", "price", "reopen") if word not in text.lower()]
        assert not lacking, f"{page.name} lacks {lacking}"
        assert f"({page.name})" in index, f"decisions/README.md does not name {page.name}"


def test_the_number_of_characteristics_on_page_one_is_the_catalogues():
    count = len(catalogue().characteristics)
    assert f"**{count} characteristics**" in (ROOT / "README.md").read_text("utf-8")
    assert f"{count} characteristics" in (ROOT / "CHANGELOG.md").read_text("utf-8")
