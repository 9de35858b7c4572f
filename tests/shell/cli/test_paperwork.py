"""`papers`: the report lands in the folder that was named and nowhere else."""

from shell.cli.command import SMALL, refused, run, write


def test_the_report_lies_in_the_folder(tmp_path):
    said = run("papers", write(tmp_path), "--out", tmp_path / "papers")
    assert said.out == f"{tmp_path / 'papers' / 'HL-1-inspection.pdf'}\n"
    assert (tmp_path / "papers" / "HL-1-inspection.pdf").read_bytes().startswith(b"%PDF")


def test_a_number_with_a_slash_does_not_lead_out_of_the_folder(tmp_path):
    path = write(tmp_path, SMALL.replace("id: HL-1,", 'id: "../../HL/1",'))
    run("papers", path, "--out", tmp_path / "deep" / "papers")
    assert [one.name for one in tmp_path.rglob("*.pdf")] == ["..-..-HL-1-inspection.pdf"]


def test_a_folder_that_cannot_be_made_is_told(tmp_path):
    assert "name a folder" in refused(run("papers", write(tmp_path), "--out", tmp_path / "job.yaml" / "x"))


def test_each_paper_that_is_named_lies_in_the_folder(tmp_path):
    said = run("papers", write(tmp_path), "--out", tmp_path / "p", "--short", "--blank", "--labels", "--cards",
               "--paper", "letter")  # fmt: skip
    wanted = ["blank-sheets", "cards", "labels", "report-short"]
    assert sorted(one.name for one in (tmp_path / "p").iterdir()) == [f"HL-1-{name}.pdf" for name in wanted]
    assert said.out.splitlines() == [str(tmp_path / "p" / f"HL-1-{name}.pdf")
                                     for name in ("report-short", "blank-sheets", "labels", "cards")]  # fmt: skip


def test_blank_sheets_of_what_is_not_known_are_refused(tmp_path):
    told = refused(run("papers", write(tmp_path), "--out", tmp_path, "--blank", "--only", "stem_diametre"))
    assert "did you mean 'stem_diameter'" in told


def test_codes_want_a_whole_address(tmp_path):
    told = refused(run("papers", write(tmp_path), "--out", tmp_path, "--labels", "--base", "bench"))
    assert "write it like http://192.168.1.20:8620" in told


def test_a_bench_card_is_written_where_it_is_wanted(tmp_path):
    said = run("catalogue", "seat_width", "--card", tmp_path / "seat.pdf", "--paper", "letter")
    assert said.out == f"{tmp_path / 'seat.pdf'}\n"
    assert (tmp_path / "seat.pdf").read_bytes().startswith(b"%PDF")
    assert "name it before --card" in refused(run("catalogue", "--card", tmp_path / "x.pdf"))
    assert "did you mean 'seat_width'" in refused(run("catalogue", "seat_with", "--card", tmp_path / "x.pdf"))
