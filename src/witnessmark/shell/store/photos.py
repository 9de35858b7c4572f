"""The photos of a store: files named by what is in them, on the disk before anybody is told that they are kept.

    photos/<first two hex digits>/<SHA-256 of the bytes>.jpg

The same photo is kept once, whoever sends it and how often. A file is written beside its place and then named, so that
none is ever half there; what is read is held against its name each time.
"""

import hashlib
import os
import threading
from collections.abc import Iterator
from pathlib import Path

from witnessmark.record.shape import is_hash
from witnessmark.shell.store.fault import StoreDamaged, StoreFault, StoreReadOnly, StoreUnreachable, told
from witnessmark.shell.store.folder import made, synced

FOLDER = "photos"
MOST_BYTES = 10_000_000  # a prepared photo has well under 2 MB
DRAFT = ".draft"


class NotPhoto(StoreFault):
    """Bytes that are no prepared photo, or a name that is no hash."""


class NoSuchPhoto(StoreFault):
    """The store has no photo of this name."""

    def __init__(self, photo: str) -> None:
        super().__init__(f"the store has no photo {photo[:16]}...; import the job again with its photos beside it")
        self.photo = photo


class Photos:
    """The photos in one folder. Every method may be called from any thread."""

    def __init__(self, folder: Path, *, only_read: bool = False) -> None:
        self.folder = folder
        self._only_read = only_read

    def path(self, photo: str) -> Path:
        """Where the photo of this hash lies, or would lie. Raises NotPhoto for what is no hash."""
        if not is_hash(photo):
            raise NotPhoto(f"{photo[:70]!r} is no hash of a photo; it has 64 digits and letters a to f")
        return self.folder / photo[:2] / f"{photo}.jpg"

    def put(self, jpeg: bytes) -> str:
        """Keep a prepared photo and give its hash, once it is on the disk. One that is there already is no fault.

        Raises NotPhoto, StoreReadOnly, StoreFull and its kin.
        """
        if self._only_read:
            raise StoreReadOnly("the store was opened for reading only; nothing was stored: "
                                "write through the process that holds it, or open it again once that has ended")
        if not jpeg.startswith(b"\xff\xd8\xff") or len(jpeg) > MOST_BYTES:
            raise NotPhoto(f"{len(jpeg)} bytes that are no JPEG of at most {MOST_BYTES // 1_000_000} MB; "
                           "prepare the photo first")
        photo = hashlib.sha256(jpeg).hexdigest()
        path = self.path(photo)
        with told(str(self.folder)):
            if not (path.is_file() and path.read_bytes() == jpeg):  # a file that was damaged is written anew
                write_whole(path, jpeg)
        return photo

    def get(self, photo: str) -> bytes:
        """The bytes of a photo. Raises NoSuchPhoto; StoreDamaged where the file is not what its name says."""
        path = self.path(photo)
        with told(str(self.folder)):
            try:
                jpeg = path.read_bytes()
            except FileNotFoundError:
                raise NoSuchPhoto(photo) from None
        if hashlib.sha256(jpeg).hexdigest() != photo:
            raise StoreDamaged(f"photo {photo[:16]}... is not what was stored; import the job again with its photos "
                               "beside it, or fetch the file from the last backup")
        return jpeg

    def __contains__(self, photo: str) -> bool:
        return self.path(photo).is_file()

    def names(self) -> Iterator[str]:
        """The hashes of all photos that lie here, in their order."""
        with told(str(self.folder)):
            for path in sorted(self.folder.glob("??/*.jpg")):
                if is_hash(path.stem):
                    yield path.stem

    def fault(self, photo: str) -> str:
        """What is wrong with a photo, as a sentence; "" when it lies here and is what its name says."""
        try:
            self.get(photo)
        except StoreFault as bad:
            return str(bad)
        return ""

    def copy_to(self, folder: Path) -> list[str]:
        """Copy every sound photo into another folder of photos, and tell of each that is not. Raises StoreFault."""
        other, unsound = Photos(folder), []
        for photo in self.names():
            try:
                jpeg = self.get(photo)
            except (StoreDamaged, NoSuchPhoto) as bad:
                unsound.append(str(bad))
                continue
            other.put(jpeg)
        return unsound

    def tidy(self) -> None:
        """Remove what a process that was cut off left half written. For the one process that may write."""
        with told(str(self.folder)):
            for draft in self.folder.glob(f"??/*{DRAFT}"):
                draft.unlink(missing_ok=True)


def write_whole(path: Path, data: bytes) -> None:
    """Write a file beside its place, bring it to the disk, and give it its name."""
    _folder(path.parent)
    draft = path.with_name(f"{path.stem}-{os.getpid()}-{threading.get_ident()}{DRAFT}")
    try:
        with draft.open("wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        draft.replace(path)
    finally:
        draft.unlink(missing_ok=True)
    synced(path.parent)


def _folder(folder: Path) -> None:
    if folder.exists() and not folder.is_dir():
        raise StoreUnreachable(f"{folder}: a file stands where a folder of photos belongs; move it away")
    made(folder)
