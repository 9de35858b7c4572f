"""The table that leads from the outside's exceptions to the store's own, row by row."""

import errno
import sqlite3

import pytest
from sqlalchemy import create_engine, text
from sqlalchemy.exc import TimeoutError as PoolTimeout

from witnessmark.shell.store import fault
from witnessmark.shell.store.fault import DATABASE, SENTENCES, SYSTEM, StoreFault, told, translated


def database_error(code):
    bad = sqlite3.OperationalError("as the database words it")
    bad.sqlite_errorcode = code
    return bad


@pytest.mark.parametrize("code", DATABASE)
def test_each_code_of_the_database_becomes_a_sentence(code):
    for full in (code, code | (3 << 8)):  # extended codes carry more in the upper bytes
        found = translated(database_error(full), "shop")
        assert type(found) is DATABASE[code]
        assert str(found) == f"shop: {SENTENCES[DATABASE[code]]}"


@pytest.mark.parametrize("number", SYSTEM)
def test_each_number_of_the_system_becomes_a_sentence(number):
    assert type(translated(OSError(number, "x"))) is SYSTEM[number]


def test_what_else_the_system_says_is_the_disk():
    assert type(translated(OSError(errno.ENXIO, "x"))) is fault.StoreStopped


def test_a_full_pool_is_too_much_at_once():
    assert type(translated(PoolTimeout())) is fault.StoreBusy


def test_a_bug_of_ours_is_not_dressed_up():
    assert translated(sqlite3.ProgrammingError("too few values")) is None
    assert translated(ValueError()) is None
    with pytest.raises(sqlite3.ProgrammingError), told():
        raise sqlite3.ProgrammingError("too few values")


def test_what_the_store_never_provokes_itself_is_damage_of_the_file():
    for code in (sqlite3.SQLITE_ERROR, sqlite3.SQLITE_CONSTRAINT, sqlite3.SQLITE_MISMATCH):
        assert type(translated(database_error(code))) is fault.StoreDamaged
    with pytest.raises(fault.StoreDamaged), told():
        b"\xff".decode()


def test_a_real_refusal_of_the_database_is_translated():
    engine = create_engine("sqlite://")
    with pytest.raises(fault.StoreFull), told(), engine.begin() as connection:
        connection.execute(text("pragma max_page_count = 2"))
        connection.execute(text("create table a (b)"))
        connection.execute(text("insert into a values (zeroblob(100000))"))
    with pytest.raises(fault.StoreReadOnly), told(), engine.begin() as connection:
        connection.execute(text("pragma query_only = on"))
        connection.execute(text("create table c (b)"))


def test_every_kind_of_fault_has_a_sentence_that_says_what_to_do():
    sentences = [*SENTENCES.values(), str(fault.NoSuchJob("x")), str(fault.JobExists("x")), str(fault.OtherBytes("x"))]
    assert all(":" in one or ";" in one for one in sentences)
    empty_words = ("invalid", "error occurred", "failed", "please")
    assert not [one for one in sentences if any(word in one for word in empty_words)]
    assert set(DATABASE.values()) | set(SYSTEM.values()) <= set(SENTENCES)
    assert all(issubclass(one, StoreFault) for one in SENTENCES)
