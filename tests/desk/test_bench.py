"""A line typed where nothing can be read: refused with the reason, and nothing is made of it."""

import pytest

from bench_job import Shop

LIMITS = "  stem_diameter:\n    - {service: {low: 5.940}, unit: mm, page: 41}\n"


@pytest.mark.parametrize("line", ["5.951", "-", "*5", "*6", "*4"])
@pytest.mark.parametrize(("characteristic", "place", "round_", "told"), [
    ("stem_diameter", "exh-99", "as found", "cylinder 99"),
    ("stem_diameter", "//", "as found", "names no place"),
    ("stem_diameter", "", "as found", "names no place"),
    ("stem_diameter", "head/height-1", "as found", "is not read at"),
    ("stem_diameter", "inl-1f/top/along", "yesterday", "'yesterday' is no round; take one of as found"),
    ("stem_guide_clearance", "inl-1f/top/along", "as found", "worked out from other readings"),
    ("stem_diametre", "inl-1f/top/along", "as found", "no characteristic is called"),
])  # fmt: skip
def test_neither_a_reading_nor_a_waiver_is_made_where_nothing_is_read(line, characteristic, place, round_, told):
    shop = Shop(LIMITS)
    before = len(shop.log)
    outcome = shop.type(characteristic, place, line, "M-07", round=round_)
    assert (outcome.status, outcome.events, len(shop.log)) == ("refused", (), before)
    assert told in outcome.detail


def test_a_station_that_is_read_may_be_waived():
    shop = Shop(LIMITS)
    assert shop.type("stem_diameter", "inl-1f/top/along", "-", "M-07").status == "done"
    assert shop.type("stem_diameter", "inl-1r/top/along", "*6", "M-07").status == "done"
    assert shop.state().judgement.summary["waived"] == 7
