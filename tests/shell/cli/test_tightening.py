"""`tighten`: the table, the contract for machines, the setting behind an extension, and what is at fault."""

import json

import pytest

from shell.cli.command import run
from witnessmark.shell.demo import write_demo


@pytest.fixture(scope="module")
def jobs(tmp_path_factory):
    return {path.stem: str(path) for path in write_demo(tmp_path_factory.mktemp("demo"))}


def test_the_contract(jobs):
    answer = run("tighten", jobs["tern"], "--json")
    assert answer.status == 0
    data = json.loads(answer.out)
    assert {"stages", "bolts", "cautions"} <= set(data)
    assert [one["kind"] for one in data["stages"]] == ["torque", "angle", "angle"]
    assert data["stages"][0] | {"torque": "25", "unit": "N·m", "angle": None} == data["stages"][0]
    assert data["stages"][1]["order"] == [str(n) for n in range(1, 11)]
    assert data["renew"]["count"] == 10


def test_a_person_gets_a_table(jobs):
    said = run("tighten", jobs["egret"], "--joint", "right_head").out
    assert "again 70 lbf·ft, after the first warm-up, cold again" in said
    assert "cyl. 4 to 6" in said
    assert "service information governs" in said


def test_loosening_is_the_reverse(jobs):
    said = run("tighten", jobs["wren"], "--loosen").out
    assert "all a little first: 4 3 2 1" in said


@pytest.mark.parametrize(("job", "words", "dial"), [
    ("tern", ("--wrench", "W-01", "--extension", "60mm"), "21.7 N·m"),
    ("egret", ("--wrench", "W-2", "--extension", "4 in", "--angle", "0"), "24.0 lbf·ft"),
    ("egret", ("--wrench", "W-2", "--extension", "4 in", "--angle", "90"), "30.0 lbf·ft")])  # fmt: skip
def test_the_setting_to_dial_in(jobs, job, words, dial):
    assert f"Dial in {dial}" in run("tighten", jobs[job], *words).out
    assert json.loads(run("tighten", jobs[job], *words, "--json").out)["dial"][0]["dial"] == dial


@pytest.mark.parametrize(("words", "told"), [
    (("--joint", "hed"), "did you mean 'head'"), (("--extension", "60mm"), "lever of the wrench"),
    (("--wrench", "W-01", "--extension", "sixty"), "cannot be read"),
    (("--wrench", "W-01", "--extension", "500 mm", "--angle", "180"), "reaches back")])  # fmt: skip
def test_faults_are_sentences_with_status_two(jobs, words, told):
    answer = run("tighten", jobs["tern"], *words)
    assert answer.status == 2
    assert told in answer.err
    assert "Traceback" not in answer.err


def test_papers_of_each_joint_filled_blank_and_the_steps(jobs, tmp_path):
    said = run("papers", jobs["wren"], "--out", str(tmp_path), "--tightening", "--blank-tightening", "--assembly")
    assert said.status == 0, said.err
    names = {path.name.partition("-")[2].partition("-")[2] for path in tmp_path.iterdir()}
    assert names == {"tightening-head.pdf", "blank-tightening-head.pdf", "assembly.pdf"}
    assert all(path.read_bytes().startswith(b"%PDF") for path in tmp_path.iterdir())
