"""What the report prints of decisions: each by itself, the rest in one line, what was declined with what may follow."""

from dataclasses import replace

from bench_job import Shop
from witnessmark.desk import decide
from witnessmark.desk.commands import Stamp
from witnessmark.desk.sheets.report_decided import decided_lines, may_lead_to

LIMITS = "  margin:\n    - {service: {low: 0.8}, unit: mm, page: 41}\n"


def shop_with(values):
    shop = Shop(LIMITS)
    for valve, text in values.items():
        shop.type("margin", valve, text)
    return shop


def keep(shop, events):
    shop.log += [event.stored(len(shop.log) + n, "") for n, event in enumerate(events, 1)]
    return shop.state()


def stamp(n):
    return Stamp(f"x{n}", "2026-11-25T09:00:00Z", "J. M.", "bench-1", n)


VALVES = [f"{side}-{n}{p}" for side in ("inl", "exh") for n in (1, 2, 3, 4) for p in "fr"]


def test_the_rest_that_is_used_again_in_one_touch_is_told_in_one_line():
    shop = shop_with(dict.fromkeys(VALVES, "1.25"))
    state = keep(shop, decide.use_the_rest(shop.state(), stamp(1)))
    (line,) = decided_lines(state, ())
    assert (line.term, line.found, line.decision, line.why) == ("16 rows", "within", "used again", decide.REST)


def test_a_few_rows_are_told_each_by_itself():
    shop = shop_with({"inl-1f": "1.25", "inl-1r": "1.25"})
    lines = decided_lines(keep(shop, decide.use_the_rest(shop.state(), stamp(1))), ())
    assert [line.place for line in lines] == ["Inl 1F", "Inl 1R"]


def test_declined_work_says_what_may_follow():
    shop = shop_with({"exh-3f": "0.60"})
    state = keep(shop, decide.decide(shop.state(), stamp(1), "margin", "exh-3f", "replaced", "thin", "valve_replace"))
    state = keep(shop, decide.customer_says(state, stamp(2), (), "no"))
    (line,) = decided_lines(state, ())
    entry = state.catalogue.characteristics["margin"]
    assert line.answer == "no" and line.may == may_lead_to(entry)
    assert " ".join(entry.out.split()) in line.may and may_lead_to(None) == ""
    assert replace(entry, out="").out == "" and may_lead_to(replace(entry, out="")) == ""
