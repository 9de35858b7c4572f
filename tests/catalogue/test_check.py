"""Faults between entries: names that lead nowhere, units that do not agree, data that nobody uses."""

import pytest

from catalogue.shelf import texts
from catalogue.test_load import EXTRA, edited, told

SOURCES = "sources: {measure: common-practice, usual: from-memory}"
SIX = "top/along, top/across, middle/along, middle/across, bottom/along, bottom/across"
DERIVED_STATIONS = f"derived\n    at: guide\n    stations: [{SIX}]\n"


@pytest.mark.parametrize(
    ("name", "old", "new", "message"),
    [
        ("spring.yaml", "law: seat_load", "law: seat_laod", "no law is called 'seat_laod'; did you mean 'seat_load'?"),
        (
            "spring.yaml",
            "law: coil_bind_clearance",
            "law: open_load",
            "'length' is not what law 'open_load' gives, which is N; write 'force'",
        ),
        (
            "valve.yaml",
            "remedies: [valve_replace, guide_ream]",
            "remedies: [valve_replce]",
            "no operation is called 'valve_replce'",
        ),
        ("valve.yaml", "hazard: sodium_filled_valve", "hazard: sodium", "no hazard is called 'sodium'"),
        (
            "valve.yaml",
            "gauge: micrometer",
            "gauge: micromter",
            "no gauge kind is called 'micromter'; did you mean 'micrometer'?",
        ),
        ("valve.yaml", "gauge: micrometer", "gauge: spring_tester", "reads a force, and stem_diameter is a length"),
        ("valve.yaml", "gauge: micrometer", "gauge: leaves", "reads leaves, and kind is 'number'"),
        ("valve.yaml", SOURCES, "sources: {measure: hearsay, usual: from-memory}", "no source is called 'hearsay'"),
        ("valve.yaml", SOURCES, "sources: {measure: common-practice}", "nothing says where `usual` comes from"),
        (
            "valve.yaml",
            SOURCES,
            SOURCES.replace("}", ", law: derived}"),
            "no `law` in stem_diameter that could have a source",
        ),
        ("valve.yaml", "of: stem_diameter", "of: stem_diametr", "no characteristic is called 'stem_diametr'"),
        ("valve.yaml", "of: stem_diameter", "of: margin", "margin has no two stations"),
        ("valve.yaml", "kind: form", "kind: number", "`of` belongs to kind 'form'"),
        ("valve.yaml", "middle/along, middle/across", "top/along", "station 'top/along' is written twice"),
        (
            "valve.yaml",
            "rule: each\n    extreme: most\n    gauge",
            "rule: worst\n    extreme: most\n    gauge",
            "needs several stations and stem_runout has one",
        ),
        ("guide_seat.yaml", "    pairing: station\n", "", "write `pairing:`"),
        (
            "guide_seat.yaml",
            "    stations: [along, across]\n",
            "    stations: [along, across]\n    law: lobe_lift\n",
            "take it out, or write kind: derived",
        ),
        (
            "guide_seat.yaml",
            "    law: stem_guide_clearance",
            "    gauge: caliper\n    law: stem_guide_clearance",
            "is worked out, not read",
        ),
        (
            "guide_seat.yaml",
            DERIVED_STATIONS,
            "derived\n    at: guide\n    stations: [top/along]\n",
            "must list the same stations",
        ),
        ("cam.yaml", "derived\n    at: lobe\n", "derived\n    at: journal\n", "they do not meet"),
        (
            "valve.yaml",
            "after: [stem_diameter]",
            "after: [bolt_length]",
            "stands before bolt_length in the bench order",
        ),
        ("valve.yaml", "after: [stem_diameter]", "after: [stem_taper]", "stands before stem_taper"),
        ("valve.yaml", "after: [stem_diameter]", "after: [stemdiameter]", "did you mean 'stem_diameter'"),
        (
            "gauges.yaml",
            "    reads: deviation",
            "    reads: leaves",
            "a set of leaves belongs to a gauge that reads leaves",
        ),
        ("gauges.yaml", "leaves: [0.03, 0.04", "leaves: [0.04, 0.03", "put them in order"),
        ("gauges.yaml", "    U: 0.003\n", "", "needs a resolution and a doubt above nothing"),
        ("gauges.yaml", "source: iso-3611", "source: iso-3612", "did you mean 'iso-3611'"),
        ("hazards.yaml", "source: common-practice", "source: comon-practice", "did you mean 'common-practice'"),
        ("valve.yaml", "quantity: length", "quantity: mass", "'mass' is no quantity that can be judged here"),
    ],
)
def test_an_entry_that_does_not_fit_the_others_is_told(name, old, new, message):
    found = told(edited(name, old, new))
    assert any(line.startswith(name) and message in line for line in found), found


SAYS = "says: {none: good, crack: bad, pores: bad, unsure: doubt}"
QUICK = "    quick: [top/along, bottom/along]\n"


@pytest.mark.parametrize(
    ("name", "old", "new", "message"),
    [
        ("head.yaml", SAYS, "says: {crack: bad, none: good}", "put that one first"),
        ("head.yaml", SAYS, "says: {none: good}", "has 1 answers; a look has two to six"),
        ("head.yaml", "    " + SAYS + "\n", "", "has 0 answers"),
        ("head.yaml", SAYS, SAYS.replace("doubt}", "perhaps}"), "'perhaps'"),
        ("head.yaml", SAYS, SAYS.replace("crack", "Crack!"), "Crack!"),
        ("head.yaml", "methods: [penetrant,", "methods: [penetrent,", "did you mean 'penetrant'?"),
        (
            "head.yaml",
            "    methods: [penetrant, magnetic_dry, magnetic_wet, eye, lens, ultrasonic, ring]\n",
            "",
            "nothing says how to look",
        ),
        ("head.yaml", "    " + SAYS, "    gauge: caliper\n    " + SAYS, "head_cracks is looked at, not read"),
        ("head.yaml", "extreme: both\n    " + SAYS, "extreme: most\n    " + SAYS, "answers have no mean and no least"),
        (
            "head.yaml",
            "rule: worst\n    extreme: both\n    " + SAYS,
            "rule: mean\n    extreme: both\n    " + SAYS,
            "rule: each or worst",
        ),
        (
            "valve.yaml",
            "    gauge: micrometer",
            "    says: {fine: good, thin: bad}\n    gauge: micrometer",
            "belongs to a look",
        ),
        ("valve.yaml", "    gauge: micrometer", "    methods: [eye]\n    gauge: micrometer", "belongs to a look"),
        (
            "valve.yaml",
            "    quantity: length\n    kind: number",
            "    quantity: none\n    kind: number",
            "only a look may say no quantity",
        ),
        (
            "valve.yaml",
            QUICK,
            "    quick: [top/alnog]\n",
            "no station is called 'top/alnog'; did you mean 'top/along'?",
        ),
        (
            "valve.yaml",
            "    kind: form\n",
            "    kind: form\n    quick: [top/along]\n",
            "stem_taper is worked out where its readings are",
        ),
        ("guide_seat.yaml", "only_if: stem_wobble", "only_if: stem_wobbel", "did you mean 'stem_wobble'?"),
        (
            "guide_seat.yaml",
            "only_if: stem_wobble",
            "only_if: seat_width",
            "guide_bore waits for seat_width and stands before it",
        ),
        ("guide_seat.yaml", "only_if: stem_wobble", "only_if: head_height", "at 'head': they do not meet"),
        ("methods.yaml", "source: iso-9934", "source: iso-9943", "did you mean 'iso-9934'?"),
        ("methods.yaml", "hazard: solvent", "hazard: solvnt", "did you mean 'solvent'?"),
        ("methods.yaml", "proves: no", "proves: perhaps", "'perhaps'"),
        ("methods.yaml", "materials: [any]", "materials: [wood]", "'wood'"),
    ],
)
def test_a_look_or_a_route_that_does_not_fit_is_told(name, old, new, message):
    found = told(edited(name, old, new))
    assert any(line.startswith(name) and message in line for line in found), found


def test_a_look_without_a_quantity_has_no_usual_range():
    look = texts()["valve.yaml"].partition("  valve_neck:\n")[2]
    ranged = look.replace(
        "    wears: not at all, until heat",
        "    usual: {low: 0, high: 1, unit: mm}\n    wears: not at all, until heat",
        1,
    )
    found = told({"valve.yaml": texts()["valve.yaml"].replace(look, ranged)})
    assert any("valve_neck.usual: nothing is said besides the answer" in line for line in found), found


def test_a_way_of_looking_that_nobody_takes_is_told():
    dead = "  dowsing: {term: By dowsing, finds: Water., misses: All else., materials: [any], proves: no, source: common-practice}\n"
    found = told(edited("methods.yaml", "methods:\n", "methods:\n" + dead))
    assert any("methods.dowsing: no entry names 'dowsing'" in line for line in found)


def test_an_argument_that_is_no_characteristic_is_told():
    """The law of lobe lift, with nobody left who reads the base circle."""
    found = told(edited("cam.yaml", "  base_circle:\n", "  heel_width:\n"))
    assert any("takes 'base_circle', which is no characteristic here" in line for line in found)


def test_a_hazard_that_nobody_names_is_told():
    dead = "  falling_hoist: {term: Hoist, text: It falls., source: common-practice}\n"
    found = told(edited("hazards.yaml", "hazards:\n", "hazards:\n" + dead))
    message = "no entry names 'falling_hoist'; take it out, or name it where it belongs"
    assert found == [f"hazards.yaml:11:3: hazards.falling_hoist: {message}"]


def test_a_source_that_nobody_names_is_told():
    dead = "  iso-1: {text: ISO 1, status: memory}\n"
    assert any(
        "no entry names 'iso-1'" in line for line in told(edited("sources.yaml", "sources:\n", "sources:\n" + dead))
    )


def test_a_datum_without_a_source_does_not_load():
    bare = EXTRA.replace("    sources: {measure: common-practice, usual: from-memory}\n", "")
    assert any("the key 'sources' is missing" in line for line in told({"ours.yaml": bare}))


def test_an_argument_of_another_quantity_than_its_law_takes_is_told():
    """A base circle read on the spring tester, a force where the law of lobe lift takes a length."""
    heel = texts()["cam.yaml"].partition("  base_circle:\n")[2].partition("  lobe_lift:\n")[0]
    force = heel.replace("quantity: length", "quantity: force").replace("unit: mm", "unit: N")
    found = told(edited("cam.yaml", heel, force.replace("gauge: micrometer", "gauge: spring_tester")))
    assert len(found) == 1
    assert "law 'lobe_lift' takes base_circle in mm, and base_circle is in N" in found[0]
