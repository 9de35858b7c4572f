"""The start sheet: the engine taken apart, what to do next, what is open, and who else is on the benches."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from witnessmark.desk.route import Stop
from witnessmark.desk.sheets.phrase import count_word, listed, location, plural, shown, together
from witnessmark.desk.state import State
from witnessmark.judge.result import CLOSE, OUT, WITHIN, Result, Settle
from witnessmark.record.job import ASKED

MOST_BENCHES = 60
READ, PARTLY, UNREAD, TO_COME = "read", "partly", "unread", "to come"
GEAR = {
    "bucket": "buckets",
    "finger": "fingers",
    "rocker": "rockers",
    "pushrod": "rockers",
}


@dataclass(frozen=True, slots=True)
class PartLine:
    """One part of the engine in the drawing: its name, a line of words, how it is drawn, and where it is out."""

    id: str
    name: str
    words: str
    line: str  # read | partly | unread | to come
    out: tuple[str, ...] = ()  # locations
    now: bool = False


@dataclass(frozen=True, slots=True)
class Matter:
    """One open matter: a mark, a count in heavy letters, the rest of the sentence, and the page that shows it."""

    mark: str  # question | close | out | missing | conflict
    count: str
    words: str
    page: str  # bench | head | record | job
    place: str = ""
    characteristic: str = ""


@dataclass(frozen=True, slots=True)
class OtherBench:
    """Another job: what the list says of it."""

    id: str
    words: str
    stage: str


@dataclass(frozen=True, slots=True)
class NextStep:
    """What to do now: a title, a reason, and the one main key."""

    title: str
    why: str
    key: str
    page: str
    stop: Stop | None = None


@dataclass(frozen=True, slots=True)
class StartSheet:
    """All that the start sheet shows of one job."""

    job: str
    title: str
    parts: tuple[PartLine, ...]
    next: NextStep
    matters: tuple[Matter, ...]
    others: tuple[OtherBench, ...]


def start_sheet(state: State, others: Sequence[OtherBench] = ()) -> StartSheet:
    """The start sheet of one job; `others` are the jobs on the other benches, newest first."""
    header = state.job.header
    engine = str(header.get("engine") or "An engine not yet named")
    return StartSheet(
        job=state.job.id,
        title=f"{engine}, {state.round}",
        parts=part_lines(state),
        next=next_step(state),
        matters=open_matters(state),
        others=tuple(other for other in others if other.id != state.job.id)[:MOST_BENCHES],
    )


def left_to_read(state: State) -> tuple[Stop, ...]:
    """Stations of the route that have neither a reading that stands nor a reason why they were left out."""
    return tuple(stop for stop in state.route if not state.done(stop) and not _asked(state, stop))


def _asked(state: State, stop: Stop) -> bool:
    """Whether a reading is kept here whose question is open: the hand need not come back before it is answered."""
    return any(reading.state == ASKED for reading in state.readings_at(stop.characteristic, stop.place))


def next_step(state: State) -> NextStep:
    """The one thing to do next, with its reason."""
    if state.layout is None:
        why = "The walk round the head follows the engine: say how many cylinders and valves it has."
        return NextStep("Describe the engine", why, "describe it", "job")
    left = left_to_read(state)
    if not left:
        return _after_measuring(state)
    first = left[0]
    title = f"{plural(len(left), 'reading')} left on the head"
    return NextStep(title, what_is_left(state, left), f"go on at {shown(first.place)}", "bench", first)


def _after_measuring(state: State) -> NextStep:
    if state.job.questions:
        asked = state.job.questions[0]
        stop = Stop(asked.characteristic, asked.place, 1, 1)
        why = "Every place has been read; what was asked back is kept, and not counted until it is answered."
        return NextStep(f"{plural(len(state.job.questions), 'question')} to answer", why, "answer it", "bench", stop)
    if not state.route:
        why = "The walk goes round what has a limit, or stands on the job's list. Enter the limit sheet, or one limit."
        return NextStep("No limit entered yet", why, "say what to measure", "list")
    why = "Every place of this round has a reading or a reason. The report can be printed for the customer."
    return NextStep("All read", why, "see the record", "record")


def what_is_left(state: State, left: Sequence[Stop]) -> str:
    """Up to three characteristics that are left, with their places, in one sentence."""
    groups: dict[str, list[str]] = {}
    for stop in left:
        groups.setdefault(stop.characteristic, []).append(stop.place)
    said = [f"{_term(state, name)}: {together(where)}" for name, where in groups.items()]
    more = len(said) - 3
    tail = f"; and {count_word(more)} more {'series' if more > 1 else 'characteristic'}" if more > 0 else ""
    sentence = "; ".join(said[:3]) + tail + "."
    return sentence[0].upper() + sentence[1:]


def _term(state: State, characteristic: str) -> str:
    known = state.catalogue.characteristics.get(characteristic)
    return known.term if known else characteristic


# The parts in the order in which they come off, and the groups of the catalogue that read them.
PARTS: tuple[tuple[str, str, tuple[str, ...]], ...] = (
    ("cam_cover", "cam cover", ()),
    ("camshafts", "camshafts", ("cam", "drive")),
    ("valves", "valves, springs, {gear}", ("valve", "spring", "follower")),
    ("head", "head", ("head", "guide", "seat", "fastener")),
    ("gasket", "head gasket", ()),
    ("pistons", "pistons and rods", ()),
    ("block", "block", ()),
    ("crankshaft", "crankshaft", ()),
)
UNMEASURED = {
    "cam_cover": ("off", READ),
    "gasket": ("new, to come", TO_COME),
    "pistons": ("not read", UNREAD),
    "block": ("not read", UNREAD),
    "crankshaft": ("not read", UNREAD),
}


def part_lines(state: State) -> tuple[PartLine, ...]:
    """The parts of the engine with what has been read of each."""
    left = left_to_read(state)
    return tuple(_part_line(state, left, *part) for part in PARTS)


def _part_line(state: State, left: Sequence[Stop], name: str, words: str, groups: tuple[str, ...]) -> PartLine:
    gear = next((said for key, said in GEAR.items() if state.layout and state.layout.gear.startswith(key)), "gear")
    title = words.format(gear=gear)
    if not groups:
        said, line = UNMEASURED[name]
        return PartLine(name, title, said, line)
    ids = {key for key, entry in state.catalogue.characteristics.items() if entry.group in groups}
    results = [result for result in state.judgement.results if result.characteristic in ids]
    needed = sum(stop.characteristic in ids for stop in state.route)
    unread = sum(stop.characteristic in ids for stop in left)
    out = tuple(dict.fromkeys(r.location for r in results if r.verdict == OUT))
    now = bool(left) and left[0].characteristic in ids
    return PartLine(name, title, _tally(results, needed, unread), _line(needed, unread), out, now)


def _line(needed: int, unread: int) -> str:
    if unread >= needed:
        return UNREAD
    return PARTLY if unread else READ


def _tally(results: Sequence[Result], needed: int, unread: int) -> str:
    """`24 of 24 within`, `10 out, 10 too close · 14 left`, `not read: 64 places`."""
    if not needed:
        return "no limit entered, nothing asked"
    if unread == needed:
        return f"not read: {plural(needed, 'place')}"
    finished = Counter(result.verdict for result in results if result.decided)
    if not unread and results and finished[WITHIN] == len(results):
        return f"{len(results)} of {len(results)} within"
    counts = ((finished[OUT], "out"), (finished[CLOSE], "too close"))
    said = [f"{number} {word}" for number, word in counts if number]
    if not said:
        return f"{needed - unread} of {needed} read"
    return " · ".join([", ".join(said), *([f"{unread} left"] if unread else [])])


def open_matters(state: State) -> tuple[Matter, ...]:
    """What waits for a person: questions, conflicts, too close, out, left out, without a limit."""
    results = state.judgement.results
    found: list[Matter] = []
    found += _questions(state)
    found += _conflicts(state)
    found += _close([result for result in results if result.decided and result.verdict == CLOSE])
    out = sum(result.decided and result.verdict == OUT for result in results)
    if out:
        found.append(Matter("out", f"{out} out", "of the limits you entered", "head"))
    found += _left_out(state)
    found += _without_limit(state)
    return tuple(found)


def _questions(state: State) -> list[Matter]:
    asked = state.job.questions
    if not asked:
        return []
    first = asked[0]
    words = f": {shown(location(first.place))} came as {first.raw}"
    return [Matter("question", plural(len(asked), "question"), words, "bench", first.place, first.characteristic)]


def _conflicts(state: State) -> list[Matter]:
    conflicts = state.job.conflicts
    if not conflicts:
        return []
    count = plural(len(conflicts), "entry was", "entries were")
    return [Matter("conflict", count, "changed in two places at once: both are kept, say which holds", "record")]


def _close(close: Sequence[Result]) -> list[Matter]:
    if not close:
        return []
    ways = Counter(way for result in close if result.settle and (way := settle_words(result.settle)))
    if not ways:
        return [Matter("close", f"{len(close)} too close to call", "", "head")]
    would = sum(ways.values())
    said = listed([f"{count_word(number)} {way}" for way, number in ways.items()])
    return [Matter("close", f"{would} of {len(close)}", f"too close to call would settle: {said}", "head")]


def settle_words(settle: Settle) -> str:
    """The cheapest cure of a value that is too close to call, without its number."""
    if settle.kind == "repeats" and settle.repeats:
        return f"with {settle.repeats} readings in all"
    if settle.kind == "leaf" and settle.leaf:
        return f"with leaf {settle.leaf}"
    if settle.kind == "gauge" and settle.gauge:
        return f"by gauge {settle.gauge}"
    if settle.kind == "gauge" and settle.U is not None:
        return "by a finer gauge"
    return ""


def _left_out(state: State) -> list[Matter]:
    waived: dict[str, list[str]] = {}
    for missing in state.judgement.missing:
        if missing.waived:
            waived.setdefault(missing.characteristic, []).append(missing.place)
    return [
        Matter("missing", f"{_term(state, name)[:1].upper()}{_term(state, name)[1:]}", f"left out at {together(where)}",
               "head", where[0], name)
        for name, where in list(waived.items())[:2]
    ]  # fmt: skip


def _without_limit(state: State) -> list[Matter]:
    bare: Iterable[str] = (r.characteristic for r in state.judgement.results if r.read and r.against is None)
    names = list(dict.fromkeys(_term(state, name) for name in bare))
    if not names:
        return []
    words = f"{'has' if len(names) == 1 else 'have'} readings and no limit: {listed(names[:3])}"
    return [Matter("missing", plural(len(names), "characteristic"), words, "job")]
