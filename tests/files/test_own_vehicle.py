"""A job that holds its vehicle itself: whatever is renamed in it, everything that names it goes along."""

import tomllib
from pathlib import Path
from shutil import copytree

import pytest

from loadplan.files import read_job
from loadplan.files.job_file import open_job
from loadplan.files.own_vehicle import renamed, with_own_vehicle
from loadplan.files.toml_edit import Change, edited_text, quoted
from tests.files.toml_text import JOBS

RAW = tomllib.loads((JOBS / "cradle-unit.toml").read_text("utf-8"))
THINGS = [
    (kind, row, each["name"]) for kind in ("body", "part", "point", "joint") for row, each in enumerate(RAW[kind])
]
NEW = "called otherwise"


@pytest.mark.parametrize(("kind", "row", "name"), THINGS, ids=lambda each: str(each))
def test_a_thing_that_is_renamed_is_named_so_everywhere(tmp_path: Path, kind: str, row: int, name: str) -> None:
    """In the job that has every key: a place that still has the old name cannot be read."""
    path = copytree(JOBS, tmp_path / "jobs") / "full.toml"
    own = with_own_vehicle(open_job(path), path.read_text("utf-8"))
    edits = [Change(kind, row, "name", quoted(NEW)), *renamed(open_job(path, own), kind, name, NEW)]
    path.write_text(edited_text(own, edits, path), "utf-8")
    told = "loadplan/files/own_vehicle.py knows each key that names a thing"
    assert f'"{name}"' not in path.read_text("utf-8"), told
    read_job(path)
