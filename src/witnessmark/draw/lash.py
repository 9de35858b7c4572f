"""Where the leaves go: valve lash under a cam or a rocker; and the lash shim between the faces of a micrometer."""

from witnessmark.draw.lobe import outline
from witnessmark.draw.scene import Ask, Scene, caption, cut, micrometer, mirrored, painted, taken
from witnessmark.draw.shape import Circle, Line, Point, Rect, Shape, path, polygon


def lash(ask: Ask) -> Scene:
    """Lash by the valve gear of the engine; `lash_shim` shows the shim by itself."""
    if ask.characteristic == "lash_shim":
        return _shim(ask)
    if ask.gear.startswith(("rocker", "pushrod", "finger")):
        return _under_rocker(ask)
    return _under_cam(ask)


def _under_cam(ask: Ask) -> Scene:
    x, base_y, base = 168.0, 160.0, 64.0
    heel = base_y + base
    gap = heel + 10
    # From inside the left skirt outward, over the crown, and down the right skirt.
    left: list[Point] = [(x - 58, gap + 16), (x - 58, gap + 100), (x - 74, gap + 100), (x - 74, gap)]
    bucket = cut("section", [*left, *mirrored(left, x)])
    shapes = (
        outline(x, base_y, base, 74, 24), Circle(x, base_y, 20, "thin"), Line(x, 30, x, 420, "centre"), *bucket,
        Rect(x - 16, gap + 18, 32, 150, "part"), *_leaf(x - 40, heel, 10),
        *caption(12, 460, "between cam and bucket", "nose of the lobe away from the bucket;",
                 "leaf flat, a light drag"),
        *taken(ask, 12, 546),
    )  # fmt: skip
    return Scene(shapes, (x + 20, heel + 5), "where the leaf goes now: between the heel of the lobe and the bucket")


def _leaf(x: float, y: float, thick: float) -> tuple[Shape, ...]:
    return (
        Rect(x, y, 338 - x, thick, "phantom"),
        Rect(x, y, 80, thick, "now"),
        Line(x, y, x + 80, y, "edge", 3),
        Line(x, y + thick, x + 80, y + thick, "edge", 3),
    )


def _under_rocker(ask: Ask) -> Scene:
    tip = 230.0
    arm = path("part", "M", 30, 150, "C", 90, 90, 180, 90, 230, 160, "C", 244, 180, 240, 214, 218, 218,
               "L", 168, 218, "C", 150, 214, 160, 190, 150, 180, "C", 120, 150, 90, 150, 60, 178, "Z")  # fmt: skip
    stem: list[Point] = [(180, 420), (180, tip + 3), (183, tip), (211, tip), (214, tip + 3), (214, 420)]
    shapes = (
        arm, Circle(118, 134, 16, "part"), polygon("part", stem, closed=False), Line(197, 190, 197, 440, "centre"),
        Rect(150, tip + 40, 94, 16, "part"), *_leaf(157, tip - 11, 10),
        *caption(12, 480, "between rocker and tip", "lobe's heel under the follower;", "leaf flat, a light drag"),
        *taken(ask, 230, 546),
    )  # fmt: skip
    return Scene(shapes, (200, tip - 6), "where the leaf goes now: between the rocker and the tip of the valve")


def _shim(ask: Ask) -> Scene:
    left, right, y = 156.0, 184.0, 200.0
    shim = Rect(left, y - 70, right - left, 140, "part")
    shapes = (
        shim, Line(left - 40, y, right + 40, y, "centre"), *micrometer(left, right, y),
        *caption(12, 420, "lash shim", "in the middle, clean of oil"), *taken(ask, 12, 486),
    )  # fmt: skip
    return Scene(shapes, (190, y + 5), "where the micrometer goes now: over the thickness of the lash shim")


def gap(x: float, y: float, w: float, thick: float) -> tuple[Shape, ...]:
    """A painted gap between two flat faces."""
    return (*painted(x, y, w, thick, "top"), Line(x, y + thick, x + w, y + thick, "edge", 3))
