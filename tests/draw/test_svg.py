"""The writer: well-formed, named, stable, and black on paper."""

import re
from xml.etree import ElementTree as ET

import pytest

from witnessmark.draw import svg as writer
from witnessmark.draw.shape import Circle, Drawing, Group, Line, Rect, Text, path

SOME = Drawing(
    100, 50, "gap <0.05 & closing",
    (Group((Rect(0, 0, 40, 50, "wall"), Line(40, 0, 40, 50, "edge", start="arrow", end="dot")), 1.004, -0.001),
     Circle(60, 25, 6.2, "within_disc"), Text(70, 30, "5.940 < T", "label", halo=True, bold=True, italic=True),
     path("now_line", "M", 0, 0, "L", 9, 9)),
)  # fmt: skip
NS = "{http://www.w3.org/2000/svg}"


def test_a_drawing_has_a_role_and_a_name_that_is_escaped():
    root = ET.fromstring(writer.svg(SOME, "a"))
    title = root.find(f"{NS}title")
    assert root.get("role") == "img"
    assert title is not None
    assert title.text == "gap <0.05 & closing"
    assert root.get("aria-labelledby") == title.get("id") == "a-name"


def test_a_drawing_said_beside_itself_is_hidden_from_readers():
    root = ET.fromstring(writer.svg(SOME, named=False))
    assert root.get("aria-hidden") == "true"
    assert root.find(f"{NS}title") is None


def test_on_the_page_roles_are_classes_and_nothing_has_a_colour():
    page = writer.svg(SOME)
    assert 'class="wm-within_disc"' in page
    assert not re.search(r"#[0-9a-f]{3}|fill=|stroke=\"[^\"]", page)
    assert " style=" not in page  # a strict content policy refuses inline style


def test_on_paper_everything_is_black_grey_or_white_and_stands_by_itself():
    paper = writer.svg(SOME, printed=True)
    ET.fromstring(paper)
    colours = set(re.findall(r'(?:fill|stroke)="(#[^"]+)"', paper))
    assert colours <= {"#000", "#333", "#555", "#999", "#eee", "#fff"}
    assert "#555" in colours
    assert "class=" not in paper
    assert 'font-family="Atkinson Hyperlegible Next"' in paper


def test_paint_that_rings_a_part_is_black_on_paper():
    assert 'd="M0 0L9 9" fill="none" stroke="#000" stroke-width="6"' in writer.svg(SOME, printed=True)


def test_page_and_paper_have_one_geometry():
    def numbers(text):
        return re.findall(r'(?:x1|cx|r|d|transform)="([^"]*)"', text)

    assert numbers(writer.svg(SOME)) == numbers(writer.svg(SOME, printed=True))


def test_coordinates_are_rounded_to_a_hundredth_and_zero_has_no_sign():
    page = writer.svg(SOME)
    assert 'transform="translate(1,0)"' in page
    assert not re.search(r"\d\.\d{3,}", page.replace("5.940", ""))


def test_the_same_drawing_gives_the_same_bytes():
    assert writer.svg(SOME, "x") == writer.svg(SOME, "x")


def test_every_role_has_its_rule_and_no_rule_names_a_colour():
    rules = writer.css()
    assert all(f".wm-{role}{{" in rules for role in writer.PENS)
    assert not re.search(r"#[0-9a-f]{3}", rules)
    assert "forced-colors:active" in rules


def test_an_unknown_role_stops_at_once():
    with pytest.raises(KeyError, match="green"):
        writer.svg(Drawing(1, 1, "x", (Circle(0, 0, 1, "green"),)))


def test_the_recorder_tells_role_box_and_text_in_order():
    assert writer.record(SOME)[0] == ("wall", (1.0, 0.0, 41.0, 50.0), "")
    assert [text for _, _, text in writer.record(SOME) if text] == ["5.940 < T"]


def test_letters_with_a_halo_are_written_twice_on_paper():
    """A typesetter that does not know paint-order must not paint the halo over the letters."""
    assert writer.svg(SOME, printed=True).count("5.940 &lt; T") == 2
