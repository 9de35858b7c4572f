"""Where the report finds the photos of a job: beside its file, or in the store."""

from pathlib import Path

from witnessmark.shell.files import photo_beside
from witnessmark.shell.papers.report import Fetch
from witnessmark.shell.store.fault import StoreFault
from witnessmark.shell.store.photos import FOLDER, Photos
from witnessmark.text.fault import Faulty


def photos_of(job: str, data: Path) -> Fetch:
    """Photos of a job file, else of the store in `data`; one that is not there, or not sound, is printed as missing."""
    path = Path(job)
    if path.is_file():
        return lambda photo: _beside(path, photo)
    return stored(Photos(data / FOLDER, only_read=True))


def stored(kept: Photos) -> Fetch:
    """Photos of a store."""

    def fetch(photo: str) -> bytes | None:
        try:
            return kept.get(photo)
        except StoreFault:
            return None  # the report says in its place that it is not here; `check` of the store says why

    return fetch


def _beside(path: Path, photo: str) -> bytes | None:
    try:
        return photo_beside(path, photo)
    except Faulty:
        return None
