"""The table of laws: each named as what it computes, with units that hold when the inputs change their unit."""

from fractions import Fraction

import pytest

from witnessmark.mechanics.law import Length
from witnessmark.mechanics.laws import TABLE, described, laws

POWERS = {"mm": (1, 0), "N": (0, 1), "N/mm": (-1, 1), "MPa": (-2, 1), "1": (0, 0), "rad": (0, 0)}  # of length and force
HOLDS = {"seat_load": [Fraction(30), Fraction(50), Fraction(40)], "duration": [Fraction(1, 2), Fraction(6, 5)]}


def test_a_law_tells_its_arguments_in_order_with_units():
    law = laws()["seat_load"]
    assert law.arguments == (("spring_rate", "N/mm"), ("spring_free_length", "mm"), ("installed_height", "mm"))
    assert law.unit == "N"


def test_every_law_of_the_table_is_found_by_its_name():
    assert [law.function for law in laws().values()] == list(TABLE)


@pytest.mark.parametrize("name", list(laws()))
def test_the_units_of_a_law_agree_with_its_formula(name):
    """Measured in another unit of length and force, the result is the same thing in that unit."""
    law = laws()[name]
    falling = [Fraction(90 - 7 * n, 3) for n in range(len(law.arguments))]
    values = HOLDS.get(name, falling)
    length, force = Fraction("25.4"), Fraction("4.45")

    def scale(unit):
        by_length, by_force = POWERS[unit]
        return length**by_length * force**by_force

    turned = [value * scale(unit) for value, (_, unit) in zip(values, law.arguments, strict=True)]
    assert law.function(*turned) == law.function(*values) * scale(law.unit)


def test_a_law_without_a_unit_for_its_result_is_a_slip_of_ours():
    def silent(stem_diameter: Length):
        return stem_diameter

    with pytest.raises(KeyError):
        described(silent)
