"""Sheets to write on, read back from their PDF."""

import io
from itertools import pairwise

import pikepdf
import pytest

from shell.papers import heads
from shell.papers.paper import MM, opened, pages, words
from shell.papers.test_worked import letter_sizes
from witnessmark.desk.route import BY_STATION, BY_VALVE
from witnessmark.desk.sheets.blank_sheet import NoSheet, blank_sheets
from witnessmark.desk.state import State, state
from witnessmark.record.event import Event
from witnessmark.record.replay import replay
from witnessmark.shell.papers.blank import blank_pdf
from witnessmark.shell.resources import catalogue

PAPERS = ("a4", "letter")


def bare(engine, order: str = "by part", limits: str = heads.LIMITS) -> State:
    return state(replay(heads.stored(heads.opening(engine, limits))), catalogue(), order=order)


@pytest.mark.parametrize("engine", [heads.TERN, heads.WREN])
def test_no_letter_is_too_small_to_read_at_the_bench(engine):
    with pikepdf.open(io.BytesIO(blank_pdf(bare(engine), paper="letter"))) as paper:
        assert min(size for page in paper.pages for size in letter_sizes(page)) >= 8.15


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("engine", [heads.TERN, heads.EGRET, heads.WREN, heads.SIXTEEN])
@pytest.mark.parametrize("order", ["by part", BY_STATION, BY_VALVE])
def test_each_sheet_is_one_page_with_its_code_and_all_inside_the_frame(engine, order, paper):
    now = bare(engine, order)
    sheets, pdf = blank_sheets(now), blank_pdf(now, paper=paper)
    printed = pages(pdf)
    assert len(printed) == len(sheets)
    for sheet, page in zip(sheets, printed, strict=True):
        assert sheet.code in page and f"{sheet.number} of {sheet.of}" in page
    wide, high = {"a4": (210, 297), "letter": (215.9, 279.4)}[paper]
    astray = [(page, box, word) for page, box, word in words(pdf)
              if box[0] < 20 or box[2] > wide - 9.8 or box[1] < 10 or box[3] > high - 9.8]  # fmt: skip
    assert not astray


def test_a_box_is_8_mm_high():
    pdf = opened(blank_pdf(bare(heads.WREN)))
    heights = set()
    for op in pikepdf.parse_content_stream(pdf.pages[1]):
        if str(op.operator) == "re":
            heights.add(round(abs(float(op.operands[3])) / MM, 2))
    lines = [[float(n) for n in op.operands] for op in pikepdf.parse_content_stream(pdf.pages[1])
             if str(op.operator) == "l"]  # fmt: skip
    heights |= {round(abs(b[1] - a[1]) / MM, 2) for a, b in pairwise(lines)}
    assert 8.0 in heights


def test_the_limit_stands_boxed_on_the_sheet_as_it_was_entered():
    text = "\n".join(pages(blank_pdf(bare(heads.TERN))))
    assert "least 5.940 mm" in text and "43.75 to 44.25 mm" in text


def test_inches_of_an_inch_engine():
    text = "\n".join(pages(blank_pdf(bare(heads.EGRET, limits=heads.INCH_LIMITS), display="in")))
    assert "unit (in)" in text and "least 0.3405 in" in text


def test_the_same_job_prints_the_same_bytes():
    now = bare(heads.WREN)
    assert blank_pdf(now) == blank_pdf(bare(heads.WREN)) != blank_pdf(now, paper="letter")


def test_without_an_engine_there_is_nothing_to_write_on():
    with pytest.raises(NoSheet, match="describe the engine first"):
        blank_pdf(state(replay([Event("o", "job_opened", {"job": {"id": "X-1"}})]), catalogue()))


def test_only_what_is_named_is_printed():
    printed = pages(blank_pdf(bare(heads.TERN), only=["retainer_keeper"]))
    assert len(printed) == 2 and all("etainer and keepers" in page and "1 seated" in page for page in printed)
