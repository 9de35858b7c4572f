"""The commands as a whole: help at once, words for every mistake in a call, one exit status for each outcome."""

import subprocess
import sys

import pytest

from shell.cli.command import really, refused, run, write
from witnessmark.shell.cli import main

HEAVY = {"numpy", "scipy", "fastapi", "sqlalchemy", "pydantic", "typst", "uvicorn", "yaml", "rich"}


def test_help_brings_no_heavy_library():
    """Why it answers at once: nothing that computes, serves or stores is woken to print a page of words."""
    code = ("import sys; from click.testing import CliRunner; from witnessmark.shell.cli import main; "
            "r = CliRunner().invoke(main, ['--help']); assert r.exit_code == 0; print(*sys.modules)")  # fmt: skip
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert "click" in loaded and not HEAVY & set(loaded)


@pytest.mark.parametrize("command", sorted(main.commands))
def test_every_command_has_help_that_says_what_it_does(command):
    said = run(command, "--help")
    assert said.status == 0
    text = said.out.split("\n\n")[1].strip()
    assert text[0].isupper() and text.endswith(".")


def test_the_version_is_told():
    assert run("--version").out.strip().endswith("0.1.0")


@pytest.mark.parametrize(("call", "told"), [
    (["jugde", "x"], "jugde"), (["judge"], "JOB"), (["judge", "x", "--unit", "furlong"], "furlong"),
    (["export", "x"], "--out"), (["schema", "engine"], "engine"), (["serve", "--port", "99999"], "99999"),
])  # fmt: skip
def test_a_call_that_is_not_understood_names_what_it_was(call, told):
    said = run(*call)
    assert said.status == 2 and told in said.err and "Traceback" not in said.err


def test_the_catalogue_is_shown_whole_and_one_by_one():
    assert "stem_diameter" in run("catalogue").out
    assert "micrometer" in run("catalogue", "stem_diameter").out
    assert "did you mean 'stem_diameter'" in refused(run("catalogue", "stem_diametre"))


@pytest.mark.slow
def test_the_installed_command_answers_with_its_exit_status(tmp_path):
    path = write(tmp_path)
    assert really("check", path).returncode == 0
    assert really("judge", path, "--strict").returncode == 1
    bad = really("check", tmp_path / "none.yaml")
    assert bad.returncode == 2 and b"Traceback" not in bad.stderr and b"there is no such file" in bad.stderr
