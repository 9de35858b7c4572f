"""Job files and limit sheets on disk: read with every fault told, or refused with what to do."""

import hashlib
from collections.abc import Callable
from pathlib import Path

from witnessmark.desk.check import job_faults
from witnessmark.record.event import Event
from witnessmark.record.job import Job
from witnessmark.record.jobfile import NoSheet, read_job
from witnessmark.record.recordfile import is_record, read_record
from witnessmark.record.replay import replay
from witnessmark.record.shape import is_hash
from witnessmark.shell.resources import catalogue
from witnessmark.text.fault import Fault, Faulty

MOST_BYTES = 20_000_000


def read_bytes(path: Path) -> bytes:
    """The bytes of a file, or a Faulty that says what to do."""
    try:
        if path.is_dir():
            raise Faulty([Fault("file", "is a folder; name a file in it", str(path))])
        if path.stat().st_size > MOST_BYTES:
            raise Faulty([Fault("file", f"is over {MOST_BYTES // 1_000_000} MB; no job file is", str(path))])
        return path.read_bytes()
    except FileNotFoundError:
        raise Faulty(
            [Fault("file", "there is no such file; check the path, or give the id of a job", str(path))]
        ) from None
    except OSError as error:
        why = f"cannot be read: {error.strerror}; check its name and that you may read it"
        raise Faulty([Fault("file", why, str(path))]) from None
    except ValueError:  # a zero byte in the name
        raise Faulty([Fault("file", "no file can have this name; check the path", repr(str(path)))]) from None


def beside(folder: Path) -> Callable[[str], str]:
    """Fetch a sheet or a price list by the path in a job file; it must lie in that file's folder or below."""

    def fetch(name: str) -> str:
        if "\0" in name:
            raise NoSheet(f"{name!r} holds a zero byte; write the name of the sheet that lies beside this file")
        path = (folder / name).resolve()
        if not path.is_relative_to(folder.resolve()):
            raise NoSheet(f"'{name}' leads out of the folder of the job file; put the sheet beside it")
        try:
            return read_bytes(path).decode("utf-8")
        except Faulty as faulty:
            raise NoSheet(f"'{name}': {faulty.faults[0].message}") from None
        except UnicodeDecodeError as bad:
            raise NoSheet(f"'{name}': byte {bad.start + 1} is not UTF-8; save it as UTF-8") from None

    return fetch


def photos_folder(path: Path) -> Path:
    """Where the photos of a job file lie: `tern-photos` beside `tern.yaml`, each named by its hash."""
    return path.with_name(f"{path.stem}-photos")


def photo_beside(path: Path, photo: str) -> bytes:
    """A photo from beside a job file, held against its name. Faulty says that it is not there, or not the one."""
    file = photos_folder(path) / f"{photo}.jpg"
    if not file.is_file():
        raise Faulty([Fault("file", "does not lie beside the job file; copy the folder of photos along with it",
                            str(file))])
    jpeg = read_bytes(file)
    if hashlib.sha256(jpeg).hexdigest() != photo:
        raise Faulty([Fault("file", "is not the photo that the job names; take it from the export again", str(file))])
    return jpeg


def papers_folder(path: Path) -> Path:
    """Where the closed papers of a job file lie: `tern-papers` beside `tern.yaml`, each named by its hash."""
    return path.with_name(f"{path.stem}-papers")


def paper_path(path: Path, paper: str) -> Path:
    """Where a closed paper lies, or would lie. Faulty for what is no hash."""
    if not is_hash(paper):
        raise Faulty([Fault("file", f"'{paper[:70]}' is no hash of a paper", str(path))])
    return papers_folder(path) / f"{paper}.pdf"


def paper_beside(path: Path, paper: str) -> bytes:
    """A closed paper from beside a job file, held against its name. Faulty: it is not there, or not the one."""
    file = paper_path(path, paper)
    if not file.is_file():
        raise Faulty([Fault("file", "does not lie beside the job file; copy the folder of papers along with it",
                            str(file))])
    pdf = read_bytes(file)
    if hashlib.sha256(pdf).hexdigest() != paper:
        raise Faulty([Fault("file", "is not the paper that was closed; take it from the export again", str(file))])
    return pdf


def numbered(events: tuple[Event, ...]) -> tuple[Event, ...]:
    """Events of a file with the numbers that a store would give them."""
    return tuple(event.stored(n, event.received_at) for n, event in enumerate(events, 1))


def load_events(path: Path) -> tuple[Event, ...]:
    """The events of a job file, checked against the catalogue; Faulty tells every fault."""
    text = read_bytes(path)
    if is_record(text):
        return numbered(read_record(text, path.name))
    events = read_job(text, path.name, beside(path.parent))
    faults = job_faults(text, path.name, events, catalogue())
    if faults:
        raise Faulty(faults)
    return numbered(events)


def load_job(path: str | Path) -> Job:
    """A job from its file, as a value."""
    return replay(load_events(Path(path)))
