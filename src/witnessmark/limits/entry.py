"""One entry of a limit sheet, held against its characteristic: its limits, or why they cannot be."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from witnessmark.catalogue.entry import JOURNAL_PARTS, NOTHING, VALVE_PARTS, Characteristic
from witnessmark.catalogue.place import PlaceError, parse
from witnessmark.limits.limit import SPREAD_RULES, Limit, Selector
from witnessmark.quantity.read import Amount, Asked, Unread, read
from witnessmark.quantity.unit import WORDS, Unit, UnknownUnit, names, spelled, unit
from witnessmark.text.fault import Fault, Path
from witnessmark.text.near import did_you_mean
from witnessmark.text.read import Document

if TYPE_CHECKING:
    from witnessmark.limits import model

SIDED = (*VALVE_PARTS, *JOURNAL_PARTS, "lobe", "cam", "manifold_face")
POSITIONED = (*VALVE_PARTS, "lobe")


@dataclass(slots=True)
class Reader:
    """Collects the faults of a sheet while its parts are read."""

    document: Document
    faults: list[Fault] = field(default_factory=list)

    def fault(self, message: str, path: Path, *, at_key: bool = False) -> None:
        self.faults.append(self.document.fault("value", message, path, at_key=at_key))

    def unit_of(self, name: str, quantity: str, what: str, path: Path) -> Unit | None:
        """The unit, if it measures what is wanted."""
        try:
            return unit(name, quantity)
        except UnknownUnit as error:
            other = next((each.dimension for each in spelled(name)), "")
            said = f"'{name}' measures {WORDS[other]}, and {what} is {WORDS[quantity]}" if other else str(error)
            self.fault(f"{said}; write {', '.join(names(quantity))}" if other else said, path)
            return None

    def value(self, text: str, wanted: Unit, band: tuple[float, float] | None, path: Path) -> Amount | None:
        """One value in the entry's unit; a question that the user must settle in the text is a fault here."""
        found = read(text, wanted.name, dimension=wanted.dimension, plausible=band)
        if isinstance(found, Unread):
            self.fault(f"'{text}' cannot be read: {found.message}", path)
        elif isinstance(found, Asked):
            said = " or ".join(answer.label for answer in found.answers)
            self.fault(f"'{text}' has two meanings, {said}; write the one that the document means", path)
        elif found.unit != wanted.name:
            self.fault(f"'{text}' has the unit {found.unit} and this entry {wanted.name}; one entry has one unit", path)
        else:
            return found
        return None


def limits_of(
    reader: Reader, entry: "model.Entry", known: Characteristic, path: Path, header: "model.Header"
) -> Iterator[Limit]:
    """The limits of one entry; what is wrong with it goes to the reader."""
    selector = Selector(entry.for_ or "", entry.position or "", entry.place or "")
    _check_selector(reader, selector, known, path)
    rule = entry.stations or known.rule
    _check_rule(reader, rule, known, path)
    accept = _accepted(reader, entry, known, path)
    ranges = _ranges(entry)
    wanted = _unit(reader, entry, known, path) if ranges else None
    if not ranges and entry.accept is None:
        reader.fault(f"no limit stands in this entry; write {_may_hold(known)}", path)
    if accept and ("service",) not in ranges:
        yield _limit(known, entry, header, selector, ("service", None, None), wanted, rule, accept, _line(reader, path))
    for way, (kind, low, high) in ranges.items():
        if known.kind == "look" and kind != "service":
            reader.fault(f"{known.term} is looked at; write accept, and service for how much may be", (*path, *way))
        elif kind == "given" and known.kind != "number":
            said = f"{known.term} is not a number that a document can state beforehand"
            reader.fault(f"{said}; write service or new", (*path, *way))
        _check_range(reader, low, high, rule, (*path, *way))
        usual = known.usual_at(selector.for_)
        least, most = (
            reader.value(text, wanted, usual, (*path, *way, *end)) if text and wanted else None
            for text, end in ((low, _end(kind, "low")), (high, _end(kind, "high")))
        )
        _check_order(reader, least, most, (*path, *way, *_end(kind, "low")))
        yield _limit(known, entry, header, selector, (kind, least, most), wanted, rule,
                     accept if kind == "service" else (), _line(reader, (*path, *way)))  # fmt: skip


def _limit(
    known: Characteristic, entry: "model.Entry", header: "model.Header", selector: Selector,
    ends: tuple[str, Amount | None, Amount | None], wanted: Unit | None, rule: str, accept: tuple[str, ...], line: int,
) -> Limit:  # fmt: skip
    kind, least, most = ends
    low, high = next(((low, high) for name, low, high in _ranges(entry).values() if name == kind), (None, None))
    return Limit(
        known.id, kind, least.inside if least else None, most.inside if most else None, low or "", high or "",
        wanted.name if wanted else entry.unit or "", rule, selector, entry.document or header.document,
        entry.page or "", entry.doubt or header.doubt, line, entry.to_check == "yes", accept,
    )  # fmt: skip


def _line(reader: Reader, path: Path) -> int:
    return reader.document.place(path)[0]


def _may_hold(known: Characteristic) -> str:
    if known.kind == "look":
        return f"accept, with what may stand of {', '.join(known.says)}"
    return "service, new or given"


def _unit(reader: Reader, entry: "model.Entry", known: Characteristic, path: Path) -> Unit | None:
    if known.quantity == NOTHING:
        for key in ("service", "new", "given", "other", "unit"):
            if getattr(entry, key):
                message = f"{known.term} has no amount; write accept, and take `{key}` out"
                reader.fault(message, (*path, key))
        return None
    if entry.unit is None:
        reader.fault(f"the key 'unit' is missing; write {', '.join(names(known.quantity))}", path)
        return None
    return reader.unit_of(entry.unit, known.quantity, known.term, (*path, "unit"))


def _accepted(reader: Reader, entry: "model.Entry", known: Characteristic, path: Path) -> tuple[str, ...]:
    """The answers that may stand, as the catalogue spells them."""
    if entry.accept is None:
        return ()
    if known.kind != "look":
        reader.fault(f"{known.term} is measured; write service or new in place of accept", (*path, "accept"))
        return ()
    spelled_so = {answer.casefold(): answer for answer in known.says}
    found = []
    for n, said in enumerate(entry.accept):
        answer = spelled_so.get(said.strip().casefold())
        if answer is None:
            near = did_you_mean(said, known.says) or f"; it has {', '.join(known.says)}"
            reader.fault(f"{known.term} has no answer '{said}'{near}", (*path, "accept", n))
        elif answer in found:
            reader.fault(f"'{said}' is written twice; keep one", (*path, "accept", n))
        else:
            found.append(answer)
    return tuple(found)


def _end(kind: str, end: str) -> Path:
    return () if kind == "given" else (end,)


def _ranges(entry: "model.Entry") -> Mapping[Path, tuple[str, str | None, str | None]]:
    """Way within the entry -> kind, low, high, as written."""
    found: dict[Path, tuple[str, str | None, str | None]] = {}
    for kind, each in (("service", entry.service), ("new", entry.new)):
        if each is not None:
            found[kind,] = (kind, each.low, each.high)
    for kind, each in entry.other.items():
        found["other", kind] = (kind, each.low, each.high)
    if entry.given is not None:
        found["given",] = ("given", entry.given, entry.given)
    return found


def _check_range(reader: Reader, low: str | None, high: str | None, rule: str, path: Path) -> None:
    if low is None and high is None:
        reader.fault("neither low nor high is written; write at least one of them", path)
    if path[-2] == "other" and path[-1] in ("service", "new", "given"):
        reader.fault(f"'{path[-1]}' is a kind of its own; write it beside `other`, not in it", path, at_key=True)
    if rule in SPREAD_RULES and low is not None:
        reader.fault("a spread is never below nothing, so its limit has no low; take low out", (*path, "low"))


def _check_order(reader: Reader, low: Amount | None, high: Amount | None, path: Path) -> None:
    if low and high and low.inside_exact > high.inside_exact:
        reader.fault(f"low {low.text} is above high {high.text}; were the two exchanged?", path)


def _check_rule(reader: Reader, rule: str, known: Characteristic, path: Path) -> None:
    way: Path = (*path, "stations")
    if known.kind == "form" and rule != "each":
        reader.fault(f"{known.term} is itself a difference of several readings; write stations: each", way)
    elif rule in ("worst", "mean", "spread") and not known.stations:
        cure = "write each, or spread_of_places for the spread over all places"
        reader.fault(f"{known.term} has one reading at a place, so there is no {rule} of several; {cure}", way)
    elif known.kind == "look" and rule not in ("each", "worst"):
        reader.fault(f"{known.term} is looked at, and answers have no {rule}; write each or worst", way)
    elif known.kind == "leaves" and rule in ("mean", *SPREAD_RULES):
        reader.fault(f"{known.term} is read with leaves, and intervals have no {rule}; write each or worst", way)


def _check_selector(reader: Reader, selector: Selector, known: Characteristic, path: Path) -> None:
    if selector.for_ and known.at not in SIDED:
        reader.fault(f"{known.term} has no inlet or exhaust side; take `for` out", (*path, "for"))
    if selector.position and known.at not in POSITIONED:
        reader.fault(f"{known.term} has no front or rear valve; take `position` out", (*path, "position"))
    if not selector.place:
        return
    try:
        place = parse(selector.place)
    except PlaceError as error:
        reader.fault(str(error), (*path, "place"))
        return
    if known.at not in _kinds_at(place.where):
        at = known.at.replace("_", " ")
        reader.fault(f"{known.term} is not read at '{selector.place}'; name a {at}", (*path, "place"))
    if place.station and not _is_station(place.station, known):
        near = did_you_mean(place.station, known.stations)
        cure = near or (f"; it has {', '.join(known.stations)}" if known.stations else "; take the station off")
        reader.fault(f"{known.term} has no station '{place.station}'{cure}", (*path, "place"))
    if selector.for_ and place.side and place.side != selector.for_:
        reader.fault(f"'{selector.place}' is no place of '{selector.for_}'; take one of the two out", (*path, "for"))


def _kinds_at(where: str) -> tuple[str, ...]:
    cam, _, part = where.partition("/")
    if where.startswith(("inl-", "exh-")):
        return VALVE_PARTS
    if cam.startswith("cam"):
        if not part:
            return ("cam", *JOURNAL_PARTS, "lobe")
        return ("lobe",) if part.startswith("lobe") else JOURNAL_PARTS
    if where.startswith(("bolt-", "chamber-")):
        return (where.partition("-")[0],)
    face = where.replace("-", "_")
    return (face, "manifold_face") if face in ("inlet_face", "exhaust_face") else (face,)


def _is_station(station: str, known: Characteristic) -> bool:
    inner = station
    if known.at == "spring":
        first, _, rest = station.partition("/")
        inner = rest if first in ("outer", "inner") else station
    words = (*known.stations, *known.optional)
    if inner.startswith("between-") and "between" in known.optional:
        return True
    return inner == "" or any(word == inner or word.startswith(f"{inner}/") for word in words)
