"""`trace`: the table, the contract for machines, folders, and what is at fault."""

import json

import pytest

from desk.test_traces import csv
from shell.cli.command import BANNED, run


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    found = tmp_path_factory.mktemp("traces")
    for n in range(1, 11):
        slope = 700 + 3 * n + 400 * (n == 4)
        (found / f"bolt-{n}.csv").write_text(csv(n, slope=slope), "utf-8")
    (found / "notes.md").write_text("no trace", "utf-8")
    return found


def test_the_contract(folder):
    answer = run("trace", folder, "--json")
    assert answer.status == 0
    data = json.loads(answer.out)
    assert data["units"] == {"angle": "deg", "torque": "N·mm", "slope": "N·mm/deg"}
    assert [one["bolt"] for one in data["bolts"]] == [str(n) for n in range(1, 11)]
    assert data["bolts"][0]["points"]["snug"]["angle"] == pytest.approx(40, abs=1)
    assert data["bolts"][0]["points"]["yield"] == {
        "angle": None, "torque": None, "doubt": None, "reason": "the slope has not fallen to half; not tightened to yield"
    }  # fmt: skip
    assert data["set"]["slope"]["count"] == 10
    assert {one["bolt"] for one in data["unlike"]} == {"4"}
    assert "torque_apart" in {one["id"] for one in data["signatures"]}


def test_a_person_gets_a_table_in_either_unit(folder):
    metric = run("trace", folder).out
    assert "final N·m" in metric
    assert "scaled median deviation" in metric
    assert "! Bolt 4 ended at" in metric
    assert "not tightened to yield (every bolt)" in metric
    assert "final lbf·ft" in run("trace", folder / "bolt-1.csv", folder / "bolt-2.csv", "--unit", "lbf·ft").out


def test_one_file_has_no_set(folder):
    said = run("trace", folder / "bolt-4.csv").out
    assert "five at least" in said
    assert "median" not in said


def test_faults_are_told_with_file_and_line(tmp_path, folder):
    bad, twice = tmp_path / "bolt-1.csv", tmp_path / "twice.csv"
    bad.write_text("angle (deg),torque (mm)\n1,2\n", "utf-8")
    twice.write_text(csv(1) + csv(2).split("\n", 1)[1], "utf-8")
    answer = run("trace", bad, twice, tmp_path / "none.csv")
    assert answer.status == 2
    assert f"{bad}:1: 'mm' is the unit of a length" in answer.err
    assert f"{twice}:" in answer.err
    assert "run 1 to 2" in answer.err
    assert "none.csv: there is no such file" in answer.err
    assert not [word for word in BANNED if word in answer.all]
    assert run("trace", twice, "--run", "2").status == 0
    (tmp_path / "empty").mkdir()
    assert "holds no file" in run("trace", tmp_path / "empty").err
    both = run("trace", folder / "bolt-1.csv", folder / "bolt-1.csv")
    assert both.status == 2
    assert "bolt 1 has two traces" in both.err
    assert run("trace").status == 2
