"""The table of shared errors."""

import numpy as np
import pytest

from witnessmark.metrology.source import Source, bounded, intern


def test_each_error_stands_once():
    table, place = intern(
        [Source("calibration", "M-07", 1.0), bounded("temperature", "t", 2.0), Source("calibration", "M-07", 1.0)]
    )
    assert len(table.rows) == 2 and place["calibration", "M-07"] == 0
    assert table.uniform.tolist() == [False, True]
    assert table.per_dof.tolist() == [0.0, 0.0]


def test_one_name_for_two_errors_is_refused():
    with pytest.raises(ValueError, match="described in two ways"):
        intern([Source("calibration", "M-07", 1.0), Source("calibration", "M-07", 2.0)])


@pytest.mark.truth("JCGM 100:2008, 4.3.7: rectangular, half-width 1, 1/√3")
def test_bounds_alone_make_a_uniform_error():
    assert bounded("x", "y", 1.0).u == pytest.approx(0.5773502692, abs=5e-11)


def test_an_empty_table_is_a_table():
    table, place = intern([])
    assert len(table.u) == 0 and place == {} and table.uniform.dtype == np.bool_
