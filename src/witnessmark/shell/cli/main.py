"""The commands. Each imports what it needs when it runs, so that --help answers at once."""

import sys
from io import TextIOWrapper
from pathlib import Path

import click

from witnessmark.shell.cli.saying import machine, plainly

JOB = click.argument("job", metavar="JOB")
DATA = click.option("--data", type=click.Path(path_type=Path), default=Path("data"), envvar="WITNESSMARK_DATA",
                    show_default=True, help="Folder of the store.")  # fmt: skip
JSON = click.option("--json", "as_json", is_flag=True, help="Plain data for machines.")
PAPER = click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True,
                     help="Size of the sheets.")  # fmt: skip
WORDS = click.option("--words", type=click.Choice(["british", "american"]), default=None,
                     help="Trade words of that side of the Atlantic; data never change.")  # fmt: skip
STRICT = click.option("--strict", is_flag=True, help="Exit with 1 when anything is not within, or not finished.")


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="witnessmark")
def main() -> None:
    """From the gauge in the hand to a judged record of the engine on the bench.

    JOB is a job file or the id of a job in the store.
    """
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):  # a terminal that lacks a letter shows ? in its place
            stream.reconfigure(errors="replace")


@main.command()
@JOB
@DATA
@JSON
@STRICT
@click.option("--unit", type=click.Choice(["mm", "in"]), default="mm", show_default=True, help="Unit of the table.")
@WORDS
@plainly
def judge(job: str, data: Path, as_json: bool, strict: bool, unit: str, words: str | None) -> None:
    """Hold every reading of JOB against the limits that were entered."""
    from witnessmark.shell.cli import judging

    sys.exit(judging.judge(job, data, as_json=as_json, strict=strict, unit=unit, words=words or ""))


@main.command()
@JOB
@DATA
@JSON
@STRICT
@click.option("--cut", "cuts", multiple=True, metavar="OPERATION@LOCATION=AMOUNT[UNIT]", help="Work to try, such as "
              "seat_cut@inl-3f=0.20mm, or valve_replace@inl-3f; repeatable; `all`, `inl`, `exh` for many places. "
              "Without any, the intended work of the job.")  # fmt: skip
@click.option("--every", is_flag=True, help="Also what the work does not move.")
@click.option("--unit", type=click.Choice(["mm", "in"]), default="mm", show_default=True, help="Unit of the table.")
@WORDS
@plainly
def ledger(job: str, data: Path, as_json: bool, strict: bool, cuts: tuple[str, ...], every: bool, unit: str,
           words: str | None) -> None:  # fmt: skip
    """Say what work would do to every characteristic of JOB, before any metal is off."""
    from witnessmark.shell.cli import consequences

    sys.exit(consequences.ledger(job, data, cuts, as_json=as_json, strict=strict, every=every, unit=unit,
                                 words=words or ""))  # fmt: skip


@main.command()
@JOB
@DATA
@JSON
@click.option("--joint", default="", help="Which joint of the limit sheet; without it the first.")
@click.option("--loosen", is_flag=True, help="How it is loosened.")
@click.option("--wrench", default="", help="A wrench of the register, for its lever.")
@click.option("--extension", default="", metavar="LENGTH", help="Of a crow-foot or extension, such as 60mm or 2.5in: "
              "the setting to dial in.")  # fmt: skip
@click.option("--angle", default="", metavar="DEGREES", help="Of the extension: 0 straight out, 90 square.")
@click.option("--hand", default="", metavar="LENGTH", help="Where the hand pulls, from the drive, where that is not "
              "the grip; with the sensor of an electronic wrench.")  # fmt: skip
@plainly
def tighten(job: str, data: Path, as_json: bool, joint: str, loosen: bool, wrench: str, extension: str,
            angle: str, hand: str) -> None:  # fmt: skip
    """Say in which order and stages a joint of JOB is tightened, how far it is, and what to mind."""
    from witnessmark.shell.cli import tightening

    sys.exit(tightening.tighten(job, data, as_json=as_json, joint=joint, loosen=loosen, wrench=wrench,
                                extension=extension, angle=angle, hand=hand))  # fmt: skip


@main.command()
@click.argument("paths", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="FILE|FOLDER...")
@JSON
@click.option("--unit", type=click.Choice(["N·m", "lbf·ft"]), default="N·m", show_default=True,
              help="Unit of torque of the table.")  # fmt: skip
@click.option("--run", type=click.IntRange(1), default=None, help="Which run counts, where a file holds several.")
@plainly
def trace(paths: tuple[Path, ...], as_json: bool, unit: str, run: int | None) -> None:
    """Read what torque-angle traces of a wrench say: snug, slope, yield, and which bolt is unlike the others.

    FILE is CSV text with the columns angle (deg) and torque (N·m, lbf·ft, ...); a column bolt or the name of the file
    says which bolt it is. FOLDER stands for every such file in it.
    """
    from witnessmark.shell.cli import tracing

    sys.exit(tracing.trace(paths, as_json=as_json, shown=unit, run=run or 0))


@main.command()
@JOB
@DATA
@JSON
@STRICT
@click.option("--unit", type=click.Choice(["mm", "in"]), default="mm", show_default=True, help="Unit of the table.")
@WORDS
@plainly
def plan(job: str, data: Path, as_json: bool, strict: bool, unit: str, words: str | None) -> None:
    """Find the cheapest work that brings JOB inside its limits, and prove it; or say what stands in the way."""
    from witnessmark.shell.cli import planning

    sys.exit(planning.plan(job, data, as_json=as_json, strict=strict, unit=unit, words=words or ""))


@main.command()
@JOB
@DATA
@JSON
@plainly
def fit(job: str, data: Path, as_json: bool) -> None:
    """Say which lash shim of JOB goes where, what to buy, and what adjusters have left."""
    from witnessmark.shell.cli import planning

    sys.exit(planning.fit(job, data, as_json=as_json))


@main.command()
@click.argument("file", type=click.Path(path_type=Path))
@JSON
@STRICT
@plainly
def check(file: Path, as_json: bool, strict: bool) -> None:
    """Tell every fault of a job file, limit sheet or price list: file, line, column, what to do."""
    from witnessmark.shell.cli import checking

    sys.exit(checking.check(file, as_json=as_json, strict=strict))


@main.command()
@click.argument("name", type=click.Choice(["job", "limits", "prices", "record"]))
def schema(name: str) -> None:
    """Print the JSON Schema of a job file, a limit sheet, a price list or a record."""
    from witnessmark.shell.cli import checking

    machine(checking.schema(name))


@main.command()
@click.argument("id", required=False)
@JSON
@click.option("--card", type=click.Path(path_type=Path), metavar="FILE", help="Write its bench card as PDF instead.")
@click.option("--methods", is_flag=True, help="The ways of looking, and what each cannot find.")
@PAPER
@WORDS
@plainly
def catalogue(id: str | None, as_json: bool, card: Path | None, methods: bool, paper: str, words: str | None) -> None:
    """Show what can be measured: all of it, or one characteristic."""
    from witnessmark.shell.cli import reference

    if card is not None:
        reference.write_card(id, card, paper, words or "")
    elif methods:
        reference.methods(as_json=as_json, words=words or "")
    else:
        reference.catalogue(id, as_json=as_json, words=words or "")


@main.command()
@click.argument("folder", type=click.Path(path_type=Path), metavar="DIR")
@plainly
def demo(folder: Path) -> None:
    """Write the invented demo job into DIR."""
    from witnessmark.shell.demo import write_demo

    for path in write_demo(folder):
        click.echo(path)


@main.command()
@JOB
@DATA
@click.option("--out", type=click.Path(path_type=Path), required=True, metavar="DIR", help="Folder for the papers.")
@click.option("--unit", type=click.Choice(["mm", "in"]), default="mm", show_default=True)
@PAPER
@click.option("--full", "which", flag_value="inspection", multiple=True, help="The inspection report in full: what is "
              "written where no paper is named.")  # fmt: skip
@click.option("--whole", "which", flag_value="full-report", multiple=True, help="One report with everything: every "
              "round, order, assembly, closing.")  # fmt: skip
@click.option("--short", "which", flag_value="report-short", multiple=True, help="The report on one page.")
@click.option("--blank", "which", flag_value="blank-sheets", multiple=True, help="Sheets to write on at the bench.")
@click.option("--labels", "which", flag_value="labels", multiple=True, help="Labels for trays and caps.")
@click.option("--cards", "which", flag_value="cards", multiple=True, help="Bench cards of all that is asked for.")
@click.option("--shop-order", "which", flag_value="shop-order", multiple=True, help="What the machine shop is to do.")
@click.option("--parts-order", "which", flag_value="parts-order", multiple=True, help="What is to be bought.")
@click.option("--shims", "which", flag_value="shims", multiple=True, help="Which shim goes where, after re-measuring.")
@click.option("--before-after", "which", flag_value="before-and-after", multiple=True, help="What the work moves.")
@click.option("--tightening", "which", flag_value="tightening", multiple=True, help="The tightening sheets, "
              "as far as it is done.")  # fmt: skip
@click.option("--blank-tightening", "which", flag_value="blank-tightening", multiple=True, help="The same with boxes "
              "to write in.")  # fmt: skip
@click.option("--assembly", "which", flag_value="assembly", multiple=True, help="The steps of assembly and who signed.")
@click.option("--round", "round_", default="as found", show_default=True, help="Round of the reports and blank sheets.")
@click.option("--order", type=click.Choice(["by part", "by station", "by gauge", "valve by valve"]), default="by part",
              show_default=True, help="Order of the blank sheets.")  # fmt: skip
@click.option("--only", multiple=True, metavar="ID", help="Blank sheets and cards of this characteristic; repeatable.")
@click.option("--base", default="", metavar="URL", help="Address of the bench in the codes of labels.")
@WORDS
@plainly
def papers(job: str, data: Path, out: Path, unit: str, paper: str, which: tuple[str, ...], round_: str, order: str,
           only: tuple[str, ...], base: str, words: str | None) -> None:  # fmt: skip
    """Write papers of JOB as PDF: its inspection report, or those that are named."""
    from witnessmark.shell.cli import paperwork

    chosen = tuple(dict.fromkeys(which)) or (paperwork.FULL,)
    asked = paperwork.Order(chosen, paper, unit, round_, order, base, only, words or "")
    for path in paperwork.papers(job, data, out, asked):
        click.echo(path)


@main.command("import")
@click.argument("file", type=click.Path(path_type=Path))
@DATA
@JSON
@plainly
def import_(file: Path, data: Path, as_json: bool) -> None:
    """Take a job file or an export into the store."""
    from witnessmark.shell.cli import moving

    moving.take_in(file, data, as_json=as_json)


@main.command()
@JOB
@DATA
@click.option("--out", type=click.Path(path_type=Path), required=True, metavar="FILE", help="File to write: .yaml or "
              ".json with the whole record, .csv or .parquet with a table, .zip with all evidence.")  # fmt: skip
@click.option("--table", default="readings", show_default=True, help="Table for .csv and .parquet: readings, events or "
              "bolts.")  # fmt: skip
@plainly
def export(job: str, data: Path, out: Path, table: str) -> None:
    """Write JOB into FILE, in the form that its ending says."""
    from witnessmark.shell.cli import moving

    moving.give_out(job, data, out, table)


@main.command()
@click.argument("path", type=click.Path(path_type=Path), metavar="FILE")
@JSON
@click.option("--hash", "wanted", default="", metavar="DIGITS", help="The hash that stands on a paper in hand, or at "
              "least 16 digits of it: says whether the paper is of this record.")  # fmt: skip
@plainly
def verify(path: Path, as_json: bool, wanted: str) -> None:
    """Prove FILE: an export, a record or a bundle of evidence by its closings and hashes; a folder is a store."""
    from witnessmark.shell.cli import proving

    sys.exit(proving.verify(path, as_json=as_json, wanted=wanted))


@main.command()
@DATA
@click.option("--port", type=click.IntRange(0, 65535), default=8620, envvar="PORT", show_default=True)
@click.option("--demo", "with_demo", is_flag=True, help="Create the demo job on first use.")
@click.option("--no-browser", is_flag=True, help="Do not open a browser.")
@plainly
def serve(data: Path, port: int, with_demo: bool, no_browser: bool) -> None:
    """Serve the store in DATA on this machine and print the address."""
    from witnessmark.shell.cli import serving

    sys.exit(serving.serve(data, port, with_demo=with_demo, browser=not no_browser))
