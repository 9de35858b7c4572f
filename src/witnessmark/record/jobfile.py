"""The job file: written by hand or exported, one grammar; text in, events out, and every fault told at once.

    format: witnessmark-job-1
    job: {id: HL-0147, engine: Tern 2.0, invented: true}
    gauges: {M-07: {kind: micrometer, unit: mm, resolution: 0.001}}
    readings:
      - {id: r1, characteristic: stem_diameter, place: inl-3f/middle/across, gauge: M-07, raw: 5.952}

An export adds `log:`, the canonical bytes of every event. Where it stands it is the authority, and the sections must
say the same. The file is read as text that someone handed in: fetching a sheet by its path is left to the caller.
"""

from collections.abc import Mapping
from typing import Any

from witnessmark.record.event import Event, EventFault, from_canonical
from witnessmark.record.export import FORMAT, sections
from witnessmark.record.written import Entries, NoSheet, Sheets
from witnessmark.text.fault import Fault, Faulty, Path, path_text
from witnessmark.text.faults import from_validation
from witnessmark.text.read import Document, read

MOST_FAULTS = 200

__all__ = ["NoSheet", "Sheets", "read_job"]


def read_job(text: str | bytes, name: str, sheets: Sheets | None = None) -> tuple[Event, ...]:
    """The events of a job file, in order, without numbers of a log. Raises text.Faulty with every fault found.

    `sheets` fetches a limit sheet's text by the path that stands under `limits:`.
    """
    document = read(text, name)
    if not isinstance(document.data, Mapping):
        raise Faulty([document.fault("value", f"a job file is a mapping that begins with `format: {FORMAT}`; "
                                              "this is none", ())])
    if document.data.get("log") is not None:
        return _from_log(document, document.data)
    return _from_hand(document, sheets)


def _from_hand(document: Document, sheets: Sheets | None) -> tuple[Event, ...]:
    from pydantic import ValidationError

    from witnessmark.record.jobschema import JobFile, allowed
    try:
        job = JobFile.model_validate(document.data)
    except ValidationError as bad:
        errors = [dict(error) for error in bad.errors(include_url=False)]
        raise Faulty(from_validation(errors, document, allowed)) from None
    entries = Entries(document, job, sheets_or_refusal(sheets))
    entries.take_all()
    if entries.faults:
        raise Faulty(sorted(entries.faults, key=lambda fault: (fault.line, fault.column))[:MOST_FAULTS])
    return tuple(entries.events)


def sheets_or_refusal(sheets: Sheets | None) -> Sheets:
    """The caller's way to fetch a sheet, or one that says that there is none."""
    def refuse(path: str) -> str:
        raise NoSheet(f"'{path}' is a path, and this job came without its folder; write the sheet itself here")
    return sheets or refuse


def _from_log(document: Document, data: Mapping[str, Any]) -> tuple[Event, ...]:
    events, faults = _log(document, data["log"])
    if faults:
        raise Faulty(faults[:MOST_FAULTS])
    wanted = sections(events)
    found = _differ(wanted, {key: value for key, value in data.items() if key != "log"}, ())
    if found is not None:
        path, what = found
        message = (f"{what}, so the file was changed after its export; take the export again, "
                   "or remove `log:` to read this as written by hand")
        raise Faulty([document.fault("log_differs", message, path)])
    return events


def _log(document: Document, lines: Any) -> tuple[tuple[Event, ...], list[Fault]]:
    if not isinstance(lines, list) or not lines:
        return (), [document.fault("value", "a list of events belongs here; remove `log:` to read this as written by "
                                            "hand", ("log",))]
    events: dict[str, Event] = {}
    faults = []
    for position, line in enumerate(lines):
        path: Path = ("log", position)
        try:
            event = from_canonical(line.encode("utf-8") if isinstance(line, str) else b"")
        except EventFault as bad:
            faults.append(document.fault("log_event", f"{bad}, or remove `log:` to read this as written by hand", path))
            continue
        if event.id in events:
            faults.append(document.fault("repeated_id", f"the id '{event.id}' stands in the log twice; take the export "
                                                        "again", path))
        events[event.id] = event
    return tuple(events.values()), faults


def _differ(wanted: Any, found: Any, path: Path) -> tuple[Path, str] | None:
    """The first place where what stands in the file is not what the log says, and a sentence."""
    if isinstance(wanted, Mapping) and isinstance(found, Mapping):
        for key in [*wanted, *(key for key in found if key not in wanted)]:
            if key not in found:
                return path, f"the log says `{key}`, and it is missing here"
            if key not in wanted:
                return (*path, key), f"the log says nothing of '{key}'"
            inner = _differ(wanted[key], found[key], (*path, key))
            if inner is not None:
                return inner
        return None
    if isinstance(wanted, list) and isinstance(found, list):
        for position, (one, other) in enumerate(zip(wanted, found, strict=False)):
            inner = _differ(one, other, (*path, position))
            if inner is not None:
                return inner
        if len(wanted) != len(found):
            return path, f"the log has {len(wanted)} entries for `{path_text(path)}`, and {len(found)} stand here"
        return None
    return None if wanted == found else (path, f"the log says {_shown(wanted)} here")


def _shown(value: Any) -> str:
    if isinstance(value, str):
        return f"'{value}'" if len(value) <= 60 else f"'{value[:57]}...'"
    return "nothing" if value is None else "a mapping" if isinstance(value, Mapping) else "a list"
