"""The catalogue as it ships, read from its data files once for a test run."""

from functools import cache
from pathlib import Path

import witnessmark.catalogue
from witnessmark.catalogue.entry import Catalogue
from witnessmark.catalogue.load import load

DATA = Path(witnessmark.catalogue.__file__).parent / "data"


def texts(folder: Path = DATA) -> dict[str, str]:
    """File name -> text of every data file in a folder."""
    return {path.name: path.read_text("utf-8") for path in sorted(folder.glob("*.yaml"))}


@cache
def shipped() -> Catalogue:
    """The catalogue that ships."""
    return load(texts())
