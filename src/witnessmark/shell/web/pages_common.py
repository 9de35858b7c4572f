"""What the sheets beside the bench share: the job behind an address, the frame of the page, the list of the benches."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from starlette.requests import Request

from witnessmark.desk.bench import ROUNDS
from witnessmark.desk.commands import Stamp
from witnessmark.desk.sheets.chrome import Cell, Chrome, job_line, light, shown_in, stages_done
from witnessmark.desk.sheets.due import gauges_words
from witnessmark.desk.sheets.start import MOST_BENCHES, OtherBench
from witnessmark.desk.state import State
from witnessmark.record.job import Job
from witnessmark.shell.store.fault import NoSuchJob
from witnessmark.shell.web.pages import remembered
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.trouble import Trouble, shortened
from witnessmark.text.near import near


def state_of(services: Services, job: str, round_: str = "") -> State:
    """The state of the job in an address; Trouble 404 with the nearest id where there is none."""
    try:
        now = services.snapshots.state(job, round_ or ROUNDS[0])
    except NoSuchJob:
        raise no_such_job(services, job) from None
    # A job file taken in under another number keeps the number of its works inside; links need that of the store.
    return now if now.job.id == job else replace(now, job=replace(now.job, id=job))


def no_such_job(services: Services, job: str) -> Trouble:
    """The 404 for a job, with the id that it may have been."""
    guess = near(job, [row.id for row in services.store.jobs()])
    cure = f"Did you mean {guess}?" if guess else "The list of all jobs is at /jobs."
    return Trouble(404, f"No job on this bench has the number {shortened(job)}.", cure, where=f"/jobs/{shortened(job)}")


def round_of(request: Request) -> str:
    """The round that a page is asked for; an unknown word is told with those that are known."""
    asked = request.query_params.get("round", "")
    if asked and asked not in ROUNDS:
        raise Trouble(404, f"No round is called {shortened(asked)}.", f"There are {', '.join(ROUNDS)}.", where="round")
    return asked or ROUNDS[0]


def stamp_of(services: Services, request: Request) -> Stamp:
    """Who sends a form, when, and under which fresh name it will be kept."""
    hand = remembered(request)
    return Stamp(services.fresh(), services.clock(), hand.by, hand.device)


def chrome_of(state: State, request: Request, title: str, here: str, cells: Sequence[Cell]) -> Chrome:
    """Job line and title block of a sheet of one job; `cells` stand between the job and light."""
    job = state.job
    read, of = state.progress
    done = stages_done(job)
    stages = job_line(job.id, here, done, read, of) if here == "measure" and of else job_line(job.id, here, done)
    words = " · ".join(filter(None, (str(job.header.get("engine") or ""), str(job.header.get("complaint") or ""))))
    own = Cell(f"job {job.id}", words or "engine not yet named", href=f"/jobs/{job.id}", grow=True)
    by = Cell("by", remembered(request).by or "not said", name="by")
    return Chrome(title, stages, (own, *cells, by, light()))


def limits_cell(state: State) -> Cell:
    """The limit sheet and how many limits it holds; it leads to the limits sheet."""
    sheet = state.sheet
    text = f"sheet {sheet.name} · {len(sheet.limits)} limits" if sheet else "not entered yet"
    return Cell("limits", text, href=f"/jobs/{state.job.id}/limits")


def jobs_cell(services: Services) -> Cell:
    """How many jobs there are; it leads to the list."""
    return Cell("jobs", f"all {len(services.store.jobs())}, find", href="/jobs")


def catalogue_cell(services: Services) -> Cell:
    """All that can be measured; it leads to the catalogue."""
    return Cell("catalogue", f"{len(services.catalogue.characteristics)} entries", href="/catalogue")


def gauges_cell(state: State, today: str) -> Cell:
    """The gauges of the job, and which of them are past due; it leads to their sheet."""
    return Cell("gauges", gauges_words(state.job, today), href=f"/jobs/{state.job.id}/gauges")


def round_cell(state: State, address: str) -> Cell:
    """The round; it leads on to the next round that has readings, where there is one."""
    read = {reading.round for reading in state.job.readings} | {state.round}
    rounds = [name for name in ROUNDS if name in read]
    after = rounds[(rounds.index(state.round) + 1) % len(rounds)] if state.round in rounds else ROUNDS[0]
    href = f"{address}?round={after.replace(' ', '+')}" if len(rounds) > 1 else ""
    return Cell("round", state.round, href=href)


def unit_cell(request: Request) -> Cell:
    """The unit of display."""
    return shown_in(remembered(request).unit)


def benches(services: Services, find: str = "", but: str = "") -> tuple[tuple[OtherBench, ...], int]:
    """Jobs for the list, newest first, at most sixty, and how many there are in all."""
    rows = [row for row in services.store.jobs() if row.id != but]
    wanted = find.strip().casefold()
    found: list[OtherBench] = []
    for row in rows:
        if len(found) == MOST_BENCHES:
            break
        if wanted and wanted not in f"{row.id} {row.title}".casefold():
            job = services.store.job(row.id)
            if wanted not in _words(job, row.title).casefold() + str(job.header.get("customer") or "").casefold():
                continue
        found.append(_bench(services, row.id, row.title))
    return tuple(found), len(rows)


def _bench(services: Services, name: str, title: str) -> OtherBench:
    job = services.store.job(name)
    stage = "measure" if job.readings else "strip-down" if job.engine else "complaint"
    return OtherBench(name, _words(job, title), stage)


def _words(job: Job, title: str) -> str:
    header = job.header
    said = [str(header[key]) for key in ("engine", "complaint") if header.get(key)]
    return " · ".join(said) or title or "engine not yet named"


MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day_words(at: str) -> str:
    """`24 Nov` of a time as it is kept; a time of another form is shown as it is."""
    year, _, rest = at.partition("-")
    month, _, day = rest.partition("-")
    if year.isdigit() and month.isdigit() and 1 <= int(month) <= 12 and day[:2].isdigit():
        return f"{int(day[:2])} {MONTHS[int(month) - 1]}"
    return at[:10]


def form_texts(form: Any) -> dict[str, str]:
    """The text blanks of a form; files are left out."""
    return {key: value for key, value in form.items() if isinstance(value, str)}
