"""Labels on paper: their codes are read back from the printed page, as a phone would."""

import os
import shutil
import subprocess
from io import BytesIO
from itertools import pairwise

import pytest
import zxingcpp
from PIL import Image

from shell.papers import heads
from shell.papers.paper import pages, words
from witnessmark.desk.sheets.labels import labels
from witnessmark.desk.state import State, state
from witnessmark.record.replay import replay
from witnessmark.shell.papers.labels import labels_pdf
from witnessmark.shell.resources import catalogue


def bare(engine, **header) -> State:
    return state(replay(heads.stored(heads.opening(engine, **header))), catalogue())


def codes(pdf: bytes, tmp_path) -> list[str]:
    """The codes of a PDF as they are on paper, at 300 dots an inch."""
    if shutil.which("pdftoppm") is None:
        missing = "pdftoppm (poppler-utils) is not on this machine, so no code was read back"
        (pytest.fail if os.environ.get("CI") else pytest.skip)(missing)
    (tmp_path / "l.pdf").write_bytes(pdf)
    subprocess.run(["pdftoppm", "-r", "300", "-gray", tmp_path / "l.pdf", tmp_path / "l"], check=True,
                   capture_output=True)  # fmt: skip
    found = []
    for page in sorted(tmp_path.glob("l-*.pgm")):
        found += [one.text for one in zxingcpp.read_barcodes(Image.open(BytesIO(page.read_bytes())))]
    return found


@pytest.mark.parametrize(("engine", "paper", "base"), [
    (heads.TERN, "a4", ""), (heads.EGRET, "letter", "http://192.168.1.20:8620"), (heads.WREN, "letter", ""),
])  # fmt: skip
def test_every_code_reads_back(engine, paper, base, tmp_path):
    now = bare(engine)
    wanted = sorted(one.code for one in labels(now, base))
    assert sorted(codes(labels_pdf(now, paper=paper, base=base), tmp_path)) == wanted


def test_a_long_number_of_other_letters_still_reads(tmp_path):
    now = bare(heads.WREN, id="Werkstatt Köln 2026/0147")
    found = codes(labels_pdf(now), tmp_path)
    assert set(found) == {one.code for one in labels(now)} and "%2F" in found[0]


@pytest.mark.parametrize(("paper", "left"), [("a4", 12.0), ("letter", 14.95)])
def test_labels_lie_on_a_grid_of_62_by_29_mm(paper, left):
    pdf = labels_pdf(bare(heads.TERN), paper=paper)
    names = [box for page, box, word in words(pdf) if word == "Inl" and page == 1]
    assert sorted({round(box[0] - left) for box in names}) == [3, 65, 127]
    tops = [box[1] for box in names if round(box[0] - left) == 3]
    assert len(tops) == 8
    assert [b - a for a, b in pairwise(tops)] == pytest.approx([29.0] * 7, abs=0.05)


def test_the_place_is_the_largest_word_and_the_job_stands_on_each():
    pdf = labels_pdf(bare(heads.TERN))
    assert pages(pdf)[0].count("HL-0147 · Tern 2.0") == 27
    sizes = {word: box[3] - box[1] for _, box, word in words(pdf)}
    assert sizes["3F"] > 2.5 * sizes["HL-0147"]


def test_the_same_labels_are_the_same_bytes():
    assert labels_pdf(bare(heads.WREN)) == labels_pdf(bare(heads.WREN))
