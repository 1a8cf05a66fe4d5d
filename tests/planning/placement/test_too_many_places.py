"""How many candidate places are too many to be held against each other."""

import shutil
from pathlib import Path

import pytest

from loadplan.errors import InputError
from loadplan.files import shipped_folder
from loadplan.files.job_file import open_job
from loadplan.files.own_vehicle import with_own_vehicle
from loadplan.planning.placement import blocked_modes
from loadplan.planning.placement.blocked_modes import MOST_HELD, cover, motion_count
from loadplan.planning.placement.layout_space import Space, space
from tests.command_line import Run
from tests.planning.jobs import scattered


def held(here: Space) -> int:
    return motion_count(here) * len(here.points)


@pytest.mark.parametrize(("bodies", "taken", "refused"), [(1, 430, 432), (2, 124, 126)])
def test_one_assembly_may_have_more_places_than_two_that_are_linked(bodies: int, taken: int, refused: int) -> None:
    assert held(space(scattered(0, taken, bodies))) <= MOST_HELD < held(space(scattered(0, refused, bodies)))


def test_more_places_than_there_is_memory_for_are_refused_before_any_is_looked_at(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    here = space(scattered(0, 8))
    monkeypatch.setattr(blocked_modes, "MOST_HELD", held(here))
    assert len(cover(here).blocked) == 8
    monkeypatch.setattr(blocked_modes, "MOST_HELD", held(here) - 1)
    monkeypatch.setattr(blocked_modes, "_motions", pytest.fail)
    with pytest.raises(InputError, match="8 places are too many to be held against each other") as refused:
        cover(here)
    (fault,) = refused.value.faults
    assert (fault.file, fault.table, fault.key) == (here.job.source, "", "point"), "who made it named no file"
    assert fault.message.endswith(
        "leave out those that no stand will go to. Under linked assemblies fewer can be looked at than under one"
    )


def test_the_refusal_names_the_file_in_which_the_places_stand(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    vehicle, job = tmp_path / "van.toml", tmp_path / "job.toml"
    shutil.copyfile(shipped_folder("vehicles") / "van-longitudinal-diesel-rwd.toml", vehicle)
    shutil.copyfile(shipped_folder("demo") / "shop.toml", tmp_path / "shop.toml")
    text = (shipped_folder("demo") / "front-unit.toml").read_text("utf-8")
    job.write_text(text.replace('"van-longitudinal-diesel-rwd"', '"van"'), "utf-8")
    monkeypatch.setattr(blocked_modes, "MOST_HELD", 1)
    for options in ([], ["--json"]):
        code, out, err = run("place", job, *options)
        assert (code, out) == (2, "")
        assert err.startswith(f"{vehicle}, point: "), "as every other fault of files is told"
    own = with_own_vehicle(open_job(job), job.read_text("utf-8"))
    job.write_text(own, "utf-8")
    assert run("place", job).err.startswith(f"{job}, point: ")
