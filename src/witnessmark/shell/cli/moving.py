"""`import` and `export`: jobs into the store and out of it."""

from datetime import UTC, datetime
from pathlib import Path

import click

from witnessmark.desk.bench import Refused
from witnessmark.record.export import write_job
from witnessmark.record.replay import replay
from witnessmark.shell.cli.opening import events_of
from witnessmark.shell.cli.saying import machine
from witnessmark.shell.files import load_events
from witnessmark.shell.store.fault import StoreFault
from witnessmark.shell.store.store import Store


def take_in(file: Path, data: Path, *, as_json: bool) -> None:
    """Take a job file or an export into the store as a job of its own."""
    events = load_events(file)
    job = replay(events)
    now = datetime.now(UTC).isoformat(timespec="milliseconds")
    try:
        store = Store.open(data)
    except StoreFault as fault:
        raise Refused(str(fault)) from None
    try:
        store.create(job.id, created_at=now, title=str(job.header.get("engine") or ""), events=events)
    except StoreFault as fault:
        raise Refused(str(fault)) from None
    finally:
        store.close()
    if as_json:
        machine({"job": job.id, "events": len(events)})
    else:
        click.echo(f"{job.id} taken in, {len(events)} events")


def give_out(job: str, data: Path, out: Path) -> None:
    """Write a job with its log."""
    text = write_job(events_of(job, data))
    try:
        out.write_text(text, "utf-8", newline="\n")
    except OSError as error:
        raise Refused(f"{out}: cannot be written: {error.strerror}; name a file in a folder that is there") from None
    click.echo(out)
