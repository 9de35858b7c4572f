"""Photos in the store: named by what is in them, whole or not there, damage told, taken along by a backup."""

import hashlib
import json
import os
import shutil
import subprocess
import sys
import threading

import pytest

from shell.store.shop import NOW, PATH, child, reading
from witnessmark.record.event import Event
from witnessmark.shell.store.fault import StoreDamaged, StoreFull, StoreReadOnly, StoreUnreachable
from witnessmark.shell.store.photos import NoSuchPhoto, NotPhoto, Photos
from witnessmark.shell.store.store import FILE, Store

LINUX = pytest.mark.skipif(sys.platform != "linux", reason="limits and mounts of Linux")


def jpeg(seed=0, size=5_000):
    """Bytes that begin as a JPEG does; what is in them is the shell's business, not the store's."""
    return b"\xff\xd8\xff" + seed.to_bytes(4, "big") * (size // 4)


def added(photo, id="p1"):
    body = {"photo": photo, "type": "image/jpeg", "bytes": 5003, "width": 40, "height": 30, "about": {"place": "inl-3f"}}
    return Event(id, "photo_added", body, at=NOW, device="tablet")


@pytest.fixture
def store(tmp_path):
    opened = Store.open(tmp_path / "shop")
    opened.create("HL-1", created_at=NOW)
    yield opened
    opened.close()


def files(store):
    return sorted(path.name for path in store.photos.folder.rglob("*") if path.is_file())


def test_a_photo_comes_back_by_its_hash_and_lies_under_its_first_two_digits(store):
    photo = store.photos.put(jpeg())
    assert photo == hashlib.sha256(jpeg()).hexdigest()
    assert store.photos.get(photo) == jpeg()
    assert store.photos.path(photo) == store.folder / "photos" / photo[:2] / f"{photo}.jpg"
    assert photo in store.photos and list(store.photos.names()) == [photo]


def test_the_same_photo_twice_is_one_file_that_is_not_written_again(store):
    photo = store.photos.put(jpeg())
    before = store.photos.path(photo).stat().st_mtime_ns
    assert store.photos.put(jpeg()) == photo
    assert (files(store), store.photos.path(photo).stat().st_mtime_ns) == ([f"{photo}.jpg"], before)


def test_two_devices_that_send_one_photo_at_once_leave_one_whole_file(store):
    found = []
    threads = [threading.Thread(target=lambda: found.append(store.photos.put(jpeg(7, 400_000)))) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(found) == 8 and len(set(found)) == 1
    assert files(store) == [f"{found[0]}.jpg"]
    assert store.photos.get(found[0]) == jpeg(7, 400_000)


@pytest.mark.parametrize("bytes", [b"", b"a letter", b"\x89PNG", b"\xff\xd8\xff" + bytes(10_000_000)])
def test_what_is_no_prepared_photo_is_not_kept(store, bytes):
    with pytest.raises(NotPhoto, match="prepare the photo first"):
        store.photos.put(bytes)
    assert files(store) == []


@pytest.mark.parametrize("name", ["", "../../etc/passwd", "A" * 64, "a" * 63, "g" * 64, "a" * 64 + "\n", "a/" * 32])
def test_a_name_that_is_no_hash_leads_nowhere(store, name):
    with pytest.raises(NotPhoto, match="no hash of a photo"):
        store.photos.get(name)


def test_a_photo_that_is_not_there_or_not_what_it_was_is_told(store):
    with pytest.raises(NoSuchPhoto, match="the store has no photo aaaaaaaaaaaaaaaa"):
        store.photos.get("a" * 64)
    photo = store.photos.put(jpeg())
    store.photos.path(photo).write_bytes(jpeg()[:-1])
    with pytest.raises(StoreDamaged, match="is not what was stored"):
        store.photos.get(photo)
    assert store.photos.put(jpeg()) == photo, "the same photo again mends the file"
    assert store.photos.get(photo) == jpeg()


def test_the_check_holds_every_photo_that_the_log_names_against_its_name(store):
    first, second, third = (store.photos.put(jpeg(n)) for n in (1, 2, 3))
    store.photos.put(jpeg(4))  # nobody names it, so nobody misses it
    store.append("HL-1", [added(first), reading(1, photos=[second, third]), added(second, "p2")], NOW)
    assert store.check() == []
    store.photos.path(first).unlink()
    damaged = bytearray(jpeg(2))
    damaged[100] ^= 1
    store.photos.path(second).write_bytes(damaged)
    found = store.check()
    assert [sentence[:51] for sentence in found] == [
        "job HL-1, event number 1 names a photo: the store h", "job HL-1, event number 2 names a photo: photo " + second[:5]]


def test_an_event_that_names_rubbish_for_a_photo_is_no_trouble_of_the_store(store):
    store.append("HL-1", [added(["x"]), reading(1, photos="none"), reading(2, photos=[{}, 3]), added(None, "p2")], NOW)
    assert store.check() == []


def test_a_store_that_is_only_read_gives_photos_and_takes_none(store):
    photo = store.photos.put(jpeg())
    other = Store.open(store.folder, only_read=True)
    assert other.photos.get(photo) == jpeg()
    with pytest.raises(StoreReadOnly, match="opened for reading only"):
        other.photos.put(jpeg(2))
    other.close()


def test_a_file_where_the_folder_of_photos_belongs_is_told(store):
    store.photos.folder.write_text("x")
    with pytest.raises(StoreUnreachable):
        store.photos.put(jpeg())


def test_a_backup_takes_the_photos_along_and_is_a_store_of_its_own(store, tmp_path):
    photos = [store.photos.put(jpeg(n)) for n in range(3)]
    store.append("HL-1", [added(photo, f"p{n}") for n, photo in enumerate(photos)], NOW)
    target = tmp_path / "copy" / FILE
    target.parent.mkdir()
    store.backup(target)
    shutil.rmtree(store.photos.folder)
    copy = Store.open(target.parent)
    assert (copy.check(), [copy.photos.get(photo) for photo in photos]) == ([], [jpeg(n) for n in range(3)])
    copy.close()


def test_a_photo_that_is_damaged_does_not_stop_the_backup_of_the_rest(store, tmp_path):
    good, bad = store.photos.put(jpeg(1)), store.photos.put(jpeg(2))
    store.append("HL-1", [added(good), added(bad, "p2")], NOW)
    store.photos.path(bad).write_bytes(b"rubbish")
    target = tmp_path / "copy" / FILE
    target.parent.mkdir()
    store.backup(target)
    copy = Store.open(target.parent, only_read=True)
    assert (good in copy.photos, bad in copy.photos, len(copy.check())) == (True, False, 1)
    copy.close()


def test_a_backup_whose_photos_find_no_place_leaves_no_half_copy(store, tmp_path):
    store.append("HL-1", [added(store.photos.put(jpeg()))], NOW)
    target = tmp_path / "copy" / FILE
    target.parent.mkdir()
    (target.parent / "photos").write_text("in the way")
    with pytest.raises(StoreUnreachable):
        store.backup(target)
    assert not target.exists()


CUT = """
import os, sys
from pathlib import Path
real = os.fsync
def fsync(handle):  # the power goes while the photo is on its way to the disk
    os._exit(9) if any(Path(sys.argv[1]).rglob("*.draft")) else real(handle)
os.fsync = fsync
from witnessmark.shell.store.store import Store
store = Store.open(sys.argv[1])
store.photos.put(b"\\xff\\xd8\\xff" + bytes(5000))
"""


def test_a_photo_cut_off_on_its_way_to_the_disk_is_not_there_and_leaves_nothing_behind(store):
    folder = store.folder
    store.close()
    process = child(CUT, folder)
    process.communicate(timeout=60)
    assert process.returncode == 9
    left = [path.suffix for path in (folder / "photos").rglob("*") if path.is_file()]
    assert left == [".draft"], "the photo for this test was cut off half way"
    again = Store.open(folder)
    assert (list(again.photos.names()), files(again)) == ([], [])
    again.close()


ORDER = """
import os, sys
from pathlib import Path
from witnessmark.shell.store import photos
said = []
real_sync, real_synced, real_replace = os.fsync, photos.synced, Path.replace
def fsync(handle):
    said.append("sync file"); real_sync(handle)
def synced(folder):
    said.append("sync folder"); real_synced(folder)
def replace(draft, path):
    said.append("name"); return real_replace(draft, path)
photos.os.fsync, photos.synced, Path.replace = fsync, synced, replace
photos.Photos(Path(sys.argv[1])).put(b"\\xff\\xd8\\xff" + bytes(5000))
print(said)
"""


def test_a_photo_is_on_the_disk_before_it_has_its_name_and_its_name_before_put_returns(tmp_path):
    said, complaints = child(ORDER, tmp_path / "photos").communicate(timeout=60)
    assert complaints == ""
    steps = said.strip(" []\n'").split("', '")
    named = steps.index("name")
    assert "sync file" in steps[:named] and "sync folder" in steps[named:]


FULL = """
import json, resource, signal, sys
from pathlib import Path
from witnessmark.shell.store.fault import StoreFault
from witnessmark.shell.store.photos import Photos
folder, how = Path(sys.argv[1]), sys.argv[2]
photos = Photos(folder / "photos")
def jpeg(n):
    return b"\\xff\\xd8\\xff" + n.to_bytes(4, "big") * 50_000
if how == "limit":
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (150_000, resource.RLIM_INFINITY))
kept, refusal = [], None
while refusal is None and len(kept) < 100:
    try:
        kept.append(photos.put(jpeg(len(kept))))
    except StoreFault as bad:
        refusal = type(bad).__name__, str(bad)
lying = [path.name for path in (folder / "photos").rglob("*") if path.is_file()]
print(json.dumps({"kept": kept, "refusal": refusal, "lying": lying, "faults": [photos.fault(one) for one in kept]}))
"""


def full(process):
    said, complaints = process.communicate(timeout=60)
    assert complaints == ""
    told = json.loads(said)
    assert told["refusal"], "the disk never filled"
    assert sorted(told["lying"]) == sorted(f"{photo}.jpg" for photo in told["kept"]), "half a photo was left"
    assert set(told["faults"]) <= {""}
    return told


@LINUX
def test_a_photo_that_may_not_grow_is_refused_with_a_sentence(tmp_path):
    kind, sentence = full(child(FULL, tmp_path, "limit"))["refusal"]
    assert kind == "StoreFull"
    assert "nothing was stored: free some space" in sentence


@LINUX
def test_on_a_full_disk_a_photo_is_refused_and_those_before_are_sound(tmp_path):
    disk = ["unshare", "--mount", "sh", "-c", 'mount -t tmpfs -o size=1500k tmpfs "$0" && exec "$@"', str(tmp_path)]
    tried = shutil.which("unshare") and subprocess.run([*disk, "true"], capture_output=True, check=False)
    if not tried or tried.returncode != 0:
        pytest.skip("NOT TESTED HERE: a really full disk (mounting a small one is not permitted)")
    process = subprocess.Popen([*disk, sys.executable, "-c", FULL, str(tmp_path), "disk"], text=True,
                               stdout=subprocess.PIPE, stderr=subprocess.PIPE, env={**os.environ, "PYTHONPATH": PATH})
    told = full(process)
    assert told["refusal"][0] == "StoreFull" and len(told["kept"]) >= 3


def test_errors_of_the_disk_are_sentences(store, monkeypatch):
    def refuse(*_):
        raise OSError(28, "No space left on device")
    monkeypatch.setattr("witnessmark.shell.store.photos.os.fsync", refuse)
    with pytest.raises(StoreFull, match="there is no space left for the store; nothing was stored"):
        store.photos.put(jpeg())
    assert files(store) == []


def test_photos_of_a_folder_that_is_not_there_are_none(tmp_path):
    photos = Photos(tmp_path / "nowhere")
    assert list(photos.names()) == []
    photos.tidy()
    assert not (tmp_path / "nowhere").exists()
