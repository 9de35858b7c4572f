"""A limit typed at the bench where it is first missed."""

import pytest

from shell.web.shop import Shop
from witnessmark.desk.bench import Refused
from witnessmark.desk.one_limit import Typed, enter_limit


@pytest.fixture(params=["with a sheet", "without one"])
def shop(tmp_path, request):
    shop = Shop(tmp_path)
    if request.param == "with a sheet":
        shop.open_job()
    else:
        shop.open_job(limits="")
    yield shop
    shop.store.close()


def typed(**more):
    return Typed(**{"characteristic": "seat_width", "place": "exh-2r", "low": "1.4", "high": "2.0", "unit": "mm",
                    "page": "44", **more})  # fmt: skip


def test_it_joins_the_sheet_or_begins_one(shop):
    before = len(shop.state().sheet.limits) if shop.state().sheet else 0
    shop.keep(enter_limit(shop.state(), shop.stamp(), typed()))
    limits = shop.state().sheet.limits
    assert len(limits) == before + 1
    added = next(limit for limit in limits if limit.characteristic == "seat_width")
    assert (added.low, added.high, added.applies.for_, added.page) == (1.4, 2.0, "exh", "44")
    assert added.document == "typed at the bench"


def test_inch_is_taken_as_it_was_typed(shop):
    shop.keep(enter_limit(shop.state(), shop.stamp(), typed(low="0.055", high="", unit="in")))
    added = next(limit for limit in shop.state().sheet.limits if limit.characteristic == "seat_width")
    assert (added.low_text, added.high, added.unit) == ("0.055", None, "in")
    assert added.low == pytest.approx(1.397)


@pytest.mark.parametrize(("more", "words"), [
    ({"low": "", "high": " "}, "no limit for seat"),
    ({"low": "2.0", "high": "1.4"}, "cannot be taken"),
    ({"low": "wide"}, "cannot be taken"),
    ({"unit": "N"}, "cannot be taken"),
    ({"characteristic": "seat_widht"}, "no characteristic is called"),
    ({"place": "somewhere/else"}, "somewhere"),
])  # fmt: skip
def test_what_the_sheet_would_not_take_is_refused_and_nothing_changes(shop, more, words):
    before = shop.store.job("HL-0147").seq
    with pytest.raises(Refused, match=words):
        enter_limit(shop.state(), shop.stamp(), typed(**more))
    assert shop.store.job("HL-0147").seq == before
