"""Where the leaves go: valve lash in the gear of the engine; and the lash shim between the faces of a micrometer."""

from witnessmark.draw.handtool import noted
from witnessmark.draw.scene import Ask, Scene, caption, micrometer, painted
from witnessmark.draw.shape import Line, Rect, Shape
from witnessmark.draw.valve_gear import train


def lash(ask: Ask) -> Scene:
    """Lash in the gear in hand; `lash_shim` shows the shim by itself."""
    if ask.characteristic == "lash_shim":
        return _shim(ask)
    gear = train(ask.gear)
    x, y, wide, thick = gear.gap
    bold = {"pushrod": "between rocker and tip", "rocker": "between screw and tip", "finger": "between cam and finger"}
    title = bold.get(ask.gear.split("_", maxsplit=1)[0], "between cam and bucket")
    shapes = (*gear.parts, *_leaf(x, y, wide, thick),
              *caption(12, 424, title, "heel of the lobe to its follower;", "leaf flat, a light drag"),
              *noted(ask, 504))  # fmt: skip
    return Scene(shapes, (x + wide / 2, y + 5), f"where the leaf goes now: between {gear.between}")


def _leaf(x: float, y: float, wide: float, thick: float) -> tuple[Shape, ...]:
    return (
        Rect(x, y, 338 - x, thick, "phantom_part"),
        Rect(x, y, wide, thick, "now"),
        Line(x, y, x + wide, y, "edge", 3),
        Line(x, y + thick, x + wide, y + thick, "edge", 3),
    )


def _shim(ask: Ask) -> Scene:
    left, right, y = 156.0, 184.0, 200.0
    shim = Rect(left, y - 70, right - left, 140, "part")
    shapes = (
        shim, Line(left - 40, y, right + 40, y, "centre"), *micrometer(left, right, y),
        *caption(12, 420, "lash shim", "in the middle, clean of oil"), *noted(ask, 486),
    )  # fmt: skip
    return Scene(shapes, (190, y + 5), "where the micrometer goes now: over the thickness of the lash shim")


def gap(x: float, y: float, w: float, thick: float) -> tuple[Shape, ...]:
    """A painted gap between two flat faces."""
    return (*painted(x, y, w, thick, "top"), Line(x, y + thick, x + w, y + thick, "edge", 3))
