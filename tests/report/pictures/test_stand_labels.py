"""Every label of a stand stands nearer to it than to any other stand, or a line leads from it to its stand."""

from collections.abc import Callable
from math import hypot
from pathlib import Path

import pytest

from loadplan.assess import assess
from loadplan.files import read_job, shipped_folder
from loadplan.model.verdict import Assessment
from loadplan.planning.lesson.scale_trial import bench_trial
from loadplan.report.drawing import text_boxes
from loadplan.report.drawing.label_placement import Placed
from loadplan.report.drawing.pen import Pen
from loadplan.report.drawing.text_boxes import Tag
from loadplan.report.drawing.view import Box
from loadplan.report.lesson.lesson_plan import plan_lesson
from loadplan.report.lesson.trainer_set import lesson_files
from loadplan.report.pictures.axonometric_view import AZIMUTH
from loadplan.report.pictures.elevation_shapes import ViewSide
from loadplan.report.pictures.render import elevation_picture, plan_picture, space_picture, walk_picture
from loadplan.report.sheet.floor_sheet import PaperSize, first_page, sheet_pdf
from loadplan.units import System

QUICK = ("front-unit", "rocking-on-two-stands")
OTHERS = sorted(
    each.stem
    for each in shipped_folder("demo").glob("*.toml")
    if each.stem not in {*QUICK, "shop", "readings"} and "job" in each.read_text("utf-8").split("\n\n")[0]
)
Drawn = list[tuple[Tag, Placed]]


@pytest.fixture
def drawn(monkeypatch: pytest.MonkeyPatch) -> Drawn:
    """Hear which words went where."""
    heard: Drawn = []
    really: Callable[[Pen, Tag, Placed], None] = text_boxes.draw_tag

    def hear(pen: Pen, tag: Tag, spot: Placed) -> None:
        heard.append((tag, spot))
        really(pen, tag, spot)

    monkeypatch.setattr(text_boxes, "draw_tag", hear)
    return heard


def gap(one: Box, other: Box) -> float:
    wide = max(one.left - other.right, other.left - one.right, 0.0)
    high = max(one.bottom - other.top, other.bottom - one.top, 0.0)
    return hypot(wide, high)


def mistaken(drawn: Drawn) -> list[str]:
    """Return the words that stand at a wrong stand, without a line to their own."""
    return [
        " ".join(word for row in tag.rows for word, _ in row)
        for tag, spot in drawn
        if spot.leader is None and any(gap(spot.box, each) < gap(spot.box, tag.anchor) for each in tag.rivals)
    ]


def led_over(drawn: Drawn) -> list[str]:
    """Return the words whose line runs over another stand on its way to their own."""
    found = []
    for tag, spot in drawn:
        if spot.leader:
            (x, y), (across, along) = spot.leader
            beads = [(x + (across - x) * share / 50, y + (along - y) * share / 50) for share in range(1, 50)]
            apart = [each for each in tag.rivals if not each.overlap(tag.anchor)]
            found += [tag for each in apart if any(each.grown(-2).holds(bead) for bead in beads)]
    return [" ".join(word for row in tag.rows for word, _ in row) for tag in found]


def draw_all(told: Assessment) -> None:
    sheet_pdf(told, PaperSize.A4, System.METRIC)
    for index in range(len(told.stages)):
        plan_picture(told, index, "svg", System.METRIC)
        for seen in ViewSide:
            elevation_picture(told, (index, seen), "svg", System.METRIC)
        space_picture(told, (index, AZIMUTH), "svg", System.METRIC)
    walk_picture(told, "svg", System.METRIC)


def check(file: Path, drawn: Drawn) -> None:
    told = assess(read_job(file))
    draw_all(told)
    assert sum(bool(tag.rivals) for tag, _ in drawn) > 3 * len(told.stages)
    assert mistaken(drawn) == []
    assert led_over(drawn) == []


@pytest.mark.slow
@pytest.mark.parametrize("name", QUICK[:1])
def test_no_label_of_a_lesson_stands_at_another_stand(name: str, drawn: Drawn) -> None:
    lesson_files(plan_lesson(assess(read_job(shipped_folder("demo") / f"{name}.toml"))), bench_trial(), System.METRIC)
    assert sum(bool(tag.rivals) for tag, _ in drawn) > 3
    assert mistaken(drawn) == []


@pytest.mark.slow
@pytest.mark.parametrize("name", QUICK)
def test_no_label_stands_at_another_stand(name: str, drawn: Drawn) -> None:
    check(shipped_folder("demo") / f"{name}.toml", drawn)


@pytest.mark.slow
@pytest.mark.parametrize("name", OTHERS)
def test_no_label_of_any_other_demo_stands_at_another_stand(name: str, drawn: Drawn) -> None:
    check(shipped_folder("demo") / f"{name}.toml", drawn)


def test_no_line_of_the_first_page_runs_over_another_stand_where_names_are_long(tmp_path: Path, drawn: Drawn) -> None:
    for name in ("front-unit.toml", "shop.toml"):
        text = (shipped_folder("demo") / name).read_text("utf-8")
        if name == "front-unit.toml":
            for letter in "ABCDEF":
                text = text.replace(f'"{letter}"', f'"{letter} stand with a name of forty characters"')
        (tmp_path / name).write_text(text, "utf-8")
    first = first_page(assess(read_job(tmp_path / "front-unit.toml")), PaperSize.LETTER, System.US).decode()
    assert led_over(drawn) == []
    assert mistaken(drawn) == []
    assert all(f">{number} {letter} stand" in first for number, letter in enumerate("ABCDEF", start=1))
    assert first.count(">to touch<") == 2
