"""The pens of the pages, by contrast: worked out from the tokens of the style sheet and the pens of the drawings."""

import re

import pytest

from witnessmark.draw.svg import PENS
from witnessmark.shell.web.assets import FOLDER

STYLE = (FOLDER / "style.css").read_text("utf-8")
# Table ruling and the two strips under other marks carry no meaning of their own.
MEANS_NOTHING = {"hair", "bluew", "film", "key", "sheet"}


def tokens(block: str) -> dict[str, str]:
    return dict(re.findall(r"--(\w+):(#[0-9a-f]{6})", block))


BLOCKS = re.findall(r"\{\s*color-scheme:(light|dark);(.*?)\}", STYLE, re.DOTALL)
LIGHTS = {f"{name} {n}": tokens(block) for n, (name, block) in enumerate(BLOCKS)}


def luminance(colour: str) -> float:
    """Relative luminance [1]. Source: WCAG 2.2, definition of relative luminance."""
    parts = [int(colour[n : n + 2], 16) / 255 for n in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio [1]. Source: WCAG 2.2, definition of contrast ratio."""
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.truth("WCAG 2.2: white on black is 21 to 1; #777 on white just misses 4.5")
def test_the_ratio_is_the_one_of_the_guideline():
    assert contrast("#ffffff", "#000000") == pytest.approx(21)
    assert 4.47 < contrast("#777777", "#ffffff") < 4.5


def test_by_day_and_twice_at_night_every_pen_is_there():
    assert len(LIGHTS) == 3
    names = [set(light) for light in LIGHTS.values()]
    assert names[0] == names[1] == names[2] and {"ink", "ink2", "blue", "red", "hatch", "now", "onnow"} <= names[0]
    assert LIGHTS["dark 1"] == LIGHTS["dark 2"], "the night of the system and the night of the hand differ"


@pytest.mark.parametrize("light", LIGHTS)
@pytest.mark.parametrize("ground", ["sheet", "key"])
def test_letters_have_4_5_to_1_on_paper_and_on_keys(light, ground):
    pens = LIGHTS[light]
    thin = {pen: ratio for pen in ("ink", "ink2", "blue", "red") if (ratio := contrast(pens[pen], pens[ground])) < 4.5}
    assert not thin


@pytest.mark.parametrize("light", LIGHTS)
def test_letters_on_paint_and_on_the_new_limit_are_read(light):
    pens = LIGHTS[light]
    assert contrast(pens["onnow"], pens["now"]) >= 4.5
    assert contrast(pens["ink"], pens["bluew"]) >= 4.5
    assert contrast(pens["sheet"], pens["ink"]) >= 4.5, "letters of the main key"


@pytest.mark.parametrize("light", LIGHTS)
@pytest.mark.parametrize("role", sorted(PENS))
def test_every_line_and_surface_of_a_drawing_that_says_something_stands_off_its_paper(light, role):
    pens, pen = LIGHTS[light], PENS[role]
    for token in {pen.stroke, pen.fill} - {""} - MEANS_NOTHING:
        if token == "onnow":
            assert contrast(pens["onnow"], pens["now"]) >= 4.5
        elif token == "now":
            assert "dark" in light or contrast(pens["ink"], pens["now"]) >= 3, "paint by day goes with ink beside it"
        else:
            assert contrast(pens[token], pens["sheet"]) >= 3, f"{role}: {token}"


@pytest.mark.parametrize("light", LIGHTS)
def test_a_letter_of_a_drawing_has_4_5_to_1(light):
    pens = LIGHTS[light]
    for role in ("ink", "label", "within", "out", "close"):
        assert contrast(pens[PENS[role].fill], pens["sheet"]) >= 4.5, role
