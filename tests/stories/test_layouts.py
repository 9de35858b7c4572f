"""Every layout is measured from empty to full and judged: nothing is missing, nothing stumbles, all of it is shown."""

from typing import Any

import pytest

from bench_job import Shop
from stories.whole import clean_lines, measure, measure_together, sheet_of_everything
from witnessmark.desk.report import judgement
from witnessmark.desk.sheets.apart import engine_picture
from witnessmark.desk.sheets.bench import Asked, bench_sheet
from witnessmark.desk.sheets.face import face_picture
from witnessmark.desk.sheets.head import head_sheet
from witnessmark.desk.sheets.report import report
from witnessmark.desk.sheets.setup import setup_sheet
from witnessmark.desk.sheets.start import start_sheet
from witnessmark.draw.svg import svg
from witnessmark.engine.place import shown
from witnessmark.engine.walk import stations
from witnessmark.explain.why import why
from witnessmark.explain.words import accessible, limit_words, value_words, verdict_words
from witnessmark.judge.result import VERDICTS

ONE_EACH: dict[str, Any] = {"inl": "1", "exh": "1"}
TWO_AND_ONE: dict[str, Any] = {"inl": ["f", "r"], "exh": "1"}
TWO_EACH: dict[str, Any] = {"inl": ["f", "r"], "exh": ["f", "r"]}
THREE_AND_TWO: dict[str, Any] = {"inl": ["f", "m", "r"], "exh": ["f", "r"]}


def engine(layout: str, cylinders: int, valves: dict[str, Any], gear: str, **more: Any) -> dict[str, Any]:
    return {"layout": layout, "cylinders": str(cylinders), "valves": valves, "gear": gear, "head": "aluminium", **more}


LAYOUTS = {
    "single, rocker": engine("inline", 1, ONE_EACH, "rocker"),
    "single, five valves": engine("inline", 1, THREE_AND_TWO, "bucket_shim", cams="2"),
    "two in line, one cam": engine("inline", 2, ONE_EACH, "bucket_shim", cams="1"),
    "V2, pushrods": engine("v", 2, ONE_EACH, "pushrod"),
    "opposed two": engine("opposed", 2, ONE_EACH, "pushrod", drive="gear"),
    "three in line": engine("inline", 3, TWO_EACH, "bucket_shim_under"),
    "four in line, fingers": engine("inline", 4, ONE_EACH, "finger_hydraulic", cams="1", drive="belt"),
    "four in line, three valves": engine("inline", 4, TWO_AND_ONE, "finger_screw"),
    "Tern 2.0": engine("inline", 4, TWO_EACH, "bucket_shim", head="aluminium"),
    "opposed four": engine("opposed", 4, TWO_EACH, "bucket_hydraulic", drive="belt"),
    "V4, two springs a valve": engine("v", 4, TWO_EACH, "bucket_shim", springs="2"),
    "five in line, hydraulic rockers": engine("inline", 5, ONE_EACH, "rocker_hydraulic"),
    "six in line, pushrods": engine("inline", 6, ONE_EACH, "pushrod_hydraulic", head="iron"),
    "V6": engine("v", 6, TWO_EACH, "finger_hydraulic"),
    "opposed six": engine("opposed", 6, ONE_EACH, "rocker"),
    "Egret 5.0": engine("v", 8, ONE_EACH, "pushrod_hydraulic", head="iron", block="iron"),
    "V8 in unlike banks": engine("v", 8, TWO_AND_ONE, "rocker", banks={"left": [*"12345"], "right": [*"678"]}),
    "V12": engine("v", 12, TWO_EACH, "bucket_shim"),
    "V16": engine("v", 16, ONE_EACH, "bucket_shim"),
    "sixteen in line": engine("inline", 16, ONE_EACH, "pushrod"),
}  # fmt: skip
SHIPPED = ("single, rocker", "Tern 2.0", "Egret 5.0")  # shown whole; the others take turns with a third of the stations each
SHEET = sheet_of_everything()


@pytest.mark.slow
@pytest.mark.parametrize("name", LAYOUTS)
def test_a_head_is_measured_from_empty_to_full_judged_and_shown(name):
    shop = Shop(SHEET, LAYOUTS[name])
    empty = shop.state()
    assert empty.layout is not None and len(empty.judgement.missing) == len(empty.route) > 20
    measure(shop, clean_lines(empty))
    assert not {stop.characteristic for stop in empty.route} & set(empty.wanted.together)
    measure_together(shop)
    full = shop.state()
    assert full.problems == () and full.judged[1] == ""
    assert full.judgement.missing == () and all(map(full.done, full.route))
    judged_whole(full)
    for turn, state in enumerate((empty, full), list(LAYOUTS).index(name)):
        shown_whole(state, turn, all_=name in SHIPPED)


def judged_whole(full):
    """Every value is complete, held against its limit, and within: the head is in good order."""
    results = full.judgement.results
    judged = {result.characteristic for result in results}
    without = {name for name in full.wanted.asked if not stations(full.layout, full.catalogue.characteristics[name])}
    assert set(full.wanted.asked) - judged == without  # a gear or a drive that this engine does not have, and no more
    assert len({(r.characteristic, r.location) for r in results}) == len(results)
    for result in results:
        assert result.complete and result.verdict == "within", (result.characteristic, result.location, result.verdict)
        for display in ("mm", "in"):
            words = (why(result, display), value_words(result, display), limit_words(result.against, result, display))
            assert all(words) and verdict_words(result, display)[0] in VERDICTS
            assert accessible(result, full.catalogue, display)
        assert shown(result.location) and all(map(shown, result.stations))
    assert len(judgement(full)["results"]) == len(results)


def shown_whole(state, turn, all_):
    """Start, job, head and report in both units; kinds of station at the bench, each in the one unit empty, in the other full."""
    drawn = [engine_picture(start_sheet(state), state.layout)]
    assert setup_sheet(state)
    stops = list({stop.characteristic: stop for stop in state.route}.values())
    for n, stop in enumerate(stops):
        if all_ or (n + turn) % 3 == 0:
            bench = bench_sheet(state, Asked(stop.characteristic, stop.place, unit=("mm", "in")[(n + turn) % 2]))
            assert (bench.characteristic, bench.place) == (stop.characteristic, stop.place)
            drawn += [one for one in (bench.drawing, bench.strip, bench.head, bench.wall) if one is not None]
    for display in ("mm", "in"):
        for bank, _ in state.layout.banks:
            sheet = head_sheet(state, bank=bank, unit=display)
            drawn.append(face_picture(sheet, state.layout).drawing)
        view = report(state, checksum="0" * 64, date="2026-11-24", display=display)
        assert len(view.faces) == len(state.layout.banks)
    assert all(svg(one).startswith("<svg") for one in drawn)
