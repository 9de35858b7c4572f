"""What the catalogue holds, as values: characteristics, gauge kinds, methods, operations, hazards, sources."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, fields
from typing import Any

from witnessmark.catalogue.steps import StepKind

VALVE_PARTS = ("valve", "guide", "seat", "spring", "follower", "rocker", "pushrod", "lifter", "adjuster")
JOURNAL_PARTS = ("journal", "middle_journal", "cam_bore", "cam_cap")  # a journal, the bore it runs in and its cap
KINDS_OF_WORK = ("metal", "part", "gasket", "shim", "adjust", "repair")
KINDS_OF_PLACE = (
    *VALVE_PARTS,
    "chamber",
    "lobe",
    *JOURNAL_PARTS,
    "cam",
    "drive",
    "gasket_face",
    "inlet_face",
    "exhaust_face",
    "upper_face",
    "manifold_face",
    "head",
    "bolt",
    "engine",
)
GROUPS = ("head", "valve", "guide", "seat", "spring", "follower", "cam", "drive", "fastener")
DRAWINGS = (
    *("gasket", "manifold", "head", "chamber", "cam_bore", "cam_line", "cam_cap", "cracks", "pressure_test"),
    *("seat_insert", "finish", "fire_ring", "upper_face"),
    *("stem", "margin", "face_runout", "face_angle", "valve_head", "valve_length", "tip", "groove"),
    *("guide", "seat", "stem_height", "guide_height", "seat_angle", "seat_contact", "seal_test", "seat_seal_test"),
    "rock",
    *("spring", "installed_height", "retainer_seal", "stem_seal", "spring_pocket", "retainer_keeper"),
    *("lash", "rocker_shaft", "rocker_ratio", "rocker_pad", "tip_sweep", "pushrod", "lifter", "lifter_foot"),
    *("bucket", "adjuster", "adjuster_leakdown"),
    *("lobe", "journal", "cam", "end_play", "heel_runout", "lobe_taper", "lift", "timing", "chain", "chain_slack"),
    *("tensioner", "sprocket", "belt", "gear_backlash"),
    *("bolt", "necking", "torque", "angle", "stretch", "bolt_hole"),
    *("compression", "leak_down", "oil_pressure"),
)
RULES = ("each", "worst", "mean", "spread")
KINDS = ("number", "leaves", "derived", "form", "look", "reckoned")  # reckoned: the geometry of the engine gives it
SORTS = ("good", "bad", "doubt")  # what an answer of a look is worth
MATERIALS = ("aluminium", "iron", "steel", "any")
DRIVES = ("chain", "belt", "gear")
LAYOUTS = ("inline", "v", "opposed")
NOTHING = "none"  # the quantity of a look that says no more than its answer
ROUGHNESS = "surface_tester"  # the kind of gauge that reads it
UNIT_INSIDE: Mapping[str, str] = {
    "length": "mm",
    "force": "N",
    "rate": "N/mm",
    "angle_plane": "rad",
    "angle_crank": "rad",
    "angle_cam": "rad",
    "pressure": "MPa",
    "volume": "mm³",
    "time": "s",
    "ratio": "1",
    "torque": "N·mm",
    NOTHING: "",
}

Range = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Characteristic:
    """One thing that is measured or looked at, with all that the bench knows of it; values in the unit inside."""

    id: str
    term: str
    also: tuple[str, ...]
    table: str  # "A" to "M": casting, valves, guides and seats, springs, lash, cam, ..., fasteners
    group: str  # the family on the head sheet
    quantity: str  # dimension
    kind: str  # number | leaves (an interval) | derived | form (largest less smallest of another's readings) | look
    at: str  # kind of place
    stations: tuple[str, ...]  # () is one reading at the location
    optional: tuple[str, ...]  # may be read besides; `between` is each pair of neighbouring cylinders
    rule: str
    extreme: str  # the end that is the worst: "least", "most", or "" for both
    law: str
    arguments: tuple[str, ...]
    pairing: str  # "station": an argument without stations gives its one value to each station; "location"
    of: str
    form: str  # "along" | "round" | "all"
    usual_gauge: str
    usual: Range | None
    usual_by: Mapping[str, Range]
    wears: str
    state: str
    measure: str
    out: str
    remedies: tuple[str, ...]
    hazard: str
    teach: str
    sources: Mapping[str, str]  # of what -> key of the source
    source: str  # the same as one sentence
    drawing: str
    after: tuple[str, ...]  # measured only after these
    gears: tuple[str, ...]  # valve gears that have it; () is all
    drives: tuple[str, ...] = ()  # cam drives that have it; () is all
    layouts: tuple[str, ...] = ()  # inline, v, opposed; () is all
    says: Mapping[str, str] = field(default_factory=dict)  # answer of a look -> good | bad | doubt, in key order
    methods: tuple[str, ...] = ()  # ways of looking, the usual one first
    quick: tuple[str, ...] = ()  # the worst places, read on the quick route; () is all stations
    only_if: str = ""  # on the quick route asked only where this one was read and is not clearly within
    core: bool = False  # a hand is led to it where nobody has said what is wanted
    assembled: bool = False  # read on an engine that is together: asked in the round `as assembled` and in no other

    @property
    def unit(self) -> str:
        """The unit that its values have inside."""
        return UNIT_INSIDE[self.quantity]

    @property
    def fine(self) -> bool:
        """Whether it is a roughness, which the trade tells in micrometre or microinch and never in millimetre."""
        return self.quantity == "length" and self.usual_gauge == ROUGHNESS

    @property
    def measured(self) -> bool:
        """Whether a gauge or an eye reads it; the others are worked out."""
        return self.kind in ("number", "leaves", "look")

    @property
    def quick_stations(self) -> tuple[str, ...]:
        """The stations of the quick route."""
        return self.quick or self.stations

    def usual_at(self, side: str) -> Range | None:
        """The usual range for a side, "inl" or "exh", or the one for all."""
        return self.usual_by.get(side, self.usual)

    def to_dict(self) -> dict[str, Any]:
        """Plain data for machines; `usual` in the unit inside."""
        plain: dict[str, Any] = {each.name: getattr(self, each.name) for each in fields(self)} | {"unit": self.unit}
        plain["usual_by"] = {side: list(each) for side, each in self.usual_by.items()}
        plain |= {"sources": dict(self.sources), "says": dict(self.says)}
        return {name: list(value) if isinstance(value, tuple) else value for name, value in plain.items()}


@dataclass(frozen=True, slots=True)
class GaugeKind:
    """A kind of gauge with its usual doubt in workshop hands, used where no gauge was named. Values in mm or N."""

    kind: str
    term: str
    also: tuple[str, ...]
    quantity: str
    reads: str  # number | leaves | deviation (from a size that it was set to) | size (it holds one and reads nothing)
    unit: str  # of the figures as written
    resolution: float
    U: float
    k: float
    relative: float  # U as a share of the reading, added where a gauge is stated so; 0 where it is not
    repeatability: float  # s of single readings
    leaves: tuple[float, ...]
    leaves_text: tuple[str, ...]
    leaf_error: float
    teach: str
    source: str


@dataclass(frozen=True, slots=True)
class Method:
    """A way of looking: what it finds, what it cannot find, and on what it works."""

    id: str
    term: str
    also: tuple[str, ...]
    finds: str
    misses: str
    materials: tuple[str, ...]  # aluminium, iron, steel, or any
    proves: bool  # whether "none found" by this method proves soundness
    usual_first_for: tuple[str, ...]  # materials for which a hand takes it first
    hazard: str
    source: str


@dataclass(frozen=True, slots=True)
class Operation:
    """Work that a sheet may allow or forbid and that a remedy names; `amount` is the dimension of how much, or ""."""

    id: str
    term: str
    also: tuple[str, ...]
    amount: str
    direction: str
    source: str
    at: str = "head"  # kind of place
    kind: str = "repair"  # one of KINDS_OF_WORK
    order: int = 0  # its place in the order of work
    by: str = "bench"  # shop: goes out with the head; bench: done here
    gates: tuple[str, ...] = ()  # sound | cam_line: what must be so before
    uses: tuple[str, ...] = ()  # consumables that it takes
    check: tuple[str, ...] = ()  # characteristics to measure before the head comes back
    finish: str = ""
    hazard: str = ""


@dataclass(frozen=True, slots=True)
class Consumable:
    """A part that is put in once and never again. `per` is what it is counted by, `when` what calls for it."""

    id: str
    term: str
    per: str  # head | valve | bolt | chamber | cam | engine
    when: str  # head_off | drive_off | injectors_out (of a diesel) | used
    source: str


@dataclass(frozen=True, slots=True)
class Hazard:
    """What can hurt, and what to do about it."""

    id: str
    term: str
    text: str
    source: str


@dataclass(frozen=True, slots=True)
class Source:
    """Where a statement comes from: `status` is seen, memory, derived, or none (common practice)."""

    id: str
    text: str
    status: str


@dataclass(frozen=True, slots=True)
class Catalogue:
    """All of it, characteristics in bench order."""

    characteristics: Mapping[str, Characteristic]
    gauge_kinds: Mapping[str, GaugeKind]
    operations: Mapping[str, Operation]
    hazards: Mapping[str, Hazard]
    sources: Mapping[str, Source]
    methods: Mapping[str, Method] = field(default_factory=dict)
    consumables: Mapping[str, Consumable] = field(default_factory=dict)
    steps: Mapping[str, StepKind] = field(default_factory=dict)  # of assembly, in working order


def methods_for(entry: Characteristic, methods: Mapping[str, Method], material: str) -> tuple[str, ...]:
    """The ways of looking that take hold of a material, the usual one for it first; all where the material is ""."""
    if not material:
        return entry.methods
    found = [name for name in entry.methods if {material, "any"} & set(methods[name].materials)]
    return tuple(sorted(found, key=lambda name: material not in methods[name].usual_first_for))


def meet(at: str, other: str) -> bool:
    """Whether two kinds of place stand at one location: a guide and its valve, a journal and its bore."""
    return at == other or any({at, other} <= set(parts) for parts in (VALVE_PARTS, JOURNAL_PARTS))


def form_groups(stations: Iterable[str], form: str) -> tuple[tuple[str, ...], ...]:
    """The stations that a form compares with each other; largest less smallest is taken within each group.

    A station is place and direction, "top/along". "along" compares the places in one direction (taper), "round" the
    directions at one place (out-of-round), "all" everything.
    """
    keys = {"along": lambda station: station.rpartition("/")[2], "round": lambda station: station.rpartition("/")[0]}
    groups: dict[str, list[str]] = {}
    for station in stations:
        groups.setdefault(keys[form](station) if form in keys else "", []).append(station)
    return tuple(tuple(group) for group in groups.values())
