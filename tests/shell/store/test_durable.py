"""Stored before acknowledged: syncs counted, the log damaged, the disk filled, the process killed; nothing mocked."""

import json
import os
import random
import shutil
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from shell.store.shop import NOW, PATH, child, reading
from witnessmark.shell.store.fault import StoreFault
from witnessmark.shell.store.store import FILE, Store

LINUX = pytest.mark.skipif(sys.platform != "linux", reason="NOT TESTED HERE: needs Linux")

APPENDS = """
import os, sys
from shop import NOW, reading
from witnessmark.shell.store import connect
from witnessmark.shell.store.store import Store
book = os.open(os.environ["SYNCS_BOOK"], os.O_WRONLY | os.O_APPEND)
if sys.argv[2] == "careless":  # what would be seen if the store did not wait for the disk
    careful = connect._prepare
    connect._prepare = lambda engine, *pragmas: careful(engine, *[p.replace("FULL", "NORMAL") for p in pragmas])
store = Store.open(sys.argv[1])
store.create("HL-1", created_at=NOW)
for number in range(20):
    os.write(book, b"ask\\n")
    store.append("HL-1", [reading(number)], NOW)
    os.write(book, b"ack\\n")
os._exit(0)
"""


@pytest.fixture(scope="session")
def shim(tmp_path_factory):
    """The library that writes down writes and syncs; without a compiler this says loudly what is not tested."""
    compiler = shutil.which("gcc") or shutil.which("cc")
    if compiler is None or sys.platform != "linux":
        message = "NOT TESTED HERE: that events are synced before they are acknowledged (needs Linux and a C compiler)"
        if os.environ.get("CI"):
            pytest.fail(message)
        pytest.skip(message)
    library = tmp_path_factory.mktemp("shim") / "syncs.so"
    subprocess.run([compiler, "-shared", "-fPIC", "-O1", "-o", library, Path(__file__).with_name("syncs.c"), "-ldl"],
                   check=True)
    return library


def book_of(shim, folder, how):
    """What happened between each request and its acknowledgement: lists of (write or sync, file)."""
    book = folder / "book"
    book.touch()
    process = child(APPENDS, folder / "shop", how, LD_PRELOAD=str(shim), SYNCS_BOOK=str(book))
    said, complaints = process.communicate(timeout=60)
    assert (process.returncode, complaints) == (0, ""), said
    spans, open_span = [], None
    for line in book.read_text().splitlines():
        if line == "ask":
            open_span = []
        elif line == "ack":
            spans.append(open_span)
            open_span = None
        elif open_span is not None:
            what, _, path = line.partition(" ")
            open_span.append((what, Path(path).name))
    assert len(spans) == 20
    return spans


def test_each_event_is_written_and_synced_before_it_is_acknowledged(shim, tmp_path):
    log = f"{FILE}-wal"
    for span in book_of(shim, tmp_path, "careful"):
        of_log = [what for what, name in span if name == log]
        assert of_log.count("write") >= 1
        assert of_log[-1] == "sync", f"the log was written after its last sync: {span}"


def test_the_count_of_syncs_would_notice_a_store_that_does_not_wait(shim, tmp_path):
    log = f"{FILE}-wal"
    spans = book_of(shim, tmp_path, "careless")
    assert all(("write", log) in span for span in spans)
    assert sum(span.count(("sync", log)) for span in spans) < 20


@pytest.fixture
def grown(tmp_path):
    """A store's files as they lay on the disk, and the length of its log when each of its events was acknowledged."""
    folder = tmp_path / "grown"
    store = Store.open(folder)
    store.create("HL-1", created_at=NOW)
    log = folder / f"{FILE}-wal"
    lengths = [log.stat().st_size]
    for number in range(12):
        store.append("HL-1", [reading(2 * number), reading(2 * number + 1)], NOW)
        lengths.append(log.stat().st_size)
    kept = tmp_path / "kept"
    kept.mkdir()
    for name in (FILE, f"{FILE}-wal"):
        shutil.copy(folder / name, kept / name)
    store.close()
    return kept, lengths


def damaged(log: bytes, start: int, chance: random.Random) -> bytes:
    """The log with one of five injuries at or after `start`."""
    tail = bytearray(log[start:])
    kind = chance.randrange(5)
    if kind == 0 or not tail:
        return log[:start + chance.randrange(len(tail) + 1)]  # cut
    if kind == 1:
        for _ in range(chance.randrange(1, 9)):
            tail[chance.randrange(len(tail))] ^= 1 << chance.randrange(8)  # flipped bits
    elif kind == 2:
        begin = chance.randrange(len(tail))
        tail[begin:] = bytes(len(tail) - begin)  # zeros where nothing was written
    elif kind == 3:
        begin = chance.randrange(len(tail))
        tail[begin:] = chance.randbytes(len(tail) - begin)  # rubbish
    else:
        tail[:512] = log[:512]  # an old sector instead of the new one
    return log[:start] + bytes(tail)


def reopened(kept: Path, log: bytes, folder: Path) -> list[str]:
    """The ids that are found after a store is opened on this log; the store must be sound."""
    folder.mkdir()
    shutil.copy(kept / FILE, folder / FILE)
    (folder / f"{FILE}-wal").write_bytes(log)
    store = Store.open(folder)
    try:
        assert store.check() == []
        return [event.id for event in store.events("HL-1")]
    finally:
        store.close()
        shutil.rmtree(folder)


def test_damage_of_the_log_past_what_was_acknowledged_loses_nothing_acknowledged(grown, tmp_path):
    kept, lengths = grown
    log = (kept / f"{FILE}-wal").read_bytes()
    everything = [f"r{number}" for number in range(24)]
    chance = random.Random(20261125)
    shorter = 0
    for case in range(200):
        acknowledged = chance.randrange(len(lengths))
        injured = damaged(log, lengths[acknowledged], chance)
        found = reopened(kept, injured, tmp_path / f"case{case}")
        assert found == everything[:len(found)], case
        assert len(found) >= 2 * acknowledged, case
        assert len(found) % 2 == 0, "half of a request was found"
        shorter += len(found) < 24
    assert shorter > 100  # the injuries did reach what was not yet acknowledged


def test_damage_before_what_was_acknowledged_would_be_noticed(grown, tmp_path):
    kept, lengths = grown
    log = bytearray((kept / f"{FILE}-wal").read_bytes())
    log[lengths[6] - 100] ^= 1
    assert len(reopened(kept, bytes(log), tmp_path / "case")) < 12


FULL = """
import json, os, resource, signal, sys
from pathlib import Path
from shop import NOW, reading
from witnessmark.shell.store.fault import StoreFault
from witnessmark.shell.store.store import Store
folder, how = Path(sys.argv[1]), sys.argv[2]
if how == "limit":
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (700_000, resource.RLIM_INFINITY))
else:
    (folder / "ballast").write_bytes(bytes(400_000))
store = Store.open(folder / "shop")
store.create("HL-1", created_at=NOW)
stored, refusal = 0, None
while refusal is None and stored < 50_000:
    try:
        store.append("HL-1", [reading(2 * stored + part, note="x" * 900) for part in (0, 1)], NOW)
        stored += 1
    except StoreFault as bad:
        refusal = type(bad).__name__, str(bad)
during = [event.id for event in store.events("HL-1")]
if how == "limit":
    resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
else:
    (folder / "ballast").unlink()
store.append("HL-1", [reading(2 * stored + part, note="x" * 900) for part in (0, 1)], NOW)
after = [event.id for event in store.events("HL-1")]
print(json.dumps({"stored": stored, "refusal": refusal, "during": during, "after": after, "check": store.check()}))
store.close()
"""


def refused_when_full(process):
    said, complaints = process.communicate(timeout=120)
    assert complaints == ""
    told = json.loads(said)
    ids = [f"r{number}" for number in range(2 * told["stored"] + 2)]
    assert told["refusal"], "the disk never filled"
    assert told["stored"] > 10
    assert told["during"] == ids[:-2], "half of a refused request was stored, or an acknowledged one is gone"
    assert (told["after"], told["check"]) == (ids, [])
    return told["refusal"]


@LINUX
def test_a_file_that_may_not_grow_is_refused_with_a_sentence_and_the_store_goes_on_when_it_may(tmp_path):
    kind, sentence = refused_when_full(child(FULL, tmp_path, "limit"))
    assert kind in {"StoreFull", "StoreStopped"}
    assert "nothing was stored" in sentence


@pytest.fixture
def small_disk(tmp_path):
    """Run a program on a small disk of its own, in a private mount space that ends with it."""
    disk = ["unshare", "--mount", "sh", "-c", 'mount -t tmpfs -o size=1500k tmpfs "$0" && exec "$@"', str(tmp_path)]
    tried = shutil.which("unshare") and subprocess.run([*disk, "true"], capture_output=True, check=False)
    if not tried or tried.returncode != 0:
        pytest.skip("NOT TESTED HERE: a really full or read-only disk (mounting a small one is not permitted)")

    def run(program, *arguments):
        return subprocess.Popen([*disk, sys.executable, "-c", program, str(tmp_path), *arguments], text=True,
                                stdout=subprocess.PIPE, stderr=subprocess.PIPE, env={**os.environ, "PYTHONPATH": PATH})
    return run


@LINUX
def test_a_full_disk_is_refused_with_a_sentence_and_the_store_goes_on_when_there_is_space(small_disk):
    """Where mounting is not permitted the limit above must do."""
    kind, sentence = refused_when_full(small_disk(FULL, "disk"))
    assert kind == "StoreFull"
    assert sentence == "there is no space left for the store; nothing was stored: free some space and do it once more"


READ_ONLY = """
import subprocess, sys
from shop import NOW, reading
from witnessmark.shell.store.fault import StoreFault
from witnessmark.shell.store.store import Store
folder = sys.argv[1]
store = Store.open(folder + "/shop")
store.create("HL-1", created_at=NOW, events=[reading(1)])
store.close()
subprocess.run(["mount", "-o", "remount,ro", folder], check=True)
for name in ("/other", "/shop"):
    try:
        Store.open(folder + name)
        print("opened")
    except StoreFault as bad:
        print(type(bad).__name__, bad)
subprocess.run(["mount", "-o", "remount,rw", folder], check=True)
store = Store.open(folder + "/shop")
print(store.append("HL-1", [reading(2)], NOW).stored[0].seq, store.check())
"""


@LINUX
def test_a_disk_that_may_not_be_written_is_told_and_the_store_goes_on_when_it_may(small_disk):
    process = small_disk(READ_ONLY)
    said, complaints_ = process.communicate(timeout=60)
    assert complaints_ == ""
    *refusals, after = said.splitlines()
    assert len(refusals) == 2
    assert all(one.startswith("StoreReadOnly") and "may not be written here" in one for one in refusals)
    assert after == "2 []"


STREAM = """
import sys, threading
from shop import NOW, reading
from witnessmark.shell.store.store import Store
store = Store.open(sys.argv[1])
store.create("HL-1", created_at=NOW)
def add(thread):
    for number in range(100_000):
        event = reading(thread * 100_000 + number)
        store.append("HL-1", [event], NOW)
        sys.stdout.write(event.id + "\\n")
        sys.stdout.flush()
for thread in range(4):
    threading.Thread(target=add, args=(thread,), daemon=True).start()
threading.Event().wait()
"""


@LINUX
def test_a_process_killed_in_mid_stream_loses_nothing_acknowledged(tmp_path):
    process = child(STREAM, tmp_path / "shop")
    acknowledged = [process.stdout.readline().strip() for _ in range(400)]
    os.kill(process.pid, signal.SIGKILL)
    rest = process.stdout.read()
    process.communicate()
    acknowledged += [line for line in rest.split("\n")[:-1] if line]
    store = Store.open(tmp_path / "shop")
    found = store.events("HL-1")
    assert set(acknowledged) <= {event.id for event in found}
    assert [event.seq for event in found] == list(range(1, len(found) + 1))
    assert store.check() == []
    store.close()


def test_a_file_damaged_anywhere_is_told_in_sentences_and_never_as_a_traceback(tmp_path):
    folder = tmp_path / "shop"
    store = Store.open(folder)
    store.create("HL-1", created_at=NOW, events=[reading(number) for number in range(60)])
    store.close()
    whole = (folder / FILE).read_bytes()
    chance = random.Random(7)
    told = 0
    for _case in range(50):
        injured = bytearray(whole)
        start = chance.choice([0, 0, chance.randrange(len(whole))])  # the head of the file holds its tables
        for _ in range(chance.choice([1, 4, 60])):
            injured[min(start + chance.randrange(4096), len(whole) - 1)] = chance.randrange(256)
        (folder / FILE).write_bytes(injured[:chance.choice([len(whole), len(whole), chance.randrange(len(whole))])])
        told += bool(complaints(folder))
        for rest in folder.glob(f"{FILE}-*"):
            rest.unlink()
    assert told > 15


def complaints(folder):
    """What a store that was damaged says, as sentences; only faults of the store may come out of it."""
    try:
        store = Store.open(folder)
    except StoreFault as bad:
        return [str(bad)]
    said = []
    try:
        said += store.check()
        store.jobs()
        store.job("HL-1")
        store.append("HL-1", [reading(1000)], NOW)
    except StoreFault as bad:
        said.append(str(bad))
    finally:
        store.close()
    return said
