"""JOB on a command line: a file if there is one, else the id of a job in the store."""

from pathlib import Path

from witnessmark.record.event import Event
from witnessmark.shell.files import load_events
from witnessmark.shell.store.fault import StoreFault
from witnessmark.text.fault import Fault, Faulty


def is_file(job: str) -> bool:
    """Whether JOB names a file and not a job of the store."""
    path = Path(job)
    return path.suffix in (".yaml", ".yml", ".json") or path.exists()


def events_of(job: str, data: Path) -> tuple[Event, ...]:
    """The events of JOB. Faulty says what is wrong with the file, or that there is no such job."""
    if is_file(job):
        return load_events(Path(job))
    return stored(job, data)


def stored(job: str, data: Path) -> tuple[Event, ...]:
    """The events of a job in the store."""
    from witnessmark.shell.store.store import Store

    try:
        store = Store.open(data, only_read=True)
    except StoreFault as fault:
        raise Faulty([Fault("store", f"{fault}; or name a job file such as tern.yaml", job)]) from None
    try:
        return store.events(job)
    except StoreFault as fault:
        raise Faulty([Fault("store", str(fault), job)]) from None
    finally:
        store.close()
