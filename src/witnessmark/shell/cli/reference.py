"""`catalogue`: what can be measured and how one looks, from the data files, for a person or as data."""

from collections.abc import Iterable
from dataclasses import asdict
from pathlib import Path
from textwrap import fill

import click

from witnessmark.catalogue.entry import Catalogue
from witnessmark.desk.bench import Refused
from witnessmark.desk.sheets.catalogue import EntrySheet, WaySheet, catalogue_sheet, entry_sheet, way_sheets
from witnessmark.explain.dialect import catalogue_said
from witnessmark.shell.cli.saying import machine
from witnessmark.shell.resources import catalogue as shipped
from witnessmark.text.near import did_you_mean

WIDE, LABEL = 100, 12


def catalogue(name: str | None, *, as_json: bool, words: str = "") -> None:
    """Print all characteristics by table, or one whole. `words` never touch what is printed for machines."""
    known = shipped().characteristics
    if name is not None and name not in known:
        raise Refused(f"no characteristic is called '{name}'{did_you_mean(name, known)}")
    if as_json:
        machine({"characteristics": [known[one].to_dict() for one in ([name] if name else known)]})
        return
    spoken = catalogue_said(shipped(), words)
    click.echo("\n".join(_whole(entry_sheet(spoken, name)) if name else _tables(spoken)))


def methods(*, as_json: bool, words: str = "") -> None:
    """Print every way of looking, with what it finds and what it cannot find."""
    if as_json:
        machine({"methods": [asdict(one) for one in shipped().methods.values()]})
        return
    ways = way_sheets(catalogue_said(shipped(), words))
    click.echo("\n\n".join("\n".join(_way(one)) for one in ways))


def write_card(name: str | None, path: Path, paper: str, words: str = "") -> None:
    """Write the bench card of one characteristic and print where it lies."""
    from witnessmark.shell.cli.paperwork import card

    if name is None:
        raise Refused("a card is of one characteristic; name it before --card, as in: catalogue stem_diameter")
    click.echo(card(name, path, paper, words))


def _tables(known: Catalogue) -> Iterable[str]:
    for table in catalogue_sheet(known).tables:
        yield f"{table.letter}  {table.title}"
        for line in table.lines:
            yield f"   {line.id:24} {line.term:44} {line.at:14} {line.gauge}".rstrip()


def _whole(sheet: EntrySheet) -> Iterable[str]:
    card = sheet.card
    yield f"{card.title}  ({card.id})"
    facts = (
        ("", card.also),
        ("table", sheet.table),
        ("judged by", dict(card.block).get("judged by", "")),
        ("where", card.stations),
        ("also there", sheet.optional),
        ("state", card.state),
        ("how", card.measure),
        ("with", card.gauge),
        ("answers", "; ".join(card.says)),
        ("law", " of ".join(filter(None, (sheet.law, ", ".join(link.id for link in sheet.from_))))),
        ("gives", ", ".join(link.id for link in sheet.into)),
        ("after", ", ".join(link.id for link in sheet.after)),
        ("quick route", f"asked where {sheet.only_if.id} is not clearly within" if sheet.only_if else ""),
        ("usual", "; ".join(card.usual)),
        ("wears", card.wears),
        ("out", card.out),
        ("remedies", card.remedies),
        *((f"look: {way.term}", f"finds {way.finds} Misses {way.misses} {way.proves}.") for way in card.ways),
        *(("hazard", f"{term}: {text}") for term, text in card.hazards),
        ("to know", card.teach),
        ("source", card.source),
    )
    for label, text in facts:
        if text:
            yield _fact(label, text)


def _way(one: WaySheet) -> Iterable[str]:
    yield f"{one.term}  ({one.id})"
    for label, text in (
        ("", f"also called {one.also}" if one.also else ""),
        ("finds", one.finds),
        ("misses", one.misses),
        ("on", one.on),
        ("none found", "proves that there is none" if one.proves else "proves nothing"),
        ("hazard", one.hazard),
        ("used for", ", ".join(link.id for link in one.used)),
        ("source", one.source),
    ):
        if text:
            yield _fact(label, text)


def _fact(label: str, text: str) -> str:
    """A label and its words, wrapped under each other; a long label stands on a line of its own."""
    if len(label) > LABEL:
        return f"  {label}\n" + fill(text, WIDE, initial_indent=" " * (LABEL + 3), subsequent_indent=" " * (LABEL + 3))
    return fill(text, WIDE, initial_indent=f"  {label:{LABEL}} ", subsequent_indent=" " * (LABEL + 3))
