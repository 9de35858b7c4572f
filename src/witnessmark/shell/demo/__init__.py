"""The invented demo jobs that ship with the package: written into a folder, or taken into a fresh store.

It knows where its files lie. It refuses to know what stands in them: they are read like anybody's job file.
"""

from importlib.resources import files
from pathlib import Path

from witnessmark.desk.bench import Refused
from witnessmark.record.event import Event
from witnessmark.record.jobfile import read_job

JOBS = ("tern", "egret", "wren", "petrel")
FILES = tuple(f"{name}{part}.yaml" for name in JOBS for part in ("", "-limits", "-prices"))


def demo_events(name: str) -> tuple[Event, ...]:
    """The events of one demo job, by its name in `JOBS`."""
    return tuple(read_job(_text(f"{name}.yaml"), f"{name}.yaml", _text))


def write_demo(folder: Path) -> list[Path]:
    """Write the demo files into a folder; files of those names that differ are left alone and refused."""
    texts = {folder / name: files(__package__).joinpath(name).read_bytes() for name in FILES}
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for path, text in texts.items():
            if path.exists() and path.read_bytes() != text:
                raise Refused(f"{path} is there and differs from the demo; name another folder")
        for path, text in texts.items():
            path.write_bytes(text)
    except OSError as error:
        raise Refused(f"{folder}: cannot be written: {error.strerror}; name another folder") from None
    return list(texts)


def _text(name: str) -> str:
    return files(__package__).joinpath(name).read_text("utf-8")
