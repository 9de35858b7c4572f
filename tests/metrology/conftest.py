"""What the tests of this room share: published figures, and readings that need no bench."""

from pathlib import Path

import numpy as np
import pytest
import yaml

from witnessmark.metrology.batch import Batch
from witnessmark.metrology.source import intern

TRUTH = Path(__file__).parents[1] / "truth"


@pytest.fixture(scope="session")
def truth():
    """Published figures by the name of their file."""
    return lambda name: yaml.safe_load((TRUTH / f"{name}.yaml").read_text("utf-8"))


@pytest.fixture(scope="session")
def batch_of():
    """A batch straight from its figures: sources, and for each reading its places, slopes and own noise."""

    def make(value, sources, place, contribution, scatter=0.0, step=0.0, dof=np.inf):
        value = np.asarray(value, float)
        n = len(value)
        table, _ = intern(sources)
        scatter, step, dof = (np.broadcast_to(np.asarray(a, float), n) for a in (scatter, step, dof))
        estimated = np.where(np.isfinite(dof), np.hypot(scatter, step), 0.0)
        pool, keys = np.arange(n), tuple(f"own {i}" for i in range(n))
        where = np.asarray(place, np.int32).reshape(n, -1)
        return Batch(
            value,
            scatter,
            step,
            estimated,
            pool,
            dof,
            keys,
            where,
            np.asarray(contribution, float).reshape(n, -1),
            table,
        )

    return make
