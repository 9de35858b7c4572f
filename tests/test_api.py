"""What a notebook calls: load, judge, look; the same as the command says."""

import dataclasses
import json

import pytest

import witnessmark as wm
from shell.cli.command import JOB, SMALL, run, write
from witnessmark.text.fault import Faulty


@pytest.fixture(scope="module")
def path(tmp_path_factory):
    return write(tmp_path_factory.mktemp("job"), JOB)


@pytest.fixture(scope="module")
def judged(path):
    return wm.judge(wm.load_job(path))


def test_the_public_names_are_all_there_and_no_other():
    assert all(hasattr(wm, name) for name in wm.__all__)
    with pytest.raises(AttributeError, match="it has"):
        _ = wm.measure


def test_a_notebook_and_the_command_say_the_same(path, judged):
    assert judged.to_dict() == json.loads(run("judge", path, "--json").out)
    assert len(judged.results) == len(list(judged)) == len(judged.to_dict()["results"])
    assert judged.summary == judged.to_dict()["summary"] and len(judged.missing) == len(judged.to_dict()["missing"])


def test_a_path_may_be_text_and_a_file_at_fault_tells_every_fault(tmp_path):
    assert wm.load_job(str(write(tmp_path))).id == "HL-1"
    two = SMALL.replace("raw: 5.952", "raw: five").replace("answer: 1", "answer: 7")
    with pytest.raises(Faulty) as faulty:
        wm.load_job(write(tmp_path, two))
    assert [fault.line for fault in faulty.value.faults] == [12, 18]
    for name in ("none.yaml", "a\0b", ""):
        with pytest.raises(Faulty):
            wm.load_job(name)


def test_results_become_a_frame(judged):
    pandas = pytest.importorskip("pandas")
    frame = judged.to_frame()
    assert isinstance(frame, pandas.DataFrame) and len(frame) == len(judged.results)
    assert {"characteristic", "location", "value", "unit", "u", "verdict", "p_within"} <= set(frame.columns)
    verdicts = [row["verdict"] for row in judged.to_dict()["results"]]
    assert list(frame["verdict"].dropna()) == [verdict for verdict in verdicts if verdict]


def test_without_a_library_for_frames_it_says_what_to_install(judged, monkeypatch):
    monkeypatch.setattr("witnessmark.api.find_spec", lambda name: None)
    with pytest.raises(ImportError, match="install one of them"):
        judged.to_frame()


def test_a_judgement_does_not_change_under_the_hand(judged):
    with pytest.raises(dataclasses.FrozenInstanceError):
        judged.state = None
    with pytest.raises(dataclasses.FrozenInstanceError):
        judged.results[0].value = 0.0


def test_it_shows_itself_and_no_text_of_a_job_becomes_markup(judged, tmp_path):
    shown = judged._repr_html_()
    assert shown.startswith("<table>") and shown.count("<tr>") == len(judged.results) + 1
    sheet = "limits.yaml"
    odd = write(tmp_path, SMALL.replace("M-07", "M<b>7").replace("Tern 2.0", "<script>x</script>"))
    assert (odd.parent / sheet).exists()
    page = wm.judge(wm.load_job(odd))._repr_html_()
    assert "<script" not in page and "<b>" not in page


def test_every_result_says_why_in_both_units(judged):
    for result in judged:
        assert judged.why(result).endswith(".") and judged.why(result, "in").endswith(".")


def test_a_job_without_an_engine_says_why_nothing_is_judged(tmp_path):
    bare = wm.judge(wm.load_job(write(tmp_path, "format: witnessmark-job-1\njob: {id: HL-3}\n")))
    assert bare.results == () and "describe the engine" in " ".join(bare.to_dict()["problems"])


def test_a_row_shows_its_mark_its_words_its_reason_and_its_doubt(judged):
    rows = judged.rows
    assert [row.result for row in rows] == list(judged)
    for row in rows:
        shown = row._repr_html_()
        assert "<svg" in shown and row.term in str(row) and (row.verdict or "no limit yet") in str(row)
        assert row.to_dict()["characteristic"] == row.result.characteristic
        assert all(u >= 0 for _, u in row.budget)
    told = next(row for row in rows if row.budget)
    assert "source of doubt" in told._repr_html_() and told.why.endswith(".")


def test_rows_are_found_by_verdict_characteristic_and_place(judged):
    for verdict in {row.verdict for row in judged.rows} - {""}:
        assert {row.verdict for row in judged.where(verdict)} == {verdict}
    one = judged.rows[0].result
    assert one in [row.result for row in judged.where(characteristic=one.characteristic, place=one.location)]
    assert judged.where(place="inl-16r") == ()
    with pytest.raises(ValueError, match="is no verdict"):
        judged.where("good")
    with pytest.raises(ValueError, match="stem_diameter"):
        judged.where(characteristic="stem_diametre")


def test_the_catalogue_is_looked_up_and_searched(judged):
    known = wm.characteristics()
    assert len(known) == len(list(known)) > 90 and known["stem_diameter"].table == "B"
    assert "stem_diameter" in [entry.id for entry in known.search("stem diameter")]
    assert "head_flatness" in [entry.id for entry in known.search("warpage")]
    assert known.search("perpetual motion") == ()
    with pytest.raises(KeyError, match="stem_diameter"):
        _ = known["stem_diametre"]
    assert "stem_diameter" in known._repr_html_()
