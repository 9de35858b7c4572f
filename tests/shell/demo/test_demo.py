"""The demo jobs as they are written into a folder."""

import importlib
import sys
from pathlib import Path

import pytest

from shell.cli.command import JOB, demo, refused, run
from witnessmark.shell.demo import FILES


def test_the_demo_is_written_and_may_be_written_again(tmp_path):
    said = run("demo", tmp_path / "new")
    assert said.out.split() == [str(tmp_path / "new" / name) for name in FILES]
    assert len(FILES) == 12 and FILES[:3] == ("tern.yaml", "tern-limits.yaml", "tern-prices.yaml")
    assert run("demo", tmp_path / "new").status == 0
    assert (tmp_path / "new" / "tern.yaml").read_text("utf-8") == JOB


def test_a_file_that_somebody_changed_is_left_alone(tmp_path):
    (tmp_path / "tern.yaml").write_text("mine")
    assert "differs from the demo; name another folder" in refused(run("demo", tmp_path))
    assert (tmp_path / "tern.yaml").read_text() == "mine" and not (tmp_path / "tern-limits.yaml").exists()


@pytest.mark.parametrize("content", [b"\xff\xfe\x00", b""])
def test_a_file_that_is_no_text_is_left_alone_too(tmp_path, content):
    (tmp_path / "tern.yaml").write_bytes(content)
    assert "differs" in refused(run("demo", tmp_path))
    assert (tmp_path / "tern.yaml").read_bytes() == content


def test_a_folder_that_cannot_be_made_is_told(tmp_path):
    (tmp_path / "file").write_text("x")
    assert "name another folder" in refused(run("demo", tmp_path / "file" / "demo"))


@pytest.mark.parametrize("name", FILES)
def test_everything_in_it_says_that_it_is_invented(name):
    text = demo(name)
    sheet = "limits" in name or "prices" in name
    assert "made up" in text.splitlines()[0] if sheet else "invented" in text.splitlines()[0]
    assert ("invented: yes" if sheet else "invented: true") in text


@pytest.mark.parametrize("name", FILES)
def test_what_ships_is_what_the_generator_writes(name):
    assert generator().texts()[name] == demo(name)


def generator():
    """The generator of the demo, which is no part of the package."""
    tools = Path(__file__).parents[3] / "tools"
    sys.path.insert(0, str(tools))
    try:
        return importlib.import_module("make_demo")
    finally:
        sys.path.remove(str(tools))
