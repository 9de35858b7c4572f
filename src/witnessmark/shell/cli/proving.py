"""`verify`: an export proved against its own log, a store against its checks, and the photos of both."""

from pathlib import Path

import click

from witnessmark.desk.bench import Refused
from witnessmark.record.beside import photos_named
from witnessmark.record.event import digest
from witnessmark.shell.cli.saying import machine
from witnessmark.shell.files import load_events, photo_beside, read_bytes
from witnessmark.shell.store.fault import StoreFault
from witnessmark.shell.store.store import Store
from witnessmark.text.fault import Faulty
from witnessmark.text.read import read


def verify(path: Path, *, as_json: bool) -> int:
    """Prove a file with its photos, or the store in a folder. 0 when it is sound, 2 with a sentence for each fault."""
    facts, faults = _store(path) if path.is_dir() else _file(path)
    if as_json:
        machine({**facts, "faults": faults})
    else:
        for fault in faults:
            click.echo(fault, err=True)
        if not faults:
            click.echo(f"{path}: sound" + "".join(f", {key} {value}" for key, value in facts.items()))
    return 2 if faults else 0


def _file(path: Path) -> tuple[dict[str, str | int], list[str]]:
    events = load_events(path)  # holds every section against the log; Faulty says where they differ
    data = read(read_bytes(path), path.name).data
    if not (isinstance(data, dict) and data.get("log")):
        raise Refused(f"{path}: has no `log:`, so nothing here proves what was read when; "
                      "verify an export, or check this file with `witnessmark check`")
    named = photos_named(events)
    faults: list[str] = []
    for photo in named:
        try:
            photo_beside(path, photo)
        except Faulty as faulty:
            faults += [str(fault) for fault in faulty.faults]
    return {"events": len(events), "photos": len(named), "checksum": digest(events)}, faults


def _store(folder: Path) -> tuple[dict[str, str | int], list[str]]:
    try:
        store = Store.open(folder, only_read=True)
    except StoreFault as fault:
        raise Refused(str(fault)) from None
    try:
        faults = store.check()
        return {"jobs": len(store.jobs()), "photos": sum(1 for _ in store.photos.names())}, faults
    except StoreFault as fault:
        raise Refused(str(fault)) from None
    finally:
        store.close()
