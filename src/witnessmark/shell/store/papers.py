"""The papers of closed jobs: the very bytes whose hashes a closing names, as files named by what is in them.

    papers/<first two hex digits>/<SHA-256 of the bytes>.pdf
"""

import hashlib
from collections.abc import Iterator
from pathlib import Path

from witnessmark.record.shape import is_hash
from witnessmark.shell.store.fault import StoreDamaged, StoreFault, StoreReadOnly, told
from witnessmark.shell.store.photos import write_whole

FOLDER = "papers"


class NoSuchPaper(StoreFault):
    """The store has no paper of this hash."""

    def __init__(self, paper: str) -> None:
        super().__init__(f"the store has no paper {paper[:16]}...; fetch the folder of papers from the last backup")
        self.paper = paper


class Papers:
    """The papers in one folder. Every method may be called from any thread."""

    def __init__(self, folder: Path, *, only_read: bool = False) -> None:
        self.folder = folder
        self._only_read = only_read

    def put(self, pdf: bytes) -> str:
        """Keep a paper and give its hash, once it is on the disk. Raises StoreReadOnly, StoreFull and its kin."""
        if self._only_read:
            raise StoreReadOnly("the store was opened for reading only, so no paper was kept; write through the "
                                "process that holds it, or open it again once that has ended")
        paper = hashlib.sha256(pdf).hexdigest()
        path = self._path(paper)
        with told(str(self.folder)):
            if not (path.is_file() and path.read_bytes() == pdf):
                write_whole(path, pdf)
        return paper

    def get(self, paper: str) -> bytes:
        """The bytes of a paper. Raises NoSuchPaper; StoreDamaged where the file is not what its name says."""
        if not is_hash(paper):
            raise NoSuchPaper(paper)
        with told(str(self.folder)):
            try:
                pdf = self._path(paper).read_bytes()
            except FileNotFoundError:
                raise NoSuchPaper(paper) from None
        if hashlib.sha256(pdf).hexdigest() != paper:
            raise StoreDamaged(f"paper {paper[:16]}... is not what was kept; fetch the file from the last backup")
        return pdf

    def fault(self, paper: str) -> str:
        """What is wrong with a paper, as a sentence; "" when it lies here and is what its name says."""
        try:
            self.get(paper)
        except StoreFault as bad:
            return str(bad)
        return ""

    def names(self) -> Iterator[str]:
        """The hashes of all papers that lie here, in their order."""
        with told(str(self.folder)):
            for path in sorted(self.folder.glob("??/*.pdf")):
                if is_hash(path.stem):
                    yield path.stem

    def copy_to(self, folder: Path) -> None:
        """Copy every sound paper into another folder; of one that is not sound, `verify` tells. Raises StoreFault."""
        other = Papers(folder)
        for paper in self.names():
            if not self.fault(paper):
                other.put(self.get(paper))

    def _path(self, paper: str) -> Path:
        return self.folder / paper[:2] / f"{paper}.pdf"
