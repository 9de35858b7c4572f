"""The shape of a shop's price list, key by key; every value is text until the catalogue says what it means."""

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

FORMAT = "witnessmark-prices-1"

Text = Annotated[str, StringConstraints(min_length=1, max_length=200)]
Value = Annotated[
    str,
    StringConstraints(min_length=1, max_length=60),
    Field(description="A number as it is written on the bench, such as 0.03 or 1 5/8."),
]
Money = Annotated[
    str,
    StringConstraints(pattern=r"^[0-9]{1,9}([.][0-9]{1,2})?$"),
    Field(description="A sum of the list's currency, at least nothing, such as 18 or 4.20."),
]
Minutes = Annotated[str, StringConstraints(pattern=r"^[0-9]{1,6}([.][0-9]+)?$")]
Days = Annotated[str, StringConstraints(pattern=r"^[0-9]{1,3}$"), Field(description="Working days.")]


class _Shape(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True)


class Header(_Shape):
    """Whose list it is, of which day, in which money."""

    name: Text
    date: Text | None = None
    invented: Literal["yes", "no"] = "no"
    currency: Annotated[str, StringConstraints(pattern="^[A-Z]{3}$")]


class Work(_Shape):
    """How this shop does one operation."""

    cost: Money
    minutes: Minutes = "0"
    least: Value | None = Field(None, description="The least that the machine takes to clean up.")
    most: Value | None = Field(None, description="The most that the shop takes in one job.")
    step: Value | None = Field(None, description="What the machine can set.")
    tolerance: Value | None = Field(None, description="Half width at k = 2 of what comes off.")
    unit: Text | None = None
    wait: Days = "0"


class Brought(_Shape):
    """One size of a new part, with its standard uncertainty."""

    value: Value
    u: Value | None = None
    unit: Text | None = None


class Part(_Shape):
    """A part that can be bought, and what it brings to the geometry."""

    id: Text
    fits: Text = Field(description="The operation that puts it in.")
    for_: Literal["inl", "exh"] | None = Field(None, alias="for")
    cost: Money
    number: Text | None = None
    wait: Days = "0"
    unit: Text | None = None
    brings: dict[Text, Brought] = {}


class Stock(_Shape):
    """Sizes that exist: by a list, or from, to and step; what lies on the shelf; the price of each."""

    unit: Text
    cost: Money
    sizes: Annotated[list[Value], Field(min_length=1)] | None = None
    from_: Value | None = Field(None, alias="from")
    to: Value | None = None
    step: Value | None = None
    on_hand: dict[Value, Days] = Field(default_factory=dict, description="Size -> how many lie on the shelf.")
    most: Value | None = Field(None, description="The most in one stack.")
    tolerance: Value | None = None
    wait: Days = "0"


class File(_Shape):
    """A price list: what this shop and its suppliers ask for work, parts and sizes."""

    format: Literal["witnessmark-prices-1"]
    sheet: Header
    work: dict[str, Work] = Field(default_factory=dict, description="Operation id -> how it is done here.")
    parts: list[Part] = Field(default_factory=list)
    stock: dict[str, Stock] = Field(default_factory=dict, description="Operation id -> sizes to choose from.")
    one_time: dict[str, Money] = Field(default_factory=dict, description="One-time-use part id -> price of one.")


class Outline(File):
    """The same with entries left unread, so that one faulty entry hides no fault of another."""

    sheet: dict[str, Any]  # type: ignore[assignment]
    work: dict[str, dict[str, Any]] = Field(default_factory=dict)  # type: ignore[assignment]
    parts: list[dict[str, Any]] = Field(default_factory=list)  # type: ignore[assignment]
    stock: dict[str, dict[str, Any]] = Field(default_factory=dict)  # type: ignore[assignment]
    one_time: dict[str, Any] = Field(default_factory=dict)
