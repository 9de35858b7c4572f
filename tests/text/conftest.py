"""Both YAML parsers, for every test that asks for `loader`."""

import pytest
import yaml

from witnessmark.text import read as reader

LOADERS = [yaml.SafeLoader, *([yaml.CSafeLoader] if hasattr(yaml, "CSafeLoader") else [])]


@pytest.fixture(params=LOADERS, ids=lambda loader: loader.__name__)
def loader(request, monkeypatch):
    """Both parsers: the one with the C library, and the one for machines that have none."""
    monkeypatch.setattr(reader, "LOADER", request.param)
