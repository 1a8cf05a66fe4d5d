"""A technician's ten mistakes: each is told with what is wrong and what would be right, in files and in answers."""

from collections.abc import Callable
from pathlib import Path

import pytest

from loadplan.assess import assess
from loadplan.errors import InputError
from loadplan.files import read_job
from loadplan.files.safe_write import write_new
from loadplan.model.verdict import Assessment
from loadplan.planning.interview.first_job import Named
from loadplan.planning.interview.new_files import Beside, files_of_answers
from loadplan.planning.interview.question_flow import questions, with_answer
from loadplan.planning.settings.set_heights import plan_heights
from loadplan.report.text.terminal_colour import Colours
from loadplan.report.text.terminal_page import page
from loadplan.units import System
from tests.planning.typed import METRIC, all_typed

JOB, SHOP, VEHICLE = "job.toml", "shop.toml", "blue-hatchback.toml"

Edit = Callable[[str, str, str], None]
"""Writes something else in place of a text in one of the files."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with a job that somebody answered for."""
    _, kept = all_typed(METRIC)
    write_new(tmp_path, files_of_answers(kept, Beside(JOB, Named("", ""), lambda _: False)))
    return tmp_path


@pytest.fixture
def edit(folder: Path) -> Edit:
    def change(name: str, old: str, new: str) -> None:
        text = (folder / name).read_text("utf-8")
        assert old in text
        (folder / name).write_text(text.replace(old, new, 1), "utf-8")

    return change


def refused(folder: Path, name: str = JOB) -> str:
    with pytest.raises(InputError) as error:
        read_job(folder / name)
    return str(error.value)


def told(folder: Path) -> str:
    found: Assessment = assess(read_job(folder / JOB))
    return " ".join(page(found, System.METRIC, Colours.PLAIN).split())


def answered(key: str, text: str) -> str:
    """What the interview says to an answer."""
    _, kept = all_typed(METRIC)
    question = next(each for each in questions(kept) if each.key == key)
    return with_answer(kept, question, text).says


@pytest.mark.parametrize("day", ["20.11.2026", "20/11/2026", "11-20-2026", "2026-11-31"])
def test_1_a_day_in_another_writing(folder: Path, edit: Edit, day: str) -> None:
    (line,) = [line for line in (folder / JOB).read_text("utf-8").splitlines() if line.startswith("date")]
    edit(JOB, line, f"date = {day}")
    assert "a day is written with its year first, 2026-11-20" in refused(folder)


def test_1_a_day_that_may_be_two() -> None:
    assert "may be 4 Mar 2026 or 3 Apr 2026: write the month in letters" in answered("days", "3/4/2026")


@pytest.mark.parametrize(
    ("base", "hint"),
    [('"60 x 40"', "has two sizes: write them as a list, [60, 40]"), ("60 x 40", "are written as a list, [60, 40]")],
)
def test_2_two_sizes_with_a_cross(folder: Path, edit: Edit, base: str, hint: str) -> None:
    edit(SHOP, "base = [170, 170]", f"base = {base}")
    assert hint in refused(folder)


def test_2_in_answers_a_cross_is_understood() -> None:
    assert answered("gear1.base", "300 x 200") == ""
    assert "40 mm is odd for a foot" in answered("gear1.base", "60 x 40"), (
        "understood, and asked about: it is too small"
    )


@pytest.mark.parametrize(
    ("number", "hint"), [("290,5", "a number takes a point"), ('"290,5 mm"', "has a comma in its number")]
)
def test_3_a_comma_in_a_number(folder: Path, edit: Edit, number: str, hint: str) -> None:
    edit(SHOP, "from = 290", f"from = {number}")
    assert hint in refused(folder)


def test_3_a_comma_in_an_answer() -> None:
    assert "a number takes a point, 12.5" in answered("hung1", "120 front, 12,5 left, 450 above")


@pytest.mark.parametrize("number", ["290mm", "290 mm", '11"'])
def test_4_a_unit_without_quotes(folder: Path, edit: Edit, number: str) -> None:
    edit(SHOP, "from = 290", f"from = {number}")
    assert "a number with its unit stands in quotes" in refused(folder)


def test_4_a_unit_that_is_missing(folder: Path, edit: Edit) -> None:
    edit(SHOP, "from = 290", 'from = "290"')
    assert "heights.from: has no unit" in refused(folder)


@pytest.mark.parametrize("number", ["290mm", "290 mm"])
def test_4_a_unit_may_be_glued_or_not(folder: Path, edit: Edit, number: str) -> None:
    edit(SHOP, "from = 290", f'from = "{number}"')
    assert read_job(folder / JOB).supports[0].equipment.heights is not None


def test_5_left_and_right_swapped(folder: Path, edit: Edit) -> None:
    edit(VEHICLE, "at = [215, -280, 220]", "at = [215, 280, 220]")
    assert "Nothing is above E: the middle of its saddle is" in told(folder)
    assert "left and right swapped" in answered("standE", "engine, 215 front, 280 left, 40 above")


def test_6_a_stand_named_twice(folder: Path, edit: Edit) -> None:
    edit(JOB, 'name = "B"', 'name = "A"')
    assert 'support 2 "A", name: is used twice, first in support 1 "A": each support needs its own' in refused(folder)


def test_6_a_tag_named_twice() -> None:
    assert "one tag stands twice" in answered("gear1.owned", "S1 S2 S2")


def test_7_a_height_above_the_stands_range(folder: Path) -> None:
    plan = plan_heights(read_job(folder / JOB)).job
    text = (folder / JOB).read_text("utf-8")
    for support in plan.supports[:6]:
        height = 480 if support.name == "A" else round(1000 * (support.height or 0))
        text = text.replace(f'name = "{support.name}"\n', f'name = "{support.name}"\nheight = {height}\n', 1)
    (folder / JOB).write_text(text, "utf-8")
    assert "A cannot be set to 480 mm: a stand goes from 290 mm to 430 mm." in told(folder)


@pytest.mark.parametrize(
    ("key", "text", "hint"),
    [
        ("gear1.mark", "3 each", "write 3 tonne if that is what its plate says"),
        ("lift.rating", "875", "is odd for a vehicle lift"),
        ("gear1.mark", "35 tonne", "is odd for the stand"),
    ],
)
def test_8_a_rating_from_the_wrong_plate(key: str, text: str, hint: str) -> None:
    assert hint in answered(key, text)


def test_9_a_point_under_the_wrong_assembly(folder: Path, edit: Edit) -> None:
    old = 'name = "place E"\nbody = "powertrain"'
    edit(VEHICLE, old, old.replace("powertrain", "subframe"))
    assert 'must name a part of "subframe": "dressed engine" belongs to "powertrain"' in refused(folder)
    assert "or under the subframe instead?" in answered("standE", "engine, 320 behind, 100 right, 0")


@pytest.mark.parametrize("saved", ["job", "job.toml.txt"])
def test_10_a_file_saved_without_its_ending(folder: Path, saved: str) -> None:
    (folder / JOB).rename(folder / saved)
    assert f"{saved} is there, saved without its ending: rename it job.toml" in refused(folder)


def test_10_a_name_given_without_its_ending(folder: Path) -> None:
    assert "job.toml is there: give the name with its ending" in refused(folder, "job")


def test_10_a_vehicle_saved_without_its_ending(folder: Path) -> None:
    (folder / VEHICLE).rename(folder / "blue-hatchback")
    assert "blue-hatchback is there, saved without its ending: rename it blue-hatchback.toml" in refused(folder)
