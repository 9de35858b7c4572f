"""The bench page as plain data: where the gauge goes now, how the series stands, what the hand holds."""

from collections.abc import Sequence
from dataclasses import dataclass
from urllib.parse import quote, urlencode

from witnessmark.catalogue.entry import Characteristic
from witnessmark.desk.commands import usable
from witnessmark.desk.route import Stop
from witnessmark.desk.sheets.bench_rows import Question, Row, Series, question, series_of
from witnessmark.desk.sheets.budget import Budget, budget_of
from witnessmark.desk.sheets.chrome import Cell, Chrome, job_line, light, shown_in, stages_done
from witnessmark.desk.sheets.due import PAST, past_due
from witnessmark.desk.sheets.hand import Choice, Gauge, choices, gauge_in_hand
from witnessmark.desk.sheets.phrase import count_word, location, shown
from witnessmark.desk.sheets.stops import stops_of
from witnessmark.desk.sheets.where import where
from witnessmark.desk.state import State
from witnessmark.draw.shape import Drawing
from witnessmark.engine import place as places
from witnessmark.explain.words import heading, unit_of
from witnessmark.judge.rows import AS_ASSEMBLED
from witnessmark.record.job import Job, Reading, gauge_now
from witnessmark.record.shape import BACK
from witnessmark.text.near import did_you_mean


@dataclass(frozen=True, slots=True)
class Asked:
    """What a page asks for. Empty: what comes next on the route."""

    characteristic: str = ""
    place: str = ""
    gauge: str = ""
    part_at: str = ""
    open: str = ""
    unit: str = "mm"
    by: str = ""
    device: str = ""
    stray: str = "on"
    method: str = ""
    today: str = ""  # begins year-month-day; "" asks for no due date


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer of a look: its number, what its key sends ("=1") or begins to write ("2 "), and its word."""

    number: str
    key: str
    word: str


@dataclass(frozen=True, slots=True)
class Bench:
    """Everything that the page shows at one station. Texts are ready to be read; nothing is worked out after this."""

    job: str
    seq: int
    characteristic: str
    place: str
    round: str
    title: str
    sub: str
    drawing: Drawing | None
    strip: Drawing | None
    budget: Budget | None
    series: str
    head: Drawing | None
    wall: Drawing | None
    rows: tuple[Row, ...]
    elsewhere: Question | None
    limitless: str
    limit_unit: str
    unset: str
    name: str
    detail: str
    n: int
    of: int
    unit: str
    gauge: str
    leaves: bool
    signed: bool
    says: tuple[Answer, ...]
    method: str
    looked: str
    extent: str
    reading: str
    was: str
    ways: tuple[tuple[str, Stop], ...]
    back: str
    echo: str
    choices: tuple[Choice, ...]
    chrome: Chrome


def answers_of(entry: Characteristic) -> tuple[Answer, ...]:
    """The answers of a look as keys: how much may be said after each; where there is nothing to say it is kept at once.

    A length is that of a flaw, so nothing follows a good answer; a pressure is that of the test, whatever it showed.
    """
    silent = {"none": entry.says, "length": [word for word, worth in entry.says.items() if worth == "good"]}
    at_once = silent.get(entry.quantity, ())
    return tuple(Answer(str(n), f"={n}" if word in at_once else f"{n} ", word) for n, word in enumerate(entry.says, 1))


class Nowhere(ValueError):
    """A station that this job does not have; the message says what is near, or what must be entered first."""


def bench_sheet(state: State, asked: Asked) -> Bench:
    """The bench page at the station that is asked for. Raises Nowhere."""
    stop = station_of(state, asked)
    entry = state.catalogue.characteristics[stop.characteristic]
    hand = gauge_in_hand(state, entry, asked.gauge, asked.device, asked.method)
    series = series_of(state, entry, stop, asked.unit)
    last = _last_here(state, stop)
    oldest = next((r for r in state.job.questions if r.round == state.round), None)
    on_sheet = {row.question.reading for row in series.rows if row.question}
    title = heading(entry, stop.place)
    drawing, strip = where(state, entry, stop, asked.unit)
    name, detail = _named(stop.place)
    return Bench(
        job=state.job.id, seq=state.job.seq, characteristic=stop.characteristic, place=stop.place, round=state.round,
        title=title, sub=_sub(entry, stop), budget=_budget(series, asked), series=series.words,
        drawing=drawing, strip=strip, head=series.head, wall=series.wall, rows=series.rows,
        elsewhere=question(oldest) if oldest and oldest.id not in on_sheet else None,
        limitless="" if series.limited or entry.kind == "look" else _limitless(entry, stop),
        limit_unit=_limit_unit(entry, hand, asked),
        unset=usable(state, entry.id, hand.id or None),
        name=name, detail=detail, n=stop.n, of=stop.of, unit=hand.unit, gauge=hand.id,
        leaves=hand.leaves, signed=hand.signed, says=answers_of(entry), method=hand.method,
        looked=hand.term if hand.method else "", extent=state.job.extent,
        reading=last.id if last else "", was=last.raw if last else "", ways=_ways(state, stop, series.rows),
        back=_back(state, asked.device), echo="",
        choices=choices(state, entry, hand, asked.by, asked.part_at, asked.stray),
        chrome=_chrome(state, title, hand, asked),
    )  # fmt: skip


def station_of(state: State, asked: Asked) -> Stop:
    """The station that is asked for, or the next one that has not been read. Raises Nowhere."""
    if state.layout is None:
        raise Nowhere("The engine is not described yet; its layout tells which places there are.")
    if not asked.characteristic and not asked.place and state.route:
        return next((stop for stop in state.route if not state.done(stop)), state.route[-1])
    stops = _stops(state, asked)
    if not asked.place:
        return next((stop for stop in stops if not state.done(stop)), stops[-1])
    exact = [stop for stop in stops if stop.place == asked.place]
    there = exact or [stop for stop in stops if stop.location == asked.place]
    if not there:
        near = did_you_mean(asked.place, {stop.place for stop in stops})
        raise Nowhere(f"{shortened(asked.place)} is no place of {asked.characteristic or 'this job'} here{near}.")
    return next((stop for stop in there if not state.done(stop)), there[0])


def _stops(state: State, asked: Asked) -> tuple[Stop, ...]:
    """Stations of the characteristic asked for; else all of the route; else of the first thing that can be read."""
    known = state.catalogue.characteristics
    if not asked.characteristic and state.route:
        return state.route
    entry = known.get(asked.characteristic) if asked.characteristic else _first(state)
    if entry is None:
        near = did_you_mean(asked.characteristic, known)
        raise Nowhere(f"No characteristic is called {shortened(asked.characteristic)}{near}.")
    stops = stops_of(state, entry)
    if not stops:
        why = "is worked out from other readings" if not entry.measured else "has no place on this engine"
        raise Nowhere(f"{entry.term[:1].upper()}{entry.term[1:]} {why}.")
    return stops


def _first(state: State) -> Characteristic | None:
    return next((one for one in state.catalogue.characteristics.values() if stops_of(state, one)), None)


def shortened(text: str) -> str:
    """What was asked, short enough to be read back in a sentence."""
    return f"'{text}'" if len(text) <= 60 else f"'{text[:60]}…'"


_RULES = {"least": "smallest", "most": "largest", "": "worst"}


MOST_STATE = 64  # characters beside the title


def _sub(entry: Characteristic, stop: Stop) -> str:
    state = entry.state.partition(".")[0].partition(";")[0]
    if len(state) > MOST_STATE:
        state = state[:MOST_STATE].rpartition(",")[0] or state[:MOST_STATE].rpartition(" ")[0]
    tail = f" · {state[:1].lower()}{state[1:]}" if state else ""
    if entry.kind == "look":
        return f"look and say{tail}"
    if stop.of < 2:
        return f"one reading{tail}"
    rule = {"worst": f"{_RULES[entry.extreme]} of", "mean": "mean of", "spread": "spread of"}.get(entry.rule, "each of")
    return f"{rule} {count_word(stop.of)} readings{tail}"


def _named(place: str) -> tuple[str, str]:
    """The place as the head of the entry shows it: "Inl 3F" and "middle, across"."""
    there = location(place)
    name = shown(there)
    return name, shown(place).removeprefix(name).strip()


def stop_words(stop: Stop) -> dict[str, object]:
    """A station for a page that moves there before its fields are read anew."""
    name, detail = _named(stop.place)
    return {"characteristic": stop.characteristic, "place": stop.place, "n": stop.n, "of": stop.of, "name": name,
            "detail": detail}  # fmt: skip


def _last_here(state: State, stop: Stop) -> Reading | None:
    here = state.readings_at(stop.characteristic, stop.place)
    return next((reading for reading in reversed(here) if reading.state in ("counted", "asked")), None)


def _back(state: State, device: str) -> str:
    """What `take back` would take: the last reading of this device that still stands."""
    mine = (r for r in reversed(state.job.readings) if r.device == device and device)
    last = next((r for r in mine if r.state not in ("taken back", "superseded")), None)
    return last.raw.strip()[:12] if last else ""


def _limitless(entry: Characteristic, stop: Stop) -> str:
    side = {"inl": ", Inl", "exh": ", Exh"}.get(places.valve_kind(stop.place), "")
    return f"{entry.term}{side}"


def _limit_unit(entry: Characteristic, hand: Gauge, asked: Asked) -> str:
    return hand.unit if entry.quantity == "length" else unit_of(entry, asked.unit)


def _budget(series: Series, asked: Asked) -> Budget | None:
    if asked.open != "budget" or series.present is None:
        return None
    return budget_of(series.present, asked.unit)


def _ways(state: State, stop: Stop, rows: Sequence[Row]) -> tuple[tuple[str, Stop], ...]:
    """Where the arrows lead: along the route, and up and down the rows."""
    walk = state.route if stop in state.route else stops_of(state, state.catalogue.characteristics[stop.characteristic])
    at = walk.index(stop)
    found = [(way, walk[n]) for way, n in (("previous", at - 1), ("next", at + 1)) if 0 <= n < len(walk)]
    now = next((n for n, row in enumerate(rows) if row.now), None)
    if now is not None:
        beside = [(way, n) for way, n in (("up", now - 1), ("down", now + 1)) if 0 <= n < len(rows)]
        found += [(way, Stop(stop.characteristic, rows[n].place, 1, 1)) for way, n in beside]
    return tuple(found)


def bench_href(job: str, characteristic: str, place: str, round_: str = "as found") -> str:
    """The address of a station."""
    asked = {"characteristic": characteristic, "place": place, **({} if round_ == "as found" else {"round": round_})}
    return f"/jobs/{quote(job)}/bench?{urlencode(asked)}"


def _gauge_words(state: State, hand: Gauge, today: str) -> str:
    """The gauge in hand; one that is past due says that before its doubt."""
    held = gauge_now(state.job, hand.id) if hand.id else None
    return f"{hand.id} · {PAST}" if held and today and past_due(held.fields, today) else hand.words


def _engine(job: Job) -> str:
    return f"{job.header.get('engine') or 'engine'} · head"


def _chrome(state: State, title: str, hand: Gauge, asked: Asked) -> Chrome:
    job = state.job
    read, of = state.progress
    kept = job.readings[-1].received_at[11:19] if job.readings else ""
    cells = (
        Cell(f"job {job.id}", _engine(job), href=f"/jobs/{quote(job.id)}/head", grow=True),
        Cell("round", state.round, control="round", opens=True),
        Cell("looked at", hand.words, control="method", opens=True) if hand.method
        else Cell("gauge", _gauge_words(state, hand, asked.today), control="gauge", opens=True),
        Cell("part at", f"{asked.part_at} °C" if asked.part_at else "not taken", control="part_at", opens=True),
        Cell("by", asked.by or "name?", control="by", opens=True),
        Cell("typed back", f"{len(state.only)} places of one sheet", href=bench_href(job.id, "", "", state.round))
        if state.only else Cell("route", f"{job.extent}, {state.order}", control="order", opens=True),
        Cell("all kept", kept or "–", name="kept"),
        shown_in(asked.unit),
        light(),
    )
    stage = {BACK: "re-measure", AS_ASSEMBLED: "verify"}.get(state.round, "measure")
    counted = of if stage != "verify" or state.wanted.together else None  # beside the route there is nothing to count
    return Chrome(title, job_line(job.id, stage, stages_done(job), read, counted or None), cells)
