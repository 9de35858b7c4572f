"""One judged value as the sheets show it: words, limit, reason, and the mark with its scale."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from witnessmark.catalogue.entry import Catalogue
from witnessmark.desk.sheets.entered import joined
from witnessmark.desk.sheets.phrase import OVER_ALL, location, shown
from witnessmark.draw.mark import Mark
from witnessmark.draw.scale import Scale, Wall, scale_for
from witnessmark.engine import place as places
from witnessmark.explain import words as said
from witnessmark.explain.why import why
from witnessmark.judge.result import CLOSE, OUT, WITHIN, Against, Missing, Result, Source

CELL_WIDTH = 48.0
NARROWEST = 3.92  # standard uncertainties between two limits: below, no value can be proved to lie within
PROVED = 0.95


@dataclass(frozen=True, slots=True)
class Judged:
    """A value, or the want of one, at one location of one characteristic."""

    characteristic: str
    term: str
    place: str  # machine id
    shown: str
    value: str  # as shown, "" where nothing was read
    unit: str
    limit: str
    verdict: str  # within | out | too close to call | ""
    small: str  # by how much, what would settle it, how many are in
    why: str
    open: bool  # a series that is not finished
    asked: bool  # a reading behind it waits for an answer
    left_out: str  # why nothing was read, where somebody said so
    name: str  # what the mark says aloud
    mark: Mark
    scale: Scale

    @property
    def word(self) -> str:
        """The verdict as a word, also where there is none."""
        if self.verdict:
            return self.verdict
        return "no limit yet" if self.value else self.left_out or "not measured"

    @property
    def look(self) -> str:
        """The class that gives the word its pen."""
        return {OUT: "v-out", CLOSE: "v-close", "within": "v-within"}.get(self.verdict, "v-none")


def judged(
    result: Result, catalogue: Catalogue, unit: str, peers: Sequence[Result], width: float = CELL_WIDTH
) -> Judged:
    """A result in words and as a mark; `peers` are the results that share its column."""
    entry = catalogue.characteristics.get(result.characteristic)
    limit = said.limit_words(result.against, result, unit, beside=True) if result.against and result.verdict else ""
    return Judged(
        characteristic=result.characteristic,
        term=entry.term if entry else result.characteristic,
        place=result.location,
        shown=shown(result.location),
        value=value_words(result, unit),
        unit=said.unit_of(result, unit),
        limit=limit,
        verdict=result.verdict,
        small=small_words(result, unit),
        why=why(result, unit),
        open=not result.decided,
        asked=bool(result.questions),
        left_out="",
        name=_name(result, catalogue, unit),
        mark=mark_of(result),
        scale=_scale(result, peers, width),
    )


def _name(result: Result, catalogue: Catalogue, unit: str) -> str:
    """What the mark says aloud; a spread over places names its reach where another names its place."""
    if result.location not in OVER_ALL or not result.sources:
        return said.accessible(result, catalogue, unit)
    first = location(result.sources[0].place)
    return said.accessible(replace(result, location=first), catalogue, unit).replace(
        shown(first), shown(result.location), 1
    )


def unread(
    characteristic: str,
    where: str,
    gaps: Sequence[Missing],
    catalogue: Catalogue,
    peers: Sequence[Result],
    *,
    width: float = CELL_WIDTH,
    wall: Wall | None = None,
) -> Judged:
    """A location at which nothing was read: dashed, with the reason where one was given."""
    entry = catalogue.characteristics.get(characteristic)
    place = shown(where)
    model = next((peer for peer in peers if _side(peer.location) == _side(where)), None)
    model = model or next(iter(peers), None)
    return Judged(
        characteristic=characteristic,
        term=entry.term if entry else characteristic,
        place=where,
        shown=place,
        value="",
        unit="",
        limit="",
        verdict="",
        small="",
        why="",
        open=False,
        asked=False,
        left_out=next((gap.waived for gap in gaps if gap.waived), ""),
        name=f"{entry.term if entry else characteristic}, {place} not measured",
        mark=Mark(wall=wall_of(model) if model else wall or Wall()),
        scale=_scale(model, peers, width)
        if model
        else scale_for([wall], (), width)
        if wall
        else Scale(0.0, 1.0, width),
    )


def _side(where: str) -> str:
    try:
        return places.valve_kind(where)
    except places.PlaceError:
        return ""


def by_station(result: Result) -> tuple[Result, ...]:
    """A result of many stations as one for each, in its own words: the lines of a gasket face."""
    if result.says:
        last = {source.place: source for source in result.sources}
        return tuple(_of_look(result, source) for source in last.values())
    return tuple(_of_source(result, source) for source in result.sources)


_LOOK_REASON = {WITHIN: "look within", OUT: "look out", CLOSE: "look doubt"}


def _of_look(result: Result, source: Source) -> Result:
    """One station of something looked at, with its own answer."""
    reason = result.reason if source.verdict == result.verdict else _LOOK_REASON.get(source.verdict, "no limit")
    return replace(result, location=source.place, rule="each", value=source.value, says=source.says,
                   method=source.method, verdict=source.verdict, complete=True, read=1, needed=1, sources=(source,),
                   settle=result.settle if source.verdict == result.verdict else None, reason=reason,
                   questions=())  # fmt: skip


def _of_source(result: Result, source: Source) -> Result:
    verdict = station_verdict(source.p_within, result.needed) if result.verdict else ""
    worst = verdict == result.verdict == OUT and (source.value, source.interval) == (result.value, result.interval)
    return replace(
        result,
        location=source.place,
        rule="each",
        value=source.value,
        interval=source.interval,
        verdict=verdict,
        p_within=source.p_within,
        complete=True,
        read=1,
        needed=1,
        sources=(source,),
        beyond=result.beyond if worst else None,
        settle=None,
        reason=_station_reason(source, verdict),
        questions=(),
    )


def _station_reason(source: Source, verdict: str) -> str:
    """The name of a station's own reason: that of the whole result may be another station's."""
    if not verdict:
        return "no limit"
    return f"{'leaves' if source.interval is not None else 'value'} {'close' if verdict == CLOSE else verdict}"


def station_verdict(p: float | None, stations: int) -> str:
    """The verdict of one station among several: out only with the confidence that the worst of them all needs."""
    if p is None:
        return ""
    if p >= PROVED:
        return WITHIN
    return OUT if p <= 1 - PROVED ** (1 / max(stations, 1)) else CLOSE


def display_unit(quantity: str, unit: str, against: Against | None = None) -> str:  # noqa: ARG001
    """The unit in which a quantity is shown where lengths are shown in `unit`."""
    return said.unit_shown(quantity, unit)


def value_words(result: Result, unit: str) -> str:
    """The value as the gauge resolved it, "" where nothing was read."""
    if result.value is None and result.interval is None and not result.says:
        return ""
    return said.value_words(result, unit)


def small_words(result: Result, unit: str) -> str:
    """The small line under a verdict: how many are in, by how much it is out, what would settle it."""
    return said.verdict_words(result, unit)[1]


LOOK_WALL = 1.0  # an answer has no size: what may stand lies before the wall, a doubt at its edge, the rest behind it
_LOOK_AT = {WITHIN: 0.5, CLOSE: 1.0, OUT: 1.5}


def look_scale(width: float) -> Scale:
    """The scale on which answers are drawn."""
    return Scale(0.0, 2 * LOOK_WALL, width)


def look_wall(result: Result | None) -> Wall:
    """The wall before the answers that may not stand; none where no answer was entered."""
    return Wall(high=LOOK_WALL) if result is not None and result.against is not None else Wall()


def mark_of(result: Result) -> Mark:
    """The verdict mark of a result: its bar runs over the guard band of the rule that decided."""
    if result.says:
        return Mark(_LOOK_AT.get(result.verdict, 0.5), look_wall(result), None, result.verdict, not result.decided)
    value, guard = result.value, result.guard_out if result.verdict == OUT else result.guard_within
    bar = (value - guard, value + guard) if value is not None and guard is not None else None
    raws = tuple(source.value for source in result.sources if source.value is not None)
    interval = result.interval if value is None else None
    return Mark(value, wall_of(result), bar, result.verdict, not result.decided, raws, interval)


def wall_of(result: Result) -> Wall:
    """The limits of a result as walls, with the guard band on their clear side."""
    against, guard = result.against, result.guard_within
    if result.says:
        return look_wall(result)
    if against is None:
        return Wall()
    low, high = against.low, against.high
    narrow = low is not None and high is not None and bool(result.u) and high - low < NARROWEST * (result.u or 0.0)
    return Wall(
        low, high, against.new_low, against.new_high,
        low + guard if low is not None and guard is not None else None,
        high - guard if high is not None and guard is not None else None,
        settles=not narrow,
    )  # fmt: skip


def _scale(result: Result, peers: Sequence[Result], width: float) -> Scale:
    """One scale for a column where inlet and exhaust have one wall each; with two walls each kind has its own."""
    if result.says:
        return look_scale(width)
    own = wall_of(result)
    two = own.low is not None and own.high is not None
    walls = {id(peer): wall_of(peer) for peer in (result, *peers)}
    sharing = [peer for peer in (result, *peers) if _shares(walls[id(peer)], own, two)]
    ends = [end for peer in sharing for end in (peer.value, *((peer.interval or ()) if peer.value is None else ()))]
    values = [end for end in ends if end is not None]
    return scale_for([own] if two else _distinct([walls[id(peer)] for peer in sharing]), values, width)


def _shares(wall: Wall, own: Wall, two: bool) -> bool:
    return _same_side(wall, own) and (not two or (wall.low, wall.high) == (own.low, own.high))


def _same_side(one: Wall, other: Wall) -> bool:
    return (one.low is None, one.high is None) == (other.low is None, other.high is None)


def _distinct(walls: Sequence[Wall]) -> list[Wall]:
    return list(dict.fromkeys(walls)) or [Wall()]


def limits_of_row(results: Sequence[Result], unit: str = "mm") -> str:
    """The limits of a row, the inlet's first: `least 5.940 · 5.925`."""
    held = [result for result in results if result.against and result.verdict]
    return joined(said.limit_words(result.against, result, unit) for result in held)
