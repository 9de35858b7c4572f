"""`verify`: every way to change a closed record ends with exit 2 and the right entry by name; what is sound is 0."""

import hashlib
import json
import shutil
import zipfile
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from shell import closed
from shell.cli.command import refused, run, write
from witnessmark.record.event import canonical, from_canonical
from witnessmark.record.export import write_job
from witnessmark.record.jobfile import read_job
from witnessmark.record.recordfile import write_record

COVERED = 22  # entries before the closing
FEW = settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


@pytest.fixture(scope="module")
def shop(tmp_path_factory):
    folder = tmp_path_factory.mktemp("closed")
    store = closed.closed(folder)
    store.close()
    for name in ("job.yaml", "job.json", "job.zip"):
        out = folder / "out" / name
        out.parent.mkdir(exist_ok=True)
        assert run("export", closed.JOB, "--data", folder / "store", "--out", out).status == 0
    return folder


@pytest.fixture
def out(shop, tmp_path):
    shutil.copytree(shop / "out", tmp_path / "out")
    return tmp_path / "out"


def log_of(folder):
    return list(read_job((folder / "job.yaml").read_text("utf-8"), "job.yaml"))


def verified(path, *words):
    """What verify says of a file that was changed: exit 2, and sentences."""
    said = refused(run("verify", path, *words))
    assert "sound" not in said
    return said


def rewritten(folder, log):
    """The export of changed events with sections and checksums brought into line, as somebody with the tool would."""
    path = folder / "forged.yaml"
    numbered = [event.stored(number, "") for number, event in enumerate(log, 1)]
    path.write_text(write_job(numbered), "utf-8")
    (folder / "forged.json").write_text(write_record(numbered, closed.JOB), "utf-8")
    return path


@pytest.mark.parametrize("name", ["job.yaml", "job.json", "job.zip"])
def test_what_was_closed_and_not_changed_is_sound(out, name):
    said = run("verify", out / name)
    assert said.status == 0 and "sound, events 23" in said.out and "closed 2026-11-26" in said.out, said.all
    facts = json.loads(run("verify", out / name, "--json").out)
    assert facts["faults"] == facts["later"] == [] and facts["closings"][0]["events"] == COVERED


@FEW
@given(at=st.integers(0, COVERED - 1), what=st.sampled_from(["by", "at", "device", "id"]))
def test_one_entry_changed_is_named(out, at, what):
    log = log_of(out)
    other = getattr(log[at], what) + "x"
    log[at] = replace(log[at], **{what: other})
    path = rewritten(out, log)
    for name in (path, path.with_suffix(".json")):
        assert f"event {at + 1} ({log[at].kind} {log[at].id}" in verified(name)


@FEW
@given(at=st.integers(0, COVERED - 1))
def test_one_entry_dropped_is_named(out, at):
    log = log_of(out)
    del log[at]
    assert f"event {at + 1} of what was closed is missing" in verified(rewritten(out, log).with_suffix(".json"))


@FEW
@given(one=st.integers(0, COVERED - 1), other=st.integers(0, COVERED - 1))
def test_two_entries_exchanged_are_named(out, one, other):
    assume(one != other)
    log = log_of(out)
    log[one], log[other] = log[other], log[one]
    said = verified(rewritten(out, log).with_suffix(".json"))
    low, high = sorted((one, other))
    assert f"event {low + 1} ({log[low].kind} {log[low].id}" in said and "were exchanged" in said
    assert f"event {high + 1} ({log[high].kind} {log[high].id}" in said


@FEW
@given(at=st.integers(0, COVERED - 1))
def test_one_entry_put_in_is_named(out, at):
    log = log_of(out)
    log.insert(at, replace(log[5], id="stranger"))
    said = verified(rewritten(out, log).with_suffix(".json"))
    assert f"event {at + 1} ({log[at].kind} stranger" in said and "was put in" in said


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(at=st.integers(0, COVERED - 1), where=st.floats(0, 1, exclude_max=True), flip=st.integers(1, 255))
def test_any_byte_of_an_entry_changed_in_the_file_is_named(out, at, where, flip):
    """A byte of the canonical line itself, in an export as it lies on a disk, whatever it becomes."""
    log = log_of(out)
    line = canonical(log[at])
    place = int(where * len(line))
    changed = bytes([*line[:place], line[place] ^ flip, *line[place + 1:]]).decode("utf-8", "replace")
    events = json.loads((out / "job.json").read_text("utf-8"))
    try:
        entry = json.loads(changed)
        parsed = isinstance(entry, dict)
    except ValueError:
        parsed = False
    if parsed:
        events["events"][at] = entry
        assume(json.dumps(entry, sort_keys=True) != json.dumps(json.loads(line), sort_keys=True))
    else:
        events["events"][at] = {"broken": changed}
    path = out / "flipped.json"
    path.write_text(json.dumps(events, ensure_ascii=False), "utf-8")
    assert f"event {at + 1} " in verified(path)


def quoted(event):
    """An entry as it stands in an export, inside its quotes."""
    return canonical(event).decode().replace("\\", "\\\\").replace('"', '\\"')


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(at=st.integers(0, COVERED - 1), where=st.floats(0, 1, exclude_max=True), flip=st.integers(1, 255))
def test_any_byte_of_the_log_of_an_export_changed_on_the_disk_is_placed(out, at, where, flip):
    """Where the file can be read no more, its line and column are told in place of the entry."""
    data = (out / "job.yaml").read_bytes()
    line = quoted(log_of(out)[at]).encode()
    place = data.index(line) + int(where * len(line))
    path = out / "flipped.yaml"
    path.write_bytes(data[:place] + bytes([data[place] ^ flip]) + data[place + 1:])
    said = verified(path)
    number = data[:place].count(bytes([10])) + 1
    assert f"event {at + 1} " in said or f"flipped.yaml:{number}:" in said, said


def test_an_entry_changed_in_the_log_of_an_export_is_named_beside_its_place(out):
    text = (out / "job.yaml").read_text("utf-8")
    line = quoted(log_of(out)[8])
    assert line in text
    (out / "job.yaml").write_text(text.replace(line, line.replace("5.951", "5.959")), "utf-8")
    said = verified(out / "job.yaml")
    assert "event 9 (reading_taken r2" in said and "is not what was closed" in said and "job.yaml:" in said


def test_an_entry_that_cannot_be_read_any_more_is_named_all_the_same(out):
    text = (out / "job.yaml").read_text("utf-8")
    line = quoted(log_of(out)[8])
    (out / "job.yaml").write_text(text.replace(line, line[:-1]), "utf-8")
    said = verified(out / "job.yaml")
    assert "event 9 (" in said and "is not what was closed" in said


def test_a_closing_taken_out_is_told_by_the_hash_on_the_paper(out):
    log = log_of(out)
    paper = log[COVERED].body["hash"].upper()
    grouped = " ".join(paper[at:at + 4] for at in range(0, 16, 4))
    assert "that of this record as it was 1 entry ago" in run("verify", out / "job.yaml", "--hash", grouped).out
    log[3] = replace(log[3], by="x")
    bare = rewritten(out, log[:COVERED]).with_suffix(".json")
    assert run("verify", bare).status == 0, "nothing in it says that it was ever closed"
    assert "the record never had the hash" in verified(bare, "--hash", grouped)


def test_a_hash_is_typed_with_sixteen_digits_at_least(out):
    assert "at least 16" in refused(run("verify", out / "job.yaml", "--hash", "ABCD 1234"))
    assert "at least 16" in refused(run("verify", out / "job.yaml", "--hash", "x" * 16))


def changed_zip(folder, change):
    path = folder / "forged.zip"
    with zipfile.ZipFile(folder / "job.zip") as old, zipfile.ZipFile(path, "w") as new:
        members = {one: old.read(one) for one in old.namelist()}
        change(members)
        for name, data in members.items():
            new.writestr(name, data)
    return path


def one_byte(data, at=2000):
    return data[:at] + bytes([data[at] ^ 1]) + data[at + 1:]


def in_manifest(members, name):
    """Bring the manifest into line with a member that was changed."""
    manifest = json.loads(members["manifest.json"])
    manifest["files"][name] = {"bytes": len(members[name]), "sha256": hashlib.sha256(members[name]).hexdigest()}
    members["manifest.json"] = json.dumps(manifest).encode()


PAPER = "papers/closed-1/full-report.pdf"


def test_a_paper_with_one_byte_changed_is_named(out):
    def change(members):
        members[PAPER] = one_byte(members[PAPER])
    assert f"{PAPER}: is not the file that the manifest names" in verified(changed_zip(out, change))

    def both(members):
        change(members)
        in_manifest(members, PAPER)
    assert f"{PAPER}: is not the paper that was closed" in verified(changed_zip(out, both))


def test_a_byte_of_the_bundle_itself_is_named_by_its_member(out):
    """The paper lies in the file as it is, so that a byte of it can be flipped where it lies on the disk."""
    data = (out / "job.zip").read_bytes()
    at = data.index(b"%PDF-") + 3000
    (out / "flipped.zip").write_bytes(one_byte(data, at))
    assert PAPER.rsplit("/", 1)[0] in verified(out / "flipped.zip")


@pytest.mark.parametrize(("what", "told"), [
    (lambda m: m.pop(PAPER), f"{PAPER}: stands in the manifest and is missing"),
    (lambda m: m.update({"more.txt": b"x"}), "more.txt: does not stand in the manifest"),
    (lambda m: m.update({"readings.csv": b"x"}), "readings.csv: is not the file"),
    (lambda m: m.pop("manifest.json"), "holds no manifest.json"),
    (lambda m: m.update({"manifest.json": b"{"}), "manifest.json is no JSON"),
    (lambda m: m.update({"manifest.json": b"[]"}), "does not begin with"),
    (lambda m: m.update({"record.json": b"x"}), "record.json"),
    (lambda m: m.update({"record.yaml": b"x: ["}), "record.yaml"),
])
def test_what_is_missing_or_strange_in_a_bundle_is_named(out, what, told):
    assert told in verified(changed_zip(out, what))


def test_a_closing_cut_out_of_a_bundle_is_missed(out):
    def change(members):
        log = log_of(out)[:COVERED]
        members["record.yaml"] = write_job([event.stored(n, "") for n, event in enumerate(log, 1)]).encode()
        in_manifest(members, "record.yaml")
    assert "the closing 'closed:1' is missing in the record" in verified(changed_zip(out, change))


def test_record_and_json_of_a_bundle_must_say_the_same(out):
    def change(members):
        log = log_of(out)
        log[4] = replace(log[4], by="x")
        members["record.json"] = write_record(log, closed.JOB).encode()
        in_manifest(members, "record.json")
    assert "record.json: event 5 (" in verified(changed_zip(out, change))


def test_a_file_that_is_cut_off_is_told_and_never_a_traceback(out):
    data = (out / "job.zip").read_bytes()
    for length in (0, 10, 400, len(data) // 2, len(data) - 5):
        (out / "cut.zip").write_bytes(data[:length])
        assert run("verify", out / "cut.zip").status == 2


def test_a_bundle_is_proved_without_the_tool_as_its_readme_says(out):
    """Step 3 of the README, with nothing but SHA-256 and the lines under `log:`."""
    from yaml import safe_load

    with zipfile.ZipFile(out / "job.zip") as file:
        manifest = json.loads(file.read("manifest.json"))
        for name, said in manifest["files"].items():
            assert hashlib.sha256(file.read(name)).hexdigest() == said["sha256"]
        lines = safe_load(file.read("record.yaml"))["log"]
        readme = file.read("README.txt").decode()
    chain = b""
    for number, line in enumerate(lines, 1):
        chain = hashlib.sha256(chain + hashlib.sha256(line.encode()).digest()).digest()
        if number == manifest["closings"][0]["events"]:
            assert chain.hex() == manifest["closings"][0]["hash"] and chain.hex() in readme
    assert chain.hex() == manifest["checksum"]


def test_the_same_record_gives_the_same_bundle(shop, out, tmp_path):
    assert run("export", closed.JOB, "--data", shop / "store", "--out", tmp_path / "again.zip").status == 0
    assert (tmp_path / "again.zip").read_bytes() == (out / "job.zip").read_bytes()


def test_a_store_whose_paper_was_changed_or_lost_is_told(shop, tmp_path):
    shutil.copytree(shop / "store", tmp_path / "store")
    assert run("verify", tmp_path / "store").status == 0
    paper = next((tmp_path / "store" / "papers").rglob("*.pdf"))
    paper.write_bytes(one_byte(paper.read_bytes()))
    assert "of closed:1: paper" in verified(tmp_path / "store")
    paper.unlink()
    assert "the store has no paper" in verified(tmp_path / "store")
    assert "name its export" in refused(run("verify", tmp_path / "store", "--hash", "0" * 16))


def test_a_job_goes_with_its_papers_into_another_store_and_is_proved_there(out, tmp_path):
    other = tmp_path / "other"
    assert run("import", out / "job.yaml", "--data", other).status == 0
    assert run("verify", other).status == 0
    assert run("export", closed.JOB, "--data", other, "--out", tmp_path / "again.zip").status == 0
    with zipfile.ZipFile(tmp_path / "again.zip") as one, zipfile.ZipFile(out / "job.zip") as two:
        assert one.namelist() == two.namelist()
        same = set(one.namelist()) - {"events.csv", "manifest.json"}  # these tell when this store received them
        assert [name for name in same if one.read(name) != two.read(name)] == []


def test_a_file_by_hand_still_proves_nothing(tmp_path):
    assert "has no `log:`" in refused(run("verify", write(tmp_path)))


def test_entries_of_the_log_are_canonical(out):
    assert all(from_canonical(canonical(event)) == event for event in log_of(out))
