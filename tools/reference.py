"""Write the pages that are made from the source: how the rooms fit together, and what can be measured.

    .venv/bin/python tools/reference.py            write them
    .venv/bin/python tools/reference.py --check    say which are stale; exit status 1 when one is

`make reference` does the first; a test does what the second does.
"""

import ast
import re
import sys
from collections.abc import Iterable, Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any

from witnessmark.quantity.unit import unit
from witnessmark.shell.resources import catalogue

SHOWN = {"angle_plane": "deg", "angle_crank": "deg crank", "angle_cam": "deg cam", "volume": "mL", "pressure": "kPa",
         "torque": "N·m"}  # fmt: skip
"""The unit in which a range is printed, where it is not the unit inside."""

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src" / "witnessmark"
ROOMS = (
    ("text", "quantity"),
    ("metrology", "form", "mechanics"),
    ("catalogue",),
    ("engine", "limits", "record"),
    ("judge", "fit"),
    ("plan", "assemble"),
    ("explain", "draw"),
    ("desk", "desk/sheets"),
    ("shell", "shell/store", "shell/web", "shell/papers", "shell/cli", "shell/demo"),
)
LINES = ("0", "1", "2", "2", "3", "4", "5", "6", "7")
DIAGRAM = """
    a gauge or a hand
          |
    7  shell ........ web, cli, papers; store: written to disk, then acknowledged
          |
    6  desk ......... one line in, events or a refusal out; what every sheet shows
          |
    5  explain  draw  reasons into sentences; states into pictures
          |
    4  plan ......... what work does to everything; the cheapest that holds
    4  assemble ..... bolts turned stage by stage, steps signed, what tests should give
          |
    3  judge  fit     readings held against limits; the best use of the shelf
          |
    2  engine  limits  record    (record reads no catalogue)
          |
    2  catalogue .... what is measured, and how
          |
    1  metrology  form  mechanics
          |
    0  text  quantity
"""
MADE = "<!-- Written by tools/reference.py from the source. Change the source, then run `make reference`. -->\n"
TABLES = {
    "A": "head",
    "B": "valves",
    "C": "guides and seats",
    "D": "springs",
    "E": "followers and lash",
    "F": "camshaft and drive",
    "J": "rods and pistons",
    "L": "head on its block",
    "M": "fasteners",
}


def pages() -> dict[Path, str]:
    """Every generated page by its path from the root."""
    return {
        Path("docs/how-it-fits.md"): how_it_fits(),
        Path("docs/reference/catalogue.md"): catalogue_page(),
        Path("docs/reference/characteristics-tests.md"): tests_page(),
        Path("docs/decisions/README.md"): decisions(),
    }


EACH = (
    ("tests/catalogue/test_tables.py", "whole, sourced, named as the trade names it, walked on every layout"),
    ("tests/draw/test_standing.py, tests/draw/test_moving.py", "drawn at every station: inside, apart, named, painted"),
    ("tests/desk/sheets/test_bench.py", "has a bench page in mm and in inch on the engines tried there"),
    ("tests/shell/papers/test_cards.py", "has a bench card of one page"),
    ("tests/stories/test_layouts.py", "read and judged on whole heads in good order (slow)"),
)
"""Tests that take every characteristic of the catalogue by itself, and what they hold of it."""


def tests_page() -> str:
    """Every characteristic with the tests that name it; what holds for each stands above."""
    texts = {path: path.read_text("utf-8") for path in sorted((ROOT / "tests").rglob("*.py"))}
    words = {path: set(re.findall(r"[a-z][a-z0-9_]+", text)) for path, text in texts.items()}
    lines = [MADE, "# Characteristics and their tests\n", "Each of them is held by these, one by one:\n"]
    lines += [f"- {where}: {what}" for where, what in EACH]
    lines += ["\nAnd by name in these (paths under `tests/`):\n", "| Id | Table | Named in |", "|---|---|---|"]
    for entry in catalogue().characteristics.values():
        law = {entry.id, entry.law} - {""}
        named = [str(path.relative_to(ROOT / "tests")) for path, found in words.items() if law & found]
        lines.append(f"| `{entry.id}` | {entry.table} | {', '.join(named)} |")
    return "\n".join(lines) + "\n"


def how_it_fits() -> str:
    """The rooms with their own words, the arrow, and the way of one reading."""
    parts = [MADE, "# How it fits together\n", _read("tools/how-it-fits-head.md"), f"```text{DIAGRAM}```\n"]
    for number, rooms in zip(LINES, ROOMS, strict=True):
        parts += [f"## Line {number}: {', '.join(f'`{room}`' for room in rooms)}\n"] if rooms else []
        parts += [f"**{room}.** {_says(room)}\n" for room in rooms]
    return "\n".join(parts)


def _says(room: str) -> str:
    text = ast.get_docstring(ast.parse((SOURCE / room / "__init__.py").read_text("utf-8"))) or ""
    return "\n".join(line.rstrip() for line in text.splitlines())


def _read(name: str) -> str:
    return (ROOT / name).read_text("utf-8").rstrip() + "\n"


def decisions() -> str:
    """The index of the decision pages, by number."""
    folder = ROOT / "docs" / "decisions"
    titles = {page.name: page.read_text("utf-8").splitlines()[0] for page in sorted(folder.glob("0*.md"))}
    lines = [f"- {name[:4]} [{title.removeprefix('# ')}]({name})" for name, title in titles.items()]
    return "\n".join([MADE, "# Why it is so\n", DECISIONS_HEAD, *lines]) + "\n"


DECISIONS_HEAD = "Each page gives a question, its answer, the price, and what would reopen it.\n"


def catalogue_page() -> str:
    """One section for each characteristic, gauge kind, operation and hazard."""
    known = catalogue()
    parts = [MADE, "# What can be measured\n", CATALOGUE_HEAD]
    parts += list(_index(known.characteristics.values()))
    for entry in known.characteristics.values():
        parts += list(_characteristic(entry.to_dict()))
    parts += ["## Ways of looking\n", METHODS_HEAD, *_methods(known.methods), ""]
    parts += ["## Gauge kinds\n", GAUGES_HEAD, *_gauges(known.gauge_kinds), ""]
    parts += ["## Operations\n", "What may be done to a part. A limit sheet may say whether the document allows it.\n"]
    parts += [f"- `{key}`: {operation.term} ({operation.kind}, by the {operation.by}, step {operation.order})"
              for key, operation in known.operations.items()]
    parts += ["", "## Hazards\n", "Printed where they apply, and nowhere else.\n"]
    parts += [f"- `{key}`, {hazard.term}: {hazard.text}" for key, hazard in known.hazards.items()]
    return "\n".join(parts) + "\n"


CATALOGUE_HEAD = """\
Lengths are in millimetres and forces in newtons, as they are kept inside; other quantities name their unit. The *usual range* warns of a slip of
the hand. It never accepts a part: only a limit that you entered does. Where no published source is known, the entry
says "common practice" or "value from memory".
"""
METHODS_HEAD = """\
How something is looked at where an answer is given in place of a number. By a method that does not prove soundness,
"none found" means only that nothing was seen, and the verdict stays open.
"""
GAUGES_HEAD = """\
The usual gauge of each kind, with its usual doubt. These figures stand in where a reading names no gauge, and the
screen then says "gauge assumed". Enter your own gauge with its certificate instead.
"""


def _index(entries: Iterable[Any]) -> Iterable[str]:
    yield "| id | term | table | how |\n|---|---|---|---|"
    for entry in entries:
        how = {"number": "measured", "leaves": "measured with leaves", "look": "looked at"}.get(
            entry.kind, "worked out"
        )
        yield f"| [`{entry.id}`](#{entry.id}) | {entry.term} | {entry.table}, {TABLES[entry.table]} | {how} |"
    yield ""


def _characteristic(entry: Mapping[str, Any]) -> Iterable[str]:
    yield f"## {entry['id']}\n"
    yield f"**{entry['term'][:1].upper()}{entry['term'][1:]}**{_also(entry['also'])}.\n"
    for label, text in (
        ("Measure", entry["measure"]), ("State", entry["state"]), ("Places", _places(entry)),
        ("Quick route", _quick(entry)), ("Only where there is", _needs(entry)), ("After", _names(entry["after"])),
        ("Gauge", entry["usual_gauge"]), ("Answers", _answers(entry)), ("By", _names(entry["methods"])),
        ("Worked out", _law(entry)), ("Several readings", _rule(entry)),
        ("Usual range", _usual(entry)), ("Wears", entry["wears"]), ("When out", entry["out"]),
        ("Remedies", _names(entry["remedies"])),
        ("Hazard", f"`{entry['hazard']}`" if entry["hazard"] else ""), ("Note", entry["teach"]),
        ("Source", entry["source"]),
    ):  # fmt: skip
        if text:
            yield f"- {label}: {text}"
    yield ""


def _also(names: Iterable[str]) -> str:
    text = ", ".join(names)
    return f", also called {text}" if text else ""


def _places(entry: Mapping[str, Any]) -> str:
    at = f"each {entry['at']}".replace("_", " ")
    stations = f"; at each of them {_names(entry['stations'])}" if entry["stations"] else ""
    further = f"; where it is wanted also {_names(entry['optional'])}" if entry["optional"] else ""
    return f"{at}{stations}{further}"


def _names(words: Iterable[str]) -> str:
    return ", ".join(f"`{one}`" for one in words)


def _quick(entry: Mapping[str, Any]) -> str:
    where = f"{_names(entry['quick'])} first" if entry["quick"] else ""
    when = f"only where `{entry['only_if']}` is not clearly within" if entry["only_if"] else ""
    return ", ".join(filter(None, (where, when)))


def _needs(entry: Mapping[str, Any]) -> str:
    return ", ".join(word.replace("_", " ") for word in (*entry["gears"], *entry["drives"]))


def _answers(entry: Mapping[str, Any]) -> str:
    return ", ".join(f"{number} {answer} ({worth})" for number, (answer, worth) in enumerate(entry["says"].items(), 1))


def _law(entry: Mapping[str, Any]) -> str:
    if entry["law"]:
        return f"`{entry['law']}` of {', '.join(f'`{one}`' for one in entry['arguments'])}"
    return f"largest less smallest of `{entry['of']}`, {entry['form']}" if entry["of"] else ""


def _rule(entry: Mapping[str, Any]) -> str:
    ends = {"least": ", the least one", "most": ", the greatest one"}
    return f"{entry['rule']}{ends.get(entry['extreme'], '')}" if entry["rule"] == "worst" else str(entry["rule"])


def _usual(entry: Mapping[str, Any]) -> str:
    ranges = [("", entry["usual"])] if entry["usual"] else []
    ranges += [(f"{kind} ", usual) for kind, usual in (entry["usual_by"] or {}).items()]
    return "; ".join(f"{kind}{_range(usual, entry['quantity'], entry['unit'])}" for kind, usual in ranges)


def _range(ends: Iterable[float], quantity: str, inside: str) -> str:
    shown = unit(SHOWN.get(quantity, inside), quantity)
    low, high = (f"{float(shown.outside(Fraction(end))):.4g}" for end in ends)
    return f"{low} to {high} {shown.name}".removesuffix(" 1")


def _methods(methods: Mapping[str, Any]) -> Iterable[str]:
    for key, method in methods.items():
        proves = "yes" if method.proves else "no"
        yield f"- `{key}`, {method.term}{_also(method.also)}. Finds: {method.finds} Misses: {method.misses}"
        yield f"  On: {', '.join(method.materials)}. Proves soundness: {proves}. Source: {_source(method.source)}."


def _source(key: str) -> str:
    return catalogue().sources[key].text


def _gauges(kinds: Mapping[str, Any]) -> Iterable[str]:
    yield "| kind | term | step | U (k = 2) | repeats within s |\n|---|---|---|---|---|"
    for key, kind in kinds.items():
        own = unit(kind.unit, kind.quantity)
        step, doubt, repeats = (f"{float(own.outside(Fraction(size))):.4g}" for size in
                                (kind.resolution, kind.U, kind.repeatability))  # fmt: skip
        doubt += f" + {kind.relative:.1%}" if kind.relative else ""
        step = {"leaves": "leaves", "size": "holds one size"}.get(kind.reads, f"{step} {kind.unit}")
        yield f"| `{key}` | {kind.term} | {step} | {doubt} | {repeats} |"


def _there(path: Path) -> str | None:
    return (ROOT / path).read_text("utf-8") if (ROOT / path).exists() else None


def main(arguments: list[str]) -> int:
    """Write the pages, or with --check tell which are stale."""
    made = pages()
    stale = [path for path, text in made.items() if _there(path) != text]
    for path in stale:
        if "--check" in arguments:
            sys.stdout.write(f"{path} is stale: run make reference\n")
        else:
            (ROOT / path).parent.mkdir(parents=True, exist_ok=True)
            (ROOT / path).write_text(made[path], "utf-8", newline="\n")
            sys.stdout.write(f"{path}\n")
    return 1 if stale and "--check" in arguments else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
