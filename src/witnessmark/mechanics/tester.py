"""What a leak-down set shows: the part of its supply that a cylinder lets go.

How large the leak behind it is, and what the same leak reads on another set, asks for the orifice and the air of the
day. Shapes and errors as in `spring`; pressures are those of the two gauges, in one unit.
"""

from typing import Annotated

from witnessmark.mechanics.law import Number, Pure, require

Pressure = Annotated[Number, "MPa"]


def leak_down(leak_down_supply: Pressure, leak_down_cylinder: Pressure) -> Pure:
    """The loss, as a part of the supply: supply less cylinder gauge, over supply [1].

    It belongs to the orifice of the set and compares with no other set.

    Source: US FAA AC 43.13-1B (1998), par. 8-14: two gauges with an orifice between them; by definition.
    """
    require(leak_down_supply > 0, "a supply of {supply:g} MPa drives nothing: read the supply gauge with the air on",
            supply=leak_down_supply)  # fmt: skip
    return (leak_down_supply - leak_down_cylinder) / leak_down_supply
