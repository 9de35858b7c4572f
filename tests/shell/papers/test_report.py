"""The inspection report on paper, read back from its PDF."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pikepdf
import pytest

from shell.papers import heads
from shell.papers.paper import opened, pages, structure, words
from witnessmark.desk.state import state
from witnessmark.record.event import Event, digest
from witnessmark.record.replay import replay
from witnessmark.shell.papers import inspection_report, report_pdf
from witnessmark.shell.resources import catalogue

ROOT = Path(__file__).parents[3]


@pytest.fixture(scope="module")
def tern() -> bytes:
    return report_pdf(heads.tern(), catalogue())


@pytest.fixture(scope="module")
def tern_pages(tern) -> list[str]:
    return pages(tern)


@pytest.fixture(scope="module")
def many() -> bytes:
    return report_pdf(heads.many(), catalogue())


def rows(page: str) -> list[str]:
    return [" ".join(line.split()) for line in page.splitlines()]


def test_sheet_one_says_what_is_out_and_what_is_too_close(tern_pages):
    told = rows(tern_pages[0])
    assert "stem diameter Inl 1R 5.931 least 5.940 out by 0.009 M-07" in told
    assert any(line.startswith("stem height Exh 3F 44.30 43.75 to 44.25 out by 0.05 D-01") for line in told)
    assert any("Inl 2F 5.941 least 5.940 too close, 0.73" in line for line in told)
    assert told.index("stem diameter Inl 1R 5.931 least 5.940 out by 0.009 M-07") < next(
        n for n, line in enumerate(told) if "too close, 0.73" in line
    )


def test_sheet_one_shows_the_lines_of_the_gasket_face(tern_pages):
    for reading in ("0.03–0.04", "0.04–0.05", "0.02–0.03", "0.06–0.07"):
        assert reading in tern_pages[0]


def test_every_sheet_carries_the_title_block(tern_pages):
    count = len(tern_pages)
    assert count >= 4
    for n, page in enumerate(tern_pages, 1):
        assert f"{n} of {count}" in page
        assert "must be proven good" in page
        assert digest(heads.tern())[:4].upper() in page


def test_sheet_one_says_where_the_rest_stands(tern_pages):
    told = re.search(r"stand on sheet\s+(\d+), all\s+values\s+from\s+sheet\s+(\d+)\s+on,\s+readings\s+as\s+they\s+came"
                     r"\s+from\s+sheet\s+(\d+)", tern_pages[0])  # fmt: skip
    assert told, tern_pages[0]
    for number, title in zip(
        told.groups(), ("Gauges, limits and people", "Every value", "Readings as they came"), strict=True
    ):
        assert title in tern_pages[int(number) - 1]


def test_the_whole_checksum_and_the_hash_of_the_limits_are_printed(tern_pages):
    second = "".join(tern_pages[1].split())
    assert digest(heads.tern()) in second
    assert "Serviceinformationandlicensedpracticegovern." in second


def test_a_reading_taken_back_is_struck_through_and_still_readable(tern, tern_pages):
    assert "7.77" in tern_pages[-1]
    assert "taken back" in tern_pages[-1]
    pdf = opened(tern)
    struck = [
        op
        for op in pikepdf.parse_content_stream(pdf.pages[-1])
        if str(op.operator) == "w" and abs(float(op.operands[0]) - 0.7) < 1e-3
    ]
    assert len(struck) >= 2  # raw and meaning of at least one reading


def test_nothing_stands_outside_the_frame(tern, many):
    for pdf in (tern, many):
        astray = [(page, box, word) for page, box, word in words(pdf)
                  if box[0] < 20 or box[2] > 200.2 or box[1] < 10 or box[3] > 287.2]  # fmt: skip
        assert not astray


def test_no_word_of_the_tables_runs_into_the_title_block(many):
    foot = 287 - 14.5
    block = {"works", "job", "limits", "each", "checksum", "sheet"}
    across = [
        (page, word) for page, box, word in words(many) if box[1] < foot - 0.3 < box[3] - 0.3 and word not in block
    ]
    assert not across


def test_rows_go_on_over_many_sheets_under_a_repeated_head(many):
    told = pages(many)
    table = [
        page for page in told if re.search(r"by 0\.\d+", page) and "stem diameter" in page and "settled by" in page
    ]
    assert len(table) > 5
    heading = [page for page in table if re.search(r"characteristic\s+place\s+read, mm", page)]
    assert len(heading) >= len(table) - 1
    first_table = [
        line
        for page in told
        for line in rows(page)
        if re.match(r"(valve margin|stem height) ", line) and " out by " in line
    ]
    assert len(first_table) == 160  # 80 valves, each on one unbroken line


def test_no_row_is_torn_between_two_sheets():
    valves = [f"{side}-{n}{at}" for n in range(1, 5) for side in ("inl", "exh") for at in "fr"]
    noted = [
        heads.reading(f"m{n}-{valve}", "margin", valve, "1.12", "C-03",
                      note=f"begin{name} {'wiped, read again ' * 9}end{name}")
        for n in range(3) for valve in valves for name in (f"{n}{valve.replace('-', '')}",)
    ]  # fmt: skip
    told = pages(report_pdf(heads.stored([*heads.opening(heads.TERN), *noted]), catalogue()))
    first, last = (
        {
            name: n
            for n, page in enumerate(told)
            for name in re.findall(rf"{word}(\d(?:inl|exh)\d[fr])", "".join(page.split()))
        }
        for word in ("begin", "end")
    )
    assert len(first) == 48
    assert len(set(first.values())) > 3
    assert first == last


def test_it_is_an_accessible_and_archivable_pdf(tern):
    pdf = opened(tern)
    with pdf.open_metadata() as told:
        assert told["pdfuaid:part"] == "1"
        assert (told["pdfaid:part"], told["pdfaid:conformance"]) == ("2", "A")
        assert told["dc:title"] == "Inspection report: cylinder head, HL-0147"
    assert str(pdf.Root.Lang) == "en"
    assert bool(pdf.Root.MarkInfo.Marked)


def test_every_drawing_has_words_for_those_who_hear_it(tern):
    pdf = opened(tern)
    figures = [one for one in structure(pdf) if str(one.S) == "/Figure"]
    spoken = [str(figure.get("/Alt", "")) for figure in figures]
    assert len(figures) > 20
    assert all(spoken)
    assert any(text.startswith("gasket face from below: inlet edge 0.03–0.04 within") for text in spoken)
    assert any("too close to call" in text and "least 5.940" in text and "chance 0.73" in text for text in spoken)


def test_tables_have_heads_that_are_tagged_so(tern):
    pdf = opened(tern)
    kinds = [str(one.S) for one in structure(pdf)]
    assert kinds.count("/Table") >= 6
    assert kinds.count("/TH") > kinds.count("/Table")
    assert kinds.count("/H1") == 1


def test_all_letters_are_in_the_file_and_come_from_the_package(tern):
    fonts, pdf = {}, opened(tern)
    for one in pdf.objects:
        if isinstance(one, pikepdf.Dictionary) and one.get("/Type") == pikepdf.Name.FontDescriptor:
            fonts[str(one.FontName).rpartition("+")[2]] = "/FontFile2" in one or "/FontFile3" in one
    assert all(fonts.values())
    families = {name.rpartition("-")[0] for name in fonts}
    assert (
        {"AtkinsonHyperlegibleNext", "SourceSerif4"} <= families <= {"AtkinsonHyperlegibleNext", "SourceSerif4", "B612"}
    )


def test_the_date_of_the_file_is_that_of_the_last_entry(tern):
    assert created(tern) == "D:20261125"


def created(pdf: bytes) -> str:
    document = opened(pdf)
    return str(document.docinfo["/CreationDate"])[:10]


ALONE = """
import sys
sys.path[:0] = [{src!r}, {tests!r}]
from shell.papers import heads
from witnessmark.shell.papers.report import report_pdf
from witnessmark.shell.resources import catalogue
sys.stdout.buffer.write(report_pdf(heads.tern(), catalogue()))
"""


@pytest.mark.parametrize("around", [
    {"TZ": "Pacific/Chatham", "LC_ALL": "C", "PYTHONHASHSEED": "1"},
    {"TZ": "America/Los_Angeles", "LC_ALL": "C.UTF-8", "PYTHONHASHSEED": "77", "SOURCE_DATE_EPOCH": "1"},
])  # fmt: skip
def test_the_same_job_gives_the_same_bytes_wherever_it_is_set(tern, around, tmp_path):
    script = ALONE.format(src=str(ROOT / "src"), tests=str(ROOT / "tests"))
    run = subprocess.run(
        [sys.executable, "-c", script], cwd=tmp_path, env=os.environ | around, capture_output=True, check=True
    )
    assert run.stdout == tern


def test_a_state_that_is_open_already_gives_the_same_report(tern):
    opened = state(replay(heads.tern()), catalogue())
    assert inspection_report(opened, heads.tern()) == tern


def test_another_reading_gives_another_checksum_and_another_file(tern):
    more = heads.stored([*heads.tern(), heads.reading("z", "margin", "exh-3r", "1.20", "C-03")])
    other = report_pdf(more, catalogue())
    assert other != tern
    assert digest(more)[:4].upper() in pages(other)[0]


def test_names_of_any_script_are_printed_or_spelt_by_code():
    odd = heads.opening(
        heads.TERN, engine="Tern Ωμέγα", works="Šķūņu iela, Мастерская 中", complaint='#panic("x") *b* $x$ <i>'
    )
    told = pages(report_pdf(heads.stored(odd), catalogue()))
    assert "Tern Ωμέγα, inline four" in told[0]
    assert '#panic("x") *b* $x$ <i>' in told[0]
    assert "Šķūņu iela, Мастерская ‹U+4E2D›" in told[1]
    assert "stands as its code" in told[1]
    assert "stands as its code" not in "".join(pages(report_pdf(heads.stored(heads.opening(heads.TERN)), catalogue())))


def test_text_without_end_stays_in_its_column():
    long = [
        *heads.opening(heads.TERN, works="W" * 300, complaint="c" * 900),
        heads.reading("x", "margin", "exh-1f", "1." + "9" * 800, "C-03", note="n" * 900),
        heads.reading("y", "margin", "exh-1r", "1." + "9" * 14, "C-03"),
        Event("n", "noted", {"about": "x", "text": "t" * 5000}, by="B" * 200),
        Event("g", "gauge_entered", {"gauge": "G" * 60, "fields": heads.GAUGES["M-07"] | {
            "calibration": {"U": "0.002", "certificate": "C" * 3000}}}),
    ]  # fmt: skip
    pdf = report_pdf(heads.stored(long), catalogue())
    assert not [box for _, box, _ in words(pdf) if box[0] < 20 or box[2] > 200.2 or box[3] > 287.2]
    assert not overlapping(pdf)


def overlapping(pdf: bytes) -> list[tuple[str, str]]:
    """Pairs of words on one sheet that lie over each other by more than the rounding of their boxes."""
    found, placed = [], words(pdf)
    for n, (page, box, word) in enumerate(placed):
        for other_page, other, other_word in placed[n + 1 :]:
            across = min(box[2], other[2]) - max(box[0], other[0])
            down = min(box[3], other[3]) - max(box[1], other[1])
            if page == other_page and across > 0.3 and down > 1.2:
                found.append((word, other_word))
    return found


def test_no_word_lies_over_another(tern):
    assert not overlapping(tern)


@pytest.mark.parametrize(("events", "says"), [
    ([Event("o", "job_opened", {"job": {"id": "X-1"}})], "the engine is not described yet"),
    (heads.opening(heads.TERN), "Nothing has been read in this round yet."),
    (heads.opening(heads.WREN, "", engine="Wren 125"), "No limit sheet was entered, so nothing is judged."),
    (heads.opening(heads.SIXTEEN), "Nothing has been read in this round yet."),
])  # fmt: skip
def test_a_job_with_nothing_measured_is_a_tidy_paper(events, says):
    told = pages(report_pdf(heads.stored(events), catalogue()))
    assert len(told) == 2
    assert says in told[0]
    assert "1 of 2" in told[0]


def test_a_record_without_a_single_date_says_undated():
    told = report_pdf([Event("o", "job_opened", {"job": {"id": "X-1"}}, seq=1)], catalogue())
    assert "undated" in pages(told)[1]
    assert created(told) == "D:19700101"


def test_the_same_head_in_inches():
    told = pages(report_pdf(heads.egret(), catalogue(), display="in"))
    assert "read, in" in told[0]
    assert any(re.match(r"stem diameter Exh 8 0\.3391 least 0\.3405", line) for line in rows(told[0])), told[0]
    assert "by 0.0014" in told[0]
    metric = pages(report_pdf(heads.egret(), catalogue()))
    assert any(line.startswith("stem diameter Exh 8 8.613 least 8.649 out") for line in rows(metric[0]))
