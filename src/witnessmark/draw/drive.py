"""Where the gauge goes on the timing drive: chain, tensioner, sprocket, belt, gears."""

from math import cos, pi, radians, sin

from witnessmark.draw.camshaft import lost_motion
from witnessmark.draw.handtool import caliper_level, dial, lens, noted
from witnessmark.draw.scene import Ask, Scene, caption, painted
from witnessmark.draw.shape import Circle, Line, Path, Point, Rect, Shape, Text, path, polygon


def toothed(x: float, y: float, teeth: int, root: float, tip: float, turn: float = 0.0, share: float = 0.5) -> Path:
    """A toothed wheel; the first tooth at `turn` degrees from the right, `share` of the pitch is tooth at its root."""
    points: list[Point] = []
    pitch = 2 * pi / teeth
    for i in range(teeth):
        middle = radians(turn) + i * pitch
        for part, r in ((-share, root), (-share * 0.4, tip), (share * 0.4, tip), (share, root)):
            a = middle + part * pitch
            points.append((x + r * cos(a), y - r * sin(a)))
    return polygon("part", points)


def _links(x: float, y: float, pitch: float, count: int, outer_first: bool = True) -> tuple[Shape, ...]:
    """A length of roller chain from the side: rollers, inner plates, outer plates."""
    plates: list[Shape] = []
    for i in range(count):
        a, b = x + i * pitch, x + (i + 1) * pitch
        r = 13 if (i % 2 == 0) == outer_first else 11
        waist = path("part", "M", a, y - r, "Q", (a + b) / 2, y - r + 8, b, y - r, "A", r, r, 0, 0, 1, b, y + r,
                     "Q", (a + b) / 2, y + r - 8, a, y + r, "A", r, r, 0, 0, 1, a, y - r, "Z")  # fmt: skip
        plates = [*plates, waist] if r == 13 else [waist, *plates]
    return (*plates, *(Circle(x + i * pitch, y, 5, "part") for i in range(count + 1)))


_CHAIN = {
    "chain_length": ("chain under its pull", "washed; over the stated number of links,", "pin to pin, at three places"),
    "chain_length_new": ("new chain, same links", "the book's figure, or the new chain", "under the same pull"),
    "chain_elongation": ("elongation of the chain", "worked out: length less length new,", "over length new"),
}  # fmt: skip


def chain(ask: Ask) -> Scene:
    """Elongation: a stated number of links under a stated pull, caliper over the outer pins."""
    y, x, pitch = 214.0, 66.0, 31.0
    first, last = x + pitch, x + 7 * pitch
    shapes = (
        Circle(x - 30, y, 7, "part"), Line(x - 30, y, x, y, "outline"), *_links(x, y, pitch, 8),
        *caliper_level(first - 6, last + 6, 110, y + 8, paint=16),
        Line(x + 8 * pitch, y, 330, y, "outline"), Line(316, y, 344, y, "outline", end="arrow"),
        Rect(296, y + 26, 40, 26, "phantom"), Line(316, y + 4, 316, y + 26, "phantom"),
        Text(286, y + 78, "pull", "label"), Line(x - 44, y - 16, x - 44, y + 16, "edge", 3),
        *caption(12, 400, *_CHAIN.get(ask.characteristic, _CHAIN["chain_length"])),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (first, y), "where the caliper goes now: over the pins of the pulled chain")


def _sprocket(x: float, y: float, teeth: int, r: float) -> tuple[Shape, ...]:
    return (toothed(x, y, teeth, r - 9, r + 3, 90), Circle(x, y, 10, "part"), Line(x - r - 10, y, x + r + 10, y,
                                                                                   "centre"),
            Line(x, y - r - 10, x, y + r + 10, "centre"))  # fmt: skip


def chain_slack(ask: Ask) -> Scene:
    """Slack: the free run pressed in and pulled out at mid-span, a rule beside it; or the lost motion of the drive."""
    if ask.characteristic == "chain_lost_motion":
        return lost_motion(ask)
    x, top, low = 170.0, 110.0, 306.0
    taut = path("outline", "M", x + 64, top, "L", x + 40, low)
    slack = path("outline", "M", x - 64, top, "Q", x - 26, 210, x - 40, low)
    other = path("phantom", "M", x - 64, top, "Q", x - 92, 210, x - 40, low)
    mid = 209.0
    inner, outer = x - 39.0, x - 72.0
    shapes = (
        *_sprocket(x, top, 22, 62), *_sprocket(x, low, 12, 38), path("outline", "M", x - 64, top, "A", 64, 64, 0, 0, 1,
        x + 64, top), path("outline", "M", x + 40, low, "A", 40, 40, 0, 0, 1, x - 40, low), taut, slack, other,
        Rect(28, mid + 12, 130, 18, "phantom"), *(Line(34 + 6 * i, mid + 12, 34 + 6 * i, mid + 18,
                                                       "thin") for i in range(20)),
        *painted(inner - 1, mid - 16, 8, 32, "left"), Line(outer, mid, inner, mid, "thin", start="arrow", end="arrow"),
        *caption(12, 400, "slack of the free run", "at mid-span, out and in together,", "the other run held taut"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (inner, mid), "where the rule goes now: at mid-span of the free run of the chain")


def tensioner(ask: Ask) -> Scene:
    """Extension: how far the plunger stands out of its body, or the teeth that show."""
    y, face, end = 210.0, 190.0, 286.0
    body = path("part", "M", 46, y - 52, "L", face, y - 52, "L", face, y + 52, "L", 46, y + 52, "Z")
    teeth = [polygon("part", [(face + 4 + 14 * i, y + 24), (face + 16 + 14 * i, y + 24), (face + 4 + 14 * i, y + 34)])
             for i in range(6)]  # fmt: skip
    shapes = (
        Rect(face - 60, y - 24, end - face + 60, 48, "part"), *teeth, body, Circle(70, y - 36, 7, "thin"),
        Circle(70, y + 36, 7, "thin"), path("part", "M", end, y - 30, "L", end + 14, y - 22, "L", end + 14, y + 22,
        "L", end, y + 30, "Z"), Line(30, y, 344, y, "centre"), path("phantom", "M", end + 14, y - 90, "Q", end + 28, y,
        end + 14, y + 90), Rect(face, y - 92, end + 14 - face, 14, "phantom"), Rect(face - 10, y - 92, 10, 40,
                                                                                    "phantom"),
        Rect(end + 14, y - 92, 10, 92, "phantom"), *painted(face, y - 52, 8, 24, "left"),
        *painted(end + 14, y - 16, 8, 32, "left"),
        Line(face, y + 46, face, y + 84, "faint"), Line(end + 14, y + 30, end + 14, y + 84, "faint"),
        Line(face, y + 78, end + 14, y + 78, "thin", start="arrow", end="arrow"),
        *caption(12, 400, "plunger out of its body", "chain taut on its other run; or count", "the teeth that show"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (end + 14, y), "where the caliper goes now: from the body's face to the end of the plunger")


def sprocket(ask: Ask) -> Scene:
    """Tooth wear: how far the chain lifts off its sprocket; `sprocket_teeth` looks along the teeth for hooks."""
    x, y, r = 158.0, 216.0, 92.0
    teeth = 12 if ask.place == "crank" else 16
    pitch = 2 * pi / teeth
    wheel = (toothed(x, y, teeth, r - 12, r + 14, 90 - 180 / teeth, 0.36), Circle(x, y, 22, "part"),
             Line(x - 114, y, x + 118, y, "centre"), Line(x, y - 122, x, y + 112, "centre"))  # fmt: skip
    which = f" of the {ask.place} sprocket" if ask.place else ""
    if ask.characteristic == "sprocket_teeth":
        return _hooks(ask, wheel, (x + r + 4, y + (10 if teeth == 16 else 16)), which)
    pins = [(x + r * cos(pi / 2 + i * pitch), y - r * sin(pi / 2 + i * pitch)) for i in range(-2, 4)]
    out = 14.0
    px, py = pins[2]
    run = [pin if i != 2 else (px, py - out / 2) for i, pin in enumerate(pins)]
    shapes: tuple[Shape, ...] = (
        *wheel, *(Circle(a, b, 12, "part") for a, b in pins),
        polygon("outline", run, 3, closed=False), Circle(px, py - out / 2, 12, "now"),
        Circle(px, py - out / 2, 12, "outline"), Line(px, py - 22, px, py - 78, "outline", end="arrow"),
        Line(px, py, px, py - out, "edge", 3),
        *caption(12, 400, f"wear{which}" if which else "wear of the sprocket",
                 "both ends of the chain held down, lift it",
                 "off at mid-wrap, rollers off the roots"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (px, py - out / 2), "where the chain is lifted now: at the middle of its wrap on the sprocket")


def _hooks(ask: Ask, wheel: tuple[Shape, ...], tooth: Point, which: str) -> Scene:
    x, y = tooth
    hook = path("phantom", "M", x - 12, y + 16, "C", x + 8, y + 10, x + 16, y - 4, x + 4, y - 14)
    shapes = (
        *wheel, *painted(x - 8, y - 12, 8, 24, "left"), hook, *lens(x - 4, y, 44, -50),
        *caption(12, 400, f"teeth{which}" if which else "teeth of the sprocket",
                 "against the light, both flanks alike;",
                 "a new link laid in all the way round"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (x, y), "where the eye goes now: along the teeth of the sprocket, for hooks")


def belt(ask: Ask) -> Scene:
    """The belt and what it runs over: teeth and their roots, back, edges, idlers."""
    y = 190.0
    teeth: list[str | float] = ["M", 20, y]
    for i in range(9):
        left = 22 + 34 * i
        teeth += ["L", left + 8, y, "L", left + 11, y + 18, "L", left + 23, y + 18, "L", left + 26, y]
    strip = path("part", *teeth, "L", 330, y, "L", 330, y - 22, "L", 20, y - 22, "Z")
    cords = [Line(20, y - 7, 330, y - 7, "thin", dash="5 3")]
    idler = (Circle(96, 300, 44, "part"), Circle(96, 300, 14, "part"), Line(46, 300, 146, 300, "centre"),
             path("outline", "M", 20, 252, "L", 84, 252, "A", 48, 48, 0, 0, 1, 144, 300, "L", 144, 360,
                  width=3))  # fmt: skip
    wheel = ask.place in {"tensioner", "idler"}
    here = (96.0, 300.0) if wheel else (182.0, y + 4)
    pulley = (Circle(96, 300, 20, "now"), Circle(96, 300, 20, "outline"), Circle(96, 300, 14, "part"))
    roots = (*painted(158, y, 12, 8, "top"), *painted(192, y, 12, 8, "top"), *lens(*here, 50, 40))
    seen: tuple[Shape, ...] = pulley if wheel else roots
    words = ("spin it by hand and rock it:", "no sound, no play") if wheel else (
        "flex it backwards, look into the roots:", "no crack, no oil, no glaze; its age")  # fmt: skip
    shapes = (
        strip, *cords, *idler, *seen, Text(20, y - 60, "back, cords, edges", "label"),
        Line(84, y - 54, 84, y - 24, "faint", end="dot"), Text(196, 306, "tensioner, idlers,", "label"),
        Text(196, 326, "water pump", "label"),
        *caption(12, 404, {"tensioner": "belt tensioner", "idler": "idler and pump"}.get(ask.place, "timing belt"),
                 *words),
        *noted(ask, 484),
    )  # fmt: skip
    where = "on the pulley, spun by hand" if wheel else "at the roots of the belt's teeth"
    return Scene(shapes, here, f"where the eye goes now: {where}")


def gear_backlash(ask: Ask) -> Scene:
    """Backlash: one gear held, the other rocked, indicator square to a tooth on the pitch circle."""
    x1, x2, y, r1, r2 = 96.0, 240.0, 236.0, 56.0, 84.0
    wheels = (
        toothed(x1, y, 16, r1 - 7, r1 + 7, 0), toothed(x2, y, 24, r2 - 7, r2 + 7, 180 + 7.5), Circle(x1, y, 14, "part"),
        Circle(x2, y, 18, "part"), Circle(x1, y, r1, "centre"), Circle(x2, y, r2, "centre"),
    )  # fmt: skip
    hold = (Line(x1 - 20, y + 92, x1 + 20, y + 92, "edge", 3), Line(x1, y + 66, x1, y + 92, "outline"))
    tooth = radians(60)
    tx, ty = x2 + r2 * cos(tooth), y - r2 * sin(tooth)
    rock: Path = path("thin", "M", x2 - 34, y - 30, "Q", x2, y - 56, x2 + 34, y - 30)
    meshes: list[Shape] = []
    for i in range(4):
        a = radians(180 + 90 * i)
        spot, now = (x2 + 42 * cos(a), y - 42 * sin(a)), str(i + 1) == ask.place
        meshes.append(Circle(*spot, 8 if now else 4, "now" if now else "ink"))
        meshes += [Circle(*spot, 8, "outline")] if now else []
    shapes = (
        *wheels, *hold, *meshes, Text(x1 - 84, y + 98, "held", "label"), *dial(tx - 4, ty - 3, 150, 54, 24), rock,
        Line(x2 + 30, y - 33, x2 + 36, y - 28, "thin", end="arrow"), Line(x2 - 30, y - 33, x2 - 36, y - 28, "thin",
                                                                          end="arrow"),
        *caption(12, 400, "backlash of the gears", "one held, the other rocked; square to a",
                 "tooth, four meshes a quarter turn apart"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (tx, ty), "where the indicator goes now: square to a tooth of the gear that is rocked")
