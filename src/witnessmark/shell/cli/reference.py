"""`catalogue`: what can be measured, from the data files."""

from pathlib import Path

import click

from witnessmark.catalogue.entry import Characteristic
from witnessmark.desk.bench import Refused
from witnessmark.shell.cli.saying import machine
from witnessmark.shell.resources import catalogue as shipped
from witnessmark.text.near import did_you_mean


def catalogue(name: str | None, *, as_json: bool) -> None:
    """Print all characteristics, or one whole."""
    known = shipped().characteristics
    if name is not None and name not in known:
        raise Refused(f"no characteristic is called '{name}'{did_you_mean(name, known)}")
    chosen = [known[name]] if name else list(known.values())
    if as_json:
        machine({"characteristics": [entry.to_dict() for entry in chosen]})
    elif name:
        click.echo("\n".join(_whole(chosen[0])))
    else:
        for entry in chosen:
            click.echo(f"{entry.id:24} {entry.table}  {entry.term}")


def write_card(name: str | None, path: Path, paper: str) -> None:
    """Write the bench card of one characteristic and print where it lies."""
    from witnessmark.shell.cli.paperwork import card

    if name is None:
        raise Refused("a card is of one characteristic; name it before --card, as in: catalogue stem_diameter")
    click.echo(card(name, path, paper))


def _whole(entry: Characteristic) -> list[str]:
    plain = entry.to_dict()
    shown = {key: ", ".join(map(str, value)) if isinstance(value, list) else value for key, value in plain.items()}
    return [f"{key:12} {value}" for key, value in shown.items() if value not in ("", None, {})]
