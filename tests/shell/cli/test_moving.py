"""`import` and `export`: a job goes through the store and comes out as it went in."""

import json
import subprocess
import sys

import pytest

from shell.cli.command import JOB, SMALL, refused, run, write
from witnessmark.shell.store.store import Store


@pytest.mark.parametrize("text", [JOB, SMALL], ids=["demo", "small"])
def test_export_import_export_gives_the_same_bytes(tmp_path, text):
    first, second, third = (tmp_path / name for name in ("first.yaml", "second.yaml", "third.yaml"))
    assert run("import", write(tmp_path, text), "--data", tmp_path / "one").status == 0
    name = "HL-0147" if text is JOB else "HL-1"
    assert run("export", name, "--data", tmp_path / "one", "--out", first).out == f"{first}\n"
    assert run("import", first, "--data", tmp_path / "two").status == 0
    assert run("export", name, "--data", tmp_path / "two", "--out", second).status == 0
    assert run("export", tmp_path / "job.yaml", "--out", third).status == 0
    assert first.read_bytes() == second.read_bytes() == third.read_bytes()
    assert run("judge", first, "--json").out == run("judge", tmp_path / "job.yaml", "--json").out


def test_a_job_is_judged_alike_from_its_file_and_from_the_store(tmp_path):
    path = write(tmp_path)
    assert json.loads(run("import", path, "--data", tmp_path / "s", "--json").out) == {
        "job": "HL-1", "events": 16, "photos": 0, "missing": []}
    assert run("judge", "HL-1", "--data", tmp_path / "s").out == run("judge", path).out


def test_a_job_is_taken_in_once(tmp_path):
    path, data = write(tmp_path), tmp_path / "s"
    run("import", path, "--data", data)
    assert "the store already has a job 'HL-1'" in refused(run("import", path, "--data", data))
    with_store = Store.open(data, only_read=True)
    assert (len(with_store.jobs()), len(with_store.events("HL-1"))) == (1, 16)
    with_store.close()


def test_a_file_with_faults_leaves_the_store_as_it_was(tmp_path):
    words = refused(run("import", write(tmp_path, SMALL.replace("raw: 5.952", "raw: five")), "--data", tmp_path / "s"))
    assert "job.yaml:12:" in words and not (tmp_path / "s").exists()


def test_a_number_that_no_store_takes_is_told(tmp_path):
    path = write(tmp_path, SMALL.replace("id: HL-1,", 'id: "HL/../1",'))
    assert "cannot be the id of a job" in refused(run("import", path, "--data", tmp_path / "s"))


def test_a_job_that_the_store_does_not_have_is_told(tmp_path):
    run("import", write(tmp_path), "--data", tmp_path / "s")
    for command in (["judge"], ["export", "--out", tmp_path / "x.yaml"], ["papers", "--out", tmp_path / "p"]):
        words = refused(run(command[0], "HL-9", *command[1:], "--data", tmp_path / "s"))
        assert "no job 'HL-9'" in words
    assert "or name a job file" in refused(run("judge", "HL-9", "--data", tmp_path / "nowhere"))
    assert not (tmp_path / "nowhere").exists()


def test_an_export_into_no_folder_is_told(tmp_path):
    words = refused(run("export", write(tmp_path), "--out", tmp_path / "none" / "x.yaml"))
    assert "name a file in a folder that is there" in words


def test_an_export_changed_by_hand_says_how_it_can_be_read(tmp_path):
    out = tmp_path / "x.yaml"
    run("export", write(tmp_path), "--out", out)
    out.write_text(out.read_text().replace("Tern 2.0", "Tern 2.2", 1))
    words = refused(run("import", out, "--data", tmp_path / "s"))
    assert "remove `log:` to read this as written by hand" in words and words.startswith("x.yaml:")


def test_a_store_that_is_no_store_is_told(tmp_path):
    data = tmp_path / "s"
    data.mkdir()
    (data / "witnessmark.sqlite3").write_bytes(b"this is a letter, not a database" * 100)
    assert "not a sound store" in refused(run("judge", "HL-1", "--data", data))
    (tmp_path / "file").write_text("x")
    assert "file" in refused(run("import", write(tmp_path), "--data", tmp_path / "file"))


HOLD = """
import sys
from witnessmark.shell.store.store import Store
store = Store.open(sys.argv[1])
print("held", flush=True)
sys.stdin.read()
"""


@pytest.mark.slow
def test_a_store_that_another_process_writes_to_can_be_read_and_not_written(tmp_path):
    path, data = write(tmp_path), tmp_path / "s"
    run("import", path, "--data", data)
    holder = subprocess.Popen([sys.executable, "-c", HOLD, str(data)], stdin=-1, stdout=-1, text=True)
    try:
        assert holder.stdout.readline() == "held\n"
        words = refused(run("import", path, "--data", data))
        assert str(data) in words
        assert run("judge", "HL-1", "--data", data).out == run("judge", path).out
        assert run("export", "HL-1", "--data", data, "--out", tmp_path / "x.yaml").status == 0
    finally:
        holder.communicate("")
