"""How a joint is tightened, read from a sheet: in both units, and every fault with its place and cure."""

import pytest

from catalogue.shelf import shipped
from witnessmark.limits.procedure import kept, order_faults
from witnessmark.limits.sheet import read_sheet
from witnessmark.text.fault import Faulty

HEAD = """format: witnessmark-limits-1
sheet: {name: TN-3, document: Tern book (invented)}
tightening:
  head:
    thread: M10x1.5
    strength: 10.9
    unit: %s
    bolts: {1: [%s], 2: [%s], 3: [0, 0]}
    order: [1, 2, 3]
    stages: [{torque: %s, unit: %s}, {angle: 90}]
    page: 58
"""
METRIC = HEAD % ("mm", "101.6, 0", "50.8, 25.4", "40.67", "N·m")
INCH = HEAD % ("in", "4, 0", "2, 1", "30", "lbf·ft")


def read(text):
    return read_sheet(text, "sheet.yaml", shipped())


def faults(text):
    with pytest.raises(Faulty) as told:
        read(text)
    return [str(fault) for fault in told.value.faults]


def test_inch_and_millimetre_are_one_procedure():
    metric, inch = (read(text).tightening["head"] for text in (METRIC, INCH))
    assert [(one.bolt, one.x, one.y) for one in inch.bolts] == [
        (one.bolt, pytest.approx(one.x), pytest.approx(one.y)) for one in metric.bolts]  # fmt: skip
    assert inch.stages[0].inside == pytest.approx(metric.stages[0].inside, rel=1e-3)
    assert (inch.page, inch.document) == ("58", "Tern book (invented)")
    assert inch.angled


def test_an_event_keeps_what_the_sheet_said():
    found = read(METRIC).tightening["head"]
    again = kept("head", {**found.plain, "document": found.document})
    assert again is not None
    assert (again.bolts, again.stages, again.order) == (found.bolts, found.stages, found.order)
    assert kept("head", {"bolts": "what a hand may write", "stages": 3}) is None


@pytest.mark.parametrize(("was", "now", "told"), [
    ("order: [1, 2, 3]", "order: [1, 2, 2]", "bolt 2 stands twice in the order"),
    ("order: [1, 2, 3]", "order: [1, 2]", "the order leaves out bolt 3"),
    ("order: [1, 2, 3]", "order: [1, 2, 3, 4]", "the order names bolt 4, which has no place"),
    ("3: [0, 0]", "3: [101.6, 0]", "bolt 3 lies where bolt 1 lies"),
    ("{angle: 90}", "{angle: 90, torque: 5}", "torque and angle stand together"),
    ("{angle: 90}", "{for: long, angle: 90}", "no bolt is of the group 'long'"),
    ("{angle: 90}", "{}", "nothing says how far"),
    ("{angle: 90}", "{angle: 0}", "0 turns nothing"),
    ("{angle: 90}", "{angle: ninety}", "'ninety' cannot be read"),
    ("unit: N·m", "unit: mm", "mm"),
    ("{angle: 90}", "{angle: 90}, {torque: 60, again: after warm-up}", "never tightened again"),
    ("{angle: 90}", "{angle: 90, again: later}", "an angle never is"),
    ("  head:", "  he ad:", "is no name of a joint"),
    ("thread: M10x1.5", "thred: M10x1.5", "thread"),
    ("thread: M10x1.5", "thread: M10x1.4", "M10"),
    ("strength: 10.9", "strength: 11.5", "11.5"),
])  # fmt: skip
def test_every_fault_says_what_and_where(was, now, told):
    assert was in METRIC
    found = faults(METRIC.replace(was, now, 1))
    assert any(told in one for one in found), found
    assert all(one.startswith("sheet.yaml:") for one in found)


def test_stretch_bolts_are_not_gone_round_again():
    text = METRIC.replace("{angle: 90}", "{torque: 60, again: after the first warm-up}").replace(
        "    page: 58", "    stretch_bolts: yes\n    page: 58")  # fmt: skip
    assert any("never tightened again" in one for one in faults(text))


def test_an_order_left_out_is_no_fault():
    assert read(METRIC.replace("    order: [1, 2, 3]\n", "")).tightening["head"].order == ()
    assert order_faults((), ("1", "2")) == []
