"""Steps of a job file changed one at a time: comments go with their step, and what is done once is not done twice."""

import shutil
from pathlib import Path

import pytest

from loadplan.errors import InputError
from loadplan.files.edit_stages import IN_PLACE, UNDONE, step_added, step_moved, step_removed, toggled
from loadplan.files.job_file import open_job
from loadplan.files.toml_edit import Swapped, edited_text
from tests.tracked import shipped

THREE = """a = 1

# of the first
[[stage]]
name = "one" # beside it

# of the second
# in two lines
[[stage]]
name = "two"

[[support]]
name = "between"

# of the third
[[stage]]
name = "three"
"""
PLACE = Path("job.toml")


@pytest.mark.parametrize("row", [0, 1])
def test_steps_change_places_with_their_comments_and_back(row: int) -> None:
    moved = edited_text(THREE, [Swapped("stage", row)], PLACE)
    assert edited_text(moved, [Swapped("stage", row)], PLACE) == THREE
    for comment, name in (("first", '"one"'), ("in two lines", '"two"'), ("third", '"three"')):
        assert f"{comment}\n[[stage]]\nname = {name}" in moved
    assert "beside it" in moved
    assert moved.count("\n\n\n") == 0


def test_the_last_step_has_none_behind_it() -> None:
    with pytest.raises(InputError, match="cannot be changed"):
        edited_text(THREE, [Swapped("stage", 2)], PLACE)


def test_each_step_of_the_demo_moves_and_returns(tmp_path: Path) -> None:
    path = _demo(tmp_path)
    text = path.read_text("utf-8")
    for stage in range(8):
        there = edited_text(text, step_moved(stage, 1), path)
        assert there != text
        assert edited_text(there, step_moved(stage + 1, -1), path) == text


def test_a_step_added_can_be_taken_out_again(tmp_path: Path) -> None:
    path = _demo(tmp_path)
    text = path.read_text("utf-8")
    added = edited_text(text, step_added('the "new" one', 2), path)
    assert open_job(path, added).stages.tables[3].name == 'the "new" one'
    assert edited_text(added, step_removed(3), path) == text


def test_what_is_undone_earlier_is_not_undone_again(tmp_path: Path) -> None:
    path = _demo(tmp_path)
    file = open_job(path)
    tables = file.stages.tables
    stage = next(number for number, each in enumerate(tables) if each.undone)
    name = tables[stage].undone[0]
    earlier = edited_text(path.read_text("utf-8"), toggled(file, name, stage - 1, UNDONE), path)
    after = open_job(path, earlier).stages.tables
    assert name in after[stage - 1].undone
    assert name not in after[stage].undone
    back = edited_text(earlier, toggled(open_job(path, earlier), name, stage - 1, UNDONE.reversed), path)
    assert [set(each.undone) for each in open_job(path, back).stages.tables] == [set(each.undone) for each in tables]


def test_a_stand_that_comes_one_step_later_comes_there(tmp_path: Path) -> None:
    path = _demo(tmp_path)
    file = open_job(path)
    name = file.stages.tables[0].in_place[0]
    later = open_job(
        path, edited_text(path.read_text("utf-8"), toggled(file, name, 0, IN_PLACE.reversed), path)
    ).stages.tables
    assert name not in later[0].in_place
    assert name in later[1].in_place


def _demo(folder: Path) -> Path:
    for source in shipped("demo", "*.toml"):
        shutil.copy(source, folder)
    return folder / "front-unit.toml"
