"""`check` and `schema`: every fault of a file with its place, and the published schemas."""

import json
from pathlib import Path
from typing import Any

import click

from witnessmark.limits.read import read_sheet
from witnessmark.shell.files import load_events, read_bytes
from witnessmark.shell.resources import catalogue
from witnessmark.text.fault import Fault, Faulty
from witnessmark.text.read import read

LIMITS, JOB = "witnessmark-limits-1", "witnessmark-job-1"


def check(file: Path, *, as_json: bool, strict: bool) -> int:
    """Tell the faults and warnings of a file. 0 when there are no faults, 2 when there are; warnings count with strict."""
    warnings: tuple[Fault, ...] = ()
    faults: tuple[Fault, ...] = ()
    try:
        warnings = _checked(file)
    except Faulty as faulty:
        faults = faulty.faults
    if as_json:
        click.echo(
            json.dumps({"faults": [_plain(f) for f in faults], "warnings": [_plain(w) for w in warnings]}, indent=1)
        )
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
    form = read(data, file.name).data
    kind = form.get("format") if isinstance(form, dict) else None
    if kind == LIMITS:
        return read_sheet(data.decode("utf-8"), file.name, catalogue()).warnings
    if kind == JOB:
        load_events(file)
        return ()
    message = f"format is {kind!r}; a file begins with `format: {JOB}` or `format: {LIMITS}`"
    raise Faulty([Fault("format", message, file.name, 1, 1)])


def _plain(fault: Fault) -> dict[str, Any]:
    return {"kind": fault.kind, "file": fault.name, "line": fault.line, "column": fault.column, "path": fault.path,
            "message": fault.message}  # fmt: skip


def schema(name: str) -> str:
    """The JSON Schema of a job file or a limit sheet."""
    from witnessmark.limits.schema import json_schema as limits_schema
    from witnessmark.record.jobschema import json_schema as job_schema

    found = job_schema() if name == "job" else limits_schema(catalogue())
    return json.dumps(found, ensure_ascii=False, indent=1)
