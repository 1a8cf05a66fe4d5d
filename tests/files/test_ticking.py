"""Parts ticked off and on again in a step that already says the opposite."""

from pathlib import Path

import pytest

from loadplan.files import read_job
from loadplan.files.edit_stands import ticked
from loadplan.files.job_file import open_job
from loadplan.files.toml_edit import edited_text
from loadplan.model.job import Job
from loadplan.stages import states
from tests.files.builders import small, write

STAGES = [
    {"name": "down", "in_place": ["A"]},
    {"name": "head off", "off": ["head"]},
    {"name": "head on", "on": ["head"]},
    {"name": "later"},
]


def after(folder: Path, stage: int, *, off: bool) -> Job:
    path = write(folder, small(stage=STAGES))
    file = open_job(path)
    return read_job(path, text=edited_text(path.read_text("utf-8"), ticked(file, "head", stage, off=off), path))


@pytest.mark.parametrize(
    ("stage", "off", "there"),
    [
        (2, True, (True, False, False, False)),
        (1, False, (True, True, True, True)),
        (0, True, (False, False, True, True)),
        (3, True, (True, False, True, False)),
    ],
)
def test_from_that_step_on_it_is_as_ticked(tmp_path: Path, stage: int, *, off: bool, there: tuple[bool, ...]) -> None:
    assert tuple("head" in state.on for state in states(after(tmp_path, stage, off=off))) == there


def test_a_part_that_comes_back_in_the_step_is_only_taken_out_of_its_list(tmp_path: Path) -> None:
    job = after(tmp_path, 2, off=True)
    assert [(each.off, each.on) for each in job.stages] == [((), ()), (("head",), ()), ((), ()), ((), ())]


def test_a_part_that_comes_off_in_the_last_step_just_stays_on(tmp_path: Path) -> None:
    path = write(tmp_path, small(stage=STAGES[:2]))
    edits = ticked(open_job(path), "head", 1, off=False)
    job = read_job(path, text=edited_text(path.read_text("utf-8"), edits, path))
    assert [(each.off, each.on) for each in job.stages] == [((), ()), ((), ())]
