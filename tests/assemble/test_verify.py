"""What an engine that runs says: published tables for what is expected, and what a set of readings hints at."""

from dataclasses import replace
from math import radians

import pytest

from witnessmark.assemble.verify import (
    Cylinder,
    Expecting,
    centre_after,
    expected_cranking,
    findings,
    leak,
    spread_of,
)
from witnessmark.mechanics.law import OutsideLaw
from witnessmark.mechanics.leakage import air_pressure_at
from witnessmark.mechanics.spread import Spread

PSI = 0.00689475729  # MPa
AIR = 0.101325
TERN = Expecting(10.0, 0.0, radians(44), 90.0, 150.0, AIR)  # rod over throw 3.33


def like(**changes):
    return replace(TERN, **changes)


# Truth: worked by hand from the polytropic relation with n = 1.2, rod over throw 3.33.
@pytest.mark.parametrize(("of", "kpa"), [
    (TERN, 1326), (like(air=0.0899), 1177), (like(closes=radians(50)), 1275), (like(ratio=10.5), 1411),
])  # fmt: skip
def test_what_an_engine_should_give(of, kpa):
    assert expected_cranking(of).middle * 1000 == pytest.approx(kpa, abs=1.5)


def test_a_thousand_metres_take_a_ninth():
    """Truth: standard atmosphere, 89.9 kPa at 1000 m (ISO 2533)."""
    assert air_pressure_at(1000.0) * 1000 == pytest.approx(89.87, abs=0.02)
    assert expected_cranking(like(air=air_pressure_at(1000.0))).middle / expected_cranking(TERN).middle == pytest.approx(
        0.8875, abs=0.001)  # fmt: skip


def test_the_band_holds_its_middle_and_says_what_it_is_made_of():
    plain, doubtful = expected_cranking(TERN), expected_cranking(like(ratio_u=0.3))
    assert plain.low < plain.middle < plain.high
    assert doubtful.high - doubtful.low > plain.high - plain.low
    assert [part.name for part in doubtful.made_of] == [
        "exponent of the compression", "closing of the inlet", "compression ratio"]  # fmt: skip
    worst = min(part.low for part in doubtful.made_of)
    assert doubtful.low < worst  # all of them together reach further than the largest alone


# Truth: FAA AC 43.13-1B, par. 8-14, supplies 80 psi through 0.040 in; the areas worked from nozzles in series.
@pytest.mark.parametrize(("gauge", "loss", "area", "on_larger"), [
    (76, 0.05, 0.35, 79.2), (72, 0.10, 0.51, 78.3), (64, 0.20, 0.75, 76.3), (60, 0.25, 0.86, 75.3),
])  # fmt: skip
def test_a_leak_by_its_size_and_on_another_set(gauge, loss, area, on_larger):
    found = leak(80 * PSI, gauge * PSI, 1.016, AIR, others=(1.52,))
    assert found.loss == pytest.approx(loss)
    assert found.area == pytest.approx(area, abs=0.006)
    ((orifice, there, _),) = found.others
    assert (orifice, there / PSI) == (1.52, pytest.approx(on_larger, abs=0.06))


def test_the_doubt_of_a_gauge_is_that_of_the_leak():
    found = leak(80 * PSI, 72 * PSI, 1.016, AIR, u=0.5 * PSI)
    assert found.low < found.area < found.high
    assert found.high == pytest.approx(leak(80 * PSI, 71 * PSI, 1.016, AIR).area)
    tight = leak(80 * PSI, 80 * PSI, 1.016, AIR, u=0.5 * PSI)
    assert (tight.area, tight.low) == (0, 0) and tight.high > 0


def test_gauges_that_were_exchanged_are_told():
    with pytest.raises(OutsideLaw, match="exchanged"):
        leak(72 * PSI, 80 * PSI, 1.016, AIR)


def engine(*dry, **more):
    """Cylinders in line; `more` are values by field, of all or one by one."""
    band = Spread(1.2, 1.3, 1.4)

    def of(name, n):
        value = more.get(name)
        return value[n] if isinstance(value, tuple) else value

    return [Cylinder(f"chamber-{n + 1}", one, 0.01, of("first", n), of("wet", n), 0.01, of("loss", n),
                     band if more.get("band", True) else None) for n, one in enumerate(dry)]  # fmt: skip


def names(cylinders):
    return [one.name for one in findings(cylinders)]


def test_an_engine_in_order_says_nothing():
    assert names(engine(1.30, 1.28, 1.31, 1.27, first=0.8, loss=0.05)) == []
    assert findings([]) == ()


def test_the_lowest_of_them_is_told_with_the_line_it_crossed():
    (one,) = findings(engine(1.30, 0.90, 1.31, 1.27))
    assert (one.name, one.places) == ("uneven", ("chamber-2",))
    assert one.facts == {"share": pytest.approx(0.90 / 1.31), "line": 0.75}
    assert names(engine(1.30, 1.05, 1.31, 1.27)) == ["somewhat uneven"]
    assert spread_of(engine(1.3)) is None


def test_two_neighbours_are_a_gasket_and_two_that_are_apart_are_not():
    assert names(engine(1.3, 0.8, 0.8, 1.3)) == ["uneven", "two neighbours low"]
    assert names(engine(0.8, 1.3, 0.8, 1.3)) == ["uneven"]
    banks = [replace(one, bank=bank) for one, bank in zip(engine(1.3, 0.8, 0.8, 1.3), "LLRR", strict=True)]
    assert names(banks) == ["uneven"]  # last of one bank, first of the other


def test_all_low_is_wear_only_where_it_leaks():
    low = (1.0, 1.02, 0.99, 1.01)
    assert names(engine(*low, loss=0.06)) == ["all low and tight"]
    assert names(engine(*low, loss=(0.06, 0.30, 0.05, 0.05))) == ["all low"]
    assert names(engine(*low)) == ["all low, leakage not read"]
    assert names(engine(*low, band=False)) == []  # nothing is expected, so nothing is low
    assert names(engine(1.15, 1.14, 1.16, 1.19)) == []  # the last may lie in its band
    assert names(engine(1.5, 1.52, 1.49, 1.55)) == ["all high"]


def test_oil_and_the_first_stroke():
    assert names(engine(1.25, first=0.4)) == ["builds up slowly"]
    assert names(engine(1.25, wet=1.45)) == ["wet gains"]
    assert names(engine(1.25, wet=1.30)) == []  # a good one has nothing to gain
    assert names(engine(1.25, 0.80, wet=(1.30, 0.82))) == ["uneven", "wet gains nothing"]
    assert names(engine(1.25, wet=1.10)) == ["wet is lower"]


def test_a_late_camshaft_moves_both_centres_the_same_way_round():
    """An inlet's centre is counted after top and grows; an exhaust's is counted before it and shrinks."""
    assert centre_after(radians(110), radians(2), inlet=True) == pytest.approx(radians(112))
    assert centre_after(radians(110), radians(2), inlet=False) == pytest.approx(radians(108))
