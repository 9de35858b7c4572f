"""The invented demo job that ships with the package: written into a folder, or taken into a fresh store.

It knows where its files lie. It refuses to know what stands in them: they are read like anybody's job file.
"""

from importlib.resources import files
from pathlib import Path

from witnessmark.desk.bench import Refused

FILES = ("tern.yaml", "tern-limits.yaml")


def write_demo(folder: Path) -> list[Path]:
    """Write the demo files into a folder; files of those names that differ are left alone and refused."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        written = []
        for name in FILES:
            path, text = folder / name, files(__package__).joinpath(name).read_text("utf-8")
            if path.exists() and path.read_text("utf-8") != text:
                raise Refused(f"{path} is there and differs from the demo; name another folder")
            path.write_text(text, "utf-8", newline="\n")
            written.append(path)
    except OSError as error:
        raise Refused(f"{folder}: cannot be written: {error.strerror}; name another folder") from None
    return written
