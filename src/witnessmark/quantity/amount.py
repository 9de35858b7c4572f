"""A number as it was written: exact, with its unit and the size of its last digit."""

from dataclasses import dataclass
from fractions import Fraction

from witnessmark.quantity.unit import WORDS, OtherDimension, Unit, spelled, unit


@dataclass(frozen=True, slots=True)
class Amount:
    """An exact value in the unit that was written.

    `value`      in `unit`
    `unit`       a name of the unit table
    `dimension`  what it measures; it parts units of one name, such as the two lb
    `step`       size of the last digit written, in `unit`; for a fraction 1 / denominator; None where it is not known
    `text`       what was written, as it came
    `assumed`    what was taken for granted, as a sentence, else empty
    """

    value: Fraction
    unit: str
    step: Fraction | None
    text: str
    dimension: str = "length"
    assumed: str = ""

    @property
    def inside_exact(self) -> Fraction:
        """In the unit used inside, exactly (angles: with pi cut after 50 digits)."""
        return self._unit.inside(self.value)

    @property
    def inside(self) -> float:
        """In the unit used inside (mm, N, MPa, N·mm, mm³, N/mm, radian, degree Celsius, kelvin, 1, kg, s)."""
        return float(self.inside_exact)

    @property
    def step_inside(self) -> Fraction | None:
        """The step in the unit used inside; a step is a difference, so a temperature's offset does not enter."""
        return None if self.step is None else self.step * self._unit.factor

    def to(self, name: str) -> Fraction:
        """The value in another unit, exactly. Raises UnknownUnit; OtherDimension if that measures another thing."""
        if any(other.dimension == self.dimension for other in spelled(name)):
            return unit(name, self.dimension).outside(self.inside_exact)
        other = unit(name)
        raise OtherDimension(
            f"'{name}' measures {WORDS[other.dimension]}, and {self.text!r} is {WORDS[self.dimension]}"
        )

    @property
    def _unit(self) -> Unit:
        return unit(self.unit, self.dimension)
