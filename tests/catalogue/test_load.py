"""The catalogue as it ships, and what becomes of a file that somebody edits."""

from pathlib import Path

import pytest

from catalogue.shelf import shipped, texts
from engine.engines import tern
from witnessmark.catalogue.load import load
from witnessmark.engine.layout import stations
from witnessmark.mechanics.laws import laws
from witnessmark.text.fault import Faulty

EXTRA = """
format: witnessmark-catalogue-1
family: {term: A page of our own, order: 900}
characteristics:
  tip_dish:
    term: tip wear
    table: B
    group: valve
    quantity: length
    kind: number
    at: valve
    stations: [rim, middle]
    rule: spread
    extreme: most
    gauge: lever_indicator
    usual: {low: 0, high: 20, unit: thou}
    wears: up; the rocker hollows it
    state: Tip clean.
    measure: Indicator on the rim and in the middle of the tip.
    out: A flat leaf bridges the hollow and the lash reads small.
    remedies: [tip_grind]
    teach: Grind within the hard depth only.
    sources: {measure: common-practice, usual: from-memory}
    drawing: stem
    after: [stem_diameter]
"""


def told(changed):
    with pytest.raises(Faulty) as error:
        load({**texts(), **changed})
    return [str(fault) for fault in error.value.faults]


def edited(name, old, new):
    text = texts()[name]
    assert old in text
    return {name: text.replace(old, new, 1)}


def test_files_stand_in_the_order_of_the_bench():
    """Engine together, casting, valves, guides and seats, springs, camshaft, fasteners; within a file as it is written."""
    order = list(shipped().characteristics)
    walk = ["valve_lash", "head_cracks", "head_flatness", "stem_diameter", "stem_wobble", "guide_bore", "seat_runout"]
    walk += ["stem_height", "spring_free_length", "installed_height", "lobe_height", "bolt_length"]
    assert sorted(walk, key=order.index) == walk


def test_a_new_characteristic_is_one_entry_in_one_file(tmp_path: Path):
    """A folder with one more data file: loaded, walked on an engine, nothing else touched."""
    for name, text in {**texts(), "ours.yaml": EXTRA}.items():
        (tmp_path / name).write_text(text, "utf-8")
    entry = load(texts(tmp_path)).characteristics["tip_dish"]
    assert stations(tern(), entry)[:3] == ("inl-1f/rim", "inl-1f/middle", "inl-1r/rim")
    assert entry.usual == pytest.approx((0, 0.508))
    assert entry.source == "measure: common practice, no source; usual: value from memory"


def test_a_new_characteristic_may_bring_a_law_of_its_own():
    derived = EXTRA.replace("kind: number", "kind: derived\n    law: lobe_lift\n    pairing: location")
    derived = derived.replace("    gauge: lever_indicator\n", "").replace(
        "usual: from-memory}", "usual: from-memory, law: derived}"
    )
    derived = (
        derived.replace("at: valve", "at: lobe")
        .replace("[rim, middle]", "[front, rear]")
        .replace("rule: spread", "rule: worst")
    )
    assert load({**texts(), "ours.yaml": derived}).characteristics["tip_dish"].arguments == (
        "lobe_height",
        "base_circle",
    )


def test_laws_take_their_arguments_from_the_catalogue():
    entry = shipped().characteristics["seat_load"]
    assert entry.arguments == ("spring_rate", "spring_free_length", "installed_height")


def test_no_law_lies_dead():
    assert {entry.law for entry in shipped().characteristics.values() if entry.law} == set(laws())


def test_usual_gauges_carry_their_doubt_in_the_unit_inside():
    mic = shipped().gauge_kinds["micrometer"]
    assert (mic.resolution, mic.U, mic.k, mic.repeatability) == (0.001, 0.003, 2.0, 0.0012)
    leaves = shipped().gauge_kinds["leaves"]
    assert leaves.leaves[:2] == (0.03, 0.04)
    assert leaves.leaves_text[7] == "0.10"


def test_the_rocking_reading_says_that_it_is_no_clearance():
    entry = shipped().characteristics["stem_wobble"]
    assert "not a clearance" in entry.term
    assert "never against a clearance limit" in " ".join(entry.teach.split())


def test_every_source_is_marked_as_seen_remembered_derived_or_nobodys():
    assert {source.status for source in shipped().sources.values()} <= {"seen", "memory", "derived", "none"}
    assert shipped().sources["common-practice"].text == "common practice, no source"


def test_several_faults_of_several_files_are_told_at_once():
    changed = {
        **edited("spring.yaml", "quantity: force\n    kind: derived", "quantity: length\n    kind: derived"),
        **edited("cam.yaml", "    gauge: micrometer", "    guage: micrometer"),
        **edited("valve.yaml", "table: B", "table: Z"),
    }
    found = told(changed)
    assert any(line.startswith("cam.yaml:") and "did you mean 'gauge'" in line for line in found)
    assert any(line.startswith("valve.yaml:") and "table" in line for line in found)


def test_a_misspelt_key_is_told_with_its_place():
    found = told(edited("cam.yaml", "    gauge: micrometer\n", "    guage: micrometer\n"))
    line = texts()["cam.yaml"].splitlines().index("    gauge: micrometer") + 1
    assert found == [
        f"cam.yaml:{line}:5: characteristics.lobe_height.guage: no key 'guage' is known here; did you mean 'gauge'?"
    ]


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("high: 14.5, unit: mm", "high: 14.5, unit: newton", "no unit for a length is called 'newton'"),
        ("low: 3.9, high: 14.5", "low: 14.5, high: 3.9", "were the two exchanged"),
        ("low: 3.9, high: 14.5", "low: three, high: 14.5", "'three'"),
        ("extreme: least", "extreme: smallest", "'smallest'"),
        ("wears: down, most", "wears: less, most", "wears"),
        ("drawing: stem", "drawing: steem", "did you mean 'stem'"),
        ("kind: number", "kind: figure", "'figure'"),
        ("    teach: >\n      Written", "    taech: >\n      Written", "did you mean 'teach'"),
    ],
)
def test_an_entry_out_of_shape_is_told(old, new, message):
    assert message in "\n".join(told(edited("valve.yaml", old, new)))


def test_the_same_entry_in_two_files_is_told():
    again = EXTRA.replace("tip_dish", "stem_diameter").replace("after: [stem_diameter]", "after: []")
    assert any("already stands in valve.yaml" in line for line in told({"ours.yaml": again}))


def test_a_file_that_is_no_yaml_hides_nothing_of_the_others():
    found = told({"ours.yaml": "format: [", **edited("valve.yaml", "table: B", "table: Z")})
    assert any(line.startswith("ours.yaml") for line in found)
    assert any(line.startswith("valve.yaml") for line in found)


def test_a_file_of_another_format_is_told():
    assert "format" in "\n".join(
        told({"ours.yaml": EXTRA.replace("witnessmark-catalogue-1", "witnessmark-catalogue-2")})
    )


@pytest.mark.parametrize("name", list(texts()))
def test_the_head_of_each_data_file_explains_its_syntax(name):
    head = texts()[name].split("format:")[0]
    assert head.startswith("#")
    assert "head.yaml" in head or "#   " in head
