"""An SVG tells how wide its words were laid out: in a program that lacks the font they still keep to their room."""

import re
from html import unescape

import pytest

from loadplan.report.drawing.inline_svg import for_page
from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.picture_file import picture
from loadplan.report.drawing.style import FONT, INK, MONO, Type
from loadplan.report.drawing.text_width import text_width

PLAIN, BOLD, EVEN = (
    Type(16, bold=False, colour=INK),
    Type(24, bold=True, colour=INK),
    Type(12, bold=False, colour=INK, family=MONO),
)
WORDS = {
    "When anything moves, stop.": PLAIN,
    "D 107 kg": BOLD,
    'A & B <"new">': PLAIN,
    "a b  c": EVEN,
    "cut off…": BOLD,
    "שלום": PLAIN,
}


def draw(paper: Paper) -> None:
    for number, (words, lettering) in enumerate(WORDS.items()):
        Pen(paper, Layer.PAGE, None).words((10.0, 250.0 - 40 * number), words, lettering)


@pytest.fixture(scope="module")
def svg() -> bytes:
    return picture((400.0, 300.0), "svg", draw)


def test_each_line_of_latin_letters_has_the_width_that_was_measured(svg: bytes) -> None:
    """SVG 1.1 (second edition), 10.5: `textLength` is the sum of all advances, in the drawing's units (points here)."""
    found = re.findall(r'<text textLength="([0-9.]+)" lengthAdjust="spacingAndGlyphs"[^>]*>([^<]*)<', svg.decode())
    told = {unescape(words): float(wide) for wide, words in found}
    assert set(told) == set(WORDS) - {"שלום"}
    assert "שלום" in svg.decode()
    for words, wide in told.items():
        assert wide * 4 / 3 == pytest.approx(text_width(words, WORDS[words]), abs=0.02), words
    assert FONT in svg.decode()


def test_a_page_that_writes_other_words_into_a_line_does_not_squeeze_them(svg: bytes) -> None:
    assert "textLength" not in for_page(svg)
    assert "D 107 kg</text>" in for_page(svg)
