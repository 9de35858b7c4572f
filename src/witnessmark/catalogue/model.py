"""The shape of a catalogue file, key by key. Everything is text; meaning comes in `check`."""

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

from witnessmark.catalogue.entry import (
    DRAWINGS,
    DRIVES,
    GROUPS,
    KINDS,
    KINDS_OF_PLACE,
    KINDS_OF_WORK,
    LAYOUTS,
    MATERIALS,
    RULES,
    SORTS,
)
from witnessmark.catalogue.steps import PER, SECTIONS, SHEETS

FORMAT = "witnessmark-catalogue-1"

Text = Annotated[str, StringConstraints(min_length=1, max_length=1500)]
Id = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9_]*$", max_length=60)]
Key = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9-]*$", max_length=60)]
Word = Annotated[str, StringConstraints(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*(/[a-z0-9]+(-[a-z0-9]+)*){0,2}$")]
Figure = Annotated[str, StringConstraints(pattern=r"^-?[0-9]+(\.[0-9]+)?$", max_length=20)]
Side = Literal["inl", "exh"]
When = Annotated[dict[Id, Annotated[list[Text], Field(min_length=1)]], Field(min_length=1)]  # fact -> what will do
Answer = Annotated[str, StringConstraints(pattern=r"^[a-z]+([ -][a-z]+)*$", max_length=30)]


class _Shape(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True)


class Range(_Shape):
    """Least and greatest value met at all."""

    low: Figure
    high: Figure
    unit: Text


class Characteristic(_Shape):
    """An entry: one thing that is measured or looked at."""

    term: Text
    also: list[Text] = []
    table: Annotated[str, StringConstraints(pattern="^[A-M]$")]
    group: Literal[GROUPS]  # type: ignore[valid-type]
    quantity: Text
    kind: Literal[KINDS]  # type: ignore[valid-type]
    at: Literal[KINDS_OF_PLACE]  # type: ignore[valid-type]
    gears: list[Text] = []
    drives: list[Literal[DRIVES]] = []  # type: ignore[valid-type]
    layouts: list[Literal[LAYOUTS]] = []  # type: ignore[valid-type]
    stations: list[Word] = []
    quick: list[Word] = []
    optional: list[Word] = []
    rule: Literal[RULES]  # type: ignore[valid-type]
    extreme: Literal["least", "most", "both"]
    law: Text | None = None
    pairing: Literal["station", "location"] | None = None
    of: Text | None = None
    form: Literal["along", "round", "all"] | None = None
    says: dict[Answer, Literal[SORTS]] = {}  # type: ignore[valid-type]
    methods: list[Id] = []
    gauge: Text | None = None
    usual: Range | None = None
    usual_by: dict[Side, Range] = {}
    wears: Annotated[str, StringConstraints(pattern=r"^(up|down|either way|not at all)([,;] .+)?$", max_length=400)]
    state: Text
    measure: Text
    out: Text
    remedies: list[Text]
    hazard: Text | None = None
    teach: Text
    sources: dict[Literal["measure", "usual", "law", "teach"], Text]
    drawing: Literal[DRAWINGS]  # type: ignore[valid-type]
    after: list[Text] = []
    only_if: Text | None = None
    core: Literal["yes", "no"] = "no"
    assembled: Literal["yes", "no"] = "no"


class GaugeKind(_Shape):
    """A kind of gauge with its usual doubt."""

    term: Text
    also: list[Text] = []
    quantity: Text
    reads: Literal["number", "leaves", "deviation", "size"]
    unit: Text
    resolution: Figure | None = None
    U: Figure | None = None
    k: Figure = "2"
    relative: Figure | None = None
    repeatability: Figure | None = None
    leaves: list[Figure] = []
    leaf_error: Figure | None = None
    teach: Text
    source: Text


class Method(_Shape):
    """A way of looking."""

    term: Text
    also: list[Text] = []
    finds: Text
    misses: Text
    materials: Annotated[list[Literal[MATERIALS]], Field(min_length=1)]  # type: ignore[valid-type]
    proves: Literal["yes", "no"]
    usual_first_for: list[Literal[MATERIALS]] = []  # type: ignore[valid-type]
    hazard: Text | None = None
    source: Text


class Operation(_Shape):
    """Work that is done on a part."""

    term: Text
    also: list[Text] = []
    amount: Text | None = None
    direction: Text
    source: Text
    at: Literal[KINDS_OF_PLACE]  # type: ignore[valid-type]
    kind: Literal[KINDS_OF_WORK]  # type: ignore[valid-type]
    order: Figure
    by: Literal["shop", "bench"]
    gates: list[Literal["sound", "cam_line"]] = []
    uses: list[Id] = []
    check: list[Id] = []
    finish: Text | None = None
    hazard: Id | None = None


class Consumable(_Shape):
    """A part that is put in once, and how many of it an engine takes."""

    term: Text
    per: Literal["head", "valve", "bolt", "chamber", "cam", "engine"]
    when: Literal["head_off", "drive_off", "injectors_out", "used"]
    source: Text


class Step(_Shape):
    """A step of assembly."""

    term: Text
    text: Text
    tool: Text
    order: Annotated[str, StringConstraints(pattern=r"^[0-9]{1,4}$")]
    section: Literal[SECTIONS]  # type: ignore[valid-type]
    per: Literal[PER]  # type: ignore[valid-type]
    when: list[When] = []
    after: list[Id] = []
    names: list[Id] = []
    uses: list[Id] = []
    check: list[Id] = []
    hazards: dict[Id, list[When]] = {}
    sheet: Literal[SHEETS] | None = None  # type: ignore[valid-type]
    tells: Id | None = None
    source: Text


class Hazard(_Shape):
    """What can hurt, and the control."""

    term: Text
    text: Text
    source: Text


class Source(_Shape):
    """Where statements come from."""

    text: Text
    status: Literal["seen", "memory", "derived", "none"]


class Family(_Shape):
    """What a file is about, and its place in the bench order."""

    term: Text
    order: Annotated[str, StringConstraints(pattern=r"^[0-9]{1,4}$")]


class File(_Shape):
    """One data file: what it may hold."""

    format: Literal["witnessmark-catalogue-1"]
    family: Family
    characteristics: dict[Id, Characteristic] = Field(default_factory=dict)
    gauge_kinds: dict[Id, GaugeKind] = Field(default_factory=dict)
    methods: dict[Id, Method] = Field(default_factory=dict)
    operations: dict[Id, Operation] = Field(default_factory=dict)
    consumables: dict[Id, Consumable] = Field(default_factory=dict)
    steps: dict[Id, Step] = Field(default_factory=dict)
    hazards: dict[Id, Hazard] = Field(default_factory=dict)
    sources: dict[Key, Source] = Field(default_factory=dict)
