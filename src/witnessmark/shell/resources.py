"""What ships with the package: the catalogue's data files, read once."""

from functools import lru_cache
from importlib.resources import files

from witnessmark.catalogue.entry import Catalogue
from witnessmark.catalogue.load import load


def catalogue_texts() -> dict[str, str]:
    """Every data file of the catalogue by name."""
    folder = files("witnessmark.catalogue") / "data"
    return {entry.name: entry.read_text("utf-8") for entry in sorted(folder.iterdir(), key=lambda one: one.name)
            if entry.name.endswith(".yaml")}  # fmt: skip


@lru_cache(maxsize=1)
def catalogue() -> Catalogue:
    """The catalogue of this release."""
    return load(catalogue_texts())
