"""The laws that the catalogue may name: one visible table, with arguments and units read from the annotations."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Any, get_type_hints

from witnessmark.mechanics import cam, clearance, drive, fastener, lash, seat, spring, tester, timing

TABLE: tuple[Callable[..., Any], ...] = (
    spring.spring_rate,
    spring.seat_load,
    spring.open_load,
    spring.coil_bind_clearance,
    cam.lobe_lift,
    clearance.stem_guide_clearance,
    clearance.guide_fit,
    clearance.seat_insert_fit,
    seat.seat_and_face_removed,
    spring.retainer_seal_clearance,
    clearance.rocker_shaft_clearance,
    clearance.lifter_bore_clearance,
    clearance.bucket_clearance,
    clearance.cam_oil_clearance,
    lash.rocker_ratio,
    timing.duration,
    timing.lobe_centreline,
    drive.chain_elongation,
    fastener.bolt_necking,
    fastener.hole_spare,
    tester.leak_down,
)


@dataclass(frozen=True, slots=True)
class Law:
    """A law by name: the function, its arguments in order with their units, and the unit of its result."""

    name: str
    function: Callable[..., Any]
    arguments: tuple[tuple[str, str], ...]
    unit: str


@cache
def laws() -> dict[str, Law]:
    """Every law by its name, which is the catalogue id of what it computes."""
    return {function.__name__: described(function) for function in TABLE}


def described(function: Callable[..., Any]) -> Law:
    """Read a law's arguments and units from its annotations; a law without them is a slip in our code (KeyError)."""
    units = {name: hint.__metadata__[0] for name, hint in get_type_hints(function, include_extras=True).items()}
    unit = units.pop("return")
    return Law(function.__name__, function, tuple(units.items()), unit)
