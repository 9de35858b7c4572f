"""The notebook of the docs, written from its cells below and run anew: docs/notebooks/four-heads.ipynb.

    .venv/bin/python tools/notebook.py          run it and write it
    .venv/bin/python tools/notebook.py --check  run it and say whether what it prints is still what is written

What a cell shows is kept; times, run numbers and ids are not, so that the file changes only when its meaning does.
"""

import json
import os
import sys
import tempfile
from difflib import unified_diff
from pathlib import Path

HOME = Path(__file__).parents[1]
FILE = HOME / "docs" / "notebooks" / "four-heads.ipynb"

CELLS: tuple[tuple[str, str], ...] = (
    ("markdown", """# Four heads on the bench

Harbour Lane Engine Works, its engines, limits, people and readings are invented. Each head is half measured: something is
out, something too close to call, something not yet read. Service information and licensed practice govern."""),
    ("code", """import tempfile
from pathlib import Path

import witnessmark as wm
from witnessmark.shell.demo import write_demo

folder = Path(tempfile.mkdtemp())
files = write_demo(folder)
sorted(path.name for path in files)"""),
    ("code", """heads = {name: wm.judge(wm.load_job(folder / f"{name}.yaml")) for name in ("tern", "egret", "wren", "petrel")}
for name, head in heads.items():
    print(f"{name:7}", {word: count for word, count in head.summary.items() if count})"""),
    ("markdown", """## What is out, and why

A judged job shows itself. So does each of its rows: the mark, the reason in a sentence, and what its doubt is made of."""),
    ("code", """for row in heads["tern"].where("out")[:6]:
    print(row)
    print("   ", row.why)"""),
    ("code", """worn = next(row for row in heads["tern"].where("out", "stem_diameter"))
worn"""),
    ("markdown", """## Too close to call

The Wren came to a shop with few gauges. Its lesson is what a coarse gauge cannot say."""),
    ("code", """for row in heads["wren"].where("too close to call")[:6]:
    print(row)
    print("   ", row.why)"""),
    ("markdown", """## Inch and millimetre

The Egret is measured in inches. Values stand inside in millimetres; the limit keeps its own unit and its own digits."""),
    ("code", """rows = [row.to_dict() for row in heads["egret"].rows if row.verdict][:5]
for row in rows:
    value = row["value"] if row["value"] is not None else row["interval"]
    print(row["characteristic"], row["location"], value, row["unit"], "u", row["u"], row["verdict"])"""),
    ("markdown", """## What is looked at

A look has an answer and a method. "None found" is worth what the method can find."""),
    ("code", """for name, head in heads.items():
    for row in head.rows:
        if row.result.says and row.verdict != "within":
            print(f"{name:7}", row, "by", row.result.method_term)"""),
    ("markdown", """## What a cut does

A new valve lets exhaust 3F sit 0.49 lower. Four values like that, and one does not: the ledger says which, with the sum."""),
    ("code", """job = wm.load_job(folder / "tern.yaml")
alone = wm.ledger(job, ["valve_replace@exh-3f"])
for row in alone.crossed:
    print(row.characteristic, row.location)
    print("   ", alone.why(row))"""),
    ("code", """both = wm.ledger(job, ["valve_replace@exh-3f", "seat_cut@exh-3f=0.31mm", "relief_top@exh-3f=0.62mm"])
for row in both.moved:
    if row.verdict:
        print(f"{row.characteristic:24} {row.before:7.2f} {row.predicted:7.2f}  {row.verdict}")"""),
    ("markdown", """## The plan

The cheapest work that brings all of it inside its limits, doubt allowed for; and others that differ in kind."""),
    ("code", """work = wm.plan(job)
best = work.best
print(f"{best.name}  {best.kind} {best.cost:.2f} {best.currency}, {best.status}; {len(work) - 1} beside it")
work.to_frame()[["operation", "location", "amount", "cost"]].head(12)"""),
    ("code", """egret = wm.plan(wm.load_job(folder / "egret.yaml"))
print(egret.status, "-", *egret.to_dict()["conflict"][0]["words"], sep="\\n")"""),
    ("markdown", """## A frame, and the catalogue

All of it is plain data as well."""),
    ("code", """frame = heads["tern"].to_frame()
frame.groupby("verdict").size().to_dict()"""),
    ("code", """known = wm.characteristics()
print(len(known), "characteristics")
for entry in known.search("warpage"):
    print(entry.id, "-", entry.term, "-", entry.source)"""),
)


def made():
    """The notebook without outputs."""
    import nbformat

    book = nbformat.v4.new_notebook()
    make = {"markdown": nbformat.v4.new_markdown_cell, "code": nbformat.v4.new_code_cell}
    book.cells = [make[kind](text) for kind, text in CELLS]
    for number, cell in enumerate(book.cells, 1):
        cell["id"] = f"cell-{number:02}"
    book.metadata = {"language_info": {"name": "python"}}
    return book


def run(book):
    """Run it in this interpreter's own kernel, in a folder of its own, and keep what it shows."""
    with tempfile.TemporaryDirectory() as scratch:
        for name in ("HOME", "IPYTHONDIR", "JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR"):
            os.environ[name] = scratch
        os.environ["JUPYTER_PLATFORM_DIRS"] = "1"
        from jupyter_client.kernelspec import KernelSpecManager
        from nbclient import NotebookClient

        kernels = Path(scratch) / "kernels" / "python3"
        kernels.mkdir(parents=True)
        spec = {"argv": [sys.executable, "-m", "ipykernel_launcher", "-f", "{connection_file}"],
                "display_name": "Python", "language": "python"}  # fmt: skip
        (kernels / "kernel.json").write_text(json.dumps(spec), "utf-8")
        # A slow machine hands what is printed over in several pieces: they are one.
        client = NotebookClient(book, timeout=120, resources={"metadata": {"path": scratch}}, kernel_name="python3",
                                coalesce_streams=True)  # fmt: skip
        client.create_kernel_manager()
        client.km.transport = "ipc"  # within this machine, and nobody else may listen
        client.km.ip = str(Path(scratch) / "kernel")
        client.km.kernel_spec_manager = KernelSpecManager(kernel_dirs=[str(kernels.parent)])
        client.execute()
    for cell in book.cells:
        cell.metadata = {}
        if cell.cell_type == "code":
            cell.execution_count = None
            for output in cell.outputs:
                output.pop("execution_count", None)
                if output.output_type == "execute_result":
                    output["execution_count"] = None
    return book


def written(book) -> str:
    """The text of the file."""
    import nbformat

    return nbformat.writes(book) + "\n"


def main() -> int:
    """Write the notebook, or check it."""
    text = written(run(made()))
    if "--check" in sys.argv:
        same = FILE.exists() and FILE.read_text("utf-8") == text
        print("as written" if same else "docs/notebooks/four-heads.ipynb says something else now: run tools/notebook.py")
        was = FILE.read_text("utf-8").splitlines() if FILE.exists() else []
        print(*unified_diff(was, text.splitlines(), "written", "now", lineterm="", n=0), sep="\n")
        return 0 if same else 1
    FILE.parent.mkdir(exist_ok=True)
    FILE.write_text(text, "utf-8")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
