"""Versions of the store's file: an older one is led forward, a newer one is refused."""

import pytest
from sqlalchemy import create_engine, inspect, text

from witnessmark.shell.store.fault import StoreDamaged, StoreNewer
from witnessmark.shell.store.tables import META, STEPS, migrate, version_of


@pytest.fixture
def connection():
    with create_engine("sqlite://").connect() as opened:
        yield opened


def test_a_new_file_gets_the_newest_version_and_a_second_time_changes_nothing(connection):
    assert version_of(connection) == 0
    assert migrate(connection) == len(STEPS)
    assert migrate(connection) == version_of(connection) == len(STEPS)


def test_the_steps_lead_to_the_tables_that_the_program_uses(connection):
    migrate(connection)
    found = inspect(connection)
    for table in META.sorted_tables:
        assert {column["name"]: bool(column["nullable"]) for column in found.get_columns(table.name)} == {
            column.name: bool(column.nullable) for column in table.columns}
    assert sorted(tuple(unique["column_names"]) for unique in found.get_unique_constraints("event")) == [
        ("job", "id"), ("job", "seq")]


def test_a_later_step_is_taken_once(connection):
    migrate(connection)

    def second(inside):
        inside.execute(text("ALTER TABLE job ADD COLUMN closed_at TEXT"))
    assert migrate(connection, [*STEPS, second]) == len(STEPS) + 1
    assert migrate(connection, [*STEPS, second]) == len(STEPS) + 1


def test_a_file_of_a_newer_program_is_refused(connection):
    migrate(connection)
    connection.execute(text("UPDATE store_version SET version = 99"))
    with pytest.raises(StoreNewer, match="version 99, and this program knows versions up to"):
        migrate(connection)


def test_a_file_that_does_not_say_its_version_is_told(connection):
    migrate(connection)
    connection.execute(text("DELETE FROM store_version"))
    with pytest.raises(StoreDamaged, match="does not say which version"):
        version_of(connection)
