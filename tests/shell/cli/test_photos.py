"""Photos of a job on a command line: out with its export, back with its import, proved by `verify`."""

import hashlib
import json
import shutil

import pytest

from shell.cli.command import SMALL, refused, run, write
from shell.store.test_photos import jpeg
from witnessmark.shell.store.store import Store

FIRST, SECOND = (hashlib.sha256(jpeg(n)).hexdigest() for n in (1, 2))
WITH_PHOTOS = SMALL + f"photos:\n  - {{photo: {FIRST}, bytes: 5003, width: 40, height: 30, place: inl-1}}\n" \
                      f"  - {{photo: {SECOND}, bytes: 5003, width: 40, height: 30, note: the head as it came}}\n"


@pytest.fixture
def job(tmp_path):
    """A job file with two photos beside it."""
    path = write(tmp_path, WITH_PHOTOS)
    folder = tmp_path / "job-photos"
    folder.mkdir()
    for number, photo in ((1, FIRST), (2, SECOND)):
        (folder / f"{photo}.jpg").write_bytes(jpeg(number))
    return path


def test_photos_go_into_the_store_and_out_of_it_with_their_job(job, tmp_path):
    data, out = tmp_path / "s", tmp_path / "out"
    out.mkdir()
    taken = json.loads(run("import", job, "--data", data, "--json").out)
    assert (taken["photos"], taken["missing"]) == (2, [])
    ran = run("export", "HL-1", "--data", data, "--out", out / "back.yaml")
    assert ran.out == f"{out / 'back.yaml'}\n{out / 'back-photos'}, 2 photos\n"
    assert {path.name: path.read_bytes() for path in (out / "back-photos").iterdir()} == {
        f"{FIRST}.jpg": jpeg(1), f"{SECOND}.jpg": jpeg(2)}
    assert run("import", out / "back.yaml", "--data", tmp_path / "t").out.endswith(", 2 photos\n")
    assert run("export", job, "--out", out / "again.yaml").status == 0
    assert (out / "again.yaml").read_bytes() == (out / "back.yaml").read_bytes()
    assert len(list((out / "again-photos").iterdir())) == 2


def test_a_photo_that_is_not_there_or_not_the_one_is_told_and_stops_nothing(job, tmp_path):
    (tmp_path / "job-photos" / f"{FIRST}.jpg").write_bytes(b"\xff\xd8\xff another")
    (tmp_path / "job-photos" / f"{SECOND}.jpg").unlink()
    ran = run("import", job, "--data", tmp_path / "s")
    assert ran.status == 0 and ran.out.startswith("HL-1 taken in")
    assert "is not the photo that the job names" in ran.err and "does not lie beside the job file" in ran.err
    out = run("export", "HL-1", "--data", tmp_path / "s", "--out", tmp_path / "x.yaml")
    assert (out.status, out.out) == (0, f"{tmp_path / 'x.yaml'}\n")
    assert out.err.count("without a photo: the store has no photo") == 2


def test_a_file_that_has_the_right_name_and_is_no_picture_is_not_taken_in(tmp_path):
    letter = b"a letter"
    name = hashlib.sha256(letter).hexdigest()
    path = write(tmp_path, WITH_PHOTOS.replace(FIRST, name))
    (tmp_path / "job-photos").mkdir()
    (tmp_path / "job-photos" / f"{name}.jpg").write_bytes(letter)
    ran = run("import", path, "--data", tmp_path / "s")
    assert ran.status == 0 and "that are no JPEG" in ran.err


def test_a_job_that_comes_again_brings_the_photos_that_it_missed(job, tmp_path):
    data = tmp_path / "s"
    run("import", job, "--data", data)
    store = Store.open(data)
    store.photos.path(FIRST).unlink()
    store.photos.path(SECOND).write_bytes(b"rubbish")
    store.close()
    words = refused(run("import", job, "--data", data))
    assert "the store already has a job 'HL-1'" in words and "2 of its photos that were missing or damaged were taken in" in words
    assert run("verify", data).status == 0
    assert "were taken in" not in refused(run("import", job, "--data", data))


def test_verify_proves_an_export_with_its_photos(job, tmp_path):
    out = tmp_path / "x.yaml"
    run("export", job, "--out", out)
    ran = run("verify", out)
    assert ran.status == 0 and f"{out}: sound, events 18, photos 2, checksum " in ran.out
    facts = json.loads(run("verify", out, "--json").out)
    assert (facts["events"], facts["photos"], facts["faults"], len(facts["checksum"])) == (18, 2, [], 64)
    (tmp_path / "x-photos" / f"{FIRST}.jpg").write_bytes(jpeg(3))
    ran = run("verify", out)
    assert ran.status == 2 and f"{FIRST}.jpg: is not the photo that the job names" in ran.err
    shutil.rmtree(tmp_path / "x-photos")
    assert len(json.loads(run("verify", out, "--json").out)["faults"]) == 2
    out.write_text(out.read_text().replace("Tern 2.0", "Tern 2.2", 1))
    assert "remove `log:`" in refused(run("verify", out))


def test_verify_says_of_a_file_without_a_log_that_it_proves_nothing(job):
    assert "has no `log:`" in refused(run("verify", job))


def test_verify_proves_a_whole_store(job, tmp_path):
    data = tmp_path / "s"
    run("import", job, "--data", data)
    assert run("verify", data).out == f"{data}: sound, jobs 1, photos 2\n"
    (data / "photos" / FIRST[:2] / f"{FIRST}.jpg").unlink()
    ran = run("verify", data)
    assert ran.status == 2 and "names a photo: the store has no photo" in ran.err
    assert "cannot be opened" in refused(run("verify", tmp_path / "job-photos"))
