"""A judged value in words and as a mark: the picture cannot contradict the verdict."""

import pytest

from desk.sheets.tern import tern
from witnessmark.desk.sheets.judged import by_station, judged, mark_of, station_verdict, unread, wall_of
from witnessmark.judge.result import OUT, WITHIN


@pytest.fixture(scope="module")
def half():
    return tern()


def of(half, characteristic, where):
    return next(r for r in half.judgement.results if (r.characteristic, r.location) == (characteristic, where))


def test_the_bar_is_clear_of_the_wall_exactly_where_the_value_is_within(half):
    seen = set()
    for result in half.judgement.results:
        mark = mark_of(result)
        if mark.bar is None:
            continue
        low, high = mark.bar
        clear = (mark.wall.low is None or low >= mark.wall.low) and (mark.wall.high is None or high <= mark.wall.high)
        assert clear == (result.verdict == WITHIN), result.location
        seen.add(result.verdict)
    assert len(seen) == 3


def test_one_scale_serves_inlet_and_exhaust_where_each_has_one_wall(half):
    peers = [r for r in half.judgement.results if r.characteristic == "stem_diameter"]
    scales = {(j.scale.lo, j.scale.hi) for j in (judged(r, half.catalogue, "mm", peers) for r in peers)}
    assert len(scales) == 1


def test_with_two_walls_each_kind_has_its_own_scale(half):
    peers = [r for r in half.judgement.results if r.characteristic == "valve_lash"]
    told = [judged(r, half.catalogue, "mm", peers) for r in peers]
    assert {(j.mark.wall.low, j.mark.wall.high) for j in told} == {(0.15, 0.25), (0.25, 0.35)}
    assert len({(j.scale.lo, j.scale.hi) for j in told}) == 2


def test_a_leaf_reading_has_an_interval_and_no_point(half):
    mark = mark_of(of(half, "valve_lash", "inl-2f"))
    assert mark.value is None and mark.interval == (0.19, 0.21)


def test_every_raw_reading_is_a_tick(half):
    assert len(mark_of(of(half, "stem_diameter", "inl-1f")).raws) == 6


def test_the_name_of_a_mark_tells_place_value_verdict_and_limit(half):
    name = judged(of(half, "stem_diameter", "inl-1r"), half.catalogue, "mm", ()).name
    for part in ("Inl 1R", "5.931 millimetre", "out", "least 5.940"):
        assert part in name


def test_what_was_not_read_is_dashed_behind_the_wall_of_its_kind(half):
    peers = [r for r in half.judgement.results if r.characteristic == "stem_diameter"]
    told = unread("stem_diameter", "exh-4f", (), half.catalogue, peers)
    assert (told.value, told.verdict, told.word, told.mark.value) == ("", "", "not measured", None)
    assert told.mark.wall.low == 5.925


def test_a_station_is_out_only_with_the_confidence_that_the_worst_of_them_needs():
    assert station_verdict(0.04, 1) == OUT
    assert station_verdict(0.04, 6) == "too close to call"
    assert station_verdict(0.005, 6) == OUT
    assert station_verdict(0.95, 6) == WITHIN
    assert station_verdict(None, 6) == ""


def test_by_station_the_worst_line_keeps_how_far_it_is_out(half):
    whole = of(half, "head_flatness", "gasket-face")
    lines = {line.location: line for line in by_station(whole)}
    assert lines["gasket-face/diagonal-1"].beyond == whole.beyond
    assert lines["gasket-face/inlet-edge"].beyond is None
    assert lines["gasket-face/inlet-edge"].reason == "leaves within"


def test_limits_closer_than_the_gauge_can_tell_settle_nothing(half):
    from dataclasses import replace

    result = of(half, "stem_height", "inl-1f")
    narrow = replace(result.against, low=44.0, high=44.01)
    assert not wall_of(replace(result, against=narrow, u=0.006, guard_within=None)).settles
    assert wall_of(result).settles
