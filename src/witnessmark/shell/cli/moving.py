"""`import` and `export`: jobs into the store and out of it, their photos with them."""

from collections.abc import Callable, Iterable, Sequence
from datetime import UTC, datetime
from pathlib import Path

import click

from witnessmark.desk.bench import Refused
from witnessmark.record.beside import photos_named
from witnessmark.record.event import Event
from witnessmark.record.export import write_job
from witnessmark.record.replay import replay
from witnessmark.shell.cli.opening import events_of, is_file
from witnessmark.shell.cli.saying import machine
from witnessmark.shell.files import load_events, photo_beside, photos_folder
from witnessmark.shell.store.fault import StoreFault
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
            missing.append(str(bad))
        else:
            kept += 1
    return kept, missing


def give_out(job: str, data: Path, out: Path) -> None:
    """Write a job with its log, and its photos into a folder beside it."""
    events = events_of(job, data)
    fetch = _fetch(job, data)
    folder = photos_folder(out)
    text = write_job(events)
    missing: list[str] = []
    kept = 0
    try:
        out.write_text(text, "utf-8", newline="\n")
        for photo in photos_named(events):
            try:
                jpeg = fetch(photo)
            except (StoreFault, Faulty) as bad:
                missing.append(str(bad))
            else:
                folder.mkdir(exist_ok=True)
                (folder / f"{photo}.jpg").write_bytes(jpeg)
                kept += 1
    except OSError as error:
        where = error.filename or out
        raise Refused(f"{where}: cannot be written: {error.strerror}; name a file in a folder that is there") from None
    _tell(missing)
    click.echo(out)
    if kept:
        click.echo(f"{folder}{_counted(kept)}")


def _fetch(job: str, data: Path) -> Fetch:
    """The way to the photos of JOB: beside its file, or in the store."""
    if is_file(job):
        return lambda photo: photo_beside(Path(job), photo)
    return Photos(data / FOLDER, only_read=True).get


def _tell(missing: Sequence[str]) -> None:
    for sentence in missing:
        click.echo(f"without a photo: {sentence}", err=True)


def _counted(photos: int) -> str:
    return f", {photos} photo{'' if photos == 1 else 's'}" if photos else ""
