"""What the hand holds at a station: the gauge with its unit and doubt, and what may be chosen instead of it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from witnessmark.catalogue.entry import Characteristic
from witnessmark.desk.bench import ROUNDS
from witnessmark.desk.commands import gauges_for
from witnessmark.desk.look import dialect
from witnessmark.desk.route import ORDERS
from witnessmark.desk.sheets.stops import stops_of
from witnessmark.desk.state import State
from witnessmark.explain.words import unit_shown
from witnessmark.quantity.show import show_doubt
from witnessmark.record.job import GaugeRevision, gauge_now

ASSUMED = "assumed"  # chosen in place of a gauge of the register


@dataclass(frozen=True, slots=True)
class Option:
    """One key of a list of choices."""

    value: str
    text: str
    chosen: bool
    small: str = ""


@dataclass(frozen=True, slots=True)
class Choice:
    """What stands in the act field while a cell of the title block is being changed: keys, or one line to write in."""

    name: str
    label: str
    options: tuple[Option, ...] = ()
    write: str = ""
    written: str = ""
    number: bool = False
    link: str = ""
    link_words: str = ""


@dataclass(frozen=True, slots=True)
class Gauge:
    """The gauge in hand. `id` is "" for the usual gauge of its kind, which is then assumed."""

    id: str
    kind: str
    unit: str
    step: str
    U: str
    leaves: bool
    term: str
    signed: bool = False  # it shows a deviation, so a sign is part of a reading
    method: str = ""  # of what is looked at; there is no gauge then
    proves: bool = True  # whether "none found" by this method proves that there is none

    @property
    def words(self) -> str:
        """`M-07 · 0.001 mm · U 0.003`; an assumed one by its kind; a method by its name."""
        if self.method:
            return self.term if self.proves else f"{self.term}, proves nothing sound"
        parts = [self.id or f"{self.term}, assumed"]
        parts += [f"{self.step} {self.unit}"] if self.step else []
        parts += [f"U {self.U}"] if self.U else []
        return " · ".join(parts)


def gauge_in_hand(state: State, entry: Characteristic, chosen: str = "", device: str = "", method: str = "") -> Gauge:
    """The gauge that a reading of this characteristic takes now, with its unit and its doubt; a method for a look."""
    if entry.kind == "look":
        return _method(state, entry, method_in_hand(state, entry, method, device))
    name = name_in_hand(state, entry, chosen, device)
    revision = gauge_now(state.job, name) if name else None
    return _named(state, name, revision) if revision else _usual(state, entry)


def name_in_hand(state: State, entry: Characteristic, chosen: str = "", device: str = "") -> str:
    """The name of that gauge; "" for the usual one of its kind, with its usual doubt, marked as assumed.

    What was chosen; else what this device read it with last, else what anybody did; else the first of the register of
    the usual kind or of one that stands in for it.
    """
    if chosen == ASSUMED:
        return ""
    fitting = gauges_for(state, entry.id)
    last = [r for r in state.job.readings if r.characteristic == entry.id and r.gauge in fitting]
    mine = [r for r in last if r.device == device]
    usual = gauges_for(state, entry.id, close=True)
    wanted = (chosen, *(r.gauge or "" for r in (*mine[-1:], *last[-1:])), *usual)
    return next((name for name in wanted if name in fitting), "")


def method_in_hand(state: State, entry: Characteristic, chosen: str = "", device: str = "") -> str:
    """How this is looked at now: what was chosen, else what this device used last, else anybody, else what is usual."""
    last = [r for r in state.job.readings if r.characteristic == entry.id and r.method]
    mine = [r for r in last if r.device == device]
    wanted = (chosen, *(r.method or "" for r in (*mine[-1:], *last[-1:])), *entry.methods)
    return next((name for name in wanted if name in entry.methods), "")


def _method(state: State, entry: Characteristic, name: str) -> Gauge:
    known = state.catalogue.methods.get(name)
    unit = "" if entry.quantity == "none" else unit_shown(entry.quantity, dialect(state.job))
    return Gauge("", "look", unit, "", "", False, known.term if known else "by eye", False, name,
                 known.proves if known else False)  # fmt: skip


def fitting_gauges(state: State, entry: Characteristic) -> Mapping[str, GaugeRevision]:
    """Gauges of the register that can read this characteristic, by their names."""
    found = {name: gauge_now(state.job, name) for name in gauges_for(state, entry.id)}
    return {name: revision for name, revision in found.items() if revision is not None}


def _named(state: State, name: str, revision: GaugeRevision) -> Gauge:
    fields = revision.fields
    unit = str(fields.get("unit") or "mm")
    kind = state.catalogue.gauge_kinds.get(str(fields.get("kind")))
    leaves = str(fields.get("kind")) == "leaves" or bool(kind and kind.reads == "leaves")
    return Gauge(name, str(fields.get("kind", "")), unit, str(fields.get("resolution") or "") or _leaves(fields),
                 _spread(state, name, unit) or _stated(fields), leaves, kind.term if kind else "",
                 bool(kind and kind.reads == "deviation"))  # fmt: skip


def _leaves(fields: Mapping[str, Any]) -> str:
    """`0.03 to 0.08` for a set of leaves."""
    leaves = [str(leaf) for leaf in fields.get("set") or ()]
    return f"{leaves[0]} to {leaves[-1]}" if leaves else ""


def _usual(state: State, entry: Characteristic) -> Gauge:
    kind = state.catalogue.gauge_kinds.get(entry.usual_gauge)
    if kind is None:
        return Gauge("", "", entry.unit, "", "", entry.kind == "leaves", "gauge")
    step = f"{kind.resolution:g}" if kind.resolution and kind.unit == entry.unit else ""
    return Gauge("", kind.kind, kind.unit, step, "", kind.reads == "leaves", kind.term, kind.reads == "deviation")


def _spread(state: State, name: str, unit: str) -> str:
    """Expanded doubt (k = 2) of a single reading with this gauge, where one has been worked out."""
    for result in reversed(state.judgement.results):
        for source in result.sources:
            if source.gauge == name and source.u:
                return show_doubt(2 * source.u, unit)
    return ""


def _stated(fields: Mapping[str, Any]) -> str:
    calibration = fields.get("calibration")
    return str(calibration.get("U") or "") if isinstance(calibration, Mapping) else ""


def choices(state: State, entry: Characteristic | None, hand: Gauge | None, by: str, part_at: str, stray: str,
            ) -> tuple[Choice, ...]:  # fmt: skip
    """Everything that the cells of the title block can change."""
    people = dict.fromkeys([r.by for r in reversed(state.job.readings) if r.by][:200])
    return (
        Choice("characteristic", "what is measured", _characteristics(state, entry)),
        Choice("round", "round", tuple(Option(r, r, r == state.round) for r in _rounds(state))),
        _in_hand(state, entry, hand),
        Choice("order", "order of the walk", tuple(Option(o, o, o == state.order) for o in ORDERS)),
        Choice("part_at", "part temperature", _temperatures(part_at), "degree Celsius", part_at, True),
        Choice("by", "who reads", tuple(Option(p, p, p == by) for p in list(people)[:4]), "name or initials", by),
        Choice("stray", "keys", (
            Option("on", "every key goes to the line", stray != "off"),
            Option("off", "only when the line has focus", stray == "off"),
        )),
    )  # fmt: skip


def _in_hand(state: State, entry: Characteristic | None, hand: Gauge | None) -> Choice:
    """What may be in the hand instead: another gauge, or another way of looking."""
    if entry is None or entry.kind != "look":
        return Choice("gauge", "gauge in hand", _gauges(state, entry, hand), link=f"/jobs/{state.job.id}/gauges",
                      link_words="the gauge register")  # fmt: skip
    methods = [(name, state.catalogue.methods[name]) for name in entry.methods]
    chosen = hand.method if hand else ""
    options = tuple(Option(name, m.term, name == chosen, f"misses {_first(m.misses)}") for name, m in methods)
    return Choice("method", "how it is looked at", options, link="/catalogue/methods",
                  link_words="what each cannot find")  # fmt: skip


def _first(sentences: str) -> str:
    """The first of several sentences, as it goes on behind a word."""
    first = sentences.partition(". ")[0].rstrip(".")
    return first[:1].lower() + first[1:]


def _characteristics(state: State, present: Characteristic | None) -> tuple[Option, ...]:
    """Everything that a gauge reads on this engine: what the job asks for first, with how much of it is read."""
    asked: list[Option] = []
    beside: list[Option] = []
    for entry in state.catalogue.characteristics.values():
        stops = stops_of(state, entry)
        if stops:
            read = sum(state.done(stop) for stop in stops)
            on_route = stops[0] in state.route
            small = f"{read} of {len(stops)}" if on_route or read else "not asked for"
            option = Option(entry.id, entry.term, bool(present and present.id == entry.id), small)
            (asked if on_route else beside).append(option)
    return (*asked, *beside)


def _rounds(state: State) -> Iterable[str]:
    return dict.fromkeys([*ROUNDS, *(r.round for r in state.job.readings)])


def _gauges(state: State, entry: Characteristic | None, hand: Gauge | None) -> tuple[Option, ...]:
    if entry is None or hand is None:
        return ()
    named = [_named(state, name, revision) for name, revision in list(fitting_gauges(state, entry).items())[:7]]
    usual = _usual(state, entry)
    return (
        *(Option(g.id, g.id, g.id == hand.id, f"{g.term} · {g.step} {g.unit}".strip(" ·")) for g in named),
        Option(ASSUMED, "none of these", not hand.id, f"{usual.term}, assumed"),
    )


def _temperatures(part_at: str) -> tuple[Option, ...]:
    return (Option("", "not taken", not part_at, "20 within 2 is assumed"),)
