"""Write the pages that are made from the source: how the rooms fit together, and what can be measured.

    .venv/bin/python tools/reference.py            write them
    .venv/bin/python tools/reference.py --check    say which are stale; exit status 1 when one is

`make reference` does the first; a test does what the second does.
"""

import ast
import sys
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from witnessmark.shell.resources import catalogue

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src" / "witnessmark"
ROOMS = (
    ("text", "quantity"),
    ("metrology", "form", "mechanics"),
    ("catalogue",),
    ("engine", "limits", "record"),
    ("judge",),
    ("explain", "draw"),
    ("desk", "desk/sheets"),
    ("shell", "shell/store", "shell/web", "shell/papers", "shell/cli", "shell/demo"),
)
LINES = ("0", "1", "2", "2", "3", "5", "6", "7")  # 4 is kept for advisers that do not exist yet
DIAGRAM = """
    a gauge or a hand
          |
    7  shell ........ web, cli, papers; store: written to disk, then acknowledged
          |
    6  desk ......... one line in, events or a refusal out; what every sheet shows
          |
    5  explain  draw  reasons into sentences; states into pictures
          |
    3  judge ........ readings held against limits
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
    "E": "lash",
    "F": "camshafts",
    "M": "fasteners",
}


def pages() -> dict[Path, str]:
    """Every generated page by its path from the root."""
    return {
        Path("docs/how-it-fits.md"): how_it_fits(),
        Path("docs/reference/catalogue.md"): catalogue_page(),
        Path("docs/decisions/README.md"): decisions(),
    }


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
    parts += ["## Gauge kinds\n", GAUGES_HEAD, *_gauges(known.gauge_kinds), ""]
    parts += ["## Operations\n", "What may be done to a part. A limit sheet may say whether the document allows it.\n"]
    parts += [f"- `{key}`: {operation.term}" for key, operation in known.operations.items()]
    parts += ["", "## Hazards\n", "Printed where they apply, and nowhere else.\n"]
    parts += [f"- `{key}`, {hazard.term}: {hazard.text}" for key, hazard in known.hazards.items()]
    return "\n".join(parts) + "\n"


CATALOGUE_HEAD = """\
All lengths are in millimetres and all forces in newtons, as they are kept inside. The *usual range* warns of a slip of
the hand. It never accepts a part: only a limit that you entered does. Where no published source is known, the entry
says "common practice" or "value from memory".
"""
GAUGES_HEAD = """\
The usual gauge of each kind, with its usual doubt. These figures stand in where a reading names no gauge, and the
screen then says "gauge assumed". Enter your own gauge with its certificate instead.
"""


def _index(entries: Iterable[Any]) -> Iterable[str]:
    yield "| id | term | table | how |\n|---|---|---|---|"
    for entry in entries:
        how = {"number": "measured", "leaves": "measured with leaves"}.get(entry.kind, "worked out")
        yield f"| [`{entry.id}`](#{entry.id}) | {entry.term} | {entry.table}, {TABLES[entry.table]} | {how} |"
    yield ""


def _characteristic(entry: Mapping[str, Any]) -> Iterable[str]:
    yield f"## {entry['id']}\n"
    yield f"**{entry['term'][:1].upper()}{entry['term'][1:]}**{_also(entry['also'])}.\n"
    for label, text in (
        ("Measure", entry["measure"]), ("State", entry["state"]), ("Places", _places(entry)),
        ("Gauge", entry["usual_gauge"]), ("Worked out", _law(entry)), ("Several readings", _rule(entry)),
        ("Usual range", _usual(entry)), ("Wears", entry["wears"]), ("When out", entry["out"]),
        ("Remedies", ", ".join(f"`{one}`" for one in entry["remedies"])),
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
    stations = ", ".join(f"`{one}`" for one in entry["stations"])
    at = f"each {entry['at']}".replace("_", " ")
    return f"{at}; at each of them {stations}" if stations else at


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
    return "; ".join(f"{kind}{usual[0]:g} to {usual[1]:g} {entry['unit']}" for kind, usual in ranges)


def _gauges(kinds: Mapping[str, Any]) -> Iterable[str]:
    yield "| kind | term | step | U (k = 2) | repeats within s |\n|---|---|---|---|---|"
    for key, kind in kinds.items():
        doubt = f"{kind.U:g}" + (f" + {kind.relative:.1%}" if kind.relative else "")
        step = "leaves" if kind.reads != "number" else f"{kind.resolution:g} {kind.unit}"
        yield f"| `{key}` | {kind.term} | {step} | {doubt} | {kind.repeatability:g} |"


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
