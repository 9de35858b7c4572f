"""Valve springs, held against physics, against printed spring data, and against themselves."""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.mechanics import spring
from witnessmark.mechanics.law import OutsideLaw

exact = st.fractions(min_value=Fraction(1, 100), max_value=100, max_denominator=1000)
INCH, POUND = Fraction("25.4"), Fraction("4.4482216152605")


@pytest.mark.truth("derived: a straight spring let out by the sink, pressed back by the shim")
@pytest.mark.parametrize(
    ("sink", "shim", "seat", "full", "clearance"),
    [
        (0.00, 0.00, 300.0, 600.0, 3.00),
        (0.50, 0.00, 285.0, 585.0, 3.50),  # a sunk valve weakens the spring and frees the coils
        (0.50, 0.25, 292.5, 592.5, 3.25),
        (0.50, 0.50, 300.0, 600.0, 3.00),  # a shim as thick as the sink undoes both
    ],
)
def test_sink_and_shim(sink, shim, seat, full, clearance):
    height = 40.0 + sink - shim
    load = spring.seat_load(30.0, 50.0, height)
    assert (load, spring.open_load(load, 30.0, 10.0)) == (seat, full)
    assert spring.coil_bind_clearance(height, 10.0, 27.0) == clearance


@pytest.mark.truth(
    "derived: work done on a spring is force over way, so the mean of two loads times the way between them"
)
def test_the_work_of_pressing_a_spring_is_what_it_stores():
    """k/2 (x2^2 - x1^2) from energy, against the mean load over the travel from the two laws."""
    rate, free, height, lift = 31.7, 48.3, 37.9, 9.6
    seat = spring.seat_load(rate, free, height)
    full = spring.open_load(seat, rate, lift)
    stored = rate / 2 * ((free - height + lift) ** 2 - (free - height) ** 2)
    assert (seat + full) / 2 * lift == pytest.approx(stored, rel=1e-12)


@pytest.mark.truth(
    "US Army TM 10-4320-344-24, table 4-1: 1.702-1.722 in free, 45-51 lb at 1.4920, 130-144 at 1.0820 in"
)
def test_the_load_line_of_a_printed_valve_spring_meets_its_free_length():
    """Middle loads 48 and 137 lb give a rate; carried from the middle free length it meets the first load again."""
    tall, short = Fraction("1.4920") * INCH, Fraction("1.0820") * INCH
    rate = spring.spring_rate(tall, 48 * POUND, short, 137 * POUND)
    assert float(rate / (POUND / INCH)) == pytest.approx(217.0732, abs=0.00005)
    at_tall = spring.seat_load(rate, Fraction("1.712") * INCH, tall)
    assert float(at_tall / POUND) == pytest.approx(48, abs=0.5)


@pytest.mark.truth(
    "verification sheet after DIN EN 13906-1, A. Dewispelaere: 16.181 N/mm, free 105.8, 280 N at 88.5, 620 N at 67.5"
)
def test_a_verified_spring_has_its_printed_loads_at_its_printed_lengths():
    """Lengths are printed to 0.1 mm, which is worth half of it times the rate in load."""
    allowed = 0.05 * 16.181
    first = spring.seat_load(16.181, 105.8, 88.5)
    assert first == pytest.approx(280, abs=allowed)
    assert spring.open_load(first, 16.181, 88.5 - 67.5) == pytest.approx(620, abs=2 * allowed)


@given(rate=exact, short=exact, travel=exact, slack=exact)
def test_the_tester_finds_the_rate_that_made_the_loads(rate, short, travel, slack):
    tall, free = short + travel, short + travel + slack
    tall_load, short_load = (spring.seat_load(rate, free, height) for height in (tall, short))
    assert spring.spring_rate(tall, tall_load, short, short_load) == rate  # fractions: nothing to round


@given(rate=exact, height=exact, slack=exact, lift=exact)
def test_inch_and_millimetre_tell_the_same_load(rate, height, slack, lift):
    in_mm = spring.open_load(spring.seat_load(rate, height + slack, height), rate, lift)
    per_inch, tall, lifted = rate * INCH / POUND, height / INCH, lift / INCH
    in_lb = spring.open_load(spring.seat_load(per_inch, tall + slack / INCH, tall), per_inch, lifted)
    assert in_lb * POUND == in_mm


def test_an_array_in_is_an_array_out():
    assert spring.seat_load(30.0, 50.0, np.array([40.0, 40.5])).tolist() == [300.0, 285.0]


def test_a_loose_spring_is_refused_by_name_and_place():
    with pytest.raises(OutsideLaw, match=r"installed_height 50\.5 mm exceeds .* 50 mm.*\(position 1\)"):
        spring.seat_load(30.0, 50.0, np.array([40.0, 50.5]))


def test_two_heights_exchanged_are_asked_about():
    with pytest.raises(OutsideLaw, match="were the two readings exchanged"):
        spring.spring_rate(30.0, 300.0, 40.0, 600.0)


def test_a_lift_below_nothing_is_asked_about():
    with pytest.raises(OutsideLaw, match="was the indicator zeroed"):
        spring.open_load(300.0, 30.0, -0.1)


def test_coils_that_touch_too_soon_are_an_answer():
    assert spring.coil_bind_clearance(36.0, 10.0, 27.0) == -1.0


@pytest.mark.truth(
    "derived: 14.0 mm from seal to retainer and 10.5 mm of lift leave 3.5 mm; both in inch leave the same"
)
@pytest.mark.parametrize("unit", [Fraction(1), INCH])
def test_lift_is_taken_from_the_gap_over_the_seal(unit):
    gap, lift = Fraction("14.0") / INCH * unit, Fraction("10.5") / INCH * unit
    assert spring.retainer_seal_clearance(gap, lift) == Fraction("3.5") / INCH * unit


@given(gap=exact, lift=exact, sink=exact)
def test_a_sunk_valve_lifts_its_retainer_from_the_seal_by_as_much(gap, lift, sink):
    assert spring.retainer_seal_clearance(gap + sink, lift) == spring.retainer_seal_clearance(gap, lift) + sink


def test_a_retainer_that_strikes_its_seal_is_an_answer():
    assert spring.retainer_seal_clearance(9.0, 10.5) == -1.5


def test_a_lift_below_nothing_over_the_seal_is_asked_about():
    with pytest.raises(OutsideLaw, match="zeroed with the valve shut"):
        spring.retainer_seal_clearance(14.0, -0.1)


@pytest.mark.truth(
    "Bhandari, Design of Machine Elements, ex. 10.19 (companion seen): 1000 N on two nested springs, 706.02 and 293.98 N"
)
def test_two_nested_springs_share_a_load_and_add_up():
    """Outer wire 6 on 36 with 10 coils, inner wire 5 on 30 with 8 coils, the outer 15 mm longer; G 81 370 MPa."""
    outer, inner = (81_370 * wire**4 / (8 * coil**3 * coils) for wire, coil, coils in ((6, 36, 10), (5, 30, 8)))
    height = 24.988839  # pressed so far from the free length of the outer spring
    loads = spring.seat_load(outer, 100.0, 100.0 - height), spring.seat_load(inner, 85.0, 100.0 - height)
    assert loads == pytest.approx((706.021471, 293.978529), abs=0.0005)
    assert sum(loads) == pytest.approx(1000, abs=0.0005)
