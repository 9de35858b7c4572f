"""Bench cards on paper."""

import io

import pikepdf
import pytest

from shell.papers import heads
from shell.papers.paper import opened, pages, words
from shell.papers.test_worked import letter_sizes
from witnessmark.desk.sheets.card import NoCard
from witnessmark.desk.state import state
from witnessmark.record.event import Event
from witnessmark.record.replay import replay
from witnessmark.shell.papers.cards import card_pdf, cards_pdf
from witnessmark.shell.resources import catalogue


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", ["stem_diameter", "head_cracks", "lobe_centreline", "retainer_keeper", "chain_slack"])
def test_a_card_is_one_page_inside_its_frame(name, paper):
    pdf = card_pdf(catalogue(), name, paper=paper)
    assert len(pages(pdf)) == 1
    wide, high = {"a4": (210, 297), "letter": (215.9, 279.4)}[paper]
    assert not [(box, word) for _, box, word in words(pdf)
                if box[0] < 20 or box[2] > wide - 9.8 or box[1] < 10 or box[3] > high - 9.8]  # fmt: skip


def test_every_card_of_the_catalogue_is_one_page():
    from witnessmark.desk.sheets.card import card
    from witnessmark.shell.papers.cards import _set

    names = tuple(catalogue().characteristics)
    pdf = _set([card(catalogue(), name) for name in names], "", "letter")
    assert len(pages(pdf)) == len(names)
    with pikepdf.open(io.BytesIO(pdf)) as paper:
        small = [name for name, page in zip(names, paper.pages, strict=True) if min(letter_sizes(page)) < 8.15]
    assert small == []


def test_the_usual_range_says_that_it_is_no_limit():
    text = " ".join(pages(card_pdf(catalogue(), "stem_diameter"))[0].split())
    assert "3.9 to 14.5 mm, 0.154 to 0.571 in (usual, not a limit)" in text
    assert "when it is outside the limit you entered" in text
    assert "Sodium in the stem." in text and "Source:" in text


def test_the_cards_of_a_job_stand_in_one_file_each_with_its_own_title_block():
    now = state(replay(heads.stored(heads.opening(heads.TERN))), catalogue())
    printed = pages(cards_pdf(now, date="2026-11-24"))
    ids = list(dict.fromkeys(stop.characteristic for stop in now.route))
    assert len(printed) == len(ids)
    for name, page in zip(ids, printed, strict=True):
        assert name.replace("_", "") in "".join(page.split()).replace("_", "")


def test_a_job_without_an_engine_needs_no_card():
    with pytest.raises(NoCard, match="describe the engine first"):
        cards_pdf(state(replay([Event("o", "job_opened", {"job": {"id": "X-1"}})]), catalogue()))


def test_a_card_carries_no_path_of_a_machine_and_is_the_same_twice():
    one = card_pdf(catalogue(), "stem_diameter")
    assert one == card_pdf(catalogue(), "stem_diameter")
    with opened(one) as pdf:
        said = str(pdf.docinfo) + pdf.open_metadata().__str__()
    assert "/home" not in said and "/work" not in said and ".typ" not in said
