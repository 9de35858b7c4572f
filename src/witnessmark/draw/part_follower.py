"""The sheet of what stands between cam and valve, in the valve gear of the engine."""

from collections.abc import Callable

from witnessmark.draw.part import MIDDLE, Part, Spot, scaled
from witnessmark.draw.scene import mirrored
from witnessmark.draw.shape import Line, Point, Rect, Shape, Text, polygon
from witnessmark.draw.valve_gear import train


def follower(gear: str) -> Part:
    """The follower with its neighbours; what is measured on it depends on the gear."""
    kinds: dict[str, Callable[[str], Part]] = {"finger": _finger, "rocker": _rocker, "pushrod": _rocker}
    return kinds.get(gear.split("_", maxsplit=1)[0], _bucket)(gear)


def _on_sheet(gear: str, k: float, middle: float, top: float) -> tuple[tuple[Shape, ...], Callable[..., Spot]]:
    """The train `k` times as large, its x of `middle` in the middle of the sheet; and places given in its x and y."""
    dx = MIDDLE + (12 if gear.startswith("pushrod") else 0) - k * middle

    def spot(x: float, y: float, side: str, *shapes: Shape) -> Spot:
        return Spot((k * x + dx, k * y + top), side, scaled(shapes, k, dx, top))

    return tuple(s for s in scaled(train(gear).parts, k, dx, top) if not isinstance(s, Text)), spot


def _adjuster(spot: Callable[..., Spot], gear: str, x: float, y: float, side: str) -> dict[str, Spot]:
    if "hydraulic" not in gear:
        return {}
    return {"hla_preload": spot(x, y, side), "hla_leakdown": spot(x, y + 24, side)}


def _bucket(gear: str) -> Part:
    shapes, spot = _on_sheet(gear, 1.3, 168, 14)
    x, y, wide, thick = train(gear).gap
    crown = y + thick + (0 if gear != "bucket_shim" else 16)
    spots = {
        "valve_lash": spot(x + wide, y + thick / 2, "right"),
        "lash_shim": spot(220, crown - 8, "right") if gear == "bucket_shim" else spot(188, crown + 24, "right"),
        "bucket_diameter": spot(96, crown + 60, "left"),
        "bucket_bore": spot(96, crown + 90, "left"),
        "bucket_clearance": spot(240, crown + 60, "right"),
        "valve_lift": spot(168, crown + 130, "left"),
        **_adjuster(spot, gear, 190, crown + 30, "right"),
    }
    return Part("the bucket between cam and valve", shapes, spots)


def _finger(gear: str) -> Part:
    shapes, spot = _on_sheet(gear, 0.66, 168, 130)
    x, y, wide, thick = train(gear).gap
    spots = {
        "valve_lash": spot(x + wide, y + thick / 2, "right"),
        "rocker_pad": spot(150, 196, "left"),
        "follower_pivot": spot(65, 228, "left"),
        "tip_sweep": spot(268, 253, "right"),
        "tip_sweep_offset": spot(262, 256, "right"),
        "valve_lift": spot(268, 340, "right"),
        **_adjuster(spot, gear, 65, 290, "left"),
    }
    return Part("the finger between cam and valve", shapes, spots)


def _rocker(gear: str) -> Part:
    pushrod = gear.startswith("pushrod")
    shapes, spot = _on_sheet(gear, 0.66, 170, 30)
    x, y, wide, thick = train(gear).gap
    spots = {
        "valve_lash": spot(x + wide, y + thick / 2, "right"),
        "rocker_ratio": spot(120, 128, "left"),
        "rocker_bore": spot(166, 125, "right"),
        "rocker_shaft_diameter": spot(176, 150, "right"),
        "rocker_shaft_clearance": spot(188, 162, "right"),
        "rocker_pad": spot(262, 222, "right") if pushrod else spot(62, 200, "left"),
        "tip_sweep": spot(262, 233, "right"),
        "tip_sweep_offset": spot(254, 234, "right"),
        "valve_lift": spot(262, 340, "right"),
        "follower_lift": spot(62, 116, "left"),
        **_adjuster(spot, gear, 70, 180, "left"),
    }
    if not pushrod:
        return Part("the rocker between cam and valve", shapes, spots)
    low, places = _lifter(gear)
    return Part("lifter, pushrod and rocker", (*shapes, *low), {**spots, **places})


def _lifter(gear: str) -> tuple[tuple[Shape, ...], dict[str, Spot]]:
    """The lower half of the pushrod and the lifter in its bore, under the rest."""
    x, top, low = MIDDLE + 12 + 0.66 * (62 - 170), 370.0, 512.0
    end = 30 + 0.66 * 386
    body: list[Point] = [(x - 26, top), (x - 26, top + 50), (x - 21, top + 54), (x - 21, top + 70), (x - 26, top + 74),
                         (x - 26, low - 3), (x - 22, low)]  # fmt: skip
    shapes = (
        Line(x - 29, top + 20, x - 29, low - 40, "outline"),
        Line(x + 29, top + 20, x + 29, low - 40, "outline"), Rect(x - 51, top + 20, 22, low - top - 60, "section"),
        Rect(x + 29, top + 20, 22, low - top - 60, "section"), polygon("part", [*body, *mirrored(body, x)]),
        Rect(x - 5, end, 10, top + 12 - end, "part"), Line(x, end, x, low + 16, "centre"),
    )  # fmt: skip
    places = {
        "pushrod_length": Spot((x - 5, 320), "left"),
        "pushrod_runout": Spot((x + 5, 300), "right"),
        "lifter_bore": Spot((x - 29, top + 40), "left"),
        "lifter_diameter": Spot((x - 26, top + 104), "left"),
        "lifter_bore_clearance": Spot((x + 28, top + 60), "right"),
        "lifter_crown": Spot((x + 6, low), "right"),
    }
    if "hydraulic" in gear:
        places |= {"hla_preload": Spot((x - 12, top + 12), "left"), "hla_leakdown": Spot((x + 12, top + 30), "right")}
    return shapes, places
