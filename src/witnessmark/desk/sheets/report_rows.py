"""Judged values as the inspection report prints them: rows with their marks, by urgency and by characteristic.

Order    What is out comes first, then what is too close to call; inside each, the order of the bench.
Marks    The same shapes as on screen, without the frame that a cell there has: on paper the bold word does its work.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from witnessmark.catalogue.entry import Characteristic
from witnessmark.desk.sheets.judged import Judged, by_station, judged
from witnessmark.desk.sheets.report_faces import MANIFOLD, Face, manifold_faces
from witnessmark.desk.sheets.report_facts import ASSUMED, OVER_ALL, Gap, on_a_face, short
from witnessmark.desk.state import State
from witnessmark.draw import where as drawings
from witnessmark.draw.extent import around, box
from witnessmark.draw.mark import cell
from witnessmark.draw.shape import Drawing, Rect, Text, flat
from witnessmark.explain.words import settle_words, shown_in, unit_of
from witnessmark.judge.result import CLOSE, OUT, Judgement, Result
from witnessmark.quantity.show import show_chance

MARK_WIDTH, MARK_HEIGHT = 90.0, 22.0
CAPTIONS = 450.0  # below this line of a scene stand its words and its second views
RIM = 4.0
_PLANS = ("gasket", "manifold", "head", "bolt")  # drawn as a whole on sheet 1, or plain without a picture


@dataclass(frozen=True, slots=True)
class Value:
    """One judged value in words, with its mark. `verdict` is within, out, too close to call or ""."""

    characteristic: str
    term: str
    place: str
    value: str
    unit: str
    doubt: str  # expanded uncertainty (k = 2) with the unit of `unit`, "" where none applies
    limit: str  # as it was entered, to be boxed; "" where there is none
    verdict: str
    word: str  # "out", "too close, 0.74", "within", "no limit yet"
    small: str  # by how much, what would settle it, how many are in
    finished: bool
    gauges: str
    why: str
    mark: Drawing | None
    location: str = ""  # machine id of the place

    @property
    def amount(self) -> str:
        """The value with its unit."""
        return f"{self.value} {self.unit}".strip() if self.unit != "1" else self.value


@dataclass(frozen=True, slots=True)
class Section:
    """All values of one characteristic, how it is read, and what is still wanted."""

    characteristic: str
    term: str
    unit: str
    measured: str  # how it is read, in the catalogue's words
    drawing: Drawing | None
    faces: tuple[Face, ...]  # with the lines that were read, where the characteristic is one of a manifold face
    values: tuple[Value, ...]
    left: tuple[str, ...]  # what is still to be read, what was left out and why


def rows_of(state: State, judgement: Judgement, display: str) -> tuple[Value, ...]:
    """Every result of the round in bench order."""
    peers = _by_characteristic(judgement.results)
    return tuple(_value(state, result, peers[result.characteristic], display) for result in judgement.results)


def urgent(values: Iterable[Value]) -> tuple[Value, ...]:
    """What is out, then what is too close to call; of each the finished ones first."""
    order = {OUT: 0, CLOSE: 2}
    told = [value for value in values if value.verdict in order]
    return tuple(sorted(told, key=lambda value: order[value.verdict] + (not value.finished)))


def sections_of(
    state: State, judgement: Judgement, values: Sequence[Value], gaps: Sequence[Gap], display: str
) -> tuple[Section, ...]:
    """One section for each characteristic that was read, in the order of the bench."""
    rows: dict[str, list[Value]] = {}
    for value in values:
        rows.setdefault(value.characteristic, []).append(value)
    entries = [entry for name, entry in state.catalogue.characteristics.items() if name in rows]
    return tuple(
        Section(
            characteristic=entry.id,
            term=entry.term,
            unit=unit_of(entry, display),
            measured=" ".join(entry.measure.split()),
            drawing=_picture(state, entry),
            faces=_faces(state, judgement, entry, display),
            values=tuple(rows[entry.id]),
            left=tuple(
                f"{gap.why.capitalize() or 'Still to be read'}: {gap.places}"
                for gap in gaps
                if gap.characteristic == entry.id
            ),
        )
        for entry in entries
    )


def _faces(state: State, judgement: Judgement, entry: Characteristic, display: str) -> tuple[Face, ...]:
    if entry.id != MANIFOLD or state.layout is None:
        return ()
    return manifold_faces(state.layout, judgement, display)


def _picture(state: State, entry: Characteristic) -> Drawing | None:
    """Where the gauge went, without letters: these would be too small to read at this size on paper."""
    if not entry.drawing or entry.drawing in _PLANS or not entry.measured:
        return None
    station = entry.stations[len(entry.stations) // 2] if entry.stations else ""
    gear = state.layout.gear if state.layout else "bucket_shim"
    drawn = drawings.where(entry.drawing, station, characteristic=entry.id, gear=gear)
    mute = tuple(s for s in flat(drawn.shapes) if not isinstance(s, Text) and box(s)[3] < CAPTIONS)
    left, top, right, low = around(box(shape) for shape in mute)
    window = (left - RIM, top - RIM, right + RIM, low + RIM)
    return Drawing(window[2] - window[0], window[3] - window[1], drawn.name, mute, window)


def _by_characteristic(results: Iterable[Result]) -> Mapping[str, list[Result]]:
    found: dict[str, list[Result]] = {}
    for result in results:
        found.setdefault(result.characteristic, []).append(result)
    return found


def _value(state: State, result: Result, peers: Sequence[Result], display: str) -> Value:
    line = _judged(state, result, peers, display)
    return Value(
        characteristic=result.characteristic,
        term=line.term,
        place=_place(result),
        value=line.value,
        unit=line.unit,
        doubt=shown_in(result, display).doubt(2 * result.u) if result.u and result.interval is None else "",
        limit=line.limit,
        verdict=result.verdict,
        word=_word(result),
        small=_small(result, line, display),
        finished=result.decided,
        gauges=", ".join([*result.gauges, *([ASSUMED] if ASSUMED in result.assumed else [])]),
        why=line.why,
        mark=_mark(line) if result.against and result.verdict else None,
        location=result.location,
    )


def _judged(state: State, result: Result, peers: Sequence[Result], display: str) -> Judged:
    """The result in words; a spread over places stands at none, so its name is made from one of them."""
    if result.location not in OVER_ALL:
        return judged(result, state.catalogue, display, peers, MARK_WIDTH)
    first = replace(result, location=result.sources[0].place)
    line = judged(first, state.catalogue, display, peers, MARK_WIDTH)
    return replace(line, name=line.name.replace(line.shown, OVER_ALL[result.location]))


def _place(result: Result) -> str:
    """The place; of a face the line that decided it, since a face has no other name for where it is hollow."""
    where = short(result.location)
    if result.rule != "worst" or len(result.sources) < 2 or not on_a_face(result.location):
        return where
    worst = [one for one in by_station(result) if (one.value, one.interval) == (result.value, result.interval)]
    return short(worst[0].location) if worst else where


def _word(result: Result) -> str:
    if result.verdict == CLOSE:
        chance = f", {show_chance(result.p_within)}" if result.p_within is not None else ""
        return f"too close{chance}"
    return result.verdict or "no limit yet"


def _small(result: Result, line: Judged, display: str) -> str:
    """Under the verdict; a series that goes on says first how many are in, then what would settle it."""
    if result.verdict == CLOSE and not result.decided and (cure := settle_words(result, display)):
        return f"{line.small}; {cure}"
    return line.small


def _mark(line: Judged) -> Drawing:
    drawn = cell(line.mark, line.scale, line.name, MARK_HEIGHT)
    bare = tuple(shape for shape in drawn.shapes if not (isinstance(shape, Rect) and shape.role == "out_line"))
    return replace(drawn, shapes=bare)
