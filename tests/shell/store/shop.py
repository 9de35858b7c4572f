"""What the store's tests share: events as they come from a bench, and a child process that is cut off."""

import os
import subprocess
import sys
from pathlib import Path

import witnessmark
from witnessmark.record.event import Event

NOW = "2026-11-25T09:00:00Z"
PATH = os.pathsep.join([str(Path(witnessmark.__file__).parents[1]), str(Path(__file__).parent)])


def reading(number: int, **more: object) -> Event:
    """One reading as it came from the bench page; its bytes as received are text of their own."""
    body = {"characteristic": "stem_diameter", "place": "inl-3f/middle/across", "round": "as found", "gauge": "M-07",
            "raw": "5.952", "meaning": {"kind": "number", "value": "5.952", "unit": "mm", "step": "0.001"}, **more}
    return Event(f"r{number}", "reading_taken", body, at=NOW, by="A.", device="bench", device_seq=number,
                 received=f'{{"id": "r{number}", "raw": "5.952", "more": "{more}"}}')


def child(program: str, *arguments: object, **environment: str) -> "subprocess.Popen[str]":
    """A Python process of its own that can import the product and speaks over its pipes."""
    return subprocess.Popen([sys.executable, "-c", program, *map(str, arguments)], text=True, stdin=subprocess.PIPE,
                            stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                            env={**os.environ, "PYTHONPATH": PATH, **environment})
