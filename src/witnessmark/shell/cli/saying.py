"""How a command speaks: faults as sentences with exit status 2, and plain data the same in every locale."""

import sys
from collections.abc import Callable
from functools import wraps
from typing import Any

import click


def plainly(command: Callable[..., Any]) -> Callable[..., Any]:
    """Faults of the input become sentences and exit status 2; a traceback is left to faults of ours."""

    @wraps(command)
    def run(*args: Any, **named: Any) -> None:
        from witnessmark.desk.bench import Refused
        from witnessmark.text.fault import Faulty

        try:
            command(*args, **named)
        except Faulty as faulty:
            leave([str(fault) for fault in faulty.faults])
        except Refused as refused:
            leave([str(refused), *(str(fault) for fault in refused.faults)])

    return run


def machine(data: object) -> None:
    """Print plain data for machines: the same bytes in every locale."""
    import json

    click.echo(json.dumps(data, ensure_ascii=False, indent=1).encode("utf-8"))


def leave(lines: list[str]) -> None:
    """Say what is wrong on the error stream and end with status 2."""
    for line in lines:
        click.echo(line, err=True)
    sys.exit(2)
