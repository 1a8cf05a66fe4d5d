"""A layout written back: what stays, stays, however its name is written."""

from pathlib import Path

import pytest

import loadplan
from loadplan.files.write_layout import with_layout
from loadplan.planning.placement.layout_space import laid_out, space
from tests.checks.small_jobs import Raw, unit_job
from tests.reference.random_jobs import write_job

PLACES = {"A": [500, 500, 200], "B": [500, -500, 200], "C": [-500, 500, 200], "D": [-500, -500, 200]}


def one_kept(name: str) -> Raw:
    """Four stands, the first of which stays where it is."""
    job = unit_job(PLACES)
    job["point"] = [{"name": f"corner {each}", "body": "unit", "at": at} for each, at in PLACES.items()]
    job["support"][0] |= {"keep": True, "name": name, "height": 350}
    job["stage"][0]["in_place"] = [name, "B", "C", "D"]
    return job


@pytest.mark.parametrize("name", ["A", " A "])
def test_a_stand_that_stays_is_written_as_it_was(name: str, tmp_path: Path) -> None:
    path = write_job(one_kept(name), tmp_path)
    job = loadplan.read_job(path)
    kept = space(job)
    planned = laid_out(kept, tuple((point, job.supports[0].equipment) for point in kept.points[1:]))
    path.write_bytes(with_layout(path, path, planned))
    again = loadplan.read_job(path)
    assert again.supports == planned.supports
    assert again.supports[0].height == 0.35
    assert set(again.stages[0].in_place) == {each.name for each in planned.supports}


def test_a_job_without_stands_gets_its_first(tmp_path: Path) -> None:
    raw = one_kept("A")
    bare = {key: value for key, value in raw.items() if key != "support"} | {"stage": [{"name": "on stands"}]}
    path = write_job(bare, tmp_path)
    job = loadplan.read_job(path)
    planned = laid_out(space(job), tuple((point, job.shop.equipment[0]) for point in job.vehicle.points))
    path.write_bytes(with_layout(path, path, planned))
    assert loadplan.read_job(path).supports == planned.supports
