"""What the endpoints about work take: geometry, prices, cuts, what a plan is asked, which one is ordered."""

from typing import Annotated

from pydantic import Field, StringConstraints

from witnessmark.shell.web.shapes import Name, Short, Stamped

Seen = Annotated[str | None, Field(description="The `seen` of what the sender looked at; left out, what stands.")]
Amount = Annotated[str, StringConstraints(max_length=40)]


class GeometryIn(Stamped):
    """One quantity of the geometry, for all places, one side, or one place; without `value` it is taken out."""

    quantity: Name
    value: Amount = ""
    unit: Short = ""
    place: Short = ""
    side: Short = ""
    u: Amount = ""
    document: Short = ""
    page: Short = ""
    seen: Seen = None


class PricesIn(Stamped):
    """A price list as text."""

    text: Annotated[str, StringConstraints(max_length=1_000_000)]
    name: Name = "prices"


class WorkIn(Stamped):
    """One operation at a place, or at `all`, `inl`, `exh`, to an amount; nothing takes it out."""

    operation: Name
    place: Name
    amount: Amount = ""
    unit: Short = "mm"
    seen: Seen = None


class AskIn(Stamped):
    """What a plan is asked: `change` is pin, forbid, free or wanted."""

    change: Name
    operation: Short = ""
    place: Short = ""
    amount: Amount = ""
    unit: Short = ""
    wanted: Short = ""


class OrderIn(Stamped):
    """Which plan is ordered, and why."""

    name: Name
    why: Short = ""
