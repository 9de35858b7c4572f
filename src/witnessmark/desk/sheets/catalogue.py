"""The catalogue on sheets: all that can be measured by table, found by any word, one entry whole, the ways of looking.

Search  A word finds an entry by its names, its gauge, its remedies and all that is written of it, in the words of
        either side of the Atlantic; an entry whose own name has the word comes first.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from witnessmark.catalogue.entry import Catalogue, Characteristic, Method
from witnessmark.desk.sheets.card import KINDS, Card, card
from witnessmark.desk.sheets.phrase import listed
from witnessmark.engine.shape import Layout
from witnessmark.explain.dialect import DIALECTS, said
from witnessmark.limits.limit import Limit
from witnessmark.text.near import near

TABLES: Mapping[str, str] = {
    "A": "Casting, faces and bores",
    "B": "Valves",
    "C": "Guides and seats",
    "D": "Springs, retainers and seals",
    "E": "Followers and lash",
    "F": "Camshaft and its drive",
    "J": "Rods and pistons",
    "L": "Head on its block",
    "M": "Bolts and their holes",
}
LONGEST_WORD = 60


@dataclass(frozen=True, slots=True)
class Link:
    """One entry or way of looking by its id, to be linked to."""

    id: str
    term: str


@dataclass(frozen=True, slots=True)
class Line:
    """One entry in the list."""

    id: str
    term: str
    also: str
    at: str
    how: str  # measured | looked at | worked out
    gauge: str  # the usual gauge, the usual way of looking, or what it is worked out from


@dataclass(frozen=True, slots=True)
class Table:
    """The lines under one heading."""

    letter: str  # of the table; "" for what a search found
    title: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class CatalogueSheet:
    """The list, whole or as far as it has the words that were looked for."""

    find: str
    tables: tuple[Table, ...]
    found: int
    total: int
    guess: str  # the nearest word that would find something, where none was found


@dataclass(frozen=True, slots=True)
class WaySheet:
    """One way of looking, and what is looked at so."""

    id: str
    term: str
    also: str
    finds: str
    misses: str
    on: str  # materials
    proves: bool
    first_for: str
    hazard: str
    source: str
    used: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class EntrySheet:
    """One entry: its card, and what it hangs together with."""

    card: Card
    table: str
    law: str
    from_: tuple[Link, ...]  # what it is worked out from
    into: tuple[Link, ...]  # what is worked out from it
    after: tuple[Link, ...]  # what is measured before it
    optional: str
    only_if: Link | None  # the first test that the quick route asks for
    ways: tuple[Link, ...]
    before: Link | None  # its neighbours in the table
    next: Link | None


def catalogue_sheet(catalogue: Catalogue, find: str = "") -> CatalogueSheet:
    """Every entry by table, or those that have all words of `find`."""
    entries = tuple(catalogue.characteristics.values())
    words = folded(find).split()
    if not words:
        return CatalogueSheet("", _tables(catalogue, entries), len(entries), len(entries), "")
    named = [entry for entry in entries if _has(_names(entry), words)]
    others = [entry for entry in entries if entry not in named and _has(_written(catalogue, entry), words)]
    found = (("called so", named), ("speaking of it", others))
    tables = tuple(Table("", title, _lines(catalogue, each)) for title, each in found if each)
    total = len(named) + len(others)
    return CatalogueSheet(find.strip(), tables, total, len(entries), "" if total else _guess(entries, words))


def entry_sheet(
    catalogue: Catalogue, name: str, layout: Layout | None = None, limits: Iterable[Limit] = ()
) -> EntrySheet:
    """One entry whole, drawn in the valve gear of `layout`. Raises NoCard for a name that is not known."""
    made = card(catalogue, name, layout, limits)
    known = catalogue.characteristics
    entry = known[name]
    fellows = [one for one in known.values() if one.table == entry.table]
    at = fellows.index(entry)
    return EntrySheet(
        card=made,
        table=f"{entry.table} · {TABLES.get(entry.table, entry.group)}",
        law=entry.law.replace("_", " ") or _form_words(entry),
        from_=_links(known, entry.arguments or ((entry.of,) if entry.of else ())),
        into=_links(known, (one.id for one in known.values() if name in one.arguments or name == one.of)),
        after=_links(known, entry.after),
        optional=listed([word.replace("/", " ").replace("-", " ") for word in entry.optional]),
        only_if=next(iter(_links(known, (entry.only_if,))), None),
        ways=tuple(Link(one, catalogue.methods[one].term) for one in entry.methods if one in catalogue.methods),
        before=_link(fellows[at - 1]) if at else None,
        next=_link(fellows[at + 1]) if at + 1 < len(fellows) else None,
    )


def way_sheets(catalogue: Catalogue) -> tuple[WaySheet, ...]:
    """Every way of looking, with what it finds and what it cannot find."""
    return tuple(_way(catalogue, one) for one in catalogue.methods.values())


def folded(text: str) -> str:
    """A text as it is searched: small letters, nothing that joins words."""
    return text.casefold().replace("_", " ").replace("-", " ")


def _way(catalogue: Catalogue, one: Method) -> WaySheet:
    used = (entry for entry in catalogue.characteristics.values() if one.id in entry.methods)
    return WaySheet(
        id=one.id,
        term=one.term,
        also=listed(one.also, "or"),
        finds=_flat(one.finds),
        misses=_flat(one.misses),
        on="any material" if "any" in one.materials else listed(one.materials),
        proves=one.proves,
        first_for="" if "any" in one.usual_first_for else listed(one.usual_first_for),
        hazard=catalogue.hazards[one.hazard].text if one.hazard in catalogue.hazards else "",
        source=one.source,
        used=tuple(_link(entry) for entry in used),
    )


def _tables(catalogue: Catalogue, entries: Iterable[Characteristic]) -> tuple[Table, ...]:
    by_letter: dict[str, list[Characteristic]] = {letter: [] for letter in TABLES}
    for entry in entries:
        by_letter.setdefault(entry.table, []).append(entry)
    return tuple(
        Table(letter, TABLES.get(letter, f"Table {letter}"), _lines(catalogue, each))
        for letter, each in by_letter.items() if each
    )  # fmt: skip


def _lines(catalogue: Catalogue, entries: Iterable[Characteristic]) -> tuple[Line, ...]:
    return tuple(
        Line(entry.id, entry.term, ", ".join(entry.also), entry.at.replace("_", " "),
             KINDS.get(entry.kind, "measured"), tool(catalogue, entry))
        for entry in entries
    )  # fmt: skip


def tool(catalogue: Catalogue, entry: Characteristic) -> str:
    """The usual gauge or way of looking; for what is worked out the entries that it comes from."""
    if entry.usual_gauge in catalogue.gauge_kinds:
        return catalogue.gauge_kinds[entry.usual_gauge].term
    if entry.methods:
        return catalogue.methods[entry.methods[0]].term
    if entry.kind == "reckoned":
        return "the geometry of the engine"
    return listed([link.term for link in _links(catalogue.characteristics, entry.arguments or (entry.of,))])


def _form_words(entry: Characteristic) -> str:
    """What a form compares with each other, in words."""
    return {
        "along": "largest less smallest of one direction",
        "round": "largest less smallest at one height",
        "all": "largest less smallest of all",
    }.get(entry.form, "")


def _links(known: Mapping[str, Characteristic], names: Iterable[str]) -> tuple[Link, ...]:
    return tuple(_link(known[name]) for name in names if name in known)


def _link(entry: Characteristic) -> Link:
    return Link(entry.id, entry.term)


def _flat(text: str) -> str:
    return " ".join(text.split())


# search


def _has(text: str, words: Iterable[str]) -> bool:
    return all(word in text for word in words)


def _names(entry: Characteristic) -> str:
    return _both_sides(" ; ".join((entry.id, entry.term, *entry.also)))


def _written(catalogue: Catalogue, entry: Characteristic) -> str:
    kind = catalogue.gauge_kinds.get(entry.usual_gauge)
    ways = [catalogue.methods[one] for one in entry.methods if one in catalogue.methods]
    works = [catalogue.operations[one] for one in entry.remedies if one in catalogue.operations]
    tools = [(one.term, *one.also) for one in ways] + [(one.term, *one.also) for one in works]
    tools += [(kind.term, *kind.also)] if kind else []
    parts = (entry.id, entry.term, *entry.also, entry.at, entry.group, TABLES.get(entry.table, ""), *entry.stations,
             *entry.says, *(word for each in tools for word in each), entry.state, entry.measure, entry.wears,
             entry.out, entry.teach)  # fmt: skip
    return _both_sides(" ; ".join(parts))


def _both_sides(text: str) -> str:
    """A text with what either side of the Atlantic would say for it."""
    return folded(" ; ".join((text, *(said(text, dialect) for dialect in DIALECTS))))


def _guess(entries: Iterable[Characteristic], words: Iterable[str]) -> str:
    """The nearest word of a name to the first word that finds nothing."""
    known = sorted({word for entry in entries for word in _names(entry).replace(";", " ").split() if len(word) > 3})
    wrong = (word for word in words if word not in known)
    return next((guess for word in wrong if (guess := near(word[:LONGEST_WORD], known))), "")
