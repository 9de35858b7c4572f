"""`check` and `schema`: every fault of a file with its place, and the published schemas."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import click

from witnessmark.desk.check_dates import date_warnings
from witnessmark.desk.state import state
from witnessmark.limits.read import read_sheet
from witnessmark.plan.prices import read_prices
from witnessmark.record.replay import replay
from witnessmark.shell.cli.saying import machine
from witnessmark.shell.files import load_events, read_bytes
from witnessmark.shell.resources import catalogue
from witnessmark.text.fault import Fault, Faulty
from witnessmark.text.read import read

LIMITS, JOB, PRICES = "witnessmark-limits-1", "witnessmark-job-1", "witnessmark-prices-1"


def check(file: Path, *, as_json: bool, strict: bool) -> int:
    """Tell the faults and warnings of a file. 0 without faults, 2 with faults; warnings make it 1 when strict."""
    warnings: tuple[Fault, ...] = ()
    faults: tuple[Fault, ...] = ()
    try:
        warnings = _checked(file)
    except Faulty as faulty:
        faults = faulty.faults
    if as_json:
        machine({"faults": [_plain(f) for f in faults], "warnings": [_plain(w) for w in warnings]})
    else:
        for fault in faults:
            click.echo(str(fault), err=True)
        for warning in warnings:
            click.echo(f"{warning} (a warning)")
        if not faults:
            click.echo(f"{file}: nothing to mend" + (f", {len(warnings)} to look at" if warnings else ""))
    return 2 if faults else 1 if strict and warnings else 0


def _checked(file: Path) -> tuple[Fault, ...]:
    data = read_bytes(file)
    document = read(data, file.name)
    kind = document.data.get("format") if isinstance(document.data, dict) else None
    if kind == LIMITS:
        return read_sheet(data.decode("utf-8"), file.name, catalogue()).warnings
    if kind == JOB:
        opened = state(replay(load_events(file)), catalogue())
        kept = tuple(Fault("kept", f"'{one.event}' is kept, not used: {one.why}", file.name) for one in opened.job.kept)
        return (*(opened.sheet.warnings if opened.sheet else ()), *kept, *date_warnings(opened.job, file.name))
    if kind == PRICES:
        read_prices(data.decode("utf-8"), file.name, catalogue())
        return ()
    what = f"'{kind}' is no format that is known" if isinstance(kind, str) else "nothing here says what the file is"
    message = f"{what}; a file begins with `format: {JOB}`, `format: {LIMITS}` or `format: {PRICES}`"
    raise Faulty([document.fault("format", message, ("format",) if kind is not None else ())])


def _plain(fault: Fault) -> dict[str, Any]:
    return {"kind": fault.kind, "file": fault.name, "line": fault.line, "column": fault.column, "path": fault.path,
            "message": fault.message}  # fmt: skip


def schema(name: str) -> Mapping[str, Any]:
    """The JSON Schema of a job file, a limit sheet, a price list or a record."""
    from witnessmark.limits.schema import json_schema as limits_schema
    from witnessmark.plan.prices import json_schema as prices_schema
    from witnessmark.record.jobschema import json_schema as job_schema
    from witnessmark.record.recordfile import json_schema as record_schema

    if name in ("job", "record"):
        return job_schema() if name == "job" else record_schema()
    return limits_schema(catalogue()) if name == "limits" else prices_schema(catalogue())
