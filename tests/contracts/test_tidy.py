"""The rules of the house that a machine can hold. Each breach is told with file, line and cure."""

import ast
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src" / "witnessmark"
CORE = ("text", "quantity", "metrology", "form", "mechanics", "catalogue", "engine", "limits", "record", "judge",
        "plan", "assemble", "explain", "draw", "desk")  # fmt: skip
FILES = sorted(SOURCE.rglob("*.py"))


def body_lines(function: ast.FunctionDef | ast.AsyncFunctionDef, text: list[str]) -> int:
    """Lines of code of a function: without its docstring, comments and blanks."""
    statements = function.body
    if isinstance(statements[0], ast.Expr) and isinstance(statements[0].value, ast.Constant):
        statements = statements[1:]
    if not statements:
        return 0
    lines = text[statements[0].lineno - 1 : function.end_lineno]
    return sum(bool(line.strip()) and not line.strip().startswith("#") for line in lines)


def functions(path: Path) -> list[tuple[str, int, int]]:
    """Name, line and body length of every function of a file."""
    text = path.read_text("utf-8")
    lines = text.splitlines()
    return [
        (node.name, node.lineno, body_lines(node, lines))
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
    ]


def where(path: Path) -> str:
    return str(path.relative_to(ROOT))


def test_there_is_something_to_hold():
    assert len(FILES) > 20


@pytest.mark.parametrize("kind", ["py", "js", "css", "html"])
def test_no_file_is_about_two_things(kind):
    long = [
        f"{where(path)}: {count} lines; part it by subject"
        for path in sorted(SOURCE.rglob(f"*.{kind}"))
        if (count := len(path.read_text("utf-8").splitlines())) > 500
    ]
    assert not long, "\n".join(long)


def test_functions_fit_a_glance():
    lengths = [(length, f"{where(path)}:{line}: {name}") for path in FILES for name, line, length in functions(path)]
    over = [f"{place} has {length} lines of body; part it" for length, place in lengths if length > 50]
    assert not over, "\n".join(over)
    glance = sum(length < 30 for length, _ in lengths) / len(lengths)
    assert glance >= 0.95, f"only {glance:.1%} of functions are under 30 lines"


def test_the_core_has_no_clock_and_opens_nothing():
    breach = []
    for path in FILES:
        if path.relative_to(SOURCE).parts[0] not in CORE:
            continue
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call):
                name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
                if name in {"open", "now", "today", "utcnow", "print", "input", "getenv"}:
                    breach.append(f"{where(path)}:{node.lineno}: {name}() in the core; let the shell hand it in")
    assert not breach, "\n".join(breach)


def test_no_error_is_swallowed():
    breach = []
    for path in FILES:
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.ExceptHandler) and len(node.body) == 1 and isinstance(node.body[0], ast.Pass):
                breach.append(f"{where(path)}:{node.lineno}: an exception is dropped; say what follows from it")
    assert not breach, "\n".join(breach)


def test_public_functions_say_what_they_do():
    silent = []
    for path in FILES:
        for node in ast.parse(path.read_text("utf-8")).body:
            named = isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef)
            if named and not node.name.startswith("_") and not ast.get_docstring(node):
                silent.append(f"{where(path)}:{node.lineno}: {node.name} has no docstring")
    assert not silent, "\n".join(silent)


def test_every_room_says_what_it_knows():
    bare = [
        where(room / "__init__.py")
        for room in sorted(SOURCE.iterdir())
        if room.is_dir() and room.name != "__pycache__" and len(_docstring(room / "__init__.py")) < 80
    ]
    assert not bare, f"say in one paragraph what each knows and refuses to know: {bare}"


def _docstring(path: Path) -> str:
    return (ast.get_docstring(ast.parse(path.read_text("utf-8"))) or "") if path.exists() else ""


BANNED = re.compile(r"\b(invalid|error occurred|failed)\b", re.IGNORECASE)


def test_messages_say_what_to_do():
    """Words that tell nobody what is wrong are kept out of every text that a user may read."""
    breach = []
    for path in FILES:
        tree = ast.parse(path.read_text("utf-8"))
        docs = {id(node.body[0].value) for node in ast.walk(tree) if _has_docstring(node)}
        for node in ast.walk(tree):
            text = node.value if isinstance(node, ast.Constant) and id(node) not in docs else None
            if isinstance(text, str) and BANNED.search(text) and " " in text:
                breach.append(f"{where(path)}:{node.lineno}: {text!r}; say what is wrong and what to do")
    assert not breach, "\n".join(breach)


def _has_docstring(node: ast.AST) -> bool:
    body = getattr(node, "body", None)
    return bool(
        isinstance(body, list) and body and isinstance(body[0], ast.Expr) and isinstance(body[0].value, ast.Constant)
    )


def test_tests_mirror_the_rooms():
    rooms = {path.name for path in SOURCE.iterdir() if path.is_dir() and path.name != "__pycache__"}
    mirrored = {path.name for path in (ROOT / "tests").iterdir() if path.is_dir()}
    assert rooms <= mirrored, f"no tests for {sorted(rooms - mirrored)}"


def test_no_file_names_a_path_of_a_machine_or_a_registry():
    places = re.compile("[/](work|farm|root)[/]|pyp" "i[.]org|python" "hosted|registry[.]n" "pm|deb[.]deb" "ian")
    kept = [
        p for p in ROOT.rglob("*") if p.is_file() and not set(p.relative_to(ROOT).parts) & {".venv", ".git", "data"}
    ]
    readable = [
        p
        for p in kept
        if p.suffix in {".py", ".md", ".yaml", ".txt", ".toml", ".js", ".css", ".html", ".typ", ".ipynb"}
    ]
    named = [where(p) for p in readable if p != Path(__file__) and places.search(p.read_text("utf-8"))]
    assert not named, named
