"""`papers`: the inspection report of a job as PDF."""

from pathlib import Path

from witnessmark.desk.bench import Refused
from witnessmark.desk.state import state
from witnessmark.record.replay import replay
from witnessmark.shell.cli.opening import events_of
from witnessmark.shell.papers import inspection_report
from witnessmark.shell.resources import catalogue


def papers(job: str, data: Path, out: Path, unit: str) -> Path:
    """Write the report into a folder; its path."""
    events = events_of(job, data)
    opened = state(replay(events), catalogue())
    path = out / f"{opened.job.id}-inspection.pdf"
    try:
        out.mkdir(parents=True, exist_ok=True)
        path.write_bytes(inspection_report(opened, events, display=unit))
    except OSError as error:
        raise Refused(f"{path}: cannot be written: {error.strerror}; name a folder that you may write to") from None
    return path
