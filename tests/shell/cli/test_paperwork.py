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
