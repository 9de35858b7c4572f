"""Threads by their designation: ISO metric coarse and fine, unified UNC and UNF, with diameters and areas [mm, mm²].

The tables hold only which pitch belongs to which size; every diameter comes from the basic profile, which both families
share (H = root of 3 over 2, times the pitch). Two numbers differ because their standards count differently:

    root diameter   metric  d - 1.2269 P, rounded root (d3 of ISO 898-1)
                    unified d - 1.2990 P, the section at the minor diameter of the tables of ASME B1.1
    stress area     on the mean of pitch and root diameter: d - 0.9382 P and d - 0.9743 P

Lengths in mm, also of inch threads. Sources: pitches ISO 261:1998 and ASME B1.1 (both from memory); formulas as said.
"""

import re
from dataclasses import dataclass
from math import pi

from witnessmark.mechanics.fastener import minor_diameter, pitch_diameter, root_diameter
from witnessmark.mechanics.law import OutsideLaw

INCH = 25.4
# Nominal diameter -> coarse pitch, then the fine pitches, mm.
METRIC: dict[float, tuple[float, ...]] = {
    3: (0.5, 0.35), 3.5: (0.6, 0.35), 4: (0.7, 0.5), 5: (0.8, 0.5), 6: (1, 0.75), 7: (1, 0.75),
    8: (1.25, 1, 0.75), 9: (1.25, 1, 0.75), 10: (1.5, 1.25, 1, 0.75), 11: (1.5, 1, 0.75), 12: (1.75, 1.5, 1.25, 1),
    14: (2, 1.5, 1.25, 1), 16: (2, 1.5, 1), 18: (2.5, 2, 1.5, 1), 20: (2.5, 2, 1.5, 1), 22: (2.5, 2, 1.5, 1),
    24: (3, 2, 1.5, 1), 27: (3, 2, 1.5, 1), 30: (3.5, 3, 2, 1.5, 1),
}  # fmt: skip
# Size -> threads to the inch, coarse (UNC) and fine (UNF). A numbered screw is 0.060 in and 0.013 in for each number.
UNIFIED: dict[str, tuple[int, int]] = {
    "4": (40, 48), "5": (40, 44), "6": (32, 40), "8": (32, 36), "10": (24, 32), "12": (24, 28),
    "1/4": (20, 28), "5/16": (18, 24), "3/8": (16, 24), "7/16": (14, 20), "1/2": (13, 20), "9/16": (12, 18),
    "5/8": (11, 18), "3/4": (10, 16), "7/8": (9, 14), "1": (8, 12),
}  # fmt: skip
_METRIC = re.compile(r"M(\d+(?:\.\d+)?)(?:X(\d+(?:\.\d+)?))?(?:-\d\w+)?")
_UNIFIED = re.compile(r"(?:NO\.?|#)?(\d+(?:/\d+)?)(?:IN|\")?-(\d+)(UNC|UNF|UNRC|UNRF)?(?:-\d[AB])?")
SHOWN = "M10x1.25, M10 (coarse), 3/8-16 UNC, 7/16-20 UNF or No. 10-24"


@dataclass(frozen=True, slots=True)
class Thread:
    """An outside thread: `name` as standards write it, `series` metric, UNC or UNF, the rest in mm and mm²."""

    name: str
    series: str
    nominal: float
    pitch: float
    pitch_diameter: float
    minor_diameter: float
    root_diameter: float

    @property
    def stress_diameter(self) -> float:
        """Diameter whose circle is the stress area: the mean of pitch and root diameter [mm]."""
        return (self.pitch_diameter + self.root_diameter) / 2

    @property
    def stress_area(self) -> float:
        """A_s, for strength [mm²]. Source: ISO 898-1 and ASME B1.1."""
        return pi / 4 * self.stress_diameter**2

    @property
    def root_area(self) -> float:
        """A_3 at the root, for stiffness [mm²]. Source: VDI 2230-1 reckons free thread with it."""
        return pi / 4 * self.root_diameter**2


def metric(nominal: float, pitch: float) -> Thread:
    """A thread of the metric profile with any pitch, also one that ISO 261 does not list. Source: ISO 724, ISO 68-1."""
    return Thread(
        f"M{nominal:g}x{pitch:g}", "metric", nominal, pitch, float(pitch_diameter(nominal, pitch)),
        float(minor_diameter(nominal, pitch)), float(root_diameter(nominal, pitch)))  # fmt: skip


def unified(size: str, threads: int) -> Thread:
    """A unified thread from its size, as 3/8 or 10, and its threads to the inch. Source: ASME B1.1."""
    nominal, pitch = INCH * _inches(size), INCH / threads
    series = ("UNC", "UNF")[UNIFIED[size].index(threads)]
    number = f"No. {size}" if "/" not in size and size != "1" else size
    return Thread(
        f"{number}-{threads} {series}", series, nominal, pitch, float(pitch_diameter(nominal, pitch)),
        float(minor_diameter(nominal, pitch)), nominal - 3 * 3**0.5 / 4 * pitch)  # fmt: skip


def designated(text: str) -> Thread:
    """The thread of a designation; OutsideLaw with what is known where the tables do not have it."""
    plain = re.sub(r"\s+", "", text.upper().replace("×", "X").replace("*", "X").replace(",", "."))
    if found := _METRIC.fullmatch(plain):
        return _metric(text, float(found[1]), float(found[2]) if found[2] else None)
    if found := _UNIFIED.fullmatch(plain):
        return _unified(text, found[1], int(found[2]), (found[3] or "").replace("R", ""))
    raise OutsideLaw(f"'{text}' is no designation of a thread that is known here: write it as {SHOWN}")


def _metric(text: str, nominal: float, pitch: float | None) -> Thread:
    if nominal not in METRIC:
        sizes = ", ".join(f"M{one:g}" for one in METRIC)
        raise OutsideLaw(f"'{text}': no M{nominal:g} stands in the table; known are {sizes}")
    known = METRIC[nominal]
    if pitch is not None and pitch not in known:
        fine = ", ".join(f"{one:g}" for one in known[1:])
        raise OutsideLaw(f"'{text}': M{nominal:g} is known with a pitch of {known[0]:g} (coarse), {fine}; gauge it")
    return metric(nominal, known[0] if pitch is None else pitch)


def _unified(text: str, size: str, threads: int, series: str) -> Thread:
    if size not in UNIFIED:
        raise OutsideLaw(f"'{text}': no unified size {size} stands in the table; known are {', '.join(UNIFIED)}")
    coarse, fine = UNIFIED[size]
    if threads != {"UNC": coarse, "UNF": fine}.get(series, threads) or threads not in (coarse, fine):
        raise OutsideLaw(f"'{text}': {size} is known as {size}-{coarse} UNC and {size}-{fine} UNF; gauge the pitch")
    return unified(size, threads)


def _inches(size: str) -> float:
    if "/" in size:
        over, under = size.split("/")
        return int(over) / int(under)
    return 1.0 if size == "1" else 0.060 + 0.013 * int(size)
