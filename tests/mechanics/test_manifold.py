"""Inlet faces of a V: against vectors in the end view, solved for what must come off and where the manifold then sits."""

from math import cos, degrees, radians, sin, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.mechanics import manifold
from witnessmark.mechanics.law import OutsideLaw

halves, tilts = st.floats(radians(20), radians(60)), st.floats(radians(5), radians(75))


def by_vectors(total, half, tilt):
    """(cut of the face, fall of the manifold, miss along the face) of the right bank.

    The head moves along its deck's normal, the manifold only straight down. What the head has moved must be the fall of
    the manifold, and the cut along the face's normal; with nothing cut, what is left runs along the face.
    """
    move = -total * np.array([sin(half), cos(half)])
    normal = np.array([-cos(tilt), sin(tilt)])  # towards the manifold
    along = np.array([sin(tilt), cos(tilt)])
    down = np.array([0.0, -1.0])
    fall, cut = np.linalg.solve(np.column_stack([down, normal]), move)
    _, miss = np.linalg.solve(np.column_stack([down, along]), move)
    return cut, fall, -miss


@given(st.floats(0.05, 2), halves, tilts)
def test_faces_and_manifold_as_the_vectors_say(total, half, tilt):
    cut, fall, miss = by_vectors(total, half, tilt)
    assert manifold.face_cut(total, half, tilt) == pytest.approx(cut, rel=1e-9)
    assert manifold.manifold_drop(total, half, tilt) == pytest.approx(fall, rel=1e-9)
    assert manifold.port_mismatch(total, half, tilt) == pytest.approx(miss, rel=1e-9)


@pytest.mark.truth("derived by vectors: faces of V engines of 90 and 60 degrees, for each millimetre")
@pytest.mark.parametrize(
    ("half", "tilt", "cut", "fall"),
    [(45, 45, 1.000, 1.414), (45, 50, 1.100, 1.550), (45, 55, 1.233, 1.717), (45, 60, 1.414, 1.932),
     (45, 65, 1.673, 2.224), (45, 70, 2.067, 2.650), (45, 75, 2.732, 3.346), (30, 30, 0.577, 1.155),
     (30, 40, 0.653, 1.286), (30, 50, 0.778, 1.462), (30, 60, 1.000, 1.732)],
)  # fmt: skip
def test_the_table_of_the_trade_and_its_like_for_other_angles(half, tilt, cut, fall):
    assert manifold.face_cut(1.0, radians(half), radians(tilt)) == pytest.approx(cut, abs=5.1e-4)
    assert manifold.manifold_drop(1.0, radians(half), radians(tilt)) == pytest.approx(fall, abs=5.1e-4)


@pytest.mark.truth("derived by vectors: 90 degrees at 55, 60 degrees at 40")
@pytest.mark.parametrize(("half", "tilt", "cut", "fall", "miss"),
                         [(45, 55, 1.2328, 1.7170, 0.8632), (30, 40, 0.6527, 1.2856, 0.7779)])  # fmt: skip
def test_two_faces_to_four_digits(half, tilt, cut, fall, miss):
    at = 1.0, radians(half), radians(tilt)
    assert manifold.face_cut(*at) == pytest.approx(cut, abs=5e-5)
    assert manifold.manifold_drop(*at) == pytest.approx(fall, abs=5e-5)
    assert manifold.port_mismatch(*at) == pytest.approx(miss, abs=5e-5)


@pytest.mark.truth("derived: a face of 120 mm milled at one degree loses 2.09 mm at its edge")
def test_a_face_milled_at_an_angle():
    assert manifold.angle_mill_edge(120.0, radians(1)) == pytest.approx(2.09, abs=5e-3)
    assert degrees(np.arctan2(manifold.angle_mill_edge(120.0, radians(1)), 120.0)) == pytest.approx(1.0)
    assert manifold.angle_mill_edge(4.724, radians(1)) * 25.4 == pytest.approx(120.0 * tan(radians(1)), rel=1e-4)


@given(st.floats(0.02, 0.2))
def test_a_straight_shaft_enters_until_the_bow_is_the_clearance(clearance):
    """Ends of the line at nothing, middle off by the bow; a shaft may stand anywhere within half of each clearance."""

    def enters(bow):
        lines = np.linspace(-clearance, clearance, 2001)  # height of a level shaft
        fits = (np.abs(lines) <= clearance / 2 + 1e-12) & (np.abs(lines - bow) <= clearance / 2 + 1e-12)
        return bool(fits.any())

    assert enters(0.99 * manifold.bow_that_binds(clearance))
    assert not enters(1.01 * manifold.bow_that_binds(clearance))


@pytest.mark.truth("derived: light alloy about a steel journal of 60 mm, 80 K warmer: 0.055 more, value from memory")
def test_a_light_alloy_housing_opens_when_hot():
    more = manifold.hot_clearance(0.0, 60.0, 23.0e-6, 11.5e-6, 80.0)
    assert more == pytest.approx(0.055, abs=5e-4)
    assert manifold.hot_clearance(0.04, 60.0, 11.5e-6, 11.5e-6, 80.0) == pytest.approx(0.04)


def test_an_upright_and_a_flat_face_are_refused_with_what_to_do():
    for law in (manifold.face_cut, manifold.manifold_drop):
        with pytest.raises(OutsideLaw, match="slot the holes or fit another gasket"):
            law(0.4, radians(60), radians(89))
    with pytest.raises(OutsideLaw, match="cut it back"):
        manifold.port_mismatch(0.4, radians(45), 0.0)
