"""`trace`: traces of a wrench as a table of key points, or as data; who is unlike the others, and what it means."""

import re
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from witnessmark.assemble.signature import said, signatures
from witnessmark.assemble.stages import NEAREST
from witnessmark.assemble.tracefile import read_trace
from witnessmark.assemble.traces import Traced, TraceSet, measure, trace_set, traced
from witnessmark.desk.trace_data import POINTS, trace_data
from witnessmark.quantity.unit import unit
from witnessmark.shell.cli.saying import machine
from witnessmark.shell.files import read_bytes
from witnessmark.shell.wrench import wrench_text
from witnessmark.text.fault import Fault, Faulty

ENDINGS = (".csv", ".tsv", ".txt")


def trace(paths: Sequence[Path], *, as_json: bool, shown: str, run: int) -> int:
    """Print the key points of every trace, the set and its signatures; the exit status."""
    faults: list[Fault] = []
    bolts: list[Traced] = []
    for path in _files(paths, faults):
        try:
            found = read_trace(wrench_text(read_bytes(path), str(path)), str(path), run)
        except Faulty as faulty:
            faults += faulty.faults
        else:
            bolts += [traced(one.bolt or _named(path), one.angle, one.torque) for one in found]
    names = [one.bolt for one in bolts]
    faults += [Fault("duplicate_key", f"bolt {name} has two traces; name one of them", name)
               for name in dict.fromkeys(names) if names.count(name) > 1]  # fmt: skip
    if faults:
        raise Faulty(faults)
    all_ = trace_set(bolts)
    if as_json:
        machine(trace_data(all_))
    else:
        _print(all_, shown)
    return 0


def _files(paths: Sequence[Path], faults: list[Fault]) -> list[Path]:
    """The files that are meant: a folder stands for its tables, in the order of their names."""
    found: list[Path] = []
    for path in paths:
        if path.is_dir():
            inside = sorted((one for one in path.iterdir() if one.suffix.lower() in ENDINGS and one.is_file()),
                            key=lambda one: (_natural(one.name), one.name))  # fmt: skip
            found += inside
            if not inside:
                faults.append(Fault("missing", f"the folder holds no file that ends with {', '.join(ENDINGS)}",
                                    str(path)))  # fmt: skip
        else:
            found.append(path)
    return found


def _named(path: Path) -> str:
    """The bolt by the name of its file: `bolt-4.csv` is bolt 4."""
    return re.sub(r"^bolt[\s_-]+", "", path.stem, flags=re.IGNORECASE) or path.stem


def _natural(name: str) -> list[tuple[int, str]]:
    """A key by which bolt 10 follows bolt 9."""
    return [(int(part), "") if part.isdecimal() else (-1, part) for part in re.split(r"(\d+)", name)]


def _print(all_: TraceSet, shown: str) -> None:
    from rich.console import Console
    from rich.table import Table

    console = Console(highlight=False, width=None if sys.stdout.isatty() else 140)
    factor = float(unit(shown, "torque").factor)
    table = Table(box=None, pad_edge=False, header_style="bold")
    table.add_column("bolt")
    heads = ("prevailing", f"slope {shown}/°", "alignment", "snug", "origin", "yield", "end", f"final {shown}",
             "end - origin")  # fmt: skip
    for head in heads:
        table.add_column(head, justify="right")
    for one in all_.bolts:
        table.add_row(one.bolt, *_cells(one, factor))
    console.print(table)
    for name, middle in all_.middles.items() if len(all_.bolts) > 1 else ():
        by = factor if name in ("slope", "final torque") else 1.0
        in_ = "°" if by == 1.0 else f" {shown}/°" if name == "slope" else f" {shown}"
        console.print(f"{name}: median {middle.median / by:.4g}{in_}, scaled median deviation {middle.spread / by:.3g}"
                      f"{in_}, {middle.low / by:.4g} to {middle.high / by:.4g}{in_} ({middle.count})",
                      markup=False)  # fmt: skip
    _reasons(all_, console)
    found = signatures(all_)
    for each in found:
        console.print(f"! {said(each, shown)} Usually: {each.means}", markup=False)
    if not found:
        few = "" if len(all_.bolts) > NEAREST else "; bolts are compared where there are five at least"
        console.print(f"No signature of trouble was found{few}.")
    console.print("Angles count from where each trace begins; service information governs.", markup=False)


def _cells(one: Traced, factor: float) -> list[str]:
    points = one.points
    angles = [getattr(points, field).angle for _, field in POINTS]
    torques = [f"{value / factor:.3g}" if value is not None else "–" for value in (points.prevailing, points.slope)]
    final = "–" if points.end.torque is None else f"{points.end.torque / factor:.1f}"
    turned = measure(one, "end from origin")
    return [*torques, *(_angle(angle) for angle in angles), final, _angle(turned)]


def _angle(angle: float | None) -> str:
    return "–" if angle is None else f"{angle:.1f}°"


def _reasons(all_: TraceSet, console: Any) -> None:
    """Why a point is not there, once for all the bolts that it holds for."""
    whose: dict[str, list[str]] = {}
    for one in all_.bolts:
        for name, field in POINTS:
            reason = getattr(one.points, field).reason
            if reason:
                whose.setdefault(f"– {name}: {reason}", []).append(one.bolt)
    for words, bolts in whose.items():
        told = "every bolt" if len(bolts) == len(all_.bolts) > 1 else f"bolt {', '.join(bolts)}"
        console.print(f"{words} ({told})", markup=False)
