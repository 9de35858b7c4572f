"""The shape of a limit sheet, key by key; every value is text until the catalogue says what it means."""

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

FORMAT = "witnessmark-limits-1"

Text = Annotated[str, StringConstraints(min_length=1, max_length=200)]
Value = Annotated[
    str,
    StringConstraints(min_length=1, max_length=60),
    Field(description="A number as the document prints it, such as 5.940, 0.2345, 1 5/8 or 2.5 thou."),
]
Bearer = Literal["must be proven good", "must be proven bad", "even"]


class _Shape(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True)


class Header(_Shape):
    """Which document the limits are copied from, and who bears the doubt where an entry does not say."""

    name: Text
    document: Text
    invented: Literal["yes", "no"] = "no"
    doubt: Bearer = "must be proven good"
    copied_from: Annotated[Text | None, Field(description="The sheet or job from which this one was copied.")] = None


class Range(_Shape):
    """Least and greatest value; one of them may be left out."""

    low: Value | None = None
    high: Value | None = None


class Entry(_Shape):
    """The limits of one characteristic for some places."""

    model_config = ConfigDict(
        json_schema_extra={
            "anyOf": [{"required": ["unit"]}, {"required": ["accept"]}],
            "dependentRequired": {key: ["unit"] for key in ("service", "new", "other", "given")},
        }
    )

    for_: Literal["inl", "exh"] | None = Field(None, alias="for", description="Side: inlet or exhaust.")
    position: Literal["f", "m", "r"] | None = Field(None, description="Front, middle or rear valve of its cylinder.")
    place: Text | None = Field(None, description="A place and all below it, such as inl-3f or left/gasket-face.")
    stations: Literal["each", "worst", "mean", "spread", "spread_of_places"] | None = Field(
        None, description="What of many readings is judged; left out, as the catalogue says."
    )
    service: Range | None = Field(None, description="May be used again.")
    new: Range | None = Field(None, description="Target of new or machined work.")
    other: dict[Text, Range] = Field({}, description="Further kinds of limit that the document gives, by their name.")
    given: Value | None = Field(None, description="A value that the document states and nobody measures.")
    accept: Annotated[list[Text], Field(min_length=1)] | None = Field(
        None, description="Answers that may stand, for what is looked at."
    )
    unit: Text | None = Field(None, description="Unit of all values of this entry: mm, in, thou, N, lbf, N/mm, lbf/in.")
    document: Text | None = None
    page: Text | None = None
    doubt: Bearer | None = None
    to_check: Literal["yes", "no"] = Field("no", description="Copied, and not yet held against the document.")


class Operation(_Shape):
    """Whether the document allows an operation, and up to how much."""

    allowed: Literal["yes", "no", "up to", "unknown"]
    most: Value | None = None
    unit: Text | None = None
    document: Text | None = None
    page: Text | None = None


class File(_Shape):
    """A limit sheet: what the service information in hand allows, copied with document and page."""

    format: Literal["witnessmark-limits-1"]
    sheet: Header
    limits: dict[str, Annotated[list[Entry], Field(min_length=1)]] = Field(
        default_factory=dict, description="Characteristic id -> its limits."
    )
    operations: dict[str, Operation] = Field(default_factory=dict, description="Operation id -> what is allowed.")


class Outline(File):
    """The same with entries left unread, so that one faulty entry hides no fault of another."""

    sheet: dict[str, Any]  # type: ignore[assignment]
    limits: dict[str, Annotated[list[dict[str, Any]], Field(min_length=1)]] = Field(default_factory=dict)  # type: ignore[assignment]
    operations: dict[str, dict[str, Any]] = Field(default_factory=dict)  # type: ignore[assignment]
