"""The one door to the typesetter."""

import pytest

from witnessmark.shell.papers import typeset as door
from witnessmark.shell.papers.typeset import TypesetFault, typeset

HEAD = (
    '#set document(title: "t", date: datetime(year: 2026, month: 11, day: 25))\n#set text(lang: "en", font: "B612")\n'
)


@pytest.fixture
def template(tmp_path, monkeypatch):
    def write(text: str) -> str:
        (tmp_path / "try.typ").write_text(HEAD + text, "utf-8")
        monkeypatch.setattr(door, "PAPERS", tmp_path)
        return "try.typ"

    return write


def test_data_are_data_and_never_source(template):
    name = template("#json(bytes(sys.inputs.data)).said")
    assert typeset(name, {"said": '#panic("x")'}).startswith(b"%PDF-1.7")


def test_a_font_that_the_package_does_not_have_stops_the_paper(template):
    with pytest.raises(
        TypesetFault,
        match=r"try\.typ: .*unknown font family: some sans; the fonts of the package should hold every letter",
    ):
        typeset(template('#text(font: "Some Sans")[a]'), {})


def test_a_letter_that_no_font_has_stops_the_paper(template):
    with pytest.raises(
        TypesetFault, match=r"could not be displayed with font .*; report this text with the job's export"
    ):
        typeset(template("中"), {})


def test_a_picture_without_words_stops_the_paper(template):
    drawing = (
        '#image(bytes("<svg xmlns=\\"http://www.w3.org/2000/svg\\" width=\\"9\\" height=\\"9\\"/>"), format: "svg")'
    )
    with pytest.raises(TypesetFault, match="alt"):
        typeset(template(drawing), {})


def test_nothing_is_fetched_from_a_network(template):
    with pytest.raises(TypesetFault, match=r"try\.typ"):
        typeset(template('#import "@preview/not-there:9.9.9": x'), {})
