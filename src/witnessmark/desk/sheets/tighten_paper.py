"""The tightening sheet and the assembly sheet on paper: what is done already, and boxes for what a hand will write."""

from collections.abc import Sequence

from witnessmark.assemble.stages import ALL, Run, Work, works
from witnessmark.desk.bench import Refused
from witnessmark.desk.bolts import bolts_of
from witnessmark.desk.clamp import numbers_of, warnings_of
from witnessmark.desk.sheets.order import GOVERNS, Face, Paper, Table
from witnessmark.desk.sheets.paper_block import lead, report_block
from witnessmark.desk.sheets.report_facts import when
from witnessmark.desk.sheets.steps import StepsSheet, steps_sheet
from witnessmark.desk.sheets.tighten import TightenSheet, tighten_sheet
from witnessmark.desk.sheets.tighten_words import cautions, where_words
from witnessmark.desk.state import State
from witnessmark.desk.tighten import joints, run_now, words
from witnessmark.limits.procedure import Procedure
from witnessmark.text.near import did_you_mean

TIGHTEN, ASSEMBLY = "tightening", "assembly"


def tighten_paper(state: State, joint: str, date: str = "", checksum: str = "", *, blank: bool = False) -> Paper:
    """One joint: drawing, stages, bolts in their order. Raises Refused where the limit sheet has no such joint.

    `blank` leaves out what was done, for a bench without a screen; its rows stand in the order of the screen.
    """
    known = joints(state)
    sheet = tighten_sheet(state, joint)
    if sheet is None:
        had = f"; the limit sheet has: {', '.join(known)}" if known else "; enter it on the limit sheet"
        raise Refused(f"no joint is called '{joint[:60]}'{did_you_mean(joint, known) or had}")
    run = None if blank else run_now(state, joint)
    procedure = run.procedure if run else known[joint]
    if run is None:
        sheet = _unbegun(state, joint, sheet)
    tables = [_stages(procedure, run), _bolts(procedure, run)]
    numbers = numbers_of(procedure, sheet.threads) if run else ()  # a sheet to write on keeps its room for cautions
    if numbers:
        tables.append(Table("By the numbers, with their ends", ("what", ""), numbers, (30, 70)))
    title = f"Tightening: {procedure.term}"
    lines, notes = _notices(state, procedure, run, sheet), _notes(sheet, run)
    return Paper(TIGHTEN, title, state.job.id, lead(state, date), tuple(lines), tuple(tables), tuple(notes),
                 cautions(state, procedure, run), GOVERNS, False, (Face(sheet.order_words, sheet.drawing),),
                 report_block(state, checksum or "0" * 8), date)  # fmt: skip


def _unbegun(state: State, joint: str, sheet: TightenSheet) -> TightenSheet:
    """The same joint as it lies before anybody began."""
    from dataclasses import replace

    bare = replace(state, job=replace(state.job, assembly=()))
    return tighten_sheet(bare, joint) or sheet


def _notices(state: State, procedure: Procedure, run: Run | None, sheet: TightenSheet) -> list[str]:
    bolts = bolts_of(state, procedure)
    said = [f"Bolts: {bolts.said}. {bolts.why[:1].upper()}{bolts.why[1:]}."]
    if run is not None and sheet.finished:
        said.append(sheet.finished)
    return [*said, *warnings_of(state, procedure.joint)]


def _notes(sheet: TightenSheet, run: Run | None) -> list[str]:
    notes = [one for one in (sheet.said, sheet.later) if one]
    source = f"Procedure: {sheet.source}." if sheet.source else "No document is named for this procedure."
    if run is None:
        return [source, *notes]
    body = run.begun.body
    told = [f"{key.replace('_', ' ')} {body[key]}" for key in ("wrench", "angle_by", "threads") if body.get(key)]
    begun = f"Begun {when(run.begun.at)}" + (f" by {run.begun.by}" if run.begun.by else "")
    return [source, f"{begun}: {', '.join(told)}." if told else f"{begun}.", *notes]


def _stages(procedure: Procedure, run: Run | None) -> Table:
    found = run.works if run else works(procedure, "tighten")
    rows = []
    for work in found:
        done, of = run.count(work.number) if run else (0, len(work.order))
        order = where_words(procedure, ALL) if work.order == (ALL,) else ", ".join(work.order)
        rows.append((str(work.number), words(work.stage), work.stage.group or "all", order, f"{done} of {of}"))
    return Table("Stages", ("stage", "what", "bolts", "order", "done"), tuple(rows), (8, 22, 10, 48, 12))


def _bolts(procedure: Procedure, run: Run | None) -> Table:
    """Bolts in their order, a column for each stage; empty boxes for what is still to be done."""
    stages = [work for work in (run.works if run else works(procedure, "tighten")) if work.order != (ALL,)]
    heads = ("bolt", "where", *(f"{work.number} {words(work.stage)}" for work in stages), "final torque", "remark")
    rows = [_bolt(procedure, run, bolt, stages) for bolt in
            (tuple(reversed(procedure.order)) if run and run.way == "loosen" else procedure.order)]  # fmt: skip
    strong = tuple(n for n, row in enumerate(rows) if row[-1].startswith("in doubt"))
    wide = (7, 25, *(14 for _ in stages), 13, 16)
    return Table("Bolt by bolt, in the order of turning", heads, tuple(rows), wide, strong, tall=True)


def _bolt(procedure: Procedure, run: Run | None, bolt: str, stages: Sequence[Work]) -> tuple[str, ...]:
    held = run.bolts[bolt] if run else None
    turns = {one.stage: one for one in held.turns} if held else {}
    cells = [_signed(turns[work.number].by, turns[work.number].at) if work.number in turns else
             "" if bolt in work.order else "–" for work in stages]  # fmt: skip
    read = (f"{one.final or one.stretch} {one.unit}" for one in reversed(held.turns if held else ()))
    final = next((one for one in read if not one.startswith(" ")), "")
    remark = ""
    if held is not None:
        again = f"begun {held.begun} times" if held.begun > 1 else ""
        new = "new bolt" if held.renewed else ""
        remark = f"in doubt: {held.doubt}" if held.doubt else ", ".join(filter(None, (again, new)))
    return (bolt, where_words(procedure, bolt), *cells, final, remark)


def _signed(by: str, at: str) -> str:
    """Who and at what time, short."""
    clock = when(at).partition(", ")[2]
    return " ".join(filter(None, (by or "done", clock)))


def assembly_paper(state: State, unit: str = "mm", date: str = "", checksum: str = "", *, blank: bool = False) -> Paper:
    """The assembly sheet: every step with tool and caution, and who signed it. Raises Refused without an engine."""
    from dataclasses import replace

    sheet = steps_sheet(replace(state, job=replace(state.job, signed=())) if blank else state, unit)
    cautioned = tuple((one.term, one.text) for one in sheet.cautions)
    left = [f"Signed under an earlier plan: {one.text} ({one.did}, {one.signed_by} {one.signed_at})."
            for one in sheet.left]  # fmt: skip
    return Paper(ASSEMBLY, "Assembly", state.job.id, lead(state, date),
                 (f"{sheet.lead} {sheet.progress[0]} of {sheet.progress[1]} steps signed.",),
                 tuple(_sections(sheet)), (*left, sheet.governs), cautioned, GOVERNS, False, (),
                 report_block(state, checksum or "0" * 8), date)  # fmt: skip


def _sections(sheet: StepsSheet) -> list[Table]:
    tables: list[Table] = []
    for section in dict.fromkeys(row.section for row in sheet.rows):
        rows = [row for row in sheet.rows if row.section == section]
        cells = tuple(
            (str(row.number), f"{row.heading}: {row.where}" if row.where else row.heading, row.tool,
             "; ".join((*row.changed, *row.new)), ", ".join(one.term for one in row.cautions),
             f"{'NOT DONE: ' if row.state == 'not done' else ''}{row.signed_by} {row.signed_at} {row.note}".strip())
            for row in rows)  # fmt: skip
        strong = tuple(n for n, row in enumerate(rows) if row.state == "not done")
        heads = ("", "step", "hand tool", "what is new", "caution", "signed by, at")
        tables.append(Table(section, heads, cells, (5, 33, 17, 17, 13, 15), strong))
    return tables
