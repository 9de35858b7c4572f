"""The same head told in millimetre and in inch is judged the same: looks, quick route, zero checks, angles, pressures."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench_job import Shop

INCH, PSI = 25.4, 6.894757293168  # mm; kPa
LENGTHS = {"stem_diameter": ("5.940", "5.960"), "margin": ("0.80", "1.20")}


def told(value, metric):
    """A length of a micrometre grid in the words of one side; exact in both."""
    return f"{value:.3f}" if metric else f"{value / INCH:.12f}"


def gauges(metric):
    scale = 1 if metric else INCH
    return {"M-1": {"kind": "micrometer", "unit": "mm" if metric else "in", "resolution": f"{1e-6:.6f}",
                    "calibration": {"U": f"{0.002 / scale:.12f}", "k": "2"},
                    "repeatability": {"s": f"{0.001 / scale:.12f}", "n": "30"}}}  # fmt: skip


def sheet(metric):
    unit = "mm" if metric else "in"
    numbers = "".join(
        f"  {name}:\n    - {{service: {{low: {told(float(low), metric)}}}, new: {{low: {told(float(new), metric)}}}, unit: {unit}}}\n"
        for name, (low, new) in LENGTHS.items()
    )
    pressure = "30, unit: kPa" if metric else f"{30 / PSI:.12f}, unit: psi"
    amount, name = pressure.split(", ")
    return (numbers
            + f"  spring_pocket:\n    - {{service: {{high: {told(0.1, metric)}}}, unit: {unit}}}\n"
            + "  head_cracks:\n    - {accept: [none]}\n"
            + f"  seat_seal_test:\n    - {{accept: [holds, slow], service: {{low: {amount}}}, {name}}}\n")  # fmt: skip


def bench(metric, stems, depths, seals, bad):
    shop = Shop(sheet(metric), gauges=gauges(metric))
    shop.add("route_chosen", {"extent": "quick", "based_on": None})
    unit = "mm" if metric else "in"
    for n, (top, bottom) in enumerate(stems):
        for station, value in (("top/along", top), ("bottom/along", bottom)):
            shop.type("stem_diameter", f"inl-{n + 1}f/{station}", told(value, metric), "M-1")
        if n == bad:
            shop.add("zero_checked", {"gauge": "M-1", "found": "0.01", "unit": unit, "against": "closed", "when": "after",
                                      "allowed": None, "passed": False})  # fmt: skip
    looks = [("spring_pocket", f"exh-{n + 1}f", "fretted", told(d, metric), unit) for n, d in enumerate(depths)]
    looks += [("seat_seal_test", f"inl-{n + 1}r", "slow", f"{kpa if metric else kpa / PSI:.12f}", "kPa" if metric else "psi")
              for n, kpa in enumerate(seals)]  # fmt: skip
    for name, place, says, value, of in looks:
        meaning = {"kind": "look", "says": says, "value": value, "unit": of}
        shop.add("reading_taken", {"characteristic": name, "place": place, "raw": says, "meaning": meaning,
                                   "round": "as found", "reader": "1", "method": "lens"})  # fmt: skip
    judgement = shop.state().judgement
    return (
        [(one.characteristic, one.location, one.verdict, one.near, one.complete, bool(one.suspect), one.reason)
         for one in judgement.results],
        [(one.characteristic, one.place) for one in judgement.missing], judgement.summary,
    )  # fmt: skip


MICRONS = st.integers(5_925, 5_975).map(lambda n: n / 1000)


@settings(max_examples=12, deadline=None)
@given(
    st.lists(st.tuples(MICRONS, MICRONS), min_size=1, max_size=4),
    st.lists(st.sampled_from([0.05, 0.099, 0.101, 0.2]), max_size=3),
    st.lists(st.sampled_from([10.0, 29.9, 30.1, 60.0]), max_size=3),
    st.integers(0, 4),
)
def test_the_same_quick_head_in_inch_and_in_millimetre_is_judged_the_same(stems, depths, seals, bad):
    metric, inch = (bench(metric, stems, depths, seals, bad) for metric in (True, False))
    assert metric == inch
    assert len(metric[0]) >= len(stems) + len(depths) + len(seals)


@pytest.mark.parametrize(("kpa", "verdict"), [(29.9, "out"), (30.1, "within")])
@pytest.mark.parametrize("metric", [True, False])
def test_a_vacuum_that_holds_too_little_is_out_in_kilopascal_and_in_pounds(kpa, verdict, metric):
    found = {one[0]: one[2] for one in bench(metric, [(5.96, 5.96)], [], [kpa], 9)[0]}
    assert found["seat_seal_test"] == verdict
