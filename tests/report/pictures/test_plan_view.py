"""The plan: to scale, front up, readable, without overlaps, and the same bytes for the same input."""

import hashlib
import os
import re
import subprocess
import sys
from dataclasses import replace
from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree

import pytest
from matplotlib.axes import Axes
from matplotlib.patches import Polygon

from loadplan.model.vehicle import Basis
from loadplan.model.verdict import Assessment, Verdict
from loadplan.report.drawing.style import EDGE, INK, SHEET, SOFT
from loadplan.report.pictures.plan_view import draw_plan
from loadplan.report.pictures.render import PAGE, drawn_files, picture_tasks, plan_picture
from loadplan.report.pictures.verdict_colours import livery
from loadplan.report.words.cautions import ONE_LINE
from loadplan.report.words.vocabulary import FIRST_LIFT
from loadplan.units import System
from tests.report.builders import ROCKS, TIPS, assessment
from tests.report.painted import painted

STAGES = range(5)
SMALLEST = 15
"""Least height of letters [px of 1/96 in]."""


def drawn(index: int, units: System = System.METRIC, whole: Assessment | None = None) -> Axes:
    return painted(PAGE, lambda paper: draw_plan(paper, whole or assessment(), index, units))


def words(ax: Axes) -> list[str]:
    return [each.get_text() for each in ax.texts if each.get_text()]


def place(ax: Axes, text: str) -> tuple[float, float]:
    """Return where large words stand: the letter beside a stand, not that on a ruler."""
    return next(each.get_position() for each in ax.texts if each.get_text() == text and each.get_fontsize() > 18)


def squares(ax: Axes) -> list[float]:
    """Return the sides of all squares on the page [px]."""
    sides = []
    for patch in ax.patches:
        if isinstance(patch, Polygon) and len(patch.get_xy()) == 5:
            (x0, y0), _, (x1, y1) = patch.get_xy()[:3]
            if abs(abs(x1 - x0) - abs(y1 - y0)) < 1e-6:
                sides.append(abs(x1 - x0))
    return sides


def test_bases_and_saddles_are_to_the_scale_of_the_bar() -> None:
    ax = drawn(1)
    assert "200 mm" in words(ax)
    halves = [
        patch.get_xy()[1][0] - patch.get_xy()[0][0]
        for patch in ax.patches
        if isinstance(patch, Polygon)
        and len(patch.get_xy()) == 5
        and abs(patch.get_xy()[2][1] - patch.get_xy()[0][1] - 8) < 1e-6
    ]
    metre = halves[0] / 0.1
    assert sum(abs(side - 0.2 * metre) < 1e-6 for side in squares(ax)) == 6
    assert sum(abs(side - 0.09 * metre) < 1e-6 for side in squares(ax)) == 6


def test_front_is_up_and_left_is_left() -> None:
    ax = drawn(1)
    a, b, c = (place(ax, letter) for letter in "ABC")
    assert a[0] < b[0]
    assert a[1] > c[1]


@pytest.mark.parametrize("units", list(System))
@pytest.mark.parametrize("index", STAGES)
def test_no_words_overlap_are_cut_off_or_too_small(index: int, units: System) -> None:
    ax = drawn(index, units)
    renderer = ax.get_figure().canvas.get_renderer()
    boxes = [(each.get_text(), each.get_window_extent(renderer)) for each in ax.texts if each.get_text()]
    for (first, one), (second, other) in combinations(boxes, 2):
        wide = min(one.x1, other.x1) - max(one.x0, other.x0)
        high = min(one.y1, other.y1) - max(one.y0, other.y0)
        assert wide < 1 or high < 4, f"{first!r} and {second!r}"
    for text, box in boxes:
        assert box.x0 >= 0, text
        assert box.x1 <= PAGE[0], text
        assert box.y0 >= 0, text
    assert min(each.get_fontsize() / 0.75 for each in ax.texts) >= SMALLEST


def test_each_stand_has_its_letter_load_and_tape() -> None:
    told = words(drawn(1))
    for text in ("A", "20 kg", "173 kg", "330 mm front", "300 mm back", "420 mm", "left", "rear roll link"):
        assert text in told


def test_us_readers_get_pounds_inches_and_their_words() -> None:
    told = words(drawn(1, System.US))
    for text in ("44 lb", "13 in front", "16 1/2 in", "center line", "12 in" if "12 in" in told else "6 in"):
        assert text in told
    assert not any(re.search(r"\d (mm|kg)\b", text) for text in told if "50 mm" not in text)


def test_the_nearest_edge_has_its_distance_and_what_it_turns_about() -> None:
    told = words(drawn(1))
    assert "150 mm to tipping" in told
    assert "about E and rear roll link" in told


def test_out_of_balance_loads_are_absent_and_it_says_how_far_past_the_edge() -> None:
    told = words(drawn(TIPS))
    assert "54 mm past the edge" in told
    assert "173 kg" not in told
    assert "-" not in told
    assert "E" in told


def test_what_can_rock_says_so() -> None:
    told = words(drawn(ROCKS))
    assert "free to rock" in told
    assert "about this line" in told


@pytest.mark.slow
def test_verdict_basis_and_cautions_stand_on_every_plan() -> None:
    for index in STAGES:
        told = words(drawn(index))
        assert FIRST_LIFT in told
        assert "weights: data sheet" in told
        assert ONE_LINE.split(". ")[0] in " ".join(told)
    assert "CAUTION" in words(drawn(1))
    assert "STOP" in words(drawn(TIPS))
    assert "FOR PRACTICE: STOP" in words(drawn(TIPS, whole=assessment(basis=Basis.EXAMPLE)))


def luminance(colour: str) -> float:
    """Return the relative luminance of a colour (WCAG 2.2, relative luminance)."""
    parts = [int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5)]
    red, green, blue = [each / 12.92 if each <= 0.04045 else ((each + 0.055) / 1.055) ** 2.4 for each in parts]
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(first: str, second: str) -> float:
    light, dark = sorted((luminance(first), luminance(second)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_words_stand_out_from_their_ground() -> None:
    """Contrast of 4.5 or more for words (WCAG 2.2, criterion 1.4.3), 3 for lines (1.4.11)."""
    for verdict in Verdict:
        look = livery(verdict)
        assert contrast(look.fill, look.text) >= 4.5
        assert contrast(look.line, SHEET) >= 4.5
    assert contrast(INK, SHEET) >= 4.5
    assert contrast(SOFT, SHEET) >= 4.5
    assert contrast(EDGE, SHEET) >= 3


def test_each_verdict_has_its_own_texture_and_colour() -> None:
    assert len({livery(verdict).hatch for verdict in Verdict}) == len(Verdict)
    assert len({livery(verdict).fill for verdict in Verdict}) == len(Verdict)


DIGEST = """
import hashlib
from loadplan.report.pictures.render import drawn_files, picture_tasks, plan_picture
from loadplan.units import System
from tests.report.builders import assessment
for kind in ("svg", "png", "pdf"):
    print(hashlib.sha256(plan_picture(assessment(), 1, kind, System.METRIC)).hexdigest())
"""


@pytest.mark.slow
def test_the_same_input_gives_the_same_bytes_whatever_the_machines_settings(tmp_path: Path) -> None:
    (tmp_path / "matplotlibrc").write_text("svg.fonttype: path\nfont.size: 30\nlines.antialiased: False\n")
    environment = {**os.environ, "PYTHONHASHSEED": "12345", "MPLCONFIGDIR": str(tmp_path), "TZ": "Asia/Tokyo"}
    other = subprocess.run([sys.executable, "-c", DIGEST], env=environment, capture_output=True, text=True, check=True)
    here = [
        hashlib.sha256(plan_picture(assessment(), 1, kind, System.METRIC)).hexdigest() for kind in ("svg", "png", "pdf")
    ]
    assert other.stdout.split() == here


def test_an_svg_has_text_as_text_and_no_date_or_maker() -> None:
    svg = plan_picture(assessment(), 1, "svg", System.METRIC).decode()
    root = ElementTree.fromstring(svg)
    texts = [each.text for each in root.iter("{http://www.w3.org/2000/svg}text")]
    assert "173 kg" in texts
    assert not re.search(r"matplotlib\.org|20\d\d-\d\d-\d\dT", svg)


def test_a_pdf_has_no_date_or_maker() -> None:
    pdf = plan_picture(assessment(), 1, "pdf", System.METRIC)
    assert pdf.startswith(b"%PDF")
    assert b"CreationDate" not in pdf
    assert b"Producer" not in pdf


def test_dollars_wide_letters_and_control_characters_in_names_do_no_harm() -> None:
    whole = assessment()
    odd = replace(whole, job=replace(whole.job, title="$x^2$ costs $5 _\\alpha 架台 \x1b[31m \ufffe & <b>"))
    svg = plan_picture(odd, 1, "svg", System.METRIC).decode()
    assert "$x^2$ costs $5" in svg
    ElementTree.fromstring(svg)


def test_on_anybodys_axes_a_dollar_is_a_dollar() -> None:
    assert not any(each.get_parse_math() for each in drawn(1).texts)


def test_pictures_are_named_by_number_and_words_of_the_step() -> None:
    assert list(drawn_files(assessment(), picture_tasks(assessment(), [1, 2], "svg", System.METRIC))) == [
        "step-02-unbolted-shell-50-mm-up-plan.svg",
        "step-02-unbolted-shell-50-mm-up-side.svg",
        "step-02-unbolted-shell-50-mm-up-front.svg",
        "step-02-unbolted-shell-50-mm-up-space.svg",
        "step-03-overnight-plan.svg",
        "step-03-overnight-side.svg",
        "step-03-overnight-front.svg",
        "step-03-overnight-space.svg",
    ]
