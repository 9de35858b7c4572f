"""A limit sheet read: what stands in it, and every fault of it at once."""

from hashlib import sha256

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.shelf import shipped
from limits.sheets import HEAD, TERN, sheet, told, told_of
from witnessmark.limits.sheet import limit_for, read_sheet
from witnessmark.text.fault import Faulty


def test_a_sheet_keeps_its_text_and_the_hash_of_it():
    found = read_sheet(TERN, "limits.yaml", shipped())
    assert (found.name, found.document, found.invented) == ("TN-3", "invented", True)
    assert found.text == TERN
    assert found.hash == sha256(TERN.encode()).hexdigest()
    assert found.warnings == ()


def test_a_limit_is_shown_as_it_was_written_and_held_in_the_unit_inside():
    found = sheet("stem_diameter: [{service: {low: 0.2340}, unit: in, page: 12}]").limits[0]
    assert (found.low_text, found.unit, found.low) == ("0.2340", "in", pytest.approx(5.9436, abs=1e-12))
    assert (found.high, found.high_text, found.rule, found.line) == (None, "", "worst", 4)


@pytest.mark.parametrize(
    ("written", "unit", "inside"),
    [
        ("0.05", "mm", 0.05),
        ("0,05", "mm", 0.05),
        ("50", "µm", 0.05),
        ("0.002", "in", 0.0508),
        ("2 thou", "thou", 0.0508),
        ("2", "thou", 0.0508),
        ("1/64", "in", 0.396875),
    ],
)
def test_the_dialects_of_the_bench_are_read(written, unit, inside):
    found = sheet(
        f"head_flatness: [{{service: {{high: {written if ',' not in written else repr(written)}}}, unit: {unit}}}]"
    )
    assert found.limits[0].high == pytest.approx(inside, abs=1e-12)


def test_newtons_millimetres_and_inches_may_stand_in_one_sheet():
    found = sheet("""
        tall_load: [{service: {low: 45}, unit: lbf}]
        short_load: [{service: {low: 600}, unit: N}]
        margin: [{service: {low: 1/32}, unit: in}]
        stem_diameter: [{service: {low: 5.940}, unit: mm}]
    """)
    assert [limit.unit for limit in found.limits] == ["lbf", "N", "in", "mm"]
    assert found.limits[0].low == pytest.approx(200.17, abs=0.005)


def test_what_the_book_allows_is_read_with_its_page():
    allowed = read_sheet(TERN, "limits.yaml", shipped()).allowed
    assert (allowed["skim"].allowed, allowed["skim"].most, allowed["skim"].most_text) == ("up to", 0.20, "0.20")
    assert (allowed["tip_grind"].allowed, allowed["tip_grind"].page) == ("no", "42")
    assert allowed["gasket"].allowed == "yes"
    assert "straighten" not in allowed


@pytest.mark.parametrize(
    ("operations", "message"),
    [
        ("{skimm: {allowed: no}}", "no operation is called 'skimm'; did you mean 'skim'?"),
        ("{skim: {allowed: perhaps}}", "'perhaps' is none of"),
        ("{skim: {most: 0.2, unit: mm}}", "the key 'allowed' is missing"),
        ("{skim: {allowed: up to}}", "'up to' needs `most` and `unit`"),
        ("{skim: {allowed: up to, most: 0.2}}", "'up to' needs `most` and `unit`"),
        ("{skim: {allowed: up to, most: 0.2, unit: N}}", "'N' measures a force"),
        ("{skim: {allowed: up to, most: -0.2, unit: mm}}", "no amount above nothing"),
        ("{skim: {allowed: up to, most: a lot, unit: mm}}", "cannot be read"),
        ("{skim: {allowed: yes, most: 0.2}}", "'yes' has no amount"),
        ("{bolt_replace: {allowed: up to, most: 1, unit: mm}}", "'new bolts' has no amount"),
        ("{skim: no}", "keys with values belong here"),
    ],
)
def test_what_the_book_allows_must_make_sense(operations, message):
    assert message in told("", operations)


@pytest.mark.parametrize(
    ("whole", "message"),
    [
        ("", "keys with values belong here, but nothing stands here"),
        ("- 1", "keys with values belong here"),
        ("format: witnessmark-limits-2\nsheet: {name: a, document: b}\n", "'witnessmark-limits-1'"),
        ("format: witnessmark-limits-1\n", "the key 'sheet' is missing"),
        ("format: witnessmark-limits-1\nsheet: TN-3\n", "limits.yaml:2:8: sheet:"),
        ("format: witnessmark-limits-1\nsheet: {name: a}\n", "the key 'document' is missing"),
        ("format: witnessmark-limits-1\nsheet: {name: a, document: b, doubt: mine}\n", "'mine' is none of"),
        (HEAD + "limts: {}\n", "did you mean 'limits'?"),
        (HEAD + "limits: {margin: []}\n", "limits.margin"),
        (HEAD + "limits: {margin: {service: {low: 1}, unit: mm}}\n", "a list belongs here"),
        (HEAD + "limits: {margin: [1.0]}\n", "limits.margin[0]"),
        (HEAD + "limits: [margin]\n", "limits.yaml:3:9"),
    ],
)
def test_a_sheet_out_of_shape_is_told(whole, message):
    assert message in told_of(whole)


def test_every_fault_of_a_sheet_is_told_at_once_in_the_order_of_its_lines():
    found = told("""
        stem_diametr: [{service: {low: 5.940}, unit: mm}]
        stem_diameter: [{for: in, service: {low: 5.940}, unit: mm}]
        margin: [{service: {low: 1, hihg: 2}, unit: mm}, {service: {low: 3, high: 2}, unit: mm}]
        stem_height: [{service: {low: 41}}]
        tall_load: [{service: {low: 180}, unit: mm}]
        bolt_length: [{for: inl, service: {high: 96.5}, unit: mm}]
    """).splitlines()
    assert [line.split(":")[1] for line in found] == ["4", "5", "6", "6", "7", "8", "9"]
    assert "did you mean 'stem_diameter'?" in found[0]
    assert "did you mean 'high'?" in found[2]
    assert found[3].startswith("limits.yaml:6:") and "were the two exchanged" in found[3]


def test_a_huge_sheet_is_refused_with_one_sentence():
    entry = "{service: {low: 1}, unit: mm}, "
    found = told(f"margin: [{entry * 5001}]")
    assert found.count("\n") == 0
    assert "more than 5000 entries" in found


def test_an_alias_bomb_is_not_walked():
    assert "&" in told_of("a: &a [1]\nb: [*a, *a]\n")


@pytest.mark.truth("common practice, no source: gasket face at most 0.004 in on six lines")
def test_a_limit_in_thousandths_of_an_inch_is_held_in_millimetres():
    found = sheet("head_flatness: [{service: {high: 0.004}, unit: in}]")
    limit = limit_for(found, "head_flatness", "gasket-face/diagonal-2", "service")
    assert limit.high == pytest.approx(0.1016, abs=5e-8)
    assert (limit.rule, limit.high_text) == ("worst", "0.004")


@pytest.mark.truth("common practice, no source: valve stem height 1.60-1.65 in, found 1.63")
def test_a_stem_height_between_its_limits():
    found = sheet("stem_height: [{service: {low: 1.60, high: 1.65}, unit: in}]")
    limit = limit_for(found, "stem_height", "inl-1", "service")
    assert limit.low < 1.63 * 25.4 < limit.high
    assert (limit.low, limit.high) == pytest.approx((40.64, 41.91), abs=5e-8)


@pytest.mark.truth(
    "common practice, no source: cam journals at least 0.9822 in, cam runout at most 0.0012 in at a middle journal"
)
def test_the_limits_of_a_camshaft():
    found = sheet("""
        cam_journal_diameter: [{service: {low: 0.9822}, unit: in}]
        cam_runout: [{service: {high: 0.0012}, unit: in}]
    """)
    assert limit_for(found, "cam_journal_diameter", "cam/journal-1/front/along", "service").low == pytest.approx(
        24.94788, abs=5e-8
    )
    assert limit_for(found, "cam_runout", "cam/journal-2", "service").high == pytest.approx(0.03048, abs=5e-8)
    assert found.warnings == ()


@pytest.mark.truth(
    "US Army TM 5-3805-248-23-2, WP 0350: least lobe lift 0.3139 in (7.973 mm) inlet, 0.3408 in (8.656 mm) exhaust"
)
def test_a_lift_limit_printed_in_both_units_is_one_limit():
    found = sheet(
        "lobe_lift: [{for: inl, service: {low: 0.3139}, unit: in}, {for: exh, service: {low: 0.3408}, unit: in}]"
    )
    assert [limit.low for limit in found.limits] == pytest.approx([7.973, 8.656], abs=0.0005)


@pytest.mark.truth("US Army TM 5-1940-322-24, WP 0160: 80.7-89.2 lb printed beside 359-397 N")
def test_a_load_band_printed_in_both_units_is_one_band():
    found = sheet("tall_load: [{new: {low: 80.7, high: 89.2}, unit: lbf}]").limits[0]
    assert (found.low, found.high) == pytest.approx((359, 397), abs=0.5)


words = st.sampled_from(
    [
        "margin",
        "limits",
        "service",
        "low",
        "1.0",
        "unit",
        "mm",
        "[",
        "]",
        "{",
        "}",
        ":",
        ",",
        "\n",
        "  ",
        "- ",
        "5/8",
        "é",
    ]
)


@given(st.lists(words, max_size=30).map(" ".join) | st.text(max_size=60))
def test_any_text_is_a_sheet_or_is_told(tail):
    try:
        read_sheet(HEAD + tail, "limits.yaml", shipped())
    except Faulty as error:
        assert error.faults
