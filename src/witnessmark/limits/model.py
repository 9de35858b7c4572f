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


Where = Annotated[list[Value], Field(min_length=2, max_length=3)]


class StageEntry(_Shape):
    """One stage of tightening: to a torque, through an angle, to yield, or to a stretch; with `again` after warming up.

    The key of the stage says its kind: one of torque, angle, yield and stretch stands here.
    """

    torque: Value | None = None
    angle: Value | None = Field(None, description="Degrees past the stage before.")
    to_yield: Literal["yes"] | None = Field(None, alias="yield", description="Until the wrench finds yield.")
    stretch: Value | None = None
    unit: Text | None = None
    for_: Text | None = Field(None, alias="for", description="The group of bolts it is for; left out, all.")
    again: Text | None = Field(None, description="When the torque is gone round again, as: after the first warm-up.")


class BoltEntry(_Shape):
    """What the bolt is made of lengthwise, from under its head to the first thread that holds; for the numbers only."""

    segments: Annotated[list[Annotated[list[Value], Field(min_length=2, max_length=2)]], Field(min_length=1)] = Field(
        description="Length and diameter of each free part, as [70, 10.0]; `thread` in place of a diameter.")
    held: Literal["nut", "tapped"] = "tapped"
    bearing: Value | None = Field(None, description="Mean diameter on which the head of the bolt turns.")
    joint_rate: Value | None = Field(None, description="Stiffness of the clamped parts, N/mm.")
    unit: Literal["mm", "in"] = "mm"


class TighteningEntry(_Shape):
    """How one joint is tightened: its bolts where they lie, their order, the stages, and what the bolts are."""

    term: Text | None = Field(None, description="What the shop calls them: head bolts, cam caps.")
    thread: Text | None = Field(None, description="Designation, as M10x1.5 or 7/16-14 UNC.")
    strength: Text | None = Field(None, description="Property class on the head of the bolt, as 10.9.")
    threads: Literal["dry", "oiled", "paste", "plated", "sealant"] | None = Field(
        None, description="Condition of thread and underside of the head that the torque is meant for.")
    stretch_bolts: Literal["yes", "no"] | None = Field(None, description="Whether the document takes them to yield.")
    reuse: Literal["once", "by length", "by waist", "yes", "unknown"] = "unknown"
    any_out: Literal["all new", "each"] = Field("all new", description="What one bolt outside its limit means.")
    bolts: Annotated[dict[Text, Where], Field(min_length=1)] = Field(
        description="Bolt -> [along the engine from its front, across towards the inlet side, group].")
    unit: Literal["mm", "in"] = Field("mm", description="Unit of the places.")
    order: list[Text] | None = Field(None, description="Order of tightening; left out, it is worked out and said so.")
    cylinders: dict[Text, Value] | list[Value] | None = Field(
        None, description="Cylinder -> where it stands along the engine; a list counts from 1.")
    caps: Literal["yes", "no"] = Field("no", description="Caps of a camshaft: drawn down together, turn by turn.")
    pressed: list[Text] | None = Field(None, description="Bolts of caps over which a lobe presses: they go first.")
    stages: Annotated[list[StageEntry], Field(min_length=1)]
    bolt: BoltEntry | None = None
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
    tightening: dict[str, TighteningEntry] = Field(default_factory=dict, description="Joint, as head -> how.")


class Outline(File):
    """The same with entries left unread, so that one faulty entry hides no fault of another."""

    sheet: dict[str, Any]  # type: ignore[assignment]
    limits: dict[str, Annotated[list[dict[str, Any]], Field(min_length=1)]] = Field(default_factory=dict)  # type: ignore[assignment]
    operations: dict[str, dict[str, Any]] = Field(default_factory=dict)  # type: ignore[assignment]
    tightening: dict[str, dict[str, Any]] = Field(default_factory=dict)  # type: ignore[assignment]
