"""The tightening sheet under a real kill: the benchmark does it 200 times, here it is done a few times each run."""

import pytest
from benchmarks.kills import killed


@pytest.mark.slow
def test_a_server_killed_between_two_keys_loses_no_bolt_and_resumes_at_the_right_one(tmp_path):
    found = killed(3, tmp_path)
    assert found.acknowledged > 3, "the hand was slower than the kill; nothing was proved"
    assert (found.lost, found.twice, found.astray) == (0, 0, 0), found.told
    assert found.under_way <= found.runs
