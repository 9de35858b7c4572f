"""What becomes of one value: the question about a slip shows numbers that somebody can choose between."""

import pytest

from bench_job import Shop


def test_a_number_with_its_point_moved_is_shown_with_the_digits_that_it_would_have():
    """Typed 0.8 on a gauge of 0.001 mm: moved by two places it is 0.008, and never 0.0."""
    shop = Shop("  spring_squareness:\n    - {service: {high: 0.4}, unit: mm, page: 9}\n")
    outcome = shop.type("spring_squareness", "inl-1f", "0.8", "M-07")
    assert outcome.status == "asked"
    first = outcome.question["answers"][0]
    assert first["label"] == first["meaning"]["value"] and float(first["label"]) > 0


@pytest.mark.parametrize(("unit", "typed"), [("µm", "0.800"), ("µm", "1.25")])
def test_a_roughness_in_micrometres_is_a_metric_reading_and_never_asked_back_as_thou(unit, typed):
    tester = {"kind": "surface_tester", "unit": unit, "resolution": "0.001"}
    shop = Shop("  deck_finish:\n    - {service: {high: 1.6}, unit: µm, page: 9}\n", gauges={"S-1": tester})
    assert shop.type("deck_finish", "gasket-face/trace-1", typed, "S-1").status == "kept"
