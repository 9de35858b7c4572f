"""Flat tables of a record: one row for each reading with its own verdict, each event, each turn of a bolt."""

import json
from functools import cache

from desk.worked import Desk
from shell.closed import bolts
from witnessmark.desk.tables import TABLES, table
from witnessmark.record.event import digest
from witnessmark.record.proof import links


@cache
def made(name):
    desk = Desk("tern")
    desk.add(*bolts())
    log = tuple(event.stored(number, "now") for number, event in enumerate(desk.log, 1))
    return desk.now, log, table(desk.now, log, name)


def rows(name):
    _, _, flat = made(name)
    return [dict(zip([column.name for column in flat.columns], row, strict=True)) for row in flat.rows]


def test_every_reading_has_its_row_with_the_digits_as_they_were_read():
    now, _, _ = made("readings")
    found = {row["id"]: row for row in rows("readings")}
    assert list(found) == [one.id for one in now.job.readings]
    for one in now.job.readings:
        row = found[one.id]
        assert (row["raw"], row["state"], row["by"] or "") == (one.raw, one.state, one.by)
        if one.meaning and one.meaning["kind"] == "number":
            assert row["value"] == one.meaning["value"]


def test_the_verdict_is_that_of_the_value_of_the_same_characteristic():
    now, _, _ = made("readings")
    found = {row["id"]: row for row in rows("readings")}
    judged = 0
    for result in now.judgement.results:
        for source in result.sources:
            row = found.get(source.reading)
            if row and row["characteristic"] == result.characteristic and result.verdict and result.rule != "spread":
                judged += row["verdict"] == result.verdict
    assert judged > 100
    assert {row["verdict"] for row in found.values()} >= {"out", "within", "too close to call", None}
    assert all(row["verdict"] is None for row in found.values() if row["state"] in ("superseded", "taken back"))


def test_events_carry_body_and_the_hash_of_their_bytes():
    _, log, _ = made("events")
    found = rows("events")
    assert len(found) == len(log) and digest(log)
    for row, event in zip(found, log, strict=True):
        assert json.loads(row["body"]) == json.loads(json.dumps(event.body)) and row["number"] == event.seq
    assert links(log) == "".join(row["sha256"][:16] for row in found)


def test_bolts_say_run_stage_torque_and_doubt():
    found = rows("bolts")
    assert [(row["bolt"], row["what"]) for row in found] == [("1", "turned"), ("2", "turned"), ("2", "in doubt")]
    assert (found[1]["stage"], found[1]["final_torque"], found[1]["unit"], found[1]["joint"]) == (1, "24.5", "N·m", "head")
    assert found[2]["why"] == "lost count"


def test_every_table_has_one_cell_for_each_column():
    for name in TABLES:
        _, _, flat = made(name)
        assert flat.rows and {len(row) for row in flat.rows} == {len(flat.columns)}
