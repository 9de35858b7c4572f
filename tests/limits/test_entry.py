"""One entry held against its characteristic."""

import pytest

from limits.sheets import sheet, told


@pytest.mark.parametrize(
    ("entry", "message"),
    [
        ("margin: [{service: {low: 1.2, high: 0.8}, unit: mm}]", "low 1.2 is above high 0.8; were the two exchanged?"),
        ("margin: [{service: {}, unit: mm}]", "neither low nor high"),
        ("margin: [{page: 3, unit: mm}]", "no limit stands in this entry"),
        ("margin: [{service: {low: 1}, unit: furlong}]", "no unit for a length is called 'furlong'"),
        ("margin: [{service: {low: 1}, unit: N}]", "'N' measures a force, and valve margin is a length; write mm"),
        ("tall_load: [{service: {low: 1}, unit: kg/mm}]", "measures a spring rate, and spring load"),
        ("margin: [{service: {low: 1 mm}, unit: in}]", "has the unit mm and this entry in; one entry has one unit"),
        ("margin: [{service: {low: 0.04 in, high: 2.0 mm}, unit: mm}]", "one entry has one unit"),
        ("margin: [{service: {low: 1/32}, unit: mm}]", "one entry has one unit"),
        ("margin: [{service: {low: 1.2.3}, unit: mm}]", "'1.2.3' cannot be read"),
        ("margin: [{service: {low: thin}, unit: mm}]", "'thin' cannot be read"),
        ("head_flatness: [{service: {high: 0.04 0.05}, unit: mm}]", "Two numbers"),
        ("stem_guide_clearance: [{service: {high: 0.08*0.10}, unit: mm}]", "cannot be read"),
        ("margin: [{service: {low: 1}, unit: mm, stations: spread}]", "there is no spread of several; write each"),
        ("margin: [{service: {low: 1}, unit: mm, stations: worst}]", "there is no worst of several"),
        ("stem_taper: [{service: {high: 0.02}, unit: mm, stations: spread}]", "itself a difference"),
        ("head_flatness: [{service: {high: 0.05}, unit: mm, stations: mean}]", "intervals have no mean"),
        ("valve_lash: [{service: {high: 0.05}, unit: mm, stations: spread_of_places}]", "intervals have no spread"),
        ("seat_width: [{service: {low: 0.2}, unit: mm, stations: spread}]", "a spread is never below nothing"),
        ("seat_load: [{given: 300, unit: N}]", "not a number that a document can state beforehand"),
        ("margin: [{other: {service: {low: 1}}, unit: mm}]", "'service' is a kind of its own"),
        ("head_height: [{for: inl, service: {low: 130}, unit: mm}]", "head height has no inlet or exhaust side"),
        ("cam_runout: [{position: f, service: {high: 0.05}, unit: mm}]", "has no front or rear valve"),
        ("margin: [{place: inl-3q, service: {low: 1}, unit: mm}]", "'inl-3q' names no place"),
        (
            "margin: [{place: gasket-face, service: {low: 1}, unit: mm}]",
            "valve margin is not read at 'gasket-face'; name a valve",
        ),
        ("margin: [{place: inl-3f/top, service: {low: 1}, unit: mm}]", "valve margin has no station 'top'"),
        ("seat_width: [{place: inl-3f/3, service: {low: 1}, unit: mm}]", "seat width has no station '3'; it has 1, 2"),
        ("stem_diameter: [{place: inl-3f/midle, service: {low: 5}, unit: mm}]", "has no station 'midle'"),
        ("margin: [{for: inl, place: exh-3f, service: {low: 1}, unit: mm}]", "'exh-3f' is no place of 'inl'"),
        ("margin: [{place: chamber-2, service: {low: 1}, unit: mm}]", "is not read at 'chamber-2'; name a valve"),
        ("chamber_volume: [{place: inl-2, service: {low: 40}, unit: mL}]", "is not read at 'inl-2'; name a chamber"),
        ("chamber_volume: [{for: inl, service: {low: 40}, unit: mL}]", "has no inlet or exhaust side"),
        ("cam_runout: [{place: cam/lobe-inl-1, service: {high: 1}, unit: mm}]", "is not read at 'cam/lobe-inl-1'"),
        ("margin: [{for: both, service: {low: 1}, unit: mm}]", "'both' is none of"),
        ("margin: [{service: {low: [1]}, unit: mm}]", "a text belongs here, but a list of 1 stands here"),
        ("margin: [{service: {low: 1}}]", "the key 'unit' is missing; write mm"),
        ("margin: [{accept: [good]}]", "valve margin is measured; write service or new in place of accept"),
        ("head_cracks: [{accept: [nun]}]", "has no answer 'nun'; it has none, crack, pores, unsure"),
        ("head_cracks: [{accept: [none, None]}]", "'None' is written twice; keep one"),
        ("head_cracks: [{accept: []}]", "limits.head_cracks[0].accept"),
        ("head_cracks: [{page: 3}]", "write accept, with what may stand of none, crack, pores, unsure"),
        ("head_cracks: [{new: {high: 1}, unit: mm}]", "is looked at; write accept, and service for how much may be"),
        ("head_cracks: [{given: 1, unit: mm}]", "is looked at; write accept"),
        ("head_cracks: [{accept: [none], stations: mean}]", "is looked at, and answers have no mean"),
        ("head_cracks: [{accept: [none], service: {high: 1}}]", "the key 'unit' is missing; write mm"),
        ("stem_seal: [{accept: [seated], service: {high: 1}, unit: mm}]", "stem seal has no amount; write accept"),
        ("margin: [{service: {low: 1}, unit: mm, to_check: perhaps}]", "'perhaps' is none of 'yes' or 'no'"),
    ],
)
def test_an_entry_that_cannot_hold_is_told(entry, message):
    assert message in told(entry)


@pytest.mark.parametrize(
    "entry",
    [
        "stem_diameter: [{place: inl-3f/middle, service: {low: 5.94}, unit: mm}]",
        "head_flatness: [{place: gasket-face/between-1-2, service: {high: 0.03}, unit: mm, stations: each}]",
        "head_flatness: [{place: left/gasket-face, service: {high: 0.05}, unit: mm}]",
        "spring_free_length: [{place: inl-3f/outer, service: {low: 44}, unit: mm}]",
        "lobe_height: [{place: cam-inl, service: {low: 35}, unit: mm}]",
        "lobe_height: [{place: cam-inl/lobe-3f/front, service: {low: 35}, unit: mm}]",
        "cam_runout: [{place: cam-inl/journal-3, service: {high: 0.05}, unit: mm}]",
        "cam_bore_diameter: [{for: exh, place: cam-exh/journal-3/front, service: {high: 25.1}, unit: mm}]",
        "cam_bore_roundness: [{place: cam-inl, service: {high: 0.02}, unit: mm}]",
        "chamber_volume: [{place: chamber-2, service: {low: 40, high: 42}, unit: mL}]",
        "chamber_volume: [{service: {high: 1}, unit: mL, stations: spread_of_places}]",
        "head_flatness_local: [{place: chamber-2/along, service: {high: 0.03}, unit: mm}]",
        "face_angle: [{for: inl, service: {low: 44.5, high: 45.5}, unit: deg}]",
        "deck_removed: [{place: right/gasket-face, service: {high: 0.2}, unit: mm}]",
        "cam_journal_diameter: [{for: exh, service: {low: 24}, unit: mm, stations: mean}]",
        "manifold_face_flatness: [{place: inlet-face, service: {high: 0.1}, unit: mm}]",
        "stem_height: [{service: {high: 0.3}, unit: mm, stations: spread_of_places}]",
        "seat_recession: [{service: {low: -0.40, high: 0.35}, unit: mm}]",
        "spring_rate: [{new: {low: 160, high: 190}, unit: lbf/in}]",
        "head_height: [{service: {low: 5 1/8}, unit: in}]",
        "head_cracks: [{accept: [none], page: 12}]",
        "head_cracks: [{place: chamber-2/deck, accept: [none, pores], stations: each}]",
        "spring_pocket: [{service: {high: 0.004}, unit: in}]",
        "spring_pocket: [{for: inl, accept: [sound, fretted], service: {high: 0.1}, unit: mm}]",
    ],
)
def test_an_entry_that_makes_sense_is_read_without_a_word(entry):
    found = sheet(entry)
    assert len(found.limits) == 1
    assert found.warnings == ()


def test_what_has_two_meanings_must_be_settled_in_the_sheet():
    tenths = told("head_flatness: [{service: {high: 3 tenths}, unit: tenths}]")
    assert "'3 tenths' has two meanings" in tenths
    assert "write the one that the document means" in tenths
    assert "'1,150' has two meanings" in told("", "{skim: {allowed: up to, most: '1,150', unit: mm}}")


def test_answers_are_kept_as_the_catalogue_spells_them():
    (limit,) = sheet("head_cracks: [{accept: [ None, PORES ], page: 12}]").limits
    assert (limit.accept, limit.kind, limit.low, limit.high, limit.unit) == (
        ("none", "pores"),
        "service",
        None,
        None,
        "",
    )


@pytest.mark.parametrize(("high", "unit"), [("0.10", "mm"), ("0.003937007874", "in")])
def test_an_accepted_answer_may_have_a_most(high, unit):
    (limit,) = sheet(f"spring_pocket: [{{accept: [sound, fretted], service: {{high: {high}}}, unit: {unit}}}]").limits
    assert limit.accept == ("sound", "fretted") and limit.high == pytest.approx(0.1)


def test_what_was_copied_is_flagged_in_every_limit_of_its_entry_and_told_once():
    read = sheet("margin: [{service: {low: 0.8}, new: {low: 1.2}, unit: mm, page: 9, to_check: yes}]")
    assert [limit.to_check for limit in read.limits] == [True, True]
    (warning,) = read.warnings
    assert warning.kind == "to_check" and "valve margin for everywhere is copied and not checked" in warning.message
    assert "hold it against invented, page 9" in warning.message
