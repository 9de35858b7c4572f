"""What the inspection report says of a head, before it is set on paper."""

from dataclasses import fields, is_dataclass
from typing import Any

import pytest

from shell.papers import heads
from witnessmark.desk.sheets.report import ReportView, engine_words, last_day, of_round, report
from witnessmark.desk.state import State, state
from witnessmark.draw.shape import Drawing, Rect, Text, flat
from witnessmark.engine.layout import layout
from witnessmark.judge.result import CLOSE, OUT
from witnessmark.record.event import Event, digest
from witnessmark.record.replay import replay
from witnessmark.shell.resources import catalogue


def desk(events: tuple[Event, ...], round_: str = "as found") -> State:
    return state(replay(events), catalogue(), round_)


def view(events: tuple[Event, ...], display: str = "mm", round_: str = "as found") -> ReportView:
    return report(desk(events, round_), checksum=digest(events), date=last_day(events), display=display)


def texts(thing: Any) -> list[str]:
    """Every text of a view, those in drawings included."""
    if isinstance(thing, str):
        return [thing]
    if isinstance(thing, Drawing):
        return [thing.name, *(shape.text for shape in flat(thing.shapes) if isinstance(shape, Text))]
    if is_dataclass(thing):
        return [text for field in fields(thing) for text in texts(getattr(thing, field.name))]
    return [text for one in thing for text in texts(one)] if isinstance(thing, tuple) else []


@pytest.fixture(scope="module")
def tern() -> ReportView:
    return view(heads.tern())


def test_what_is_out_comes_first_and_then_what_is_too_close(tern):
    assert [(one.term, one.place, one.word) for one in tern.urgent] == [
        ("gasket face flatness", "Diagonal 1", "out"),
        ("stem diameter", "Inl 1R", "out"),
        ("stem height", "Exh 3F", "out"),
        ("stem diameter", "Inl 2F", "too close, 0.73"),
    ]


@pytest.mark.parametrize("events", [heads.tern(), heads.egret()])
def test_no_value_that_is_out_or_too_close_is_left_off(events):
    judgement = of_round(desk(events))
    wanted = [one for one in judgement.results if one.verdict in (OUT, CLOSE)]
    assert wanted
    assert len(view(events).urgent) == len(wanted)


def test_the_counts_are_those_of_the_judgement(tern):
    summary = desk(heads.tern()).judgement.summary
    assert {count.words: count.number for count in tern.counts} == {
        word: summary[word] for word in ("out", "too close to call", "within")
    }
    assert (summary["out"], summary["too close to call"]) == (3, 1)


def test_a_place_left_out_on_purpose_is_told_apart_from_one_still_to_be_read(tern):
    margin = [(gap.places, gap.stations, gap.why) for gap in tern.gaps if gap.characteristic == "margin"]
    assert ("Exh 4R", 1, "cannot be measured") in margin
    assert [stations for _, stations, why in margin if not why] == [12]
    assert "1 left out" in tern.unfinished
    assert "1 open question" in tern.unfinished


def test_a_line_of_the_gasket_face_that_was_not_laid_is_named(tern):
    assert [gap.places for gap in tern.gaps if gap.characteristic == "head_flatness"] == ["Diagonal 2"]


def test_what_no_longer_counts_stays_readable_and_says_why(tern):
    lines = {line.raw: line for group in tern.raws if group.term == "valve margin" for line in group.lines}
    assert (lines["1.99"].through, lines["1.99"].state) == (True, "replaced by a later reading")
    assert (lines["1.09"].through, lines["1.09"].state) == (False, "replaces an earlier one: misread")
    assert (lines["7.77"].through, lines["7.77"].state) == (True, "taken back")
    asked = next(line for group in tern.raws for line in group.lines if line.raw == "0.2351")
    assert (asked.through, asked.state, asked.meaning) == (False, "asked back, not counted", "not understood yet")


def test_a_deviation_stands_with_the_size_that_its_gauge_was_set_to():
    bore = Event("g", "gauge_entered", {"gauge": "B-02", "fields": {
        "kind": "dial_bore", "unit": "mm", "resolution": "0.002", "permissible_error": "0.004"}})  # fmt: skip
    setting = {"setting": "s1", "gauge": "B-02", "set_to": "6.000", "unit": "mm", "with": "M-07", "s": None}
    made = Event("s", "setting_made", setting, by="J. M.", at="2026-11-24T09:00:00+01:00")
    readings = [
        heads.reading(f"d{n}", "guide_bore", f"inl-1f/top/{way}", raw, "B-02", setting="s1",
                      meaning={"kind": "deviation", "value": raw.removeprefix("+"), "unit": "mm", "step": "0.002"})
        for n, (way, raw) in enumerate((("along", "+0.012"), ("across", "-0.004")))
    ]  # fmt: skip
    found = view(heads.stored([*heads.opening(heads.TERN), bore, made, *readings]))
    assert found.settings == ("B-02 set to 6.000 mm with M-07, by J. M. on 24 Nov 2026, 09:00",)
    (group,) = found.raws
    assert [line.meaning for line in group.lines] == ["6.000 + 0.012 mm", "6.000 − 0.004 mm"]


def test_leaves_run_from_the_one_that_enters_to_the_one_that_does_not(tern):
    lines = {line.place: line for group in tern.raws if group.term == "gasket face flatness" for line in group.lines}
    assert (lines["Diagonal 1"].raw, lines["Diagonal 1"].meaning) == ("0.06 0.07", "0.06–0.07 mm")
    open_ended = {"kind": "interval", "low": "0.09", "high": None, "unit": "mm"}
    wide = heads.reading("w", "head_flatness", "gasket-face/diagonal-2", "0.09", "L-04", meaning=open_ended)
    (group,) = view(heads.stored([*heads.opening(heads.TERN), wide])).raws
    assert group.lines[0].meaning == "over 0.09 mm"


def test_a_reading_keeps_the_clock_of_the_place_where_it_was_typed(tern):
    assert {line.at for group in tern.raws for line in group.lines} == {"24 Nov 2026, 23:42"}


def test_a_gauge_that_nobody_named_is_said_to_be_assumed(tern):
    assumed = [row for row in tern.gauges if row.assumed]
    assert [(row.gauge, row.kind, row.readings) for row in assumed] == [("gauge assumed", "usual caliper", 1)]
    margin = next(section for section in tern.sections if section.characteristic == "margin")
    assert [one.gauges for one in margin.values if one.place == "Exh 2F"] == ["gauge assumed"]
    assert "gauge assumed: 1 value" in tern.assumed


def test_gauges_stand_with_their_calibration_as_it_was_entered(tern):
    micrometer = next(row for row in tern.gauges if row.gauge == "M-07")
    assert micrometer.doubt == "U 0.002 mm, k 2"
    assert micrometer.calibrated == "2026-03-02 · HL 118"
    assert micrometer.repeatability == "s 0.0012 mm from 20"
    assert next(row for row in tern.gauges if row.gauge == "C-03").doubt == "permissible error 0.03 mm"


def test_cautions_are_those_of_what_was_measured_and_no_others(tern):
    named = [term for term, _ in tern.cautions]
    assert "Dust of old gaskets" in named
    assert "A bolt that breaks while it is tightened" not in named
    bolts = heads.stored([*heads.opening(heads.TERN, ""), heads.reading("b", "bolt_length", "bolt-3", "98.4", "C-03")])
    assert [term for term, _ in view(bolts).cautions] == ["A bolt that breaks while it is tightened"]


def test_a_value_worked_out_from_others_stands_in_brackets_and_a_limit_as_it_was_written(tern):
    taper = next(section for section in tern.sections if section.characteristic == "stem_taper")
    assert {one.value[0] + one.value[-1] for one in taper.values} == {"()"}
    assert {one.limit for one in taper.values} == {"most 0.010"}


def test_a_job_in_inches_shows_the_limits_as_the_sheet_has_them():
    inch, metric = view(heads.egret(), "in"), view(heads.egret(), "mm")
    (worn,) = inch.urgent
    assert (worn.place, worn.value, worn.unit, worn.limit) == ("Exh 8", "0.3391", "in", "least 0.3405")
    assert metric.urgent[0].value == "8.613"  # 0.3391 in is 8.61314 mm
    assert [one.verdict for one in metric.urgent] == [one.verdict for one in inch.urgent]


def test_each_head_of_a_v_engine_has_its_own_gasket_face():
    left, right = view(heads.egret(), "in").faces
    assert (left.title, right.title) == ("left head", "right head")
    assert {"1", "3", "5", "7", "0.0031–0.0035"} <= set(flat_texts(left.drawing))
    assert {"2", "4", "6", "8", "0.0012–0.0016"} <= set(flat_texts(right.drawing))


def test_the_lines_of_the_manifold_faces_are_drawn_with_their_readings():
    sheet = heads.LIMITS + '  manifold_face_flatness:\n    - {service: {high: "0.10"}, unit: mm, stations: worst}\n'
    lines = [heads.reading(f"i{n}", "manifold_face_flatness", f"inlet-face/line-{n}", f"0.0{n + 1} 0.0{n + 2}", "L-04")
             for n in (1, 2)]  # fmt: skip
    told = view(heads.stored([*heads.opening(heads.TERN, sheet), *lines]))
    inlet, exhaust = next(one for one in told.sections if one.characteristic == "manifold_face_flatness").faces
    assert (inlet.title, exhaust.title) == ("Inlet face", "Exhaust face")
    assert inlet.drawing.name == "Inlet face: line 1 0.02–0.03 within, line 2 0.03–0.04 within"
    assert {"0.02–0.03", "0.03–0.04"} == set(flat_texts(inlet.drawing))
    assert exhaust.drawing.name == "Exhaust face: no line read"


def flat_texts(drawing: Drawing) -> list[str]:
    return [shape.text for shape in flat(drawing.shapes) if isinstance(shape, Text)]


def test_out_is_never_called_anything_but_outside_the_limit_entered(tern):
    for text in texts(tern):
        assert "safe" not in text.lower()
    assert "outside the limit you entered" in tern.legend
    assert tern.governs == "Service information and licensed practice govern."


def test_an_invented_job_says_so(tern):
    assert "invented job" in tern.lead
    honest = heads.stored(heads.opening(heads.TERN, invented=False))
    assert "invented" not in view(honest).lead


def test_the_title_block_says_who_bears_the_doubt(tern):
    assert dict(tern.block)["each value"] == "must be proven good"
    assert dict(view(heads.egret()).block)["each value"] == "taken as read"
    mixed = heads.LIMITS.replace("unit: mm, page: 42}", "unit: mm, page: 42, doubt: even}")
    both = view(heads.stored(heads.opening(heads.TERN, mixed)))
    assert dict(both.block)["each value"] == "must be proven good or taken as read"
    none = view(heads.stored(heads.opening(heads.TERN, "")))
    assert dict(none.block)["each value"] == "not judged"
    assert none.notices == ("No limit sheet was entered, so nothing is judged.",)


def test_the_whole_checksum_stands_on_the_report(tern):
    assert "".join(tern.checksum.split()) == digest(heads.tern())
    assert dict(tern.block)["checksum"].replace("\u00a0", "").lower() == digest(heads.tern())[:8]


def test_the_day_of_a_report_is_that_of_the_last_entry_where_it_was_typed():
    assert last_day(heads.tern()) == "2026-11-25"  # ten past midnight at the bench, already the 25th
    late = [Event("a", "noted", {}, at="2026-11-24T23:59:00-08:00"), Event("b", "noted", {}, at="some time")]
    assert last_day(late) == "2026-11-24"
    assert last_day([Event("a", "noted", {})]) == ""


def test_a_report_is_about_one_round_and_names_the_others():
    after = heads.reading("a-1", "margin", "inl-1f", "1.20", "C-03", round="back from machining")
    events = heads.stored([*heads.tern(), after])
    found, machined = view(events), view(events, round_="back from machining")
    assert found.notices == ("Readings of the round “back from machining” are on a report of their own.",)
    assert [line.raw for group in machined.raws for line in group.lines] == ["1.20"]
    assert not any(line.raw == "1.20" for group in found.raws for line in group.lines)


def test_a_limit_sheet_that_cannot_be_read_is_said_to_be_so():
    broken = view(heads.stored(heads.opening(heads.TERN, "format: witnessmark-limits-1\nsheet: {name: X}\n")))
    assert broken.limits is None
    assert any("document" in notice for notice in broken.notices)
    assert dict(broken.block)["limits from"] == "cannot be read"
    assert broken.no_limits == "The limit sheet TN-3 cannot be read, so no value is judged; sheet 1 says why."


def test_a_gauge_that_cannot_be_read_is_not_taken_for_a_head_not_measured():
    fields = {"kind": "micrometer", "unit": "mm", "resolution": "fine"}
    odd = Event("g", "gauge_entered", {"gauge": "M-99", "fields": fields})
    told = view(heads.stored([*heads.opening(heads.TERN), odd, heads.reading("m", "margin", "exh-1f", "1.10", "M-99")]))
    assert told.calm == "Nothing is judged until this is put right."
    assert "gauge M-99: resolution is 'fine'; write a number such as 0.001" in told.notices


def test_what_is_not_finished_is_counted_by_value_not_by_reading():
    """Four of six stations: one value to go where the worst is judged, two where each is."""
    four = list(heads.stems(["inl-1f"]))[:4]
    engine = heads.WREN | {"valves": {"inl": ["f", "r"], "exh": "1"}}
    head = "".join(heads.LIMITS.splitlines(keepends=True)[:3])

    def told(rule: str) -> ReportView:
        sheet = (
            head + f'  stem_diameter:\n    - {{place: inl-1f, service: {{low: "5.940"}}, unit: mm, stations: {rule}}}\n'
        )
        return view(heads.stored([*heads.opening(engine, sheet), *four]))

    worst, each = told("worst"), told("each")
    assert worst.unfinished.startswith("3 of 3 not finished")  # three valves, each one value
    assert each.unfinished.startswith("4 of 8 not finished")  # 6 stations of one valve, and two valves


def test_an_engine_not_described_yet_still_has_a_report():
    bare = view(heads.stored([Event("o", "job_opened", {"job": {"id": "X-1"}})]))
    assert bare.calm == "Nothing has been read in this round yet."
    assert "the engine is not described yet" in bare.notices
    assert bare.faces == ()


def test_a_raw_text_too_long_for_a_row_is_cut_and_says_so():
    long = heads.reading("x", "margin", "exh-1f", "1." + "2" * 900, "C-03")
    (group,) = view(heads.stored([*heads.opening(heads.TERN), long])).raws
    assert group.lines[0].raw.endswith("… (902 letters, whole in the record)")
    assert len(group.lines[0].raw) < 460


def test_a_long_complaint_is_short_under_the_title_and_whole_on_the_next_sheet():
    said = "came in overheated twice this summer " * 8
    whole = view(heads.stored(heads.opening(heads.TERN, complaint=said)))
    assert len(whole.lead) < 220
    assert said[:100].rstrip() + " …" in whole.lead
    assert dict(whole.about)["complaint"] == said


def test_a_mark_on_paper_has_no_frame_of_its_own(tern):
    marks = [one.mark for one in tern.urgent if one.mark]
    assert len(marks) == 4
    assert not [
        shape for mark in marks for shape in flat(mark.shapes) if isinstance(shape, Rect) and shape.role == "out_line"
    ]


def test_a_drawing_beside_a_table_has_no_letters_too_small_to_read(tern):
    drawn = [section.drawing for section in tern.sections if section.drawing]
    assert len(drawn) == 3  # stem, margin, stem height
    assert not [text for drawing in drawn for text in flat_texts(drawing)]


INLINE_16 = heads.TERN | {"cylinders": "16"}


@pytest.mark.parametrize("engine", [heads.TERN, heads.EGRET, heads.WREN, heads.SIXTEEN, INLINE_16])
@pytest.mark.parametrize("display", ["mm", "in"])
def test_no_letter_on_a_printed_face_is_smaller_than_8_point_2(engine, display):
    bank = "left/" if engine["layout"] == "v" else ""
    lines = ("inlet-edge", "exhaust-edge", "front-end", "rear-end", "diagonal-1", "diagonal-2")
    read = [heads.reading(line, "head_flatness", f"{bank}gasket-face/{line}", "0.03 0.04", "L-04") for line in lines]
    for face in view(heads.stored([*heads.opening(engine), *read]), display).faces:
        scale = min(0.8, 640 / face.drawing.width)  # as the template prints it
        sizes = [shape.size for shape in flat(face.drawing.shapes) if isinstance(shape, Text)]
        assert min(sizes) * scale * 0.75 >= 8.2


def test_a_spread_over_places_has_a_row_too():
    sheet = heads.LIMITS + '  lobe_height:\n    - {service: {high: "0.05"}, unit: mm, stations: spread_of_places}\n'
    readings = [heads.reading(f"l{n}", "lobe_height", f"cam-inl/lobe-{n}f/front", raw, "M-07")
                for n, raw in enumerate(("36.10", "36.30"), 1)]  # fmt: skip
    (row,) = view(heads.stored([*heads.opening(heads.TERN, sheet), *readings])).urgent
    assert (row.term, row.value, row.verdict) == ("lobe height", "(0.200)", "out")


@pytest.mark.parametrize(("engine", "words"), [
    (heads.TERN, "inline four, 16 valves"), (heads.EGRET, "V8, 16 valves"), (heads.WREN, "single, 2 valves"),
    (heads.SIXTEEN, "V16, 80 valves"), ({**heads.WREN, "layout": "opposed", "cylinders": "4"}, "flat four, 8 valves"),
])  # fmt: skip
def test_an_engine_is_called_what_the_trade_calls_it(engine, words):
    assert engine_words(layout(engine)) == words
