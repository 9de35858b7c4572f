"""The series on the bench page: one row for each place of the same kind, with the walls behind all of them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import median

from witnessmark.catalogue.entry import Characteristic
from witnessmark.desk.route import Stop
from witnessmark.desk.sheets.judged import LOOK_WALL, look_scale, mark_of, wall_of
from witnessmark.desk.sheets.phrase import location, shown
from witnessmark.desk.sheets.stops import stops_of
from witnessmark.desk.state import State
from witnessmark.draw.column import Head, column_head
from witnessmark.draw.column import wall as wall_drawing
from witnessmark.draw.mark import Mark, row
from witnessmark.draw.scale import Scale, Wall, scale_for
from witnessmark.draw.shape import Drawing
from witnessmark.engine import place as places
from witnessmark.explain.words import accessible, unit_of, value_words, verdict_words
from witnessmark.judge.result import CLOSE, OUT, WITHIN, Against, Result, Source
from witnessmark.limits.sheet import Limit, limit_for
from witnessmark.quantity.show import show
from witnessmark.record.job import Reading

BROAD, NARROW = 262.0, 150.0
TALL = 2400.0  # of the wall behind the rows; the page cuts it off
AROUND = 10  # rows in one picture: the present one with its neighbours


@dataclass(frozen=True, slots=True)
class Question:
    """A reading that was asked back: what came, why it looks odd, up to three answers."""

    reading: str
    name: str
    text: str
    short: str
    answers: tuple[str, ...]
    characteristic: str
    place: str
    href: str


@dataclass(frozen=True, slots=True)
class Row:
    """One place of the series."""

    name: str
    place: str
    href: str
    value: str
    beside: str
    mark: Drawing
    narrow: Drawing
    word: str
    small: str
    pen: str
    aria: str
    now: bool = False
    near: bool = False
    wide: bool = False
    question: Question | None = None

    @property
    def look(self) -> str:
        """Classes of the row."""
        return " ".join(word for word, holds in (("now", self.now), ("near", self.near), ("wide", self.wide)) if holds)

    @property
    def size(self) -> str:
        """How many digits the value has room for."""
        if len(self.value) < 6:
            return ""
        return "five" if len(self.value) == 6 else "six" if len(self.value) < 9 else "six long"


@dataclass(frozen=True, slots=True)
class Series:
    """The rows round the present one with their common scale, head and walls."""

    words: str
    head: Drawing | None
    wall: Drawing | None
    rows: tuple[Row, ...]
    present: Result | None
    limited: bool


@dataclass(frozen=True, slots=True)
class _Line:
    """What one row is about: its place (a location, or a station where each is judged alone), stations, result."""

    place: str
    stops: tuple[Stop, ...]
    result: Result | None
    whole: Result | None = None  # of the place, where the row is one of its stations


def series_of(state: State, entry: Characteristic, stop: Stop, unit: str) -> Series:
    """The series of a station: places of its characteristic and its kind of valve, in the order a hand walks."""
    lines = _lines(state, entry, stop)
    at = next((n for n, line in enumerate(lines) if stop in line.stops), 0)
    results = [line.result for line in lines if line.result is not None]
    walls = [wall_of(result) for result in results if result.against] or _entered(state, entry, stop)
    wall = _common(walls)
    values = [v for result in results for v in (result.value, *(result.interval or ())) if v is not None]
    first = max(0, min(at - AROUND // 2, len(lines) - AROUND))
    frame = _Frame(state, entry, unit, results, [wall] if wall else walls, values, own=wall is None)
    seen = lines[first:first + AROUND]
    near = _near(seen, at - first)
    rows = tuple(_row(frame, line, n == at - first, n == near) for n, line in enumerate(seen))
    scale = scale_for(frame.walls, values, BROAD)
    if entry.kind == "look":
        wall = None  # answers have no column of figures; each row draws its own wall
    return Series(
        _series_words(entry, lines[at]), _head(frame, wall, scale, stop) if wall else None,
        wall_drawing(wall, scale, TALL) if wall else None, rows, lines[at].whole or lines[at].result, bool(walls),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Frame:
    """What all rows of a series share. `own`: limits differ from row to row, so each draws its own walls."""

    state: State
    entry: Characteristic
    unit: str
    results: Sequence[Result]
    walls: Sequence[Wall]
    values: Sequence[float]
    own: bool


def _lines(state: State, entry: Characteristic, stop: Stop) -> list[_Line]:
    side = places.valve_kind(stop.place)
    found = [r for r in state.judgement.results if r.characteristic == entry.id and r.round == state.round]
    by_place = {result.location: result for result in found}
    grouped: dict[str, list[Stop]] = {}
    for one in stops_of(state, entry):
        if places.valve_kind(one.place) == side:
            alone = _each(state, entry, one)
            grouped.setdefault(one.place if alone else one.location, []).append(one)
    if len(grouped) == 1:
        return _stations_of(*next(iter(grouped.items())), by_place)
    return [_Line(place, tuple(stops), by_place.get(place)) for place, stops in grouped.items()]


def _stations_of(place: str, stops: Sequence[Stop], by_place: Mapping[str, Result]) -> list[_Line]:
    """Where there is one place only, such as a face, its stations are the rows."""
    whole = by_place.get(place)
    sources = {source.place: source for source in whole.sources} if whole else {}
    alone = {place: _alone(whole, source) for place, source in sources.items() if whole}
    return [_Line(stop.place, (stop,), alone.get(stop.place), whole) for stop in stops]


def _alone(whole: Result, source: Source) -> Result:
    """One station of a place as a row of its own, with the verdict that it has by itself."""
    return replace(
        whole, location=source.place, value=source.value, interval=source.interval, verdict=_verdict(whole, source),
        u=source.u, p_within=source.p_within, sources=(source,), rule="each", complete=True, read=1, needed=1,
        settle=None, beyond=_beyond(whole.against, source.value),
    )  # fmt: skip


def _beyond(held: Against | None, value: float | None) -> float | None:
    """How far a value lies outside the limits; None for one that lies inside, or is none."""
    if held is None or value is None:
        return None
    over = [held.low - value] if held.low is not None else []
    over += [value - held.high] if held.high is not None else []
    return max((end for end in over if end > 0), default=None)


def _verdict(whole: Result, source: Source) -> str:
    """The verdict of one station by its own chance, where a limit was entered."""
    if source.verdict or not whole.verdict or source.p_within is None:
        return source.verdict
    return WITHIN if source.p_within >= 0.95 else OUT if source.p_within <= 0.05 else CLOSE


def _each(state: State, entry: Characteristic, stop: Stop) -> bool:
    limit = limit_for(state.sheet, entry.id, stop.place, "service") if state.sheet else None
    return (limit.rule if limit else entry.rule) == "each"


def _entered(state: State, entry: Characteristic, stop: Stop) -> list[Wall]:
    """The walls of a series in which nothing has been judged yet."""
    if state.sheet is None:
        return []
    limit = limit_for(state.sheet, entry.id, stop.place, "service")
    new = limit_for(state.sheet, entry.id, stop.place, "new")
    if limit is None:
        return []
    if entry.kind == "look":
        return [Wall(high=LOOK_WALL)]
    return [Wall(limit.low, limit.high, new.low if new else None, new.high if new else None)]


def _common(walls: Sequence[Wall]) -> Wall | None:
    """The one wall of a column, its guard band the middle of theirs; None where limits differ from row to row."""
    if not walls:
        return None
    if len({(wall.low, wall.high, wall.new_low, wall.new_high) for wall in walls}) > 1:
        return None
    lows = [wall.guard_low for wall in walls if wall.guard_low is not None]
    highs = [wall.guard_high for wall in walls if wall.guard_high is not None]
    one = walls[0]
    return Wall(one.low, one.high, one.new_low, one.new_high, median(lows) if lows else None,
                median(highs) if highs else None, all(wall.settles for wall in walls))  # fmt: skip


def _near(lines: Sequence[_Line], at: int) -> int | None:
    """The last row before the present one that someone must look at; else the one just before it."""
    doubtful = [n for n in range(at) if (r := lines[n].result) and r.verdict not in ("", "within")]
    return doubtful[-1] if doubtful else (at - 1 if at else None)


def _row(frame: _Frame, line: _Line, now: bool, near: bool) -> Row:
    state, entry, result = frame.state, frame.entry, line.result
    aria = _aria(frame, line)
    here = next((stop for stop in line.stops if not state.done(stop)), line.stops[0])
    alone = places.station(line.place) != ""
    word, small = verdict_words(result, frame.unit) if result else (_unread(state, line), "")
    return Row(
        name=_row_name(line.place, alone), place=here.place, href=f"?characteristic={entry.id}&place={here.place}",
        value=value_words(result, frame.unit) if result else "",
        beside=_came(result, frame.unit) if result else "",
        mark=_mark(frame, line, aria, BROAD, frame.own), narrow=_mark(frame, line, aria, NARROW, True),
        word=word, small=small, pen=_pen(result), aria=aria, now=now, near=near,
        wide=alone or len(shown(line.place)) > 7, question=_oldest_here(state, entry, line),
    )  # fmt: skip


def _came(result: Result, unit: str) -> str:
    """The deciding reading as it came, where it is shown converted or worked out."""
    decides = next((source for source in result.sources if source.value == result.value), None)
    came = decides.raw.strip() if decides and not result.derived else ""
    return came if came and came != value_words(result, unit) and len(came) < 12 else ""


def _pen(result: Result | None) -> str:
    """Classes of the verdict word: its pen, whether the series is open, whether it needs two lines."""
    if result is None:
        return "sub"
    look = {WITHIN: "v-within", OUT: "v-out", CLOSE: "v-close tight"}.get(result.verdict, "v-none")
    return look if result.decided else f"{look} sofar"


def _unread(state: State, line: _Line) -> str:
    """Why nothing stands in a row."""
    why = {state.wanted.waived.get((stop.characteristic, stop.place, state.round), "") for stop in line.stops}
    known = state.catalogue.characteristics[line.stops[0].characteristic]
    empty = "not looked at" if known.kind == "look" else "not measured"
    return why.pop() if len(why) == 1 and why != {""} else empty


def _aria(frame: _Frame, line: _Line) -> str:
    if line.result is not None:
        return accessible(line.result, frame.state.catalogue, frame.unit)
    return f"{frame.entry.term}, {shown(line.place)} not measured"


def _oldest_here(state: State, entry: Characteristic, line: _Line) -> Question | None:
    """Only the question that is answered next shows its numbers, in the row that it is about."""
    if not state.job.questions:
        return None
    oldest = state.job.questions[0]
    here = oldest.characteristic == entry.id and oldest.round == state.round
    return question(oldest) if here and oldest.place in {stop.place for stop in line.stops} else None


def _row_name(place: str, alone: bool) -> str:
    full = shown(place)
    if not alone:
        return full
    return full.removeprefix(shown(location(place))).strip() or full


def _mark(frame: _Frame, line: _Line, name: str, width: float, own: bool) -> Drawing:
    mark = mark_of(line.result) if line.result is not None else Mark(wall=frame.walls[0] if frame.walls else Wall())
    look = frame.entry.kind == "look"
    scale = look_scale(width) if look else scale_for(frame.walls, frame.values, width)
    return row(mark, scale, name, own or look)


def _series_words(entry: Characteristic, line: _Line) -> str:
    if len(line.stops) == 1:
        return "each reading"
    words = {"least": "least", "most": "most", "": "worst"}[entry.extreme]
    return {"mean": "mean so far", "spread": "spread so far"}.get(entry.rule, f"{words} so far")


def _head(frame: _Frame, wall: Wall, scale: Scale, stop: Stop) -> Drawing:
    """Names and values over the walls, as they were entered, or converted where another unit is shown."""
    sheet, entry = frame.state.sheet, frame.entry
    limit = limit_for(sheet, entry.id, stop.place, "service") if sheet else None
    new = limit_for(sheet, entry.id, stop.place, "new") if sheet else None
    unit = unit_of(entry, frame.unit)
    head = Head(_bound(limit, "low", unit), _bound(limit, "high", unit), _range(new, unit), _kind(frame))
    return column_head(wall, scale, head)


def _kind(frame: _Frame) -> str:
    return next((result.against.kind for result in frame.results if result.against), "service")


def _range(limit: Limit | None, unit: str) -> str:
    low, high = _bound(limit, "low", unit), _bound(limit, "high", unit)
    if low and high:
        return f"{low} – {high}"
    return f"least {low}" if low else f"most {high}" if high else ""


def _bound(limit: Limit | None, end: str, unit: str) -> str:
    """A limit as it was entered; in the other unit with the decimals that its own last digit allows."""
    value = getattr(limit, end, None)
    if limit is None or value is None:
        return ""
    text: str = getattr(limit, f"{end}_text")
    if limit.unit == unit and text:
        return text
    return show(value, unit, 10.0 ** -len(text.partition(".")[2]), limit.unit)


def question(reading: Reading) -> Question:
    """A question in words, with the labels of its answers."""
    asked = reading.question or {}
    name = shown(location(reading.place))
    answers = tuple(str(answer.get("label", "")) for answer in asked.get("answers") or ())[:3]
    text = str(asked.get("text") or f"{name} came as {reading.raw}: what does it mean?")
    named = text if text.startswith(name) else f"{name}: {text}"  # it may be answered from any place
    return Question(reading.id, name, named, f"{name}: {reading.raw.strip()[:14]}?", answers, reading.characteristic,
                    reading.place, f"?characteristic={reading.characteristic}&place={reading.place}")  # fmt: skip
