"""The gasket face on the head sheet: its lines with their readings, and the columns in projection under it."""

from dataclasses import dataclass, replace

from witnessmark.desk.sheets.head import HeadSheet
from witnessmark.draw.face import MARGIN, Face, FacePlan, lay_out
from witnessmark.draw.gasket import FaceLine, FaceLook, gasket_face
from witnessmark.draw.shape import Drawing, Line, Text
from witnessmark.engine import place as places
from witnessmark.engine.layout import Layout

LEFT, RIGHT, TOP, UNDER = -166.0, 104.0, -18.0, 36.0  # room round the casting: sides and front | leaf | boxes | leader
NARROWEST = 56.0  # a column is a target for a finger
BROADEST = 112.8


@dataclass(frozen=True, slots=True)
class FacePicture:
    """The drawing, the width of a valve's column under it, and whether the columns stand under their cylinders."""

    drawing: Drawing
    column: float
    projected: bool


def face_picture(sheet: HeadSheet, layout: Layout) -> FacePicture:
    """The gasket face of the head that the sheet shows."""
    numbers = tuple(dict.fromkeys(column.cylinder for column in sheet.columns))
    valves = dict(layout.valves)
    plan = FacePlan(numbers, valves.get("inl", ("",)), valves.get("exh", ("",)))
    face = lay_out(plan)
    natural = (face.centre(1) - face.centre(0) if len(numbers) > 1 else face.width - 2 * MARGIN) / layout.valves_each
    projected = NARROWEST <= natural <= BROADEST
    column = natural if projected else NARROWEST if natural < NARROWEST else BROADEST
    picked = next((n for n, column in enumerate(sheet.columns) if column.picked), None)
    leader = None
    if picked is not None and projected:
        leader = (MARGIN * face.scale + (picked + 0.5) * column, face.depth + UNDER)
    look = FaceLook(sheet.picked.place if sheet.picked else "", words=False, leader=leader)
    drawn = gasket_face(plan, _lines(sheet), _name(sheet), look)
    return FacePicture(_framed(drawn, face), column, projected)


def _lines(sheet: HeadSheet) -> list[FaceLine]:
    return [FaceLine(places.station(line.place), line.value, line.verdict, line.open) for line in sheet.flatness]


def _name(sheet: HeadSheet) -> str:
    """The whole drawing in one sentence; the lines stand in words on the sheet as well."""
    said = [f"{places.station(line.place).replace('-', ' ')} {line.value} {line.word}" for line in sheet.flatness]
    return "gasket face seen from below: " + (", ".join(said) or "no line read")


def _framed(drawing: Drawing, face: Face) -> Drawing:
    """The same with the words of both sides, in a window of fixed margins, so that columns can stand under it."""
    left, low, right = LEFT + 6, face.depth, face.width + 10
    words = (
        Text(left, 18, "inlet", "ink", 18, bold=True),
        Text(left, 38, "side", "label"),
        Text(left, low / 2 - 14, "front", "label"),
        Line(left + 96, low / 2 - 19, left + 48, low / 2 - 19, "thin", end="arrow"),
        Text(left, low - 22, "exhaust", "ink", 18, bold=True),
        Text(left, low - 2, "side", "label"),
        Text(right, 18, "leaf", "ink", 18, bold=True),
        Text(right, 38, "enters – does", "label"),
        Text(right, 57, "not enter", "label"),
    )
    window = (LEFT, TOP, face.width + RIGHT, face.depth + UNDER)
    return replace(
        drawing,
        width=window[2] - window[0],
        height=window[3] - window[1],
        shapes=(*drawing.shapes, *words),
        window=window,
    )
