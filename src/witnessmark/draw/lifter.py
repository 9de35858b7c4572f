"""Where the gauge goes on lifters and buckets, their bores, a lifter's foot, and hydraulic adjusters."""

from witnessmark.draw.handtool import bore_gauge, dial, lens, noted, section_round
from witnessmark.draw.scene import (
    Ask,
    Scene,
    caption,
    cut,
    height_dimension,
    micrometer,
    mirrored,
    painted,
    section,
)
from witnessmark.draw.shape import Circle, Line, Point, Rect, Shape, Text, path, polygon

_X = 190.0
_LEVELS = {"top": 0.22, "upper": 0.22, "front": 0.22, "bottom": 0.78, "lower": 0.78, "rear": 0.78}
_SIZE = {"lifter": (40.0, 60.0, 320.0), "bucket": (50.0, 110.0, 236.0)}  # half width, top, foot
_WAYS = {"along": ("along the wipe", "as the lobe wipes", "over it"),
         "across": ("across the wipe", "a quarter turn from", "the lobe's wipe")}  # fmt: skip


def lifter(ask: Ask) -> Scene:
    """A lifter in the block: its body, its bore, or the clearance between them."""
    return _fit(ask, "lifter")


def bucket(ask: Ask) -> Scene:
    """A bucket in the head: its skirt, its bore, or the clearance between them."""
    return _fit(ask, "bucket")


def _fit(ask: Ask, part: str) -> Scene:
    if ask.characteristic.endswith("_clearance"):
        return _gap(ask, part)
    if ask.characteristic.endswith("_bore"):
        return _bore(ask, part)
    return _body(ask, part)


def _solid(part: str, half: float, top: float, low: float) -> tuple[Shape, ...]:
    """The part from outside: a lifter with its oil band and cup, or a bucket with its shim recess hidden."""
    left, right = _X - half, _X + half
    if part == "lifter":
        waist = (top + low) / 2 - 16
        body: list[Point] = [(left, top), (left, waist), (left + 7, waist + 6), (left + 7, waist + 26),
                             (left, waist + 32), (left, low - 4), (left + 6, low)]  # fmt: skip
        lines: list[Shape] = [Line(left, y, right, y, "thin") for y in (waist, waist + 32)]
        lines.append(path("hidden", "M", _X - 16, top, "C", _X - 14, top + 22, _X + 14, top + 22, _X + 16, top))
    else:
        body = [(left + 5, top), (left, top + 5), (left, low)]
        lines = [Line(x, top + 30, x, low, "hidden") for x in (left + 12, right - 12)]
        lines += [Line(left + 12, top + 30, right - 12, top + 30, "hidden")]
    return (polygon("part", [*body, *mirrored(body, _X)]), *lines, Line(_X, top - 22, _X, low + 22, "centre"))


def _level(ask: Ask, part: str, usual: float) -> float:
    _, top, low = _SIZE[part]
    return top + _LEVELS.get(ask.place, usual) * (low - top)


def _body(ask: Ask, part: str) -> Scene:
    half, top, low = _SIZE[part]
    y = _level(ask, part, 0.22 if part == "lifter" else 0.6)
    plain = {"lifter": ("body of the lifter", "clear of scores and of", "the oil band"),
             "bucket": ("skirt of the bucket", "clear of scores and of", "the open rim")}[part]  # fmt: skip
    shapes = (
        *_solid(part, half, top, low), *micrometer(_X - half, _X + half, y),
        *section(66, 440, 34, ask.direction or "across"), *caption(150, 426, *_WAYS.get(ask.direction, plain)),
        *noted(ask, 514),
    )  # fmt: skip
    level = ask.place or "its running height"
    return Scene(shapes, (_X + half - 20, y + 9), f"where the micrometer goes now: over the {part}, at {level}")


def _walls(half: float, top: float, low: float) -> tuple[Shape, ...]:
    metal: list[Point] = [(_X - half - 62, top), (_X - half, top), (_X - half, low), (_X - half - 62, low)]
    return (*cut("section", metal), *cut("section", mirrored(metal, _X)), Line(_X - half, top, _X + half, top, "thin"),
            Line(_X - half, low, _X + half, low, "thin"), Line(_X, top - 20, _X, low + 20, "centre"))  # fmt: skip


def _bore(ask: Ask, part: str) -> Scene:
    half, top, low = _SIZE[part]
    y = _level(ask, part, 0.5)
    plain = (f"bore of the {part}", "wiped dry, no burr", "at its edge")
    shapes = (
        *_walls(half, top + 20, low), *bore_gauge(_X - half, _X + half, max(y, top + 40), 34),
        *section(66, 420, 34, ask.direction or "across", bore=True),
        *caption(150, 406, *_WAYS.get(ask.direction, plain)), *noted(ask, 494),
    )  # fmt: skip
    height = ask.place or "half way down"
    return Scene(shapes, (_X, y), f"where the bore gauge goes now: in the bore of the {part}, {height}")


def _gap(ask: Ask, part: str) -> Scene:
    half, top, low = _SIZE[part]
    play, up, down = 6.0, top + 34, low - 34
    sides = (*painted(_X - half, up + 8, play, down - up - 16, "left"),
             *painted(_X + half - play, up + 8, play, down - up - 16, "right"))  # fmt: skip
    shapes = (
        *_walls(half, up, down), *_solid(part, half - play, top, low), *sides,
        *caption(12, 400, f"bore less {part}", "worked out from the two readings;", "drawn wider than it is"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (_X - half, (up + down) / 2), f"where the clearance is now: between the {part} and its bore")


def lifter_foot(ask: Ask) -> Scene:
    """Crown of a flat lifter's foot: the lifter on its head, indicator from the middle to the rim."""
    half, top = 84.0, 190.0
    foot = path("part", "M", _X - half, 340, "L", _X - half, top + 16, "Q", _X - half, top + 10, _X - half + 8, top + 8,
                "Q", _X, top - 8, _X + half - 8, top + 8, "Q", _X + half, top + 10, _X + half, top + 16,
                "L", _X + half, 340)  # fmt: skip
    edge = Line(_X - half - 30, top, _X + half + 30, top, "phantom")
    shapes = (
        foot, edge, *dial(_X, top, 90, 66, 24), Line(_X, 70, _X, 356, "centre"),
        Line(_X + 22, top - 26, _X + half - 10, top - 12, "thin", end="arrow"),
        Line(_X - half, 340, _X + half, 340, "hidden"), Line(60, top - 26, 60, top, "thin", end="arrow"),
        Line(60, top + 34, 60, top + 9, "thin", end="arrow"), Line(54, top + 9, _X - half + 8, top + 9, "faint"),
        Line(54, top, 76, top, "faint"), Text(12, top - 32, "crown", "label"),
        *caption(12, 400, "crown of the lifter's foot", "from the middle out to the rim; or foot",
                 "to foot: they must rock, not stick"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(
        shapes, (_X, top), "where the indicator goes now: on the foot of the lifter, from its middle to the rim"
    )


def adjuster(ask: Ask) -> Scene:
    """Preload of a hydraulic adjuster: how far its plunger stands below its stop with the heel of the lobe on it."""
    if ask.characteristic == "follower_pivot":
        return _pivot(ask)
    half, top, low = 52.0, 96.0, 340.0
    sunk = 34.0
    body: list[Point] = [(_X - 34, 296), (_X - 34, top), (_X - half, top), (_X - half, low)]
    clip = [Rect(_X - 34 - 5, top + 12, 13, 6, "ink"), Rect(_X + 26, top + 12, 13, 6, "ink")]
    head = top + 18 + sunk
    finger = ask.gear.startswith("finger")
    seat: list[Point] = [] if finger else [(_X - 10, head + 18), (_X - 14, head)]
    plunger: list[Point] = [(_X - 20, 250), (_X - 20, 266), (_X - 34, 266), (_X - 34, head), *reversed(seat)]
    dome = (path("part", "M", _X - 22, head, "C", _X - 20, head - 26, _X + 20, head - 26, _X + 22, head, "Z"),) * finger
    spring = [Line(_X - 26 + 4 * (i % 2), 268 + 6 * i, _X + 26 - 4 * (i % 2), 271 + 6 * i, "thin") for i in range(4)]
    gauge = (Rect(_X - 84, top - 20, 168, 14, "phantom"), Rect(_X + 24, top - 60, 8, head - top + 60, "phantom"))
    where = {"finger": "pivot pressed by hand, drained", "pushrod": "pushrod in its cup, adjuster drained"}
    line = where.get(ask.gear.split("_", maxsplit=1)[0], "adjuster drained of oil")
    shapes = (
        *cut("section", [*body, *mirrored(body, _X)]), *cut("section_other", [*plunger, *mirrored(plunger, _X)]), *dome,
        *clip, *spring, *gauge, Line(_X, 24, _X, low + 14, "centre"),
        *painted(_X + 20, head - 8, 14, 8, "bottom"), *painted(_X - 36, top + 18, 14, 8, "top"),
        *height_dimension(92, top + 18, head, _X - half), Text(30, top + 12, "stop", "label"),
        *caption(12, 404, "plunger below its stop", line, "heel of the lobe on the follower"), *noted(ask, 484),
    )  # fmt: skip
    return Scene(
        shapes, (_X, head - 10), "where the depth gauge goes now: from the stop down to the adjuster's plunger"
    )


def _pivot(ask: Ask) -> Scene:
    """Ball and socket of a finger's pivot, the finger lifted off it."""
    y = 214.0
    socket = path("part", "M", 40, 150, "C", 60, 118, 130, 108, 190, 112, "C", 250, 112, 300, 128, 334, 138,
                  "L", 334, 170, "C", 290, 168, 262, 172, 240, 176, "C", 236, 132, 144, 132, 140, 176,
                  "C", 120, 186, 60, 190, 40, 150, "Z")  # fmt: skip
    ball = path("part", "M", _X - 34, y + 40, "C", _X - 34, y - 18, _X + 34, y - 18, _X + 34, y + 40, "Z")
    crown = ("M", _X - 26, y + 12, "C", _X - 18, y - 8, _X + 18, y - 8, _X + 26, y + 12)
    shapes: tuple[Shape, ...] = (
        socket, ball, Rect(_X - 30, y + 40, 60, 110, "part"), path("now_line", *crown), path("edge", *crown, width=3),
        Line(_X, 90, _X, y + 164, "centre"), Circle(_X, y - 2, 4, "thin"), *lens(_X - 22, y - 6, 54, 215),
        Line(_X + 60, y + 20, _X + 60, 182, "thin", end="arrow"),
        *caption(12, 404, "ball and socket of the pivot", "roll the finger through its swing by",
                 "hand, then both under the lens"),
        *noted(ask, 484),
    )  # fmt: skip
    return Scene(shapes, (_X, y - 4), "where the eye goes now: on the ball of the finger's pivot and its socket")


def adjuster_leakdown(ask: Ask) -> Scene:
    """Leak-down of a hydraulic adjuster: a known load on its plunger in a cup of oil, and a watch."""
    half, top, low = 34.0, 190.0, 322.0
    cup: list[Point] = [(_X - 80, low + 10), (_X - 80, 150), (_X - 72, 150), (_X - 72, low)]
    arm = polygon("phantom", [(16, 118), (334, 104), (334, 90), (16, 104)])
    weight = Rect(20, 118, 44, 52, "phantom")
    watch = (Circle(306, 250, 34, "phantom_part"), Rect(300, 204, 12, 12, "phantom"), Line(306, 250, 306, 226, "thin"),
             Line(306, 250, 322, 258, "thin"), Circle(306, 250, 34, "thin", dash="1 16.8"))  # fmt: skip
    shapes = (
        *cut("section", [*cup, *mirrored(cup, _X)]), Line(_X - 72, 168, _X + 72, 168, "faint", dash="8 4"),
        Rect(_X - half, top, 2 * half, low - top, "part"), Rect(_X - 22, top - 34, 44, 34, "part"),
        *section_round(_X, top - 44, 10), Rect(_X - 6, 112, 12, 24, "phantom"), arm, weight, *watch,
        *painted(_X - 20, top - 42, 12, 8, "bottom"), *painted(_X + 8, top - 42, 12, 8, "bottom"),
        Line(_X, 70, _X, low + 24, "centre"), Line(_X - 52, 196, _X - 52, 240, "outline", end="arrow"),
        Circle(326, 97, 5, "part"),
        *caption(12, 404, "time to leak down", "adjuster full, in clean oil, the stated",
                 "load on its plunger; watch the travel"),
        *noted(ask, 484),
    )  # fmt: skip
    return Scene(shapes, (_X, top - 40), "where the load goes now: on the plunger of the adjuster, and the watch runs")
