"""Papers of closed jobs in the store: kept once, held against their names, copied with a backup."""

import pytest

from witnessmark.shell.store.fault import StoreDamaged, StoreReadOnly
from witnessmark.shell.store.papers import NoSuchPaper, Papers
from witnessmark.shell.store.store import Store

PDF = b"%PDF-1.7 a paper"


def test_a_paper_is_kept_once_and_comes_back_byte_for_byte(tmp_path):
    papers = Papers(tmp_path)
    name = papers.put(PDF)
    assert papers.put(PDF) == name and papers.get(name) == PDF and list(papers.names()) == [name]
    assert papers.fault(name) == ""
    assert [path.name for path in tmp_path.rglob("*") if path.is_file()] == [f"{name}.pdf"]


def test_what_was_changed_or_is_not_there_is_told(tmp_path):
    papers = Papers(tmp_path)
    name = papers.put(PDF)
    (tmp_path / name[:2] / f"{name}.pdf").write_bytes(PDF + b"x")
    with pytest.raises(StoreDamaged, match="is not what was kept"):
        papers.get(name)
    assert papers.put(PDF) == name and papers.get(name) == PDF, "a damaged file is written anew"
    for other in ("0" * 64, "../../x"):
        with pytest.raises(NoSuchPaper, match="from the last backup"):
            papers.get(other)
    assert "from the last backup" in papers.fault("0" * 64)


def test_a_store_for_reading_keeps_nothing(tmp_path):
    with pytest.raises(StoreReadOnly, match="no paper was kept"):
        Papers(tmp_path, only_read=True).put(PDF)
    assert not list(tmp_path.iterdir())


def test_a_backup_takes_sound_papers_along(tmp_path):
    store = Store.open(tmp_path / "one")
    sound, damaged = store.papers.put(PDF), store.papers.put(PDF + b"2")
    (tmp_path / "one" / "papers" / damaged[:2] / f"{damaged}.pdf").write_bytes(b"x")
    (tmp_path / "two").mkdir()
    store.backup(tmp_path / "two" / "witnessmark.sqlite3")
    store.close()
    assert list(Papers(tmp_path / "two" / "papers").names()) == [sound]
