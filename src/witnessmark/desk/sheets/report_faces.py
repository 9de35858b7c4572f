"""The faces of the heads as the report prints them: straight-edge lines with their readings, and what is out ringed.

Letters keep their size on paper whatever the engine: the casting takes the room that they leave.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from witnessmark.desk.sheets.judged import by_station, value_words
from witnessmark.desk.sheets.phrase import location, shown
from witnessmark.draw.face import FacePlan
from witnessmark.draw.gasket import EDGE_STATIONS, FaceLine, FaceLook, gasket_face, manifold_face
from witnessmark.draw.shape import Drawing
from witnessmark.engine import place as places
from witnessmark.engine.layout import Layout
from witnessmark.judge.result import OUT, Judgement

ROOM = 620.0  # at 0.8 of its natural size the face fills the paper and its smallest letter keeps 8.2 pt
WIDEST = 805.0
PORTS_ROOM = 330.0  # two manifold faces stand side by side
MANIFOLD = "manifold_face_flatness"
_LINES = ("line-1", "line-2", "line-3")


@dataclass(frozen=True, slots=True)
class Face:
    """One face with its lines; `title` is "" where there is no other to tell it from."""

    title: str
    drawing: Drawing


def gasket_faces(layout: Layout, judgement: Judgement, display: str) -> tuple[Face, ...]:
    """The gasket face of each head; a line that was not laid is dashed."""
    lines, picked = _lines(judgement, "head_flatness", display), _picked(judgement)
    return tuple(
        _gasket(bank, numbers, layout, lines.get(f"{bank}/gasket-face" if bank else "gasket-face", []), picked)
        for bank, numbers in layout.banks
    )


def _gasket(
    bank: str, numbers: Sequence[int], layout: Layout, lines: Sequence[FaceLine], picked: tuple[str, ...]
) -> Face:
    valves = dict(layout.valves)
    plan = FacePlan(tuple(numbers), valves.get("inl", ("",)), valves.get("exh", ("",)), ROOM)
    between = {f"between-{one}-{other}" for one, other in pairwise(numbers)}
    drawable = [line for line in lines if line.station in {*EDGE_STATIONS, "centre", *between}]
    name = _name(f"gasket face{f' of the {bank} head' if bank else ''} from below", lines)
    drawn = gasket_face(plan, drawable, name, FaceLook(picked=picked))
    if drawn.width > WIDEST:  # a value stands outside the casting: the casting yields, the letters do not
        narrow = replace(plan, room=ROOM - (drawn.width - WIDEST))
        drawn = gasket_face(narrow, drawable, name, FaceLook(picked=picked))
    return Face(f"{bank} head" if bank else "", drawn)


def manifold_faces(layout: Layout, judgement: Judgement, display: str) -> tuple[Face, ...]:
    """Every inlet and exhaust face at which something was read or is to be read."""
    found = []
    for where, lines in _lines(judgement, MANIFOLD, display).items():
        ports = len(dict(layout.banks).get(places.parse(where).bank) or layout.banks[0][1])
        drawable = [line for line in lines if line.station in _LINES]
        name = _name(shown(where), lines)
        found.append(Face(shown(where), manifold_face(ports, drawable, name, None, PORTS_ROOM)))
    return tuple(found)


def _name(what: str, lines: Sequence[FaceLine]) -> str:
    read = [f"{line.station.replace('-', ' ')} {line.reading} {line.verdict}".strip() for line in lines if line.reading]
    return f"{what}: {', '.join(read) or 'no line read'}"


def _lines(judgement: Judgement, characteristic: str, display: str) -> Mapping[str, list[FaceLine]]:
    """Lines of each face by its location: those read with their verdict, the others without a reading."""
    found: dict[str, list[FaceLine]] = {}
    for result in judgement.results:
        if result.characteristic == characteristic:
            for one in by_station(result) if result.rule == "worst" else (result,):
                line = FaceLine(places.station(one.location), value_words(one, display), one.verdict)
                found.setdefault(location(one.location), []).append(line)
    for gap in judgement.missing:
        if gap.characteristic == characteristic:
            found.setdefault(location(gap.place), []).append(FaceLine(places.station(gap.place)))
    return {where: [line for line in lines if line.station] for where, lines in found.items()}


def _picked(judgement: Judgement) -> tuple[str, ...]:
    """Valves at which something is out: they are ringed on the face."""
    out = [location(result.location) for result in judgement.results if result.verdict == OUT and result.decided]
    return tuple(dict.fromkeys(where for where in out if shown(where)[:3] in ("Inl", "Exh") and "/" not in where))
