"""`import` and `export`: jobs into the store and out of it, their photos and closed papers with them."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import click

from witnessmark.desk.bench import Refused
from witnessmark.desk.state import state
from witnessmark.desk.tables import TABLES, table
from witnessmark.record.beside import photos_named
from witnessmark.record.event import Event
from witnessmark.record.export import write_job
from witnessmark.record.proof import papers_named
from witnessmark.record.recordfile import write_record
from witnessmark.record.replay import replay
from witnessmark.shell.cli.opening import events_of, is_file
from witnessmark.shell.cli.saying import machine
from witnessmark.shell.files import (
    load_events,
    paper_beside,
    paper_path,
    papers_folder,
    photo_beside,
    photos_folder,
)
from witnessmark.shell.resources import catalogue
from witnessmark.shell.store.fault import StoreFault
from witnessmark.shell.store.papers import FOLDER as PAPERS
from witnessmark.shell.store.papers import Papers
from witnessmark.shell.store.photos import FOLDER, NotPhoto, Photos
from witnessmark.shell.store.store import Store
from witnessmark.text.fault import Faulty

Fetch = Callable[[str], bytes]


def take_in(file: Path, data: Path, *, as_json: bool) -> None:
    """Take a job file or an export into the store as a job of its own, its photos from beside it."""
    events = load_events(file)
    job = replay(events)
    try:
        store = Store.open(data)
    except StoreFault as fault:
        raise Refused(str(fault)) from None
    try:
        if job.id in {row.id for row in store.jobs()}:
            _only_photos(file, job.id, store, events)
        photos, missing = _take_photos(photos_named(events), lambda photo: photo_beside(file, photo), store.photos)
        _take_papers(file, events, store.papers)
        now = datetime.now(UTC).isoformat(timespec="milliseconds")
        store.create(job.id, created_at=now, title=str(job.header.get("engine") or ""), events=events)
    except StoreFault as fault:
        raise Refused(str(fault)) from None
    finally:
        store.close()
    if as_json:
        machine({"job": job.id, "events": len(events), "photos": photos, "missing": missing})
        return
    _tell(missing)
    click.echo(f"{job.id} taken in, {len(events)} events" + _counted(photos))


def _take_papers(file: Path, events: Sequence[Event], papers: Papers) -> None:
    """Keep the closed papers that lie beside a file; of those that do not, `verify` tells."""
    for paper in papers_named(events):
        if paper_path(file, paper).is_file():
            papers.put(paper_beside(file, paper))


def _only_photos(file: Path, job: str, store: Store, events: Sequence[Event]) -> None:
    """A job is taken in once; what comes again may still bring photos that its job misses. Raises Refused always."""
    named = set(photos_named(events))
    missed = [photo for photo in photos_named(store.events(job)) if photo in named and store.photos.fault(photo)]
    brought, _ = _take_photos(missed, lambda photo: photo_beside(file, photo), store.photos)
    taken = f"; {brought} of its photos that were missing or damaged {'was' if brought == 1 else 'were'} taken in"
    raise Refused(f"the store already has a job '{job}'; take another id, or add to that job" + taken * bool(brought))


def _take_photos(named: Iterable[str], fetch: Fetch, photos: Photos) -> tuple[int, list[str]]:
    """(how many photos were kept, a sentence for each that was not there or not sound)."""
    kept, missing = 0, []
    for photo in named:
        try:
            photos.put(fetch(photo))
        except (Faulty, NotPhoto) as bad:
            missing.append(f"without a photo: {bad}")
        else:
            kept += 1
    return kept, missing


def give_out(job: str, data: Path, out: Path, name: str = "readings") -> None:
    """Write a job into a file of the kind that its ending says; `name` is the table of one that holds a table."""
    kind = out.suffix.casefold()
    write = WRITERS.get(kind)
    if write is None:
        raise Refused(f"{out}: no export is written into a file that ends in '{out.suffix}'; "
                      f"take one of {', '.join(WRITERS)}")
    if name not in TABLES:
        raise Refused(f"no table is called '{name[:40]}'; there are {', '.join(TABLES)}")
    if name != "readings" and kind not in FLAT:
        raise Refused(f"--table {name} goes into a file that ends in {' or '.join(FLAT)}, and {out.name} does not")
    try:
        write(Given(job, data, out, events_of(job, data), name))
    except OSError as error:
        where = error.filename or out
        raise Refused(f"{where}: cannot be written: {error.strerror}; name a file in a folder that is there") from None


@dataclass(frozen=True, slots=True)
class Given:
    """What is written out: a job by the word that was typed, its events, and where to."""

    job: str
    data: Path
    out: Path
    events: tuple[Event, ...]
    table: str


def _yaml(given: Given) -> None:
    """The job with its log, and its photos and closed papers in folders beside it."""
    given.out.write_text(write_job(given.events), "utf-8", newline="\n")
    fetch, missing = _fetch(given.job, given.data), list[str]()
    photos = _beside(photos_folder(given.out), "jpg", photos_named(given.events), fetch, missing)
    kept = _papers(given.job, given.data)
    papers = _beside(papers_folder(given.out), "pdf", papers_named(given.events), kept, missing)
    _tell(missing)
    click.echo(given.out)
    if photos:
        click.echo(f"{photos_folder(given.out)}{_counted(photos)}")
    if papers:
        click.echo(f"{papers_folder(given.out)}, {papers} paper{'' if papers == 1 else 's'}")


def _beside(folder: Path, ending: str, named: Iterable[str], fetch: Fetch, missing: list[str]) -> int:
    kept = 0
    for name in named:
        try:
            data = fetch(name)
        except (StoreFault, Faulty) as bad:
            missing.append(f"without a {'photo' if ending == 'jpg' else 'paper'}: {bad}")
        else:
            folder.mkdir(exist_ok=True)
            (folder / f"{name}.{ending}").write_bytes(data)
            kept += 1
    return kept


def _json(given: Given) -> None:
    given.out.write_text(write_record(given.events, replay(given.events).id), "utf-8", newline="\n")
    click.echo(given.out)


def _flat(given: Given) -> None:
    from witnessmark.shell.flat import csv_bytes, parquet_bytes

    make = parquet_bytes if given.out.suffix.casefold() == ".parquet" else csv_bytes
    flat = table(state(replay(given.events), catalogue()), given.events, given.table)
    given.out.write_bytes(make(flat))
    click.echo(f"{given.out}, {len(flat.rows)} {given.table}")


def _zip(given: Given) -> None:
    from witnessmark.shell.evidence import evidence

    opened = state(replay(given.events), catalogue())
    photo, paper = _fetch(given.job, given.data), _papers(given.job, given.data)
    made = evidence(opened, given.events, _or_none(photo), _or_none(paper))
    given.out.write_bytes(made.data)
    _tell(made.missing)
    click.echo(given.out)


WRITERS: Mapping[str, Callable[[Given], None]] = {
    ".yaml": _yaml, ".yml": _yaml, ".json": _json, ".csv": _flat, ".parquet": _flat, ".zip": _zip}
FLAT = (".csv", ".parquet")


def _or_none(fetch: Fetch) -> Callable[[str], bytes | None]:
    def get(name: str) -> bytes | None:
        try:
            return fetch(name)
        except (StoreFault, Faulty):
            return None  # the bundle says in its README what is not in it
    return get


def _fetch(job: str, data: Path) -> Fetch:
    """The way to the photos of JOB: beside its file, or in the store."""
    if is_file(job):
        return lambda photo: photo_beside(Path(job), photo)
    return Photos(data / FOLDER, only_read=True).get


def _papers(job: str, data: Path) -> Fetch:
    """The way to the closed papers of JOB: beside its file, or in the store."""
    if is_file(job):
        return lambda paper: paper_beside(Path(job), paper)
    return Papers(data / PAPERS, only_read=True).get


def _tell(missing: Sequence[str]) -> None:
    for sentence in missing:
        click.echo(sentence, err=True)


def _counted(photos: int) -> str:
    return f", {photos} photo{'' if photos == 1 else 's'}" if photos else ""
