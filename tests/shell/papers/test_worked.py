"""The report after the work, and the page in short, read back from their PDFs on both papers."""

import hashlib

import pikepdf
import pytest

from shell.papers import heads
from shell.papers.paper import opened, pages, structure, words
from witnessmark.desk.state import state
from witnessmark.record.replay import replay
from witnessmark.shell.papers import TypesetFault, inspection_report, short_pdf
from witnessmark.shell.papers.photos import photos_of, stored
from witnessmark.shell.resources import catalogue
from witnessmark.shell.store.photos import Photos

SIZES = {"a4": (595.276, 841.89), "letter": (612.0, 792.0)}


def full(paper: str = "a4", photos=None) -> bytes:
    events = heads.worked()
    return inspection_report(
        state(replay(events), catalogue()), events, paper=paper, photos=photos or heads.jpegs().get
    )


def short(events, paper: str = "a4", display: str = "mm") -> bytes:
    return short_pdf(state(replay(events), catalogue()), events, paper=paper, display=display)


@pytest.fixture(scope="module", params=list(SIZES))
def printed(request) -> tuple[str, bytes]:
    return request.param, full(request.param)


def flat(pdf: bytes) -> str:
    return " ".join(" ".join(pages(pdf)).split())


def test_the_paper_has_the_size_that_was_asked_for(printed):
    paper, pdf = printed
    with opened(pdf) as read:
        box = [float(n) for n in read.pages[0].mediabox]
    assert (box[2], box[3]) == pytest.approx(SIZES[paper], abs=0.01)


def test_nothing_stands_outside_the_frame_and_the_filing_edge_is_20_mm(printed):
    paper, pdf = printed
    wide, high = {"a4": (210, 297), "letter": (215.9, 279.4)}[paper]
    assert not [(page, box, word) for page, box, word in words(pdf)
                if box[0] < 20 or box[2] > wide - 9.8 or box[1] < 10 or box[3] > high - 9.8]  # fmt: skip


def test_decisions_answers_and_what_was_declined_are_printed(printed):
    text = flat(printed[1])
    for said in ("Decisions and the customer’s answers", "Declined by the customer", "180.00", "Before and after",
                 "Decided earlier and replaced", "not passed", "Quick route", "throws doubt on 2 values"):  # fmt: skip
        assert said in text, said


def test_both_photos_are_in_the_file_byte_for_byte_with_a_sentence_for_each(printed):
    with opened(printed[1]) as pdf:
        found = {
            hashlib.sha256(stream.read_raw_bytes()).hexdigest()
            for stream in pdf.objects
            if isinstance(stream, pikepdf.Stream) and stream.get("/Filter") == "/DCTDecode"
        }
        said = [str(one.Alt) for one in structure(pdf) if "/Alt" in one]
    assert found == set(heads.jpegs())
    assert any("burnt seat" in one for one in said)


def test_a_photo_that_is_not_here_is_told_in_its_place():
    text = flat(full(photos=lambda _: None))
    assert text.count("not on this machine") == 2


def test_photos_come_from_beside_the_job_file_or_from_the_store(tmp_path):
    kept = Photos(tmp_path / "photos")
    (name, jpeg), *_ = heads.jpegs().items()
    kept.put(jpeg)
    assert stored(kept)(name) == jpeg == photos_of("HL-0147", tmp_path)(name)
    assert photos_of("HL-0147", tmp_path)("0" * 64) is None
    (tmp_path / "tern.yaml").write_text("x", "utf-8")
    (tmp_path / "tern-photos").mkdir()
    (tmp_path / "tern-photos" / f"{name}.jpg").write_bytes(jpeg)
    beside = photos_of(str(tmp_path / "tern.yaml"), tmp_path / "none")
    assert beside(name) == jpeg
    (tmp_path / "tern-photos" / f"{name}.jpg").write_bytes(jpeg + b"!")
    assert beside(name) is None


@pytest.mark.parametrize("paper", list(SIZES))
@pytest.mark.parametrize("display", ["mm", "in"])
@pytest.mark.parametrize("job", [heads.tern, heads.egret, heads.many, heads.worked])
def test_the_report_in_short_is_one_page_whatever_the_job(job, paper, display):
    pdf = short(job(), paper, display)
    assert len(pages(pdf)) == 1
    text = flat(pdf)
    assert "Inspection in short" in text and "seen by the customer" in text and "1 of 1" in text


def test_the_report_in_short_of_crowded_words_is_still_one_page():
    long = [heads.Event(f"x-{n}", "decided", {
        "characteristic": "margin", "place": f"exh-{n}f", "round": "as found", "decision": "machined",
        "why": "a seat so far down that nobody would look at it twice " * 4}) for n in range(1, 17)]  # fmt: skip
    crowded = [event for event in heads.many() if event.seq] + long
    for paper in SIZES:
        assert len(pages(short(heads.stored(crowded), paper))) == 1


def test_no_letter_is_smaller_than_8_point_2(printed):
    with opened(printed[1]) as pdf:
        sizes = [size for page in pdf.pages for size in letter_sizes(page)]
    assert len(sizes) > 100 and min(sizes) >= 8.15  # 8.2 as it is rounded in the file


def letter_sizes(page):
    """The size of every letter as it is printed: the font's, times the matrices of text and page [point]."""
    stack, now, text, font = [], (1.0, 0.0, 0.0, 1.0), (1.0, 0.0, 0.0, 1.0), 0.0
    for op in pikepdf.parse_content_stream(page):
        name = str(op.operator)
        if name == "q":
            stack.append(now)
        elif name == "Q":
            now = stack.pop()
        elif name in ("cm", "Tm"):
            a, b, c, d = (float(n) for n in list(op.operands)[:4])
            e, f, g, h = now
            by = (a * e + b * g, a * f + b * h, c * e + d * g, c * f + d * h)
            now, text = (by, text) if name == "cm" else (now, by)
        elif name == "BT":
            text = now
        elif name == "Tf":
            font = float(op.operands[1])
        elif name in ("Tj", "TJ", "'", '"'):
            yield font * (text[2] ** 2 + text[3] ** 2) ** 0.5


def test_the_same_job_prints_the_same_bytes(printed):
    paper, pdf = printed
    assert full(paper) == pdf
    assert short(heads.tern()) == short(heads.tern())


def test_black_is_the_only_ink(printed):
    with opened(printed[1]) as pdf:
        for page in pdf.pages:
            for op in pikepdf.parse_content_stream(page):
                if str(op.operator) in ("rg", "RG", "scn", "SCN", "sc", "SC") and len(op.operands) == 3:
                    red, green, blue = (float(n) for n in op.operands)
                    assert red == green == blue, op


def test_no_path_of_this_machine_is_in_the_file(printed):
    with opened(printed[1]) as pdf:
        said = str(dict(pdf.docinfo)) + str(pdf.open_metadata())
    assert not [word for word in ("/work", "/home", "/tmp", ".typ", "site-packages") if word in said]


def test_a_paper_that_is_not_known_is_told():
    with pytest.raises(TypesetFault, match="no paper called 'a3'; name one of a4, letter"):
        full("a3")
