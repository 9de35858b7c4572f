"""Limits against each other: contradictions stop a sheet, oddities are told and let pass."""

import pytest

from limits.sheets import sheet, told, warned

# US Army TM 9-4310-397-14, p. 6-28: guide 0.374-0.375 in, clearance 0.002-0.004 in, limit 0.006 in. The page prints the
# stem as 0.3715 in within 0.005 (meant: 0.0005) and the limit as 0.015 mm (meant: 0.15): two slips of ten on one page.
GUIDE = "guide_bore: [{new: {low: 0.374, high: 0.375}, unit: in}]"


def test_two_limits_of_one_kind_for_the_same_places_are_told_with_the_first_line():
    found = told("""
        margin: [{for: inl, service: {low: 1}, unit: mm}, {for: exh, service: {low: 1}, unit: mm}]
        stem_height: [{service: {low: 41}, unit: mm}, {new: {low: 42}, unit: mm}, {service: {low: 41.5}, unit: mm}]
    """)
    assert "a service limit for everywhere already stands in line 5; keep one" in found
    assert found.count("\n") == 0


def test_the_same_places_may_have_a_limit_of_each_kind_and_rule():
    found = sheet("""
        stem_height: [{service: {low: 41}, unit: mm}, {new: {low: 42}, unit: mm}]
        cam_journal_diameter: [{service: {low: 24}, unit: mm}, {service: {high: 0.02}, unit: mm, stations: spread}]
    """)
    assert len(found.limits) == 4


@pytest.mark.parametrize(
    ("entry", "message"),
    [
        (
            "{service: {low: 5.940}, new: {low: 5.935}, unit: mm}",
            "as low as 5.935 mm, below the service limit 5.940 mm",
        ),
        ("{service: {high: 5.99}, new: {high: 6.00}, unit: mm}", "as high as 6.00 mm, above the service limit 5.99 mm"),
        ("{service: {low: 5.94}, unit: mm}, {new: {low: 0.2335}, unit: in}", "as low as 0.2335 in, below"),
    ],
)
def test_new_work_looser_than_service_is_a_contradiction(entry, message):
    assert message in told(f"stem_diameter: [{entry}]")


def test_new_work_at_the_service_limit_is_none():
    assert sheet("stem_diameter: [{service: {low: 5.940}, new: {low: 5.940}, unit: mm}]").warnings == ()
    assert sheet("seat_runout: [{service: {high: 0.05}, new: {high: 0.05}, unit: mm}]").warnings == ()


@pytest.mark.parametrize(
    ("entry", "message"),
    [
        ("stem_diameter: [{service: {low: 0.2340}, unit: mm}]", "outside what is usual for stem diameter, 3.9 to 14.5"),
        ("stem_diameter: [{service: {low: 5.940}, unit: in}]", "5.940 in lies outside"),
        ("head_flatness: [{service: {high: 0.5}, unit: mm}]", "0.5 mm lies outside"),
        ("margin: [{for: exh, service: {low: 0.25}, unit: mm}]", "0.25 mm lies outside"),
        ("tall_height: [{given: 3.800, unit: mm}]", "3.800 mm lies outside"),
    ],
)  # fmt: skip
def test_a_limit_outside_the_usual_range_is_warned_of(entry, message):
    found = warned(entry)
    assert message in found
    assert found.count("\n") == 0


def test_the_usual_range_is_that_of_the_side():
    assert warned("margin: [{for: inl, service: {low: 0.25}, unit: mm}]") == ""


def test_a_limit_without_width_is_warned_of():
    found = warned("stem_height: [{service: {low: 41.40, high: 41.40}, unit: mm}]")
    assert "low and high are both 41.40" in found


def test_a_rocking_limit_equal_to_a_clearance_limit_is_warned_of():
    found = warned("""
        stem_guide_clearance: [{service: {high: 0.10}, unit: mm}]
        stem_wobble: [{service: {high: 0.10}, unit: mm}]
    """)
    assert "the rocking limit 0.10 mm equals the clearance limit in line 4" in found
    assert "limits.yaml:5:" in found


def test_a_rocking_limit_is_compared_with_the_clearance_limit_of_its_own_kind():
    found = warned("""
        stem_guide_clearance: [{new: {high: 0.08}, unit: mm}, {service: {high: 0.10}, unit: mm}]
        stem_wobble: [{service: {high: 0.08}, unit: mm}]
    """)
    assert found == ""


def test_a_rocking_limit_of_its_own_is_not():
    found = warned("""
        stem_guide_clearance: [{service: {high: 0.10}, unit: mm}]
        stem_wobble: [{service: {high: 0.25}, unit: mm}]
    """)
    assert found == ""


@pytest.mark.truth("US Army TM 9-4310-397-14, p. 6-28: the stem tolerance is printed ten times too wide")
def test_a_stem_tolerance_with_a_misplaced_point_does_not_fit_its_guide():
    found = warned(f"""
        stem_diameter: [{{new: {{low: 0.3665, high: 0.3765}}, unit: in}}]
        {GUIDE}
        stem_guide_clearance: [{{new: {{low: 0.002, high: 0.004}}, unit: in}}]
    """)
    assert "bore and stem leave a clearance of -0.0025 to 0.0085 in" in found.replace("−", "-")
    assert "the clearance limit says 0.002 to 0.004" in found


@pytest.mark.truth("US Army TM 9-4310-397-14, p. 6-28: with 0.0005 in the printed clearance comes out")
def test_the_stem_tolerance_that_was_meant_fits_its_guide():
    found = warned(f"""
        stem_diameter: [{{new: {{low: 0.3710, high: 0.3720}}, unit: in}}]
        {GUIDE}
        stem_guide_clearance: [{{new: {{low: 0.002, high: 0.004}}, unit: in}}]
    """)
    assert found == ""


@pytest.mark.truth("US Army TM 9-4310-397-14, p. 6-28: limit 0.006 in printed as 0.015 mm, ten times too narrow")
def test_a_clearance_limit_with_a_misplaced_point_is_narrower_than_new_work():
    found = told(
        "stem_guide_clearance: [{service: {high: 0.015}, unit: mm}, {new: {low: 0.002, high: 0.004}, unit: in}]"
    )
    assert "as high as 0.004 in, above the service limit 0.015 mm" in found
    assert sheet(
        "stem_guide_clearance: [{service: {high: 0.15}, unit: mm}, {new: {low: 0.002, high: 0.004}, unit: in}]"
    )


@pytest.mark.truth("US Army TM 5-3820-256-24-5, p. 18: least head height 106.38 mm (4.188 in)")
def test_one_height_printed_in_both_units_is_one_height():
    found = sheet("head_height: [{service: {low: 106.38}, unit: mm}, {new: {low: 4.189}, unit: in}]")
    assert found.limits[0].low == pytest.approx(4.188 * 25.4, abs=0.0127)
