"""What the tests of this room share: published figures."""

from pathlib import Path

import pytest
import yaml

TRUTH = Path(__file__).parents[1] / "truth"


@pytest.fixture(scope="session")
def truth():
    """Published figures by the name of their file."""
    return lambda name: yaml.safe_load((TRUTH / f"{name}.yaml").read_text("utf-8"))
