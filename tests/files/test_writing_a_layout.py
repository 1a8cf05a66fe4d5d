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


@pytest.mark.parametrize("of_kept", [{}, {"A": 356}])
def test_a_height_set_anew_goes_with_its_stand_and_is_not_that_of_another_one_of_its_letter(
    of_kept: dict[str, int], tmp_path: Path
) -> None:
    """B is put aside and another B comes; what was set for it said nothing of that one, and of A it still does."""
    raw = one_kept("A")
    raw["stage"].append({"name": "raised", "set": {"B": 362} | of_kept})
    path = write_job(raw, tmp_path)
    job = loadplan.read_job(path)
    kept = space(job)
    planned = laid_out(kept, tuple((point, job.supports[0].equipment) for point in kept.points))
    assert "B" in {each.name for each in planned.supports}
    path.write_bytes(with_layout(path, path, planned))
    again = loadplan.read_job(path)
    assert {each.support: each.height for each in again.stages[1].set_anew} == pytest.approx({
        name: height / 1000 for name, height in of_kept.items()
    })
    assert again.stages == planned.stages
