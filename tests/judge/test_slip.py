"""The slip guard: what is asked back and what is left in peace, in millimetre and in inch."""

import pytest

from witnessmark.judge.slip import Around, Slip, Typed, decimals, slip

STEMS = (5.952, 5.961, 5.958, 5.949)  # a 6 mm inlet row
STEM = Around(STEMS, low=5.940, usual=(3.9, 14.5))
INCH_STEMS = tuple(25.4 * value for value in (0.3412, 0.3411, 0.3413, 0.3409))
INCH_STEM = Around(INCH_STEMS, low=25.4 * 0.3405, usual=(3.9, 14.5))


def mm(text: str, gauge: int = 3) -> Typed:
    return Typed(float(text), decimals=decimals(text), gauge_decimals=gauge)


def inch(text: str, gauge: int = 4) -> Typed:
    return Typed(float(text), factor=25.4, decimals=decimals(text), gauge_decimals=gauge, inch=True)


def asked(typed: Typed, around: Around) -> Slip:
    found = slip(typed, around)
    assert found is not None, f"{typed.number} passes unasked"
    return found


@pytest.mark.parametrize("text", ["5.952", "5.95", "5.940", "5.931", "5.902"])
def test_a_stem_like_its_neighbours_or_worn_is_left_in_peace(text):
    assert slip(mm(text), STEM) is None


@pytest.mark.parametrize("text", ["0.3412", "0.341", "0.3405", "0.3395"])
def test_an_inch_stem_like_its_neighbours_or_worn_is_left_in_peace(text):
    assert slip(inch(text), INCH_STEM) is None


def test_an_inch_number_in_a_millimetre_row_is_asked_back_as_inch():
    found = asked(mm("0.2343"), STEM)
    assert found.kind == "inch"
    assert found.value == pytest.approx(5.951, abs=0.001)


def test_a_millimetre_number_in_an_inch_row_is_asked_back_as_millimetre():
    found = asked(inch("8.664"), INCH_STEM)
    assert found.kind == "mm"
    assert found.value == pytest.approx(8.664)


@pytest.mark.parametrize(("text", "times"), [("59.52", 0.1), ("0.5952", 10.0), ("595.2", 0.01)])
def test_a_point_out_of_place_is_asked_back_with_the_place_it_should_have(text, times):
    found = asked(mm(text), STEM)
    assert (found.kind, found.times) == ("point", times)
    assert found.value == pytest.approx(5.952)


@pytest.mark.parametrize(("text", "times"), [("3.412", 0.1), (".03412", 10.0)])
def test_a_point_out_of_place_in_inch_too(text, times):
    found = asked(inch(text), INCH_STEM)
    assert (found.kind, found.times) == ("point", times)
    assert found.value == pytest.approx(25.4 * 0.3412)


def test_a_point_that_was_lost_is_asked_back():
    assert asked(mm("5952"), STEM).apart > 900


def test_a_number_that_no_story_explains_is_asked_back_only_outside_the_usual_range():
    """5.591 for 5.951 could be a worn stem, and the verdict tells it; no valve has a stem of 15.951."""
    assert slip(mm("5.591"), STEM) is None
    assert asked(mm("15.951"), STEM).kind == "unlike"


def test_the_first_of_a_series_is_held_against_limit_and_usual_range():
    first = Around((), low=5.940, usual=(3.9, 14.5))
    assert slip(mm("5.962"), first) is None
    found = asked(mm("0.2347"), first)
    assert (found.kind, found.first) == ("inch", True)
    assert asked(inch("8.664"), Around((), low=25.4 * 0.3405, usual=(3.9, 14.5))).kind == "mm"


def test_the_first_runout_with_a_point_too_far_right_is_asked_back():
    runout = Around((), high=0.05, usual=(0.0, 0.4))
    assert slip(mm("0.020"), runout) is None
    assert slip(mm("0.062"), runout) is None
    assert asked(mm("2.0"), runout).kind == "point"


def test_nothing_known_asks_nothing():
    assert slip(mm("5.952"), Around()) is None


def test_a_set_bore_gauge_is_held_to_its_own_deviations_not_to_the_size_of_the_bore():
    bores = Around((6.010, 6.014, 6.008, 6.022), usual=(5.7, 6.3))
    at = {"offset": 6.0, "gauge_decimals": 3}
    assert slip(Typed(0.016, decimals=3, **at), bores) is None
    assert slip(Typed(0.048, decimals=3, **at), bores) is None
    moved = asked(Typed(0.16, decimals=2, **at), bores)
    assert (moved.kind, moved.value) == ("point", pytest.approx(6.016))


def test_a_set_bore_gauge_in_inch_asks_back_a_deviation_in_millimetre():
    set_to = 25.4 * 0.3430
    bores = Around(tuple(set_to + 25.4 * d for d in (0.0004, 0.0006, 0.0005)), usual=(set_to - 0.3, set_to + 0.3))
    at = {"factor": 25.4, "offset": set_to, "gauge_decimals": 4, "inch": True}
    assert slip(Typed(0.0007, decimals=4, **at), bores) is None
    assert asked(Typed(0.018, decimals=3, **at), bores).kind == "mm"


def test_nought_moves_no_point():
    """A runout of 0 is an answer: no shift of the point makes it another number."""
    assert slip(mm("0.000"), Around((0.004, 0.006, 0.002), high=0.05, usual=(0.0, 0.4))) is None


def test_a_force_is_never_taken_for_inch():
    loads = Around((301.0, 297.0, 305.0), low=285.0, usual=(20.0, 1200.0))
    newton = {"gauge_decimals": 0, "length": False}
    assert slip(Typed(292, decimals=0, **newton), loads) is None
    found = asked(Typed(2990, decimals=0, **newton), loads)
    assert (found.kind, found.times) == ("point", 0.1)
    assert asked(Typed(29.9, decimals=1, **newton), loads).kind == "point"


def test_a_nought_that_was_not_typed_asks_nothing_back():
    """5.95 for 5.950: most hands leave the last nought out."""
    assert slip(mm("5.95"), STEM) is None
    assert slip(mm("6"), Around((5.98, 6.01, 6.0), usual=(3.9, 14.5))) is None


@pytest.mark.parametrize(
    ("text", "count"), [("5.952", 3), ("5", 0), ("5,95", 2), ("1 5/8", None), ("+0.016", 3), ("5.95 mm", 2)]
)
def test_decimals_are_counted_as_typed(text, count):
    assert decimals(text) == count
