"""The blanks to be filled in: what each asks, what may stand in it, and how they become the plain mappings of a job.

A blank that is left empty stays out of the mapping, so that what nobody wrote is not taken for written.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from witnessmark.catalogue.entry import DRIVES, Catalogue
from witnessmark.engine.shape import COOLINGS, FUELS, GEARS, LAYOUTS, MATERIALS, SEALS, Layout

Choices = tuple[tuple[str, str], ...]
"""What may stand in a blank: (value, words)."""


@dataclass(frozen=True, slots=True)
class Blank:
    """One blank of a form: name, label, what stands in it, a hint, and the choices where only these will do."""

    name: str
    label: str
    value: str = ""
    hint: str = ""
    choices: Choices = ()
    wanted: bool = False
    fault: str = ""  # what keeps this blank from being taken


_COUNTS = tuple((str(n), str(n)) for n in range(1, 4))
_GEAR_WORDS = {
    "bucket_shim": "bucket, shim on top",
    "bucket_shim_under": "bucket, shim under",
    "bucket_hydraulic": "hydraulic bucket",
    "finger_hydraulic": "finger, hydraulic pivot",
    "finger_screw": "finger, screw pivot",
    "rocker": "rocker, screw",
    "rocker_hydraulic": "rocker, hydraulic",
    "pushrod": "pushrod, solid",
    "pushrod_hydraulic": "pushrod, hydraulic",
}
_SEAL_WORDS = {"positive": "positive, on the guide", "umbrella": "umbrella, on the stem", "ring": "ring, in the stem"}
_LAYOUT_WORDS = {"inline": "in line", "v": "V", "opposed": "opposed"}


def _choices(ids: Iterable[str], words: Mapping[str, str], none: str = "") -> tuple[tuple[str, str], ...]:
    first = (("", none),) if none else ()
    return (*first, *((name, words.get(name, name.replace("_", " "))) for name in ids))


def engine_blanks(
    engine: Mapping[str, Any], layout: Layout | None, kept: Mapping[str, str], faults: Mapping[str, str]
) -> tuple[Blank, ...]:
    """The blanks of the engine, filled with what was typed last, else with what the job holds.

    `faults` are sentences by blank; what follows from the rest stands as a hint in an empty blank.
    """
    known = engine_fields(engine)
    follows = {
        "cams": str(len(layout.cams)), "cam_journals": str(layout.cam_journals), "head_bolts": str(layout.head_bolts),
        "springs": str(layout.springs),
        **{bank: " ".join(map(str, numbers)) for bank, numbers in layout.banks if bank},
    } if layout else {}  # fmt: skip

    def blank(name: str, label: str, choices: Choices = (), hint: str = "", wanted: bool = False) -> Blank:
        value = kept.get(name, known.get(name, ""))
        shown_hint = f"{follows[name]}, as it follows" if not value and name in follows else hint
        return Blank(name, label, value, shown_hint, choices, wanted, faults.get(name, ""))

    materials = _choices(MATERIALS, {}, "not said")
    return (
        blank("layout", "layout", _choices(LAYOUTS, _LAYOUT_WORDS), wanted=True),
        blank("cylinders", "cylinders", hint="1 to 16", wanted=True),
        blank("inl", "inlet valves each", _COUNTS, wanted=True),
        blank("exh", "exhaust valves each", _COUNTS[:2], wanted=True),
        blank("gear", "valve gear", _choices(GEARS, _GEAR_WORDS), wanted=True),
        blank("head", "head of", materials),
        blank("block", "block of", materials),
        blank("cams", "camshafts a bank", hint="follows from the gear"),
        blank("cam_journals", "journals a camshaft", hint="one more than cylinders"),
        blank("head_bolts", "bolts a head", hint="two more than twice the cylinders"),
        blank("drive", "cam drive", _choices(DRIVES, {}, f"{layout.drive if layout else 'chain'}, as it follows")),
        blank("springs", "springs a valve", hint="1, or 2 for outer and inner"),
        blank("seal", "stem seals", _choices(SEALS, _SEAL_WORDS, "not said")),
        blank("fuel", "fuel", _choices(FUELS, {}, "not said")),
        blank("cooling", "cooled by", _choices(COOLINGS, {}, "not said")),
        blank("hybrid", "high-voltage drive", _choices(("yes", "no"), {}, "not said")),
        blank("left", "left bank, front to rear", hint="1 3 5 7"),
        blank("right", "right bank, front to rear", hint="2 4 6 8"),
    )


def engine_fields(engine: Mapping[str, Any]) -> dict[str, str]:
    """The flat blanks of a plain engine mapping."""
    flat = {key: str(value) for key, value in engine.items() if isinstance(value, str | int)}
    valves = engine.get("valves")
    if isinstance(valves, Mapping):
        flat |= {side: str(_how_many(valves[side])) for side in ("inl", "exh") if side in valves}
    banks = engine.get("banks")
    if isinstance(banks, Mapping):
        sides = {side: banks.get(side) for side in ("left", "right")}
        flat |= {side: " ".join(map(str, row)) for side, row in sides.items() if isinstance(row, list | tuple)}
    return flat


def _how_many(value: Any) -> Any:
    if isinstance(value, list | tuple):
        return len(value) if len(value) > 1 else 1
    return value if isinstance(value, str | int) else 1


_PLAIN = ("layout", "cylinders", "gear", "head", "block", "cams", "cam_journals", "head_bolts", "springs", "drive",
          "seal", "fuel", "cooling", "hybrid")  # fmt: skip
_POSITIONS = {"1": "1", "2": ["f", "r"], "3": ["f", "m", "r"]}


def engine_from(fields: Mapping[str, str]) -> dict[str, Any]:
    """The plain engine mapping of filled blanks; a count of valves that cannot be goes on as it was typed."""
    engine: dict[str, Any] = {key: fields[key].strip() for key in _PLAIN if fields.get(key, "").strip()}
    sides = {side: fields[side].strip() for side in ("inl", "exh") if fields.get(side, "").strip()}
    if sides:
        engine["valves"] = {side: _POSITIONS.get(count, count) for side, count in sides.items()}
    banks = {side: fields[side].replace(",", " ").split() for side in ("left", "right") if fields.get(side, "").strip()}
    if banks:
        engine["banks"] = banks
    return engine


def engine_blank_of(path: tuple[str | int, ...]) -> str:
    """The blank that a fault of the engine mapping belongs to."""
    names = [str(part) for part in path]
    if names[:1] in (["valves"], ["banks"]):
        return names[1] if len(names) > 1 else {"valves": "inl", "banks": "left"}[names[0]]
    return names[0] if names else ""


def gauge_blanks(
    catalogue: Catalogue, name: str, fields: Mapping[str, Any], kept: Mapping[str, str]
) -> tuple[Blank, ...]:
    """The blanks of a gauge, filled with what was typed last, else with its last revision."""
    known = {"gauge": name, **gauge_fields(fields)}
    kinds = tuple((kind.kind, kind.term) for kind in catalogue.gauge_kinds.values())

    def blank(key: str, label: str, hint: str = "", choices: Choices = (), wanted: bool = False) -> Blank:
        return Blank(key, label, kept.get(key, known.get(key, "")), hint, choices, wanted)

    return (
        blank("gauge", "its name on the bench", "M-07", wanted=True),
        blank("kind", "kind", choices=kinds, wanted=True),
        blank("unit", "unit", choices=_units(catalogue), wanted=True),
        blank("resolution", "smallest step", "0.001"),
        blank("U", "U of its calibration", "0.002"),
        blank("k", "k of that U", "2"),
        blank("date", "calibrated on", "2026-03-02"),
        blank("due", "calibration due on", "2027-03-02"),
        blank("certificate", "certificate"),
        blank("permissible_error", "or: permissible error", "0.004"),
        blank("s", "repeatability s", "0.0012"),
        blank("n", "from how many", "20"),
        blank("set", "leaves, thinnest first", "0.03 0.04 0.05"),
        blank("leaf_error", "error of a leaf", "0.001"),
        blank("size", "size of a master", "6.000"),
        blank("reads_from", "torque wrench: reads from", "10"),
        blank("reads_to", "reads to", "60"),
        blank("lever", "grip to drive", "400 mm"),
        blank("sensor", "drive to its sensor", "50 mm"),
        blank("owner", "whose it is", "Harbour Lane"),
        blank("place", "kept at", "drawer 3"),
    )


FIRST_UNITS = ("mm", "in", "N", "lbf")
INCH_UNITS = ("lbf·ft", "lbf·in", "psi")


def _units(catalogue: Catalogue) -> Choices:
    """Units that gauges of the catalogue show, and those of the inch shop."""
    own = (kind.unit for kind in catalogue.gauge_kinds.values())
    return tuple((name, {"in": "inch"}.get(name, name)) for name in dict.fromkeys((*FIRST_UNITS, *own, *INCH_UNITS)))


_CALIBRATION = ("U", "k", "date", "due", "certificate")
_GAUGE = ("kind", "unit", "resolution", "permissible_error", "leaf_error", "size", "reads_from", "reads_to", "lever",
          "sensor", "owner", "place")  # fmt: skip


def gauge_fields(fields: Mapping[str, Any]) -> dict[str, str]:
    """The flat blanks of the fields of a gauge."""
    flat = {key: str(fields[key]) for key in _GAUGE if isinstance(fields.get(key), str | int)}
    for group, keys in (("calibration", _CALIBRATION), ("repeatability", ("s", "n"))):
        inner = fields.get(group)
        if isinstance(inner, Mapping):
            flat |= {key: str(inner[key]) for key in keys if isinstance(inner.get(key), str | int)}
    leaves = fields.get("set")
    if isinstance(leaves, list | tuple):
        flat["set"] = " ".join(map(str, leaves))
    return flat


def gauge_from(fields: Mapping[str, str]) -> dict[str, Any]:
    """The fields of a gauge from filled blanks."""
    filled = {key: value.strip() for key, value in fields.items() if value.strip()}
    gauge: dict[str, Any] = {key: filled[key] for key in _GAUGE if key in filled}
    for group, keys in (("calibration", _CALIBRATION), ("repeatability", ("s", "n"))):
        inner = {key: filled[key] for key in keys if key in filled}
        # k alone says nothing: the form fills it in beside an empty U.
        if inner and set(inner) != {"k"}:
            gauge[group] = inner
    if "set" in filled:
        gauge["set"] = filled["set"].replace(";", " ").split()
    return gauge
