"""`papers`: the inspection report of a job as PDF."""

import re
from pathlib import Path

from witnessmark.desk.bench import Refused
from witnessmark.desk.state import state
from witnessmark.record.replay import replay
from witnessmark.shell.cli.opening import events_of
from witnessmark.shell.papers import TypesetFault, inspection_report
from witnessmark.shell.resources import catalogue


def papers(job: str, data: Path, out: Path, unit: str) -> Path:
    """Write the report into a folder; its path."""
    events = events_of(job, data)
    opened = state(replay(events), catalogue())
    name = re.sub(r"[^\w.-]", "-", opened.job.id)[:80]  # the number on a tag may hold a slash, a file's name may not
    path = out / f"{name}-inspection.pdf"
    try:
        out.mkdir(parents=True, exist_ok=True)
        path.write_bytes(inspection_report(opened, events, display=unit))
    except TypesetFault as fault:
        raise Refused(f"the report could not be set: {fault}") from None
    except OSError as error:
        raise Refused(f"{path}: cannot be written: {error.strerror}; name a folder that you may write to") from None
    return path
