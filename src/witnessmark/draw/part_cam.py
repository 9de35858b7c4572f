"""The sheet of a camshaft with one of its lobes from the end, and that of a cam journal in its bore."""

from math import cos, radians, sin

from witnessmark.draw.handtool import section_round
from witnessmark.draw.part import MIDDLE, Part, Spot, level, pinched, upright
from witnessmark.draw.scene import cut
from witnessmark.draw.shape import Circle, Line, Point, Rect, Shape, path
from witnessmark.draw.valve_gear import lobe_at

_AXIS = 296.0


def cam(_: str) -> Part:
    """A camshaft of an inline four upright (front up), and a lobe from the end beside it."""
    journals = (46.0, 160.0, 274.0, 388.0, 502.0)
    shapes: list[Shape] = [Rect(_AXIS - 11, 26, 22, 510, "part")]
    shapes += [Rect(_AXIS - 18, y - 13, 36, 26, "part") for y in journals]
    shapes += [Rect(_AXIS - 24, 64, 48, 6, "part")]
    for i in range(4):
        for j, off in enumerate((34.0, 80.0)):
            long = (i + j) % 2 == 0
            shapes.append(Rect(_AXIS - (34 if long else 20), journals[i] + off - 9, 54 if long else 40, 18, "part"))
    end, places = _lobe(396.0, 300.0, 1.0)
    spots = {
        "cam_end_play": Spot((_AXIS + 24, 67), "right"),
        "cam_journal_diameter": Spot((_AXIS - 40, 160), "left", pinched(160, _AXIS - 18, _AXIS + 18)),
        "cam_journal_form": Spot((_AXIS - 18, 380), "left"),
        "cam_oil_clearance": Spot((_AXIS - 18, 502), "left"),
        "cam_runout": Spot((_AXIS - 18, 274), "left"),
        **places,
        "lobe_taper": Spot((_AXIS - 34, 80), "left"),
    }
    whole = (*shapes, Line(_AXIS, 12, _AXIS, 548, "centre"), *end)
    return Part("the camshaft and one of its lobes", whole, spots)


def lobe(_: str) -> Part:
    """One lobe from the end."""
    shapes, spots = _lobe(MIDDLE, 290.0, 2.0, both=True)
    return Part("a lobe of the camshaft", shapes, spots)


def _lobe(x: float, y: float, k: float, both: bool = False) -> tuple[tuple[Shape, ...], dict[str, Spot]]:
    """A lobe `k` times its small size on its axis (x, y), with its places on the right, or on both sides."""
    base = 34.0 * k
    nose, heel = y - 54 * k, y + base
    left = "left" if both else "right"
    shapes = (*lobe_at(x, y, base, 40 * k, 14 * k, 0), Line(x - 50 * k, y, x + 50 * k, y, "centre"),
              Line(x, y - 70 * k, x, y + 50 * k, "centre"))  # fmt: skip
    tall, wide = x + 52 * k, heel + 22
    spots = {
        "lobe_opens": Spot(_round(x, y, base, 150), left),
        "lobe_closes": Spot(_round(x, y, base, 30), "right"),
        "equal_lift_first": Spot((x - 16 * k, y - 44 * k), left),
        "equal_lift_second": Spot((x + 16 * k, y - 44 * k), "right"),
        "lobe_centreline": Spot((x, nose - 10), "right"),
        "duration": Spot((x - 4 * k, y - 17 * k), left, _span(x, y, 18 * k)),
        "lobe_height": Spot((tall, y + 8), "right", upright(tall, nose, heel, x)),
        "base_circle": Spot((x + 20, wide), "right", level(wide, x - base, x + base, y)),
        "base_circle_runout": Spot((x + 10, heel - 1), left),
        "lobe_lift": Spot((x + 14 * k, nose + 6 * k), "right", (Circle(x, y, base, "hidden"),)),
        "lobe_taper": Spot((x + base * 0.94, y + base * 0.34), "right"),
    }
    return shapes, spots


def _round(x: float, y: float, r: float, angle: float) -> Point:
    return (x + r * cos(radians(angle)), y - r * sin(radians(angle)))


def _span(x: float, y: float, r: float) -> tuple[Shape, ...]:
    """The angle that the lobe holds its valve open, on the lobe itself."""
    (a, b), (c, d) = _round(x, y, r, 150), _round(x, y, r, 30)
    return (path("thin", "M", a, b, "A", r, r, 0, 0, 1, c, d), Line(x, y, a, b, "thin"), Line(x, y, c, d, "thin"))


def journal(_: str) -> Part:
    """A journal in its bore with the cap on, across and along the shaft."""
    x, y, bore, r = MIDDLE, 160.0, 62.0, 57.0
    metal: list[Point] = [(x - 100, y), (x - 100, y + 96), (x + 100, y + 96), (x + 100, y)]
    cap: list[Point] = [
        (x - 100, y),
        (x - 100, y - 40),
        (x - 56, y - 86),
        (x + 56, y - 86),
        (x + 100, y - 40),
        (x + 100, y),
    ]
    low = 420.0
    shapes = (
        *cut("section", metal), *cut("section_other", cap), Circle(x, y, bore, "part"), *section_round(x, y + 5, r),
        Line(x - 108, y, x + 108, y, "centre"), Line(x, y - 96, x, y + 106, "centre"),
        Rect(x - 104, low - 26, 208, 52, "part"), Rect(x - 44, low - r, 88, 2 * r, "part"),
        Rect(x - 94, low - 44, 26, 70, "part"), Rect(x + 68, low - 60, 26, 86, "part"),
        Line(x - 110, low, x + 110, low, "centre"),
    )  # fmt: skip
    spots = {
        "cam_cap_fit": Spot((x + 76, y - 62), "right"),
        "cam_bore_diameter": Spot((x - 100, y - 30), "left", _across(x, y - 30, bore)),
        "cam_bore_roundness": Spot((x - 44, y + 44), "left"),
        "cam_oil_clearance": Spot((x + 14, y - 58), "right"),
        "cam_bore_alignment": Spot((x + 60, y + 90), "right"),
        "cam_journal_diameter": Spot((x - 56, low), "left", upright(x - 56, low - r, low + r, x - 44)),
        "cam_journal_form": Spot((x + 44, low - 20), "right"),
        "cam_runout": Spot((x + 20, low + r), "right"),
        "cam_end_play": Spot((x + 104, low + 10), "right"),
    }
    return Part("the cam journal in its bore", shapes, spots)


def _across(x: float, y: float, bore: float) -> tuple[Shape, ...]:
    half = (bore**2 - 30**2) ** 0.5
    return (Line(x - half, y, x + half, y, "thin", start="arrow", end="arrow"), Line(x - 100, y, x - half, y, "faint"))
