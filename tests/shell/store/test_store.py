"""The store: stored before it is said, nothing twice, nothing half, numbers without gaps."""

import sqlite3
import threading
import time

import pytest

from shell.store.shop import NOW, child, reading
from witnessmark.record.event import Event, EventFault
from witnessmark.record.replay import replay
from witnessmark.shell.store.fault import (
    JobExists,
    JobIdRefused,
    NoSuchJob,
    OtherBytes,
    StoreClosed,
    StoreDamaged,
    StoreFull,
    StoreLocked,
    StoreReadOnly,
    StoreUnreachable,
    TooMany,
)
from witnessmark.shell.store.store import FILE, Store, old_sqlite


@pytest.fixture
def store(tmp_path):
    opened = Store.open(tmp_path / "shop")
    opened.create("HL-1", created_at=NOW, title="Tern 2.0")
    yield opened
    opened.close()


def test_events_get_the_next_numbers_of_their_job(store):
    store.create("HL-2", created_at=NOW)
    done = store.append("HL-1", [reading(1), reading(2)], NOW)
    assert [event.seq for event in done.stored] == [1, 2]
    assert [event.seq for event in store.append("HL-2", [reading(1)], NOW).stored] == [1]
    assert [event.seq for event in store.append("HL-1", [reading(3)], NOW).stored] == [3]
    assert store.events("HL-1", after=1) == (done.stored[1], store.events("HL-1")[2])


def test_an_event_comes_back_as_it_was_with_its_bytes_as_they_came(store):
    odd = Event("é1", "noted", {"about": "inl-3f", "text": "a\r\nb\u2028\ufffd \U0001f527"},
                received="as\r\n\u2028 it came")
    store.append("HL-1", [odd], NOW)
    assert store.events("HL-1")[0] == odd.stored(1, NOW)


def test_the_same_event_again_is_no_fault_and_stores_nothing(store):
    first = store.append("HL-1", [reading(1)], NOW)
    again = store.append("HL-1", [reading(1)], "2026-11-25T10:00:00Z")
    assert (again.again, again.stored, again.events) == (True, (), first.stored)
    assert len(store.events("HL-1")) == 1
    some = store.append("HL-1", [reading(1), reading(2), reading(2)], NOW)
    assert (some.again, [event.id for event in some.stored], [event.seq for event in some.events]) == (
        False, ["r2"], [1, 2, 2])


def test_without_bytes_as_received_the_content_is_compared(store):
    bare = Event("n1", "noted", {"about": "x", "text": "one"})
    store.append("HL-1", [bare], NOW)
    assert store.append("HL-1", [bare], NOW).again
    with pytest.raises(OtherBytes):
        store.append("HL-1", [Event("n1", "noted", {"about": "x", "text": "two"})], NOW)


def test_other_bytes_under_a_known_id_are_refused_and_nothing_of_the_request_is_stored(store):
    store.append("HL-1", [reading(1)], NOW)
    with pytest.raises(OtherBytes, match="event 'r1' is stored already with other content"):
        store.append("HL-1", [reading(2), reading(1, raw="5.9")], NOW)
    with pytest.raises(OtherBytes):
        store.append("HL-1", [reading(3), reading(3, raw="5.9")], NOW)
    assert [event.id for event in store.events("HL-1")] == ["r1"]
    assert store.append("HL-1", [reading(2)], NOW).stored[0].seq == 2


def test_an_event_that_cannot_be_kept_is_refused_at_the_door(store):
    with pytest.raises(EventFault, match="NUL"):
        store.append("HL-1", [reading(1), Event("n", "noted", {"about": "x", "text": "\0"})], NOW)
    with pytest.raises(EventFault, match="received: holds a NUL"):
        store.append("HL-1", [Event("n", "noted", {}, received="\0")], NOW)
    assert store.events("HL-1") == ()


def test_an_unknown_job_is_told(store):
    with pytest.raises(NoSuchJob, match="no job 'HL-9'"):
        store.append("HL-9", [reading(1)], NOW)
    with pytest.raises(NoSuchJob):
        store.events("HL-9")
    with pytest.raises(NoSuchJob):
        store.job("HL-9")


def test_a_job_is_created_once_and_with_its_first_events_in_one_commit(store):
    assert store.create("HL-2", created_at=NOW, events=[reading(1)]).stored[0].seq == 1
    with pytest.raises(JobExists, match="already has a job 'HL-2'"):
        store.create("HL-2", created_at=NOW, events=[reading(2)])
    with pytest.raises(OtherBytes):
        store.create("HL-3", created_at=NOW, events=[reading(1), reading(1, raw="5.9")])
    assert [one.id for one in store.jobs()] == ["HL-1", "HL-2"]


@pytest.mark.parametrize("id", ["", "../x", "a b", "x" * 81, "-x", "a\0", "a\n", ".x"])
def test_what_cannot_be_the_id_of_a_job_is_refused(store, id):
    with pytest.raises(JobIdRefused, match="cannot be the id of a job"):
        store.create(id, created_at=NOW)


def test_jobs_are_listed_with_their_last_number(store):
    store.create("HL-2", created_at="2026-11-26T09:00:00Z", title="Egret 5.0", events=[reading(1), reading(2)])
    assert [(one.id, one.title, one.seq) for one in store.jobs()] == [("HL-2", "Egret 5.0", 2), ("HL-1", "Tern 2.0", 0)]


def test_the_snapshot_follows_the_events(store):
    store.append("HL-1", [reading(1)], NOW)
    first = store.job("HL-1")
    assert store.job("HL-1") is first
    store.append("HL-1", [reading(2)], NOW)
    assert [one.id for one in store.job("HL-1").readings] == ["r1", "r2"]
    for number in range(20):
        store.create(f"J{number}", created_at=NOW, events=[reading(number)])
        assert store.job(f"J{number}").readings[0].id == f"r{number}"
    assert [one.id for one in store.job("HL-1").readings] == ["r1", "r2"]


def test_the_snapshot_of_a_long_job_follows_too(store, monkeypatch):
    monkeypatch.setattr("witnessmark.shell.store.store.MOST_HELD", 3)
    for number in range(6):
        store.append("HL-1", [reading(number)], NOW)
        assert store.job("HL-1") == replay(store.events("HL-1"))
        assert store.job("HL-1") is store.job("HL-1")


def test_a_snapshot_that_was_made_late_does_not_replace_a_newer_one(store):
    store.append("HL-1", [reading(1)], NOW)
    store.job("HL-1")
    late = store._snapshots["HL-1"]
    store.append("HL-1", [reading(2)], NOW)
    newer = store.job("HL-1")
    assert store._keep("HL-1", late) is late.job
    assert store.job("HL-1") is newer


def test_a_request_for_which_there_is_no_space_takes_no_other_one_with_it(store):
    with store._write.begin() as connection:
        pages = connection.exec_driver_sql("pragma page_count").scalar()
    with store._write.connect() as connection:
        connection.exec_driver_sql(f"pragma max_page_count = {pages + 40}")
    held, go = threading.Event(), threading.Event()

    def hold(_events):
        held.set()
        go.wait(10)
    end = store.subscribe("HL-1", hold)
    store.append("HL-1", [reading(0)], NOW)
    assert held.wait(5)  # the writer stands still, so what comes now is committed together
    end()
    outcome = {}

    def add(name, events):
        try:
            outcome[name] = store.append("HL-1", events, NOW).stored[-1].seq
        except StoreFull as bad:
            outcome[name] = bad
    many = [reading(number, note="x" * 900) for number in range(100, 1100)]
    threads = [threading.Thread(target=add, args=("first", [reading(1)])),
               threading.Thread(target=add, args=("huge", many)),
               threading.Thread(target=add, args=("last", [reading(2)]))]
    for count, thread in enumerate(threads, 1):
        thread.start()
        while store._writer._queue.qsize() < count:
            time.sleep(0.001)
    go.set()
    for thread in threads:
        thread.join()
    assert (outcome["first"], outcome["last"]) == (2, 3)
    assert isinstance(outcome["huge"], StoreFull)
    assert [event.id for event in store.events("HL-1")] == ["r0", "r1", "r2"]


def test_listeners_are_told_after_the_commit_and_only_of_what_is_new(store):
    told, seen = [], []
    done = threading.Event()

    def listen(events):
        seen.append(len(store.events("HL-1")))
        told.extend(event.id for event in events)
        done.set()

    end = store.subscribe("HL-1", listen)
    store.append("HL-1", [reading(1)], NOW)
    assert done.wait(5)
    store.append("HL-1", [reading(1)], NOW)
    end()
    end()
    store.append("HL-1", [reading(2)], NOW)
    assert (told, seen) == (["r1"], [1])


def test_a_listener_that_raises_stops_nothing(store, caplog):
    store.subscribe("HL-1", lambda events: 1 / 0)
    store.append("HL-1", [reading(1)], NOW)
    assert store.append("HL-1", [reading(2)], NOW).stored[0].seq == 2
    assert "a listener to job HL-1 raised" in caplog.text


def test_eight_threads_append_at_once_and_no_number_is_missing(store):
    def add(thread):
        for number in range(25):
            store.append("HL-1", [reading(thread * 100 + number)], NOW)
    threads = [threading.Thread(target=add, args=(thread,)) for thread in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert [event.seq for event in store.events("HL-1")] == list(range(1, 201))
    assert store.check() == []


def test_readers_and_the_writer_do_not_wait_for_each_other(store):
    stop = threading.Event()
    faults = []

    def look():
        while not stop.is_set():
            seqs = [event.seq for event in store.events("HL-1")]
            if seqs != list(range(1, len(seqs) + 1)):
                faults.append(seqs)
            if store.job("HL-1").seq < (seqs[-1] if seqs else 0):
                faults.append("the snapshot is behind")
    readers = [threading.Thread(target=look) for _ in range(4)]
    for reader in readers:
        reader.start()
    for number in range(60):
        store.append("HL-1", [reading(2 * number), reading(2 * number + 1)], NOW)
    stop.set()
    for reader in readers:
        reader.join()
    assert faults == []


def test_a_second_opening_for_writing_is_refused_and_one_for_reading_is_not(store):
    with pytest.raises(StoreLocked, match=r"another process .*is writing to this store"):
        Store.open(store.folder)
    store.append("HL-1", [reading(1)], NOW)
    reader = Store.open(store.folder, only_read=True)
    assert len(reader.events("HL-1")) == 1
    store.append("HL-1", [reading(2)], NOW)
    assert len(reader.job("HL-1").readings) == 2
    with pytest.raises(StoreReadOnly, match="reading only"):
        reader.append("HL-1", [reading(3)], NOW)
    reader.close()


def test_another_process_is_refused_and_told_who_holds_the_store(store):
    other = child("import sys; from witnessmark.shell.store.store import Store\n"
                  "try: Store.open(sys.argv[1])\nexcept Exception as bad: print(type(bad).__name__, bad)", store.folder)
    said, complaints = other.communicate(timeout=30)
    assert complaints == ""
    assert said.startswith("StoreLocked")
    assert "another process (number " in said


def test_what_was_stored_is_there_after_closing_and_opening(store):
    store.append("HL-1", [reading(1)], NOW)
    store.close()
    store.close()
    for use in (lambda: store.events("HL-1"), lambda: store.append("HL-1", [], NOW), lambda: store.job("HL-1")):
        with pytest.raises(StoreClosed, match="open it again"):
            use()
    again = Store.open(store.folder)
    assert [event.id for event in again.events("HL-1")] == ["r1"]
    assert again.append("HL-1", [reading(2)], NOW).stored[0].seq == 2
    again.close()


def test_a_folder_may_have_any_name(tmp_path):
    odd = tmp_path / "shop ?mode=ro&x#1 %20 é"
    opened = Store.open(odd)
    opened.create("HL-1", created_at=NOW, events=[reading(1)])
    opened.close()
    assert (odd / FILE).exists()
    again = Store.open(odd, only_read=True)
    assert len(again.events("HL-1")) == 1
    again.close()


def test_too_many_events_at_once_are_refused(store, monkeypatch):
    monkeypatch.setattr("witnessmark.shell.store.store.MOST_EVENTS", 2)
    with pytest.raises(TooMany, match="3 events at once are more than 2; append them in portions"):
        store.append("HL-1", [reading(1), reading(2), reading(3)], NOW)


def test_two_thousand_events_in_one_request_are_one_commit(store):
    done = store.append("HL-1", [reading(number) for number in range(2000)], NOW)
    assert len(done.stored) == 2000
    assert store.append("HL-1", [reading(number) for number in range(2000)], NOW).again
    assert store.events("HL-1")[-1].seq == 2000


def test_a_folder_that_cannot_be_one_is_told(tmp_path):
    (tmp_path / "file").write_text("x")
    with pytest.raises(StoreUnreachable, match="cannot be opened"):
        Store.open(tmp_path / "file")
    with pytest.raises(StoreUnreachable, match="cannot be opened"):
        Store.open(tmp_path / "none", only_read=True)
    assert not (tmp_path / "none").exists()


@pytest.mark.parametrize("content", [b"no database at all, but long enough to be looked at" * 40, b"x" * 5])
def test_a_file_that_is_no_store_is_told_and_left_as_it_is(tmp_path, content):
    (tmp_path / FILE).write_bytes(content)
    with pytest.raises(StoreDamaged, match="not a sound store"):
        Store.open(tmp_path)
    with pytest.raises(StoreDamaged):
        Store.open(tmp_path, only_read=True)
    assert (tmp_path / FILE).read_bytes() == content


def test_a_database_of_somebody_else_is_told(tmp_path):
    other = sqlite3.connect(tmp_path / FILE)
    other.execute("create table customers (name text)")
    other.close()
    with pytest.raises(StoreDamaged, match="no store of this program"):
        Store.open(tmp_path)


@pytest.mark.parametrize(("damage", "says"), [
    ("update event set accepted = accepted || ' ' where seq = 2", "number 2: cannot be read"),
    ("delete from event where seq = 2", "event number 2 is missing before number 3"),
    ("delete from event where seq = 1", "event number 1 is missing before number 2"),
    ("update event set kind = 'noted' where seq = 3", "number 3: the column 'kind' is not what the event itself says"),
    ("update event set job = 'HL-7' where seq = 3", "points at a row of job that is not there"),
    ("update event set received = x'ff' where seq = 1", "number 1: cannot be read"),
])
def test_what_was_written_past_the_program_is_found(store, damage, says):
    store.append("HL-1", [reading(1), reading(2), reading(3)], NOW)
    assert store.check() == []
    past = sqlite3.connect(store.folder / FILE)
    past.execute(damage)
    past.commit()
    past.close()
    assert any(says in sentence for sentence in store.check())


def test_an_event_that_cannot_be_read_is_damage_and_no_traceback(store):
    store.append("HL-1", [reading(1)], NOW)
    past = sqlite3.connect(store.folder / FILE)
    past.execute("update event set accepted = '{}'")
    past.commit()
    past.close()
    with pytest.raises(StoreDamaged, match="a stored event cannot be read"):
        store.events("HL-1")


def test_a_backup_is_a_whole_store_made_while_in_use(store, tmp_path):
    store.append("HL-1", [reading(1), reading(2)], NOW)
    target = tmp_path / "copy" / FILE
    target.parent.mkdir()
    store.backup(target)
    store.append("HL-1", [reading(3)], NOW)
    assert [path.name for path in target.parent.iterdir()] == [FILE]
    with pytest.raises(StoreUnreachable, match="there is a file already"):
        store.backup(target)
    with pytest.raises(StoreUnreachable):
        store.backup(tmp_path / "nowhere" / FILE)
    copy = Store.open(target.parent)
    assert (len(copy.events("HL-1")), copy.check()) == (2, [])
    copy.close()


def test_an_old_sqlite_is_warned_of():
    assert old_sqlite((3, 51, 3)) == ()
    assert "SQLite 3.40.1 is older than 3.51.3" in old_sqlite((3, 40, 1))[0]


def test_the_store_writes_a_log_and_waits_for_the_disk(store):
    with store._write.begin() as connection:
        said = {name: connection.exec_driver_sql(f"pragma {name}").scalar()
                for name in ("journal_mode", "synchronous", "foreign_keys", "mmap_size")}
    assert (said["journal_mode"], said["synchronous"], said["foreign_keys"]) == ("wal", 2, 1)
    assert not said["mmap_size"]
