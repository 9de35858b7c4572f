"""Job line and title block."""

import pytest

from witnessmark.desk.sheets.chrome import STAGES, job_line, stage_href


def test_the_job_line_has_ten_stages_and_paints_the_present_one():
    stages = job_line("HL-0147", "measure", ["complaint", "strip-down"], 41, 310)
    assert [stage.words for stage in stages if stage.here] == ["measure 41 of 310"]
    assert len(stages) == len(STAGES) == 10


def test_what_is_not_known_to_be_done_is_not_drawn_as_done():
    looks = {stage.words: stage.look.split() for stage in job_line("HL-0147", "measure", ["complaint"], 0, 310)}
    assert "done" in looks["complaint"]
    assert "done" not in looks["crack test"]


def test_on_a_phone_the_present_stage_stands_between_its_neighbours():
    beside = [stage.words for stage in job_line("HL-0147", "measure") if "beside" in stage.look]
    assert beside == ["crack test", "decide"]


@pytest.mark.parametrize(("read", "of", "share"), [(41, 310, 13), (0, 310, 0), (310, 310, 100), (400, 310, 100)])
def test_the_bar_of_the_present_stage_is_as_long_as_its_share(read, of, share):
    assert next(stage.share for stage in job_line("HL-0147", "measure", (), read, of) if stage.here) == share


def test_a_stage_without_a_sheet_leads_to_the_start_sheet():
    assert stage_href("HL-0147", "strip-down") == "/jobs/HL-0147"
    assert stage_href("HL-0147", "order") == "/jobs/HL-0147/plan"
    assert stage_href("HL-0147", "measure") == "/jobs/HL-0147/bench"
