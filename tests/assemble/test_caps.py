"""Property: whatever the caps, no two neighbours ever differ by more than one round."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.assemble.caps import Cap, cap_order, loosened, rounds, unevenness


@st.composite
def shafts(draw):
    xs = draw(st.lists(st.integers(0, 600), min_size=1, max_size=7, unique=True))
    each = draw(st.sampled_from([2, 4]))
    return [Cap(f"C{n}", x, tuple(f"{n}.{k}" for k in range(each)), draw(st.booleans())) for n, x in enumerate(xs)]


@given(shafts(), st.integers(1, 6))
def test_the_shaft_stays_level_both_ways(caps, turns):
    done = rounds(caps, turns)
    assert unevenness(caps, done) <= 1 and unevenness(caps, loosened(done)) <= 1
    assert loosened(loosened(done)) == done
    assert all(sorted(one) == sorted(bolt for cap in caps for bolt in cap.bolts) for one in done)


def test_five_caps_go_from_the_middle_and_from_where_lobes_press():
    caps = [Cap(str(n), 90.0 * n, (f"{n}a", f"{n}b")) for n in range(1, 6)]
    assert [cap.name for cap in cap_order(caps)] == ["3", "2", "4", "1", "5"]
    caps[4] = Cap("5", 450.0, ("5a", "5b"), pressed=True)
    assert [cap.name for cap in cap_order(caps)] == ["5", "3", "2", "4", "1"]
    assert unevenness(caps, [("1a", "1b", "1a", "1b")]) == 2  # the measure sees what is wrong
    assert cap_order([]) == ()


def test_caps_that_cannot_be_turned_are_told():
    with pytest.raises(ValueError, match="at least 1"):
        rounds([Cap("1", 0, ("a",))], 0)
    with pytest.raises(ValueError, match="named twice"):
        rounds([Cap("1", 0, ("a",)), Cap("2", 9, ("a",))], 1)
    with pytest.raises(ValueError, match="no bolt"):
        rounds([Cap("1", 0, ())], 1)
