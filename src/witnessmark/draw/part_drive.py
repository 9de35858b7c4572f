"""The sheet of the timing drive: chain, belt or gears between crankshaft and camshaft."""

from collections.abc import Callable

from witnessmark.draw.drive import toothed
from witnessmark.draw.part import MIDDLE, Part, Spot
from witnessmark.draw.shape import Circle, Line, Rect, Shape, path

_X, _CAM, _CRANK = MIDDLE, 150.0, 420.0


def drive(kind: str) -> Part:
    """The drive by its kind: chain, belt or gear; a chain where it is none of these."""
    kinds: dict[str, Callable[[], Part]] = {"belt": _belt, "gear": _gear}
    return kinds.get(kind, _chain)()


def _run(big: float, small: float, width: float) -> tuple[Shape, ...]:
    """Both runs and both wraps round a large wheel above and a small one below."""
    return (
        path("outline", "M", _X - big, _CAM, "A", big, big, 0, 0, 1, _X + big, _CAM, width=width),
        path("outline", "M", _X + small, _CRANK, "A", small, small, 0, 0, 1, _X - small, _CRANK, width=width),
        path("outline", "M", _X + big, _CAM, "L", _X + small, _CRANK, width=width),
        path("outline", "M", _X - big, _CAM, "Q", _X - 40, 290, _X - small, _CRANK, width=width),
    )


def _axes(big: float, small: float) -> tuple[Shape, ...]:
    return (
        Circle(_X, _CAM, 12, "part"), Circle(_X, _CRANK, 14, "part"), Line(_X, _CAM - big - 16, _X, _CRANK + small + 16,
        "centre"), Line(_X - big - 10, _CAM, _X + big + 10, _CAM, "centre"),
        Line(_X - small - 10, _CRANK, _X + small + 10, _CRANK, "centre"),
    )  # fmt: skip


def _chain() -> Part:
    big, small = 88.0, 45.0
    tensioner = (Rect(246, 268, 34, 44, "part"), Rect(280, 282, 18, 16, "part"))
    shapes = (toothed(_X, _CAM, 38, big - 7, big + 3, 90), toothed(_X, _CRANK, 19, small - 7, small + 3, 90),
              *_axes(big, small), *_run(big + 2, small + 2, 3), *tensioner)  # fmt: skip
    spots = {
        "sprocket_wear": Spot((_X, _CAM - big - 2), "right"),
        "sprocket_teeth": Spot((_X - 58, _CAM + 66), "left"),
        "tensioner_extension": Spot((290, 282), "left"),
        "chain_slack": Spot((_X - 52, 330), "left"),
        "chain_length_new": Spot((_X + 80, 220), "right"),
        "chain_length": Spot((_X + 72, 260), "right"),
        "chain_elongation": Spot((_X + 62, 320), "right"),
        "chain_lost_motion": Spot((_X + 20, _CRANK + 42), "right"),
    }
    return Part("the chain between crankshaft and camshaft", shapes, spots)


def _belt() -> Part:
    big, small = 88.0, 45.0
    shapes = (toothed(_X, _CAM, 40, big - 6, big, 90), toothed(_X, _CRANK, 20, small - 6, small, 90),
              *_axes(big, small), *_run(big + 4, small + 4, 6), Circle(272, 300, 26, "part"), Circle(272, 300, 8,
                                                                                                     "part"),
              Circle(424, 330, 20, "part"), Circle(424, 330, 6, "part"))  # fmt: skip
    spots = {
        "belt_condition": Spot((_X + 80, 230), "right"),
        "tensioner_extension": Spot((272, 300), "left"),
    }
    return Part("the belt between crankshaft and camshaft", shapes, spots)


def _gear() -> Part:
    big, small = 100.0, 50.0
    y = _CAM + big + small + 4
    shapes = (toothed(_X, _CAM, 36, big - 7, big + 7, 90 + 5), toothed(_X, y, 18, small - 7, small + 7, 90),
              Circle(_X, _CAM, big, "centre"), Circle(_X, y, small, "centre"), Circle(_X, _CAM, 14, "part"),
              Circle(_X, y, 14, "part"), Line(_X, _CAM - big - 20, _X, y + small + 20, "centre"))  # fmt: skip
    spots = {
        "gear_backlash": Spot((_X + 4, _CAM + big + 2), "right"),
        "gear_backlash_spread": Spot((_X - 70, _CAM - 70), "left"),
    }
    return Part("the gears between crankshaft and camshaft", shapes, spots)
