"""The same head told in another way is judged the same: other order, other bank, other gauge name, other unit."""

import random
from collections.abc import Mapping
from dataclasses import replace

import pytest

from bench_job import Shop
from stories.clean import ROUGH
from stories.whole import INCH, INSIDE, clean_lines, measure, register, sheet_of_everything, typed, usual_gauges
from witnessmark.desk.report import judgement
from witnessmark.judge.result import CLOSE, OUT, VERDICTS, WITHIN

V4 = {"layout": "v", "cylinders": "4", "valves": {"inl": ["f", "r"], "exh": "1"}, "gear": "bucket_shim",
      "banks": {"left": ["1", "3"], "right": ["2", "4"]}}  # fmt: skip
TURNED = {**V4, "banks": {"left": ["2", "4"], "right": ["1", "3"]}}
# Limits close to what is read, and worn places, so that all three verdicts occur.
CLOSE_TO = {"stem_diameter": (5.940, None), "margin": (0.8, None), "seat_runout": (None, 0.05), "stem_taper": (None, 0.01),
            "cam_journal_diameter": (24.940, None)}  # fmt: skip
WORN = {
    ("stem_diameter", "inl-1f/middle/across"): "5.930", ("stem_diameter", "exh-2/top/along"): "5.941",
    ("margin", "exh-3"): "0.760", ("margin", "inl-2r"): "0.801", ("seat_runout", "inl-4r"): "0.060",
    ("cam_journal_diameter", "left/cam-inl/journal-1/front/along"): "24.930",
}  # fmt: skip
LEFT_OUT = {("stem_height", "exh-1"), ("margin", "inl-3f")}


def lines_of(shop: Shop, units: Mapping[str, str] = INSIDE) -> dict[tuple[str, str], str]:
    clean = clean_lines(shop.state(), units)
    worn = {key: typed(line, "mm", units["length"]) for key, line in WORN.items() if key in clean}
    return {key: worn.get(key, line) for key, line in clean.items() if key not in LEFT_OUT}


def told(shop: Shop, turn: Mapping[str, str] | None = None) -> dict[tuple[str, str], tuple[object, ...]]:
    """What is said of each location: verdict, chance, value and doubt in inside units."""
    found = {}
    for result in shop.state().judgement.results:
        bank, _, rest = result.location.partition("/")
        place = f"{turn[bank]}/{rest}" if turn and bank in turn else result.location
        found[result.characteristic, place] = (
            result.verdict, result.complete, *map(rounded, (result.value, result.u, result.p_within)))  # fmt: skip
    return found


def rounded(value: float | None) -> float | None:
    return None if value is None else float(f"{value:.9g}")


def head(engine=V4, order=None, units=INSIDE, names=None, lines=None):
    shop = Shop(
        sheet_of_everything(units, CLOSE_TO), engine, {(names or {}).get(k, k): v for k, v in register(units).items()}
    )
    line_at = lines or lines_of(shop, units)
    if order is not None:
        keys = list(line_at)
        order.shuffle(keys)
        line_at = {key: line_at[key] for key in sorted(keys, key=lambda key: key[0])}
    measure(shop, line_at, usual_gauges(names))
    return shop


@pytest.fixture(scope="module")
def plain():
    return head()


def test_the_worn_head_shows_all_three_verdicts(plain):
    assert {verdict for verdict, *_ in told(plain).values()} == set(VERDICTS)
    assert len(plain.state().judgement.missing) == len(LEFT_OUT)
    verdicts = {key: found[0] for key, found in told(plain).items()}
    assert verdicts["stem_diameter", "inl-1f"] == OUT and verdicts["margin", "exh-3"] == OUT
    assert verdicts["stem_diameter", "exh-2"] == CLOSE and verdicts["stem_diameter", "inl-2f"] == WITHIN


@pytest.mark.parametrize("seed", [1, 2])
def test_stations_entered_in_another_order_are_judged_the_same(plain, seed):
    other = head(order=random.Random(seed))
    assert [event.body for event in other.log] != [event.body for event in plain.log]
    assert told(other) == told(plain)


def test_a_head_whose_banks_are_exchanged_is_judged_the_same(plain):
    turn = {"left": "right", "right": "left"}
    turned = Shop(sheet_of_everything(close=CLOSE_TO), TURNED, register())
    lines = {}
    for (characteristic, place), line in lines_of(plain).items():
        bank, _, rest = place.partition("/")
        lines[characteristic, f"{turn[bank]}/{rest}" if bank in turn else place] = line
    measure(turned, lines, usual_gauges())
    assert told(turned, turn) == told(plain)


def test_a_gauge_of_another_name_judges_the_same(plain):
    names = {kind: f"HL-{n}" for n, kind in enumerate(register())}
    renamed = head(names=names)
    assert told(renamed) == told(plain)
    assert {gauge for result in renamed.state().judgement.results for gauge in result.gauges} <= set(names.values())


def test_a_head_measured_and_limited_in_inches_is_judged_as_in_millimetres(plain):
    inch = head(units=INCH)
    inches, millimetres = told(inch), told(plain)
    assert {key: found[:2] for key, found in inches.items()} == {key: found[:2] for key, found in millimetres.items()}
    for key, found in inches.items():
        for one, other in zip(found[2:], millimetres[key][2:], strict=True):  # value, doubt, chance of holding
            assert (one is None) == (other is None), key
            assert one is None or one == pytest.approx(other, rel=1e-4, abs=1e-3), (
                key
            )  # a ten-millionth of an inch in u
    rows = [row for row in judgement(inch.state())["results"] if row["value"] is not None or row["interval"]]
    entries = inch.state().catalogue.characteristics
    measured = [(row["unit"], entries[row["characteristic"]]) for row in rows if row["characteristic"] not in ROUGH]
    assert {(unit, entry.quantity) for unit, entry in measured if entry.kind != "look"} == {
        (INCH[entry.quantity], entry.quantity) for _, entry in measured if entry.kind != "look"}  # fmt: skip


def test_taken_back_and_typed_again_is_judged_as_a_correction():
    one, other = head(lines=STEM), head(lines=STEM)
    place, gauge = "inl-1f/top/along", "micrometer"
    wrong = next(event for event in one.log if event.body.get("place") == place)
    assert one.type("stem_diameter", place, "5.936", gauge, supersedes=wrong.id, reason="misread").status == "kept"
    other.add("taken_back", {"event": wrong.id})
    assert other.type("stem_diameter", place, "5.936", gauge).status == "kept"
    assert told(one) == told(other)
    assert told(one) != told(head(lines=STEM))
    states = [{reading.state for reading in shop.state().job.readings} for shop in (one, other)]
    assert states == [{"counted", "superseded"}, {"counted", "taken back"}]


def test_a_log_that_arrives_in_another_order_is_judged_the_same(plain):
    setup = [event for event in plain.log if event.kind != "reading_taken"]
    readings = [event for event in plain.log if event.kind == "reading_taken"]
    random.Random(3).shuffle(readings)
    log = [replace(event, seq=n) for n, event in enumerate((*setup, *readings), 1)]
    other = Shop(sheet_of_everything(close=CLOSE_TO), V4, register())
    other.log = log
    assert told(other) == told(plain)


STEM = {("stem_diameter", f"inl-1f/{height}/{way}"): "5.960" for height in ("top", "middle", "bottom")
        for way in ("along", "across")}  # fmt: skip
