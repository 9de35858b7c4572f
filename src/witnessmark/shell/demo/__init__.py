"""The invented demo job that ships with the package: written into a folder, or taken into a fresh store.

It knows where its files lie. It refuses to know what stands in them: they are read like anybody's job file.
"""

from importlib.resources import files
from pathlib import Path

from witnessmark.desk.bench import Refused

FILES = ("tern.yaml", "tern-limits.yaml")


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
