"""A job judged: every characteristic that was read, against the limits that its user entered.

    readings -> items with budgets -> cells (read and derived) -> rows -> marks -> results

The verdict rests on the chance p alone (JCGM 106:2012), never on who bears the doubt. Pure: same job, same judgement.
"""

from collections.abc import Sequence
from dataclasses import replace

from witnessmark.catalogue.entry import Catalogue
from witnessmark.engine.shape import Layout
from witnessmark.judge.assemble import form_result, value_result
from witnessmark.judge.cells import cells
from witnessmark.judge.looked import look_result
from witnessmark.judge.looks import look_mark
from witnessmark.judge.marks import combined, form_marks, mean_cell, value_marks
from witnessmark.judge.quick import QUICK, narrowed
from witnessmark.judge.result import Judgement, Missing, Result
from witnessmark.judge.rows import AS_FOUND, Ground, Row, new_places, rows
from witnessmark.judge.standing import Scene
from witnessmark.judge.taken import Taken, taken
from witnessmark.judge.trust import Trust, trust
from witnessmark.judge.wanted import Wanted, wanted
from witnessmark.limits.sheet import Sheet
from witnessmark.record.job import Job


def judge(
    job: Job, sheet: Sheet | None, layout: Layout, catalogue: Catalogue, asked: Wanted | None = None
) -> Judgement:
    """Judge every round that has readings. What is missing is told for the round `as found`, in which all is asked for.

    Raises GaugeFault when a gauge of the job cannot be read as numbers.
    """
    asked = asked or wanted(job, sheet, layout, catalogue)
    beside = trust(job)
    rounds = list(dict.fromkeys([AS_FOUND, *(reading.round for reading in job.readings)]))
    results = [result for name in rounds for result in judge_round(job, sheet, layout, catalogue, asked, name, beside)]
    return Judgement(tuple(results), _missing(job, narrowed(job, asked, results, AS_FOUND, layout, catalogue)))


def judge_round(
    job: Job, sheet: Sheet | None, layout: Layout, catalogue: Catalogue, asked: Wanted, round_: str, beside: Trust
) -> list[Result]:
    """The results of one round, in bench order. `beside` is what stands beside the readings of the job."""
    have = taken(job, catalogue, round_, layout.head)
    known = cells(have, layout, catalogue, sheet, quick=job.extent == QUICK)
    ground = Ground(job, sheet, layout, catalogue, have, known, asked.waived, round_, new_places(job, round_))
    found = rows(ground, asked.asked)
    forms = [row for row in found if row.sets]
    scene = Scene(have, None, ground.round, job, beside)
    results = _judge_values([row for row in found if not row.sets and not row.looks], have, scene)
    results += [look_result(look_mark(row, catalogue, layout.head), scene, catalogue) for row in found if row.looks]
    if have.batch is not None:
        results += [form_result(mark, scene) for mark in form_marks(forms, have)]
    order = {name: n for n, name in enumerate(catalogue.characteristics)}
    return sorted(results, key=lambda result: order[result.characteristic])


def _judge_values(found: Sequence[Row], have: Taken, plain: Scene) -> list[Result]:
    shown = [_mean_row(row) if row.rule == "mean" and row.cells else row for row in found]
    flat = [cell for row in shown for cell in row.cells]
    derived = combined(flat, have.batch)
    first, total = [], 0
    for row in shown:
        first.append(total)
        total += len(row.cells)
    scene = replace(plain, derived=derived)
    return [value_result(mark, row, scene) for mark, row in zip(value_marks(shown, derived, first), found, strict=True)]


def _mean_row(row: Row) -> Row:
    return replace(row, cells=(mean_cell(row),))


def _missing(job: Job, asked: Wanted) -> tuple[Missing, ...]:
    read = {(r.characteristic, r.place) for r in job.readings if r.round == AS_FOUND and r.state == "counted"}
    return tuple(
        Missing(name, place, AS_FOUND, asked.waived.get((name, place, AS_FOUND), ""))
        for name, places in asked.measured.items()
        for place in places
        if (name, place) not in read
    )
