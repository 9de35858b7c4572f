"""Files on disk: read whole, or refused with what to do; a job file fetches nothing from outside its folder."""

import pytest

from shell.cli.command import SMALL, write
from witnessmark.record.jobfile import NoSheet
from witnessmark.shell.files import MOST_BYTES, beside, load_events, load_job, read_bytes
from witnessmark.text.fault import Faulty


@pytest.mark.parametrize(("name", "told"), [
    (".", "is a folder"), ("none.yaml", "there is no such file"), ("x" * 300, "cannot be read"),
    ("a\0b", "no file can have this name"), ("job.yaml/x", "cannot be read"),
])  # fmt: skip
def test_what_is_no_file_is_told(tmp_path, name, told):
    write(tmp_path)
    with pytest.raises(Faulty, match=told):
        read_bytes(tmp_path / name)


def test_a_file_that_is_far_too_large_is_refused_before_it_is_read(tmp_path):
    with (tmp_path / "large.yaml").open("wb") as file:
        file.truncate(MOST_BYTES + 1)
    with pytest.raises(Faulty, match="no job file is"):
        read_bytes(tmp_path / "large.yaml")


@pytest.mark.parametrize("name", ["../limits.yaml", "/limits.yaml", "sub/../../limits.yaml", "out.yaml", "a\0b"])
def test_a_sheet_is_fetched_from_the_folder_of_the_job_only(tmp_path, name):
    inner = tmp_path / "inner"
    inner.mkdir()
    write(tmp_path)
    (inner / "out.yaml").symlink_to(tmp_path / "limits.yaml")  # a link may lead out as well
    with pytest.raises(NoSheet):
        beside(inner)(name)


def test_a_sheet_below_the_folder_is_fetched_as_it_is(tmp_path):
    (tmp_path / "books").mkdir()
    (tmp_path / "books" / "tern.yaml").write_bytes("a: ½\r\n".encode())
    assert beside(tmp_path)("books/tern.yaml") == "a: ½\r\n"
    (tmp_path / "books" / "tern.yaml").write_bytes(b"a: \xbd\n")
    with pytest.raises(NoSheet, match="byte 4 is not UTF-8"):
        beside(tmp_path)("books/tern.yaml")


def test_events_of_a_file_are_numbered_as_a_store_would_number_them(tmp_path):
    events = load_events(write(tmp_path))
    assert [event.seq for event in events] == list(range(1, len(events) + 1))
    assert load_job(tmp_path / "job.yaml").seq == len(events)


def test_a_job_whose_sheet_is_at_fault_is_told_in_the_name_of_the_sheet(tmp_path):
    with pytest.raises(Faulty) as faulty:
        load_job(write(tmp_path, SMALL, "format: witnessmark-limits-1\n"))
    assert {fault.name for fault in faulty.value.faults} == {"limits.yaml"}
