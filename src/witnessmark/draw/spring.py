"""Where the gauge goes on a valve spring: free length, squareness, load at a height, coil bind."""

from witnessmark.draw.scene import Ask, Scene, caption, height_dimension, painted, taken
from witnessmark.draw.shape import Circle, Line, Rect, Shape, polygon

_LEFT, _RIGHT, _WIRE = 120.0, 220.0, 11.0
_FREE = (80.0, 380.0)
_NAMES = {"inner": "inner spring", "outer": "outer spring"}


def spring(ask: Ask) -> Scene:
    """The spring by what is measured on it; the free length where nothing else is named."""
    which = _NAMES.get(ask.station, "")
    scenes = {
        "spring_squareness": _squareness,
        "tall_load": _load,
        "short_load": _load,
        "tall_height": _load,
        "short_height": _load,
        "spring_solid_height": _solid,
    }
    shapes, focus, words, name = scenes.get(ask.characteristic, _free)(ask)
    text = (*caption(12, 460, *words), *caption(12, 460 + 24 * len(words), which) * bool(which), *taken(ask, 230, 546))
    return Scene((*shapes, *text), focus, f"where the gauge goes now: {name}" + (f", {which}" if which else ""))


_Part = tuple[tuple[Shape, ...], tuple[float, float], tuple[str, ...], str]


def coils(top: float, low: float, turns: int, lean: float = 0.0) -> tuple[Shape, ...]:
    """Coils in section round x = 170: wire left and right, half a turn apart, the front halves as thin strokes."""
    shapes: list[Shape] = []
    pitch = (low - top - 2 * _WIRE) / turns
    for i in range(turns + 1):
        y = low - _WIRE - i * pitch
        shift = lean * i / turns
        if i < turns:
            shapes += [
                Line(_LEFT + shift + s, y - t, _RIGHT + shift + s, y - pitch / 2 - t, "thin")
                for s, t in ((2, _WIRE), (-2, -_WIRE))
            ]
        shapes.append(Circle(_LEFT + shift, y, _WIRE, "part"))
        shapes.append(Circle(_LEFT + shift, y, _WIRE, "section"))
        if i < turns:
            right = (_RIGHT + shift, y - pitch / 2)
            shapes += [Circle(*right, _WIRE, "part"), Circle(*right, _WIRE, "section")]
    return tuple(shapes)


def _plate(y: float) -> tuple[Shape, ...]:
    return (Rect(70, y, 200, 14, "phantom"),)


def _free(_: Ask) -> _Part:
    top, low = _FREE
    shapes = (
        *coils(top, low, 6), Rect(96, top - 14, 150, 14, "phantom"), Rect(96, low, 150, 14, "phantom"),
        *painted(96, top - 8, 150, 8, "bottom"), *painted(96, low, 150, 8, "top"),
        *height_dimension(52, top, low, 110),
    )  # fmt: skip
    words = ("free length", "caliper over the ground ends, no load")
    return shapes, (170, 105), words, "over both ground ends of the free spring"


def _squareness(_: Ask) -> _Part:
    top, low = _FREE
    square = polygon("phantom", [(266, low), (266, 60), (286, 60), (286, low)])
    shapes = (
        *coils(top, low, 6, -14), *_plate(low), square, *painted(218, top + 22, 48, 8, "bottom"),
        Line(300, top + 26, 268, top + 26, "thin", end="arrow"),
    )  # fmt: skip
    words = ("gap to the square", "turn it, take the widest; then", "the other end down")
    return shapes, (210, 130), words, "between the square and the top coil of the standing spring"


def _load(ask: Ask) -> _Part:
    tall = ask.characteristic.startswith("tall")
    top, low = (130.0 if tall else 190.0), 380.0
    shapes = (
        *coils(top, low, 6), Rect(70, top - 14, 200, 14, "phantom"), *_plate(low),
        *painted(100, top - 8, 140, 8, "bottom"), Line(170, top - 70, 170, top - 16, "outline", end="arrow"),
        *height_dimension(52, top, low, 110),
    )  # fmt: skip
    height = f"the {'tall' if tall else 'short'} height"
    if ask.characteristic.endswith("height"):
        words, name = (
            (height, "read on the tester's scale, where", "the load is taken"),
            f"on the tester, {height} itself",
        )
    else:
        words = (f"load at {height}", "press to the height, let it settle,", "read twice")
        name = f"on the tester, pressed to {height}"
    return shapes, (170, top + 20), words, name


def _solid(_: Ask) -> _Part:
    low = 380.0
    top = low - 2 * _WIRE * 7
    shapes = (
        *coils(top, low, 6), *_plate(low), Rect(70, top - 14, 200, 14, "phantom"),
        *painted(100, top - 8, 140, 8, "bottom"), *painted(100, low, 140, 8, "top"),
        *height_dimension(52, top, low, 110),
    )  # fmt: skip
    words = ("solid height", "pressed until the coils touch")
    return shapes, (170, top + 20), words, "over the spring pressed until its coils touch"
