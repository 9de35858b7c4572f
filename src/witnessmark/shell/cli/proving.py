"""`verify`: an export, a record or a bundle proved by its closings and hashes, a store against its checks."""

from pathlib import Path
from typing import Any

import click

from witnessmark.desk.bench import Refused
from witnessmark.record.proof import proof
from witnessmark.shell.cli.saying import machine
from witnessmark.shell.store.fault import StoreFault
from witnessmark.shell.store.store import Store
from witnessmark.shell.verify import Verified, told, verify_file

MOST_LATER = 20


def verify(path: Path, *, as_json: bool, wanted: str = "") -> int:
    """Prove a file, or the store in a folder. 0 when it is sound, 2 with a sentence for each fault."""
    if wanted and path.is_dir():
        raise Refused("--hash is held against one record; name its export or its bundle in place of a folder")
    found = _store(path) if path.is_dir() else verify_file(path, wanted)
    faults = told(found.faults)
    if as_json:
        machine({**found.facts, "later": found.later, "faults": faults})
    else:
        for fault in faults:
            click.echo(fault, err=True)
        if not faults:
            click.echo("\n".join(_sound(path, found)))
    return 2 if faults else 0


def _sound(path: Path, found: Verified) -> list[str]:
    """What a sound file is said to be: counts in one line, closings and later changes under it."""
    counts = {key: value for key, value in found.facts.items() if isinstance(value, str | int)}
    lines = [f"{path}: sound" + "".join(f", {key} {value}" for key, value in counts.items())]
    for one in found.facts.get("closings", ()):
        by = f" by {one['by']}" if one["by"] else ""
        lines.append(f"closed {one['at'] or 'undated'}{by} over {one['events']} events, hash {one['hash']}")
    if found.later:
        number = len(found.later)
        lines.append(f"{number} later {'change' if number == 1 else 'changes'}, not covered by the closing:")
        lines += [f"  {one}" for one in found.later[:MOST_LATER]]
        lines += [f"  and {number - MOST_LATER} more"] * (number > MOST_LATER)
    paper: Any = found.facts.get("paper")
    if paper:
        later = paper["of"] - paper["fits_after"]
        after = "as it is now" if not later else f"as it was {later} {'entry' if later == 1 else 'entries'} ago"
        lines.append(f"the hash on the paper is that of this record {after}")
    return lines


def _store(folder: Path) -> Verified:
    try:
        store = Store.open(folder, only_read=True)
    except StoreFault as fault:
        raise Refused(str(fault)) from None
    try:
        faults = store.check()
        jobs = store.jobs()
        for job in jobs:
            faults += _job(store, job.id, readable=not faults)
        return Verified({"jobs": len(jobs), "photos": sum(1 for _ in store.photos.names())}, [], faults)
    except StoreFault as fault:
        raise Refused(str(fault)) from None
    finally:
        store.close()


def _job(store: Store, job: str, *, readable: bool) -> list[str]:
    """What is not as it was closed; a store whose rows cannot be read has told so already."""
    try:
        proved = proof(store.events(job))
    except StoreFault as fault:
        if readable:
            raise
        return [f"job {job}: {fault}"]
    faults = [f"job {job}: {place.text}" for place in proved.places]
    for one in proved.closings:
        for name, paper in one.papers.items():
            said = store.papers.fault(str(paper))
            faults += [f"job {job}, paper {name} of {one.event.id}: {said}"] if said else []
    return faults
