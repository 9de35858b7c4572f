"""Bench cards: one page for each characteristic, with all that the bench knows of it and where it knows it from.

A usual range is marked as what it is: usual, and not a limit. A card judges nothing.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from witnessmark.catalogue.entry import NOTHING, Catalogue, Characteristic, Operation
from witnessmark.desk.sheets.phrase import count_word, listed
from witnessmark.desk.sheets.plate import plate
from witnessmark.desk.sheets.setup import bound_words
from witnessmark.desk.state import State
from witnessmark.draw.shape import Drawing
from witnessmark.engine.shape import Layout
from witnessmark.explain.words import BARE, unit_of
from witnessmark.limits.limit import Limit
from witnessmark.quantity.unit import unit
from witnessmark.text.near import did_you_mean

NOT_A_LIMIT = "usual, not a limit"
_SIDES = {"inl": "inlet", "exh": "exhaust"}
_SORTS = {"good": "may stand", "bad": "may not stand", "doubt": "leaves it open"}
_EXTREMES = {"least": "the least", "most": "the most", "": "the worst"}


class NoCard(ValueError):
    """A characteristic that the catalogue does not have; the message says what is near."""


KINDS: Mapping[str, str] = {"look": "looked at", "derived": "worked out", "form": "worked out",
                            "reckoned": "worked out"}
"""What is done to know a characteristic, by its kind; any other is measured."""


@dataclass(frozen=True, slots=True)
class Way:
    """One way of looking."""

    term: str
    finds: str
    misses: str
    proves: str


@dataclass(frozen=True, slots=True)
class Card:
    """One card. Every field is words ready to print, "" or () where there is nothing to say."""

    id: str
    title: str
    also: str
    block: tuple[tuple[str, str], ...]
    drawing: Drawing | None
    state: str
    measure: str
    stations: str
    gauge: str
    says: tuple[str, ...]
    ways: tuple[Way, ...]
    usual: tuple[str, ...]  # in mm and in inch, each with `NOT_A_LIMIT`
    limits: tuple[str, ...]  # that were entered for the job at hand
    wears: str
    out: str
    remedies: str
    after: str
    hazards: tuple[tuple[str, str], ...]
    teach: str
    source: str


def card(catalogue: Catalogue, name: str, layout: Layout | None = None, limits: Iterable[Limit] = ()) -> Card:
    """The card of a characteristic, drawn in the valve gear of `layout`. Raises NoCard."""
    known = catalogue.characteristics
    if name not in known:
        raise NoCard(f"no characteristic is called '{name}'{did_you_mean(name, known)}")
    return _card(catalogue, known[name], layout, tuple(one for one in limits if one.characteristic == name))


def cards(state: State, only: Sequence[str] = ()) -> tuple[Card, ...]:
    """The cards of all that a job asks for, in the order of its route, or of `only` these. Raises NoCard."""
    names = only or tuple(dict.fromkeys(stop.characteristic for stop in state.route))
    limits = state.sheet.limits if state.sheet else ()
    return tuple(card(state.catalogue, name, state.layout, limits) for name in names)


def _card(catalogue: Catalogue, entry: Characteristic, layout: Layout | None, limits: Sequence[Limit]) -> Card:
    return Card(
        id=entry.id,
        title=entry.term[:1].upper() + entry.term[1:],
        also=f"also called {listed(entry.also, 'or')}" if entry.also else "",
        block=_block(entry),
        drawing=plate(entry, layout),
        state=_flat(entry.state),
        measure=_flat(entry.measure),
        stations=_stations(entry),
        gauge=_gauge(catalogue, entry),
        says=tuple(f"{key} {word}: {_SORTS[sort]}" for key, (word, sort) in enumerate(entry.says.items(), 1)),
        ways=tuple(_way(catalogue, name) for name in entry.methods if name in catalogue.methods),
        usual=_usual(entry),
        limits=tuple(_limit(one) for one in limits),
        wears=_flat(entry.wears),
        out=_flat(entry.out),
        remedies=", ".join(_term(catalogue.operations, name) for name in entry.remedies),
        after=", ".join(_term(catalogue.characteristics, name) for name in entry.after),
        hazards=_hazards(catalogue, entry),
        teach=_flat(entry.teach),
        source=entry.source,
    )


def _flat(text: str) -> str:
    return " ".join(text.split())


def _term(known: Mapping[str, Operation] | Mapping[str, Characteristic], name: str) -> str:
    found = known.get(name)
    return found.term if found else name.replace("_", " ")


def _block(entry: Characteristic) -> tuple[tuple[str, str], ...]:
    kind = KINDS.get(entry.kind, "measured")
    shown = " · ".join(dict.fromkeys(filter(None, (unit_of(entry, one) for one in ("mm", "in")))))
    return (
        ("bench card", entry.id),
        ("table · group", f"{entry.table} · {entry.group}"),
        ("how", kind),
        ("judged by", _rule(entry)),
        ("units", "none" if shown in BARE else shown),
    )


def _rule(entry: Characteristic) -> str:
    extreme = _EXTREMES[entry.extreme]
    return {"worst": f"{extreme} of its readings", "mean": "the mean", "spread": "the spread"}.get(
        entry.rule, "each reading"
    )


def _stations(entry: Characteristic) -> str:
    """Where it is read at each place, and which of it on the quick route."""
    at = entry.at.replace("_", " ")
    if not entry.stations:
        return f"one at each {at}"
    words = ", ".join(_station(word) for word in entry.stations)
    quick = f"; quick route: {', '.join(_station(word) for word in entry.quick)}" if entry.quick else ""
    return f"{count_word(len(entry.stations))} at each {at}: {words}{quick}"


def _station(word: str) -> str:
    return word.replace("/", " ").replace("-", " ")


def _gauge(catalogue: Catalogue, entry: Characteristic) -> str:
    kind = catalogue.gauge_kinds.get(entry.usual_gauge)
    if kind is None:
        from_ = entry.arguments or ((entry.of,) if entry.of else ())
        terms = listed([_term(catalogue.characteristics, name) for name in from_])
        return f"worked out from {terms}" if terms else ""
    step = kind.resolution / float(unit(kind.unit).factor) if kind.resolution and kind.unit not in BARE else 0.0
    return f"{kind.term}, resolves {step:.3g} {kind.unit}" if step else kind.term


def _way(catalogue: Catalogue, name: str) -> Way:
    known = catalogue.methods[name]
    proves = "“none found” proves that there is none" if known.proves else "“none found” proves nothing"
    return Way(known.term, _flat(known.finds), _flat(known.misses), proves)


def _usual(entry: Characteristic) -> tuple[str, ...]:
    """The usual range in both units; each side by itself where they differ."""
    ranges = {**({"": entry.usual} if entry.usual else {}), **entry.usual_by}
    if entry.quantity == NOTHING:
        return ()
    return tuple(
        f"{_SIDES.get(side, side)} {_both(entry, low, high)} ({NOT_A_LIMIT})".strip()
        for side, (low, high) in ranges.items()
    )


def _both(entry: Characteristic, low: float, high: float) -> str:
    names = dict.fromkeys(unit_of(entry, one) for one in ("mm", "in"))
    return ", ".join(_between(low, high, name) for name in names)


def _between(low: float, high: float, name: str) -> str:
    """`3.9 to 14.5 mm`: three digits, since a usual range is no more exact."""
    factor = float(unit(name).factor) if name not in BARE else 1.0
    return f"{_rounded(low / factor)} to {_rounded(high / factor)} {'' if name in BARE else name}".strip()


def _rounded(value: float) -> str:
    return f"{value:.0f}" if abs(value) >= 100 else f"{value:.3g}"


def _limit(one: Limit) -> str:
    bound = f"{bound_words(one.low_text, one.high_text)} {one.unit}".strip()
    applies = "" if str(one.applies) == "everywhere" else f" for {one.applies}"
    said = " or ".join(one.accept) or bound
    return f"{one.kind}{applies}: {said}"


def _hazards(catalogue: Catalogue, entry: Characteristic) -> tuple[tuple[str, str], ...]:
    ways = [catalogue.methods[name] for name in entry.methods if name in catalogue.methods]
    names = dict.fromkeys([entry.hazard, *(way.hazard for way in ways)])
    return tuple((catalogue.hazards[n].term, _flat(catalogue.hazards[n].text)) for n in names if n in catalogue.hazards)
