"""The shape of the sections of a job file about work: geometry, intended work, what a plan is asked, the order."""

from typing import Annotated, Any

from pydantic import BeforeValidator, Field

from witnessmark.record.jobbeside import Section
from witnessmark.record.jobvalues import Chance, Name, NotNegative, Number, Text, UnitName


class GeometryEntry(Section):
    """A quantity that no reading of the head shows, for all places, one side, or one place."""

    for_: Annotated[Name | None, Field(alias="for")] = None
    place: Name | None = None
    value: Number
    unit: Text | None = None  # an area too, which no gauge reads; whoever makes numbers of it tells what is no unit
    u: NotNegative | None = None
    document: Text | None = None
    page: Text | None = None
    note: Text | None = None


class WorkEntry(Section):
    """One operation at a place, at all places, or at those of one side; without an amount where it puts in a part."""

    operation: Name
    place: Name
    amount: NotNegative | None = None
    unit: UnitName | None = None


class PlanSection(Section):
    """What the user says to the plan: cuts that must be in it, work that must not, the chance that is wanted."""

    pins: list[WorkEntry] | None = None
    forbid: list[WorkEntry] | None = None
    wanted: Chance | None = None


class OrderSection(Section):
    """The plan that was ordered, as it was then."""

    name: Name
    work: list[WorkEntry]
    cost: Text | None = None
    currency: Text | None = None
    why: Text | None = None


def _several(value: Any) -> Any:
    return [value] if isinstance(value, dict) else value


OneOrSeveral = GeometryEntry | list[GeometryEntry]
Entries = Annotated[list[GeometryEntry], BeforeValidator(_several, json_schema_input_type=OneOrSeveral)]
