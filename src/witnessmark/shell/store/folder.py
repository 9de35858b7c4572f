"""The folder of a store, made so that it is still there after the power went."""

import os
from pathlib import Path

from witnessmark.shell.store.fault import told


def made(folder: Path) -> None:
    """Make the folder and those above it; each new name is on the disk before the store is used."""
    with told(str(folder)):
        missing = [one for one in (folder, *folder.parents) if not one.exists()]
        folder.mkdir(parents=True, exist_ok=True)
        for one in missing:
            synced(one.parent)


def synced(path: Path) -> None:
    """Bring a folder's list of names, or a file, to the disk. Systems without handles on folders do it themselves."""
    if path.is_dir() and os.name == "nt":
        return
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
