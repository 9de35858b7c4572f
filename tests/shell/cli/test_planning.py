"""`ledger`, `plan` and `fit` on the invented heads: words for people, data for machines, and what cannot be done."""

import json

import pytest

from shell.cli.command import refused, run
from witnessmark.shell.demo import write_demo

NAMES = ("tern", "egret", "wren", "petrel")


@pytest.fixture(scope="module")
def heads(tmp_path_factory):
    """Job files by name."""
    return {path.stem: path for path in write_demo(tmp_path_factory.mktemp("demo")) if path.stem in NAMES}


def data(*words):
    said = run(*words, "--json")
    assert said.status == 0, said.all
    return json.loads(said.out, parse_constant=lambda text: pytest.fail(f"{text} is no JSON"))


def test_all_four_heads_are_there(heads):
    assert set(heads) == set(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_each_head_has_a_plan_in_words_with_reasons_and_what_governs(heads, name):
    said = run("plan", heads[name])
    assert said.status == 0 and "right first time" in said.out and "service information" in said.out
    assert "Traceback" not in said.all and "nan" not in said.out.lower().split()


@pytest.mark.parametrize("name", NAMES)
def test_the_same_for_machines(heads, name):
    found = data("plan", heads[name])
    assert {"job", "status", "cost", "gap", "bound", "operations", "predicted", "alternatives", "conflict", "questions",
            "missing", "rests_on", "first_pass_yield"} <= set(found)  # fmt: skip
    assert found["cost"] == pytest.approx(sum(one["cost"] for one in found["operations"]))
    assert found["cost"] - found["bound"] == pytest.approx(found["gap"], abs=0.02)
    for one in found["operations"]:
        assert one["why"]
        if one["amount"] is not None:
            assert one["unit"] in ("mm", "in") and one["least"] <= one["amount"] <= one["most"]


def test_the_terns_plan_is_proven_and_others_stand_beside_it(heads):
    found = data("plan", heads["tern"])
    assert found["status"] == "optimal" and len(found["alternatives"]) >= 2
    assert all(one["cost"] >= found["cost"] for one in found["alternatives"])


def test_where_only_the_gauge_is_in_the_way_strict_says_so_by_its_status(heads):
    assert run("plan", heads["egret"], "--strict").status == 1
    assert run("plan", heads["tern"], "--strict").status == 0
    (conflict,) = data("plan", heads["egret"])["conflict"]
    assert conflict["kind"] == "gauge" and conflict["measure_better"][0]["U"] > 0


def test_what_the_plan_predicts_the_ledger_of_its_work_says_too(heads):
    found = data("plan", heads["wren"])
    known = {"valve_replace", "seat_cut", "relief_top", "relief_bottom", "guide_replace", "face_grind", "tip_grind",
             "spring_replace", "spring_shim", "skim", "gasket", "head_replace"}  # fmt: skip
    cuts = [f"{one['operation']}@{one['location']}" + (f"={one['amount']}{one['unit']}" if one["amount"] else "")
            for one in found["operations"] if one["operation"] in known]  # fmt: skip
    rows = {(one["characteristic"], one["location"]): one for one in
            data("ledger", heads["wren"], *(word for cut in cuts for word in ("--cut", cut)))["rows"]}  # fmt: skip
    for one in found["predicted"]:
        turned = one["characteristic"] in ("valve_lash", "opening_lost")  # its screw is turned to the target
        if not turned and one["after"] is not None:
            there = rows[one["characteristic"], one["location"]]["predicted"]
            assert there == pytest.approx(one["after"], abs=1e-6), one["characteristic"]


def test_a_cut_in_inches_is_the_same_cut(heads):
    inch, metric = (
        {(one["characteristic"], one["location"]): one["predicted"] for one in
         data("ledger", heads["tern"], "--cut", cut)["rows"]}
        for cut in ("seat_cut@inl-2f=0.010in", "seat_cut@inl-2f=0.254mm")
    )  # fmt: skip
    assert inch == pytest.approx(metric, nan_ok=True)


@pytest.mark.parametrize(("cut", "words"), [
    ("seat_cutt@inl-2f=0.2mm", "did you mean 'seat_cut'"),
    ("seat_cut@inl-9=0.2mm", "is not done at"),
    ("seat_cut@inl-2f", "amount"),
    ("seat_cut@inl-2f=deep", "deep"),
    ("seat_cut", "seat_cut"),
    ("skim@head=40mm", "head"),
])  # fmt: skip
def test_a_cut_that_cannot_be_done_is_told(heads, cut, words):
    said = run("ledger", heads["tern"], "--cut", cut)
    assert words in said.all and "Traceback" not in said.all
    if "skim" not in cut:
        refused(said)


def test_shims_say_where_each_comes_from_and_plungers_what_is_left(heads):
    said = run("fit", heads["tern"])
    assert said.status == 0 and "after re-measuring" in said.out and "stays" in said.out
    assert "left inward" in run("fit", heads["egret"]).out
    found = data("fit", heads["tern"])
    assert found["unit"] == "mm" and all(one["gets"] > 0 for one in found["shims"])


@pytest.mark.parametrize("command", ["plan", "fit", "ledger"])
def test_a_job_that_is_not_there_or_has_no_engine_is_told(tmp_path, command):
    refused(run(command, tmp_path / "nobody.yaml"))
    bare = tmp_path / "bare.yaml"
    bare.write_text("format: witnessmark-job-1\njob: {id: B-1, invented: true}\n", "utf-8")
    said = run(command, bare)
    assert said.status in (0, 2) and "Traceback" not in said.all and "engine" in said.all


def test_a_job_without_prices_is_planned_by_counting(heads, tmp_path):
    text = heads["wren"].read_text("utf-8")
    for name in ("wren-limits.yaml",):
        (tmp_path / name).write_text((heads["wren"].parent / name).read_text("utf-8"), "utf-8")
    (tmp_path / "wren.yaml").write_text("\n".join(line for line in text.splitlines() if not line.startswith("prices:")), "utf-8")
    found = data("plan", tmp_path / "wren.yaml")
    assert found["status"] in ("optimal", "feasible") and found["currency"] == ""


def test_a_faulty_price_list_is_told_line_by_line(tmp_path):
    path = tmp_path / "prices.yaml"
    path.write_text("format: witnessmark-prices-1\nsheet: {name: A, currency: EUR}\nwork: {skimm: {cost: -1}}\n", "utf-8")
    said = run("check", path)
    assert said.status != 0
    assert "prices.yaml:3:" in said.all and "did you mean 'skim'" in said.all and "below nothing" in said.all
