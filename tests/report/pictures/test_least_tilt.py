"""Which way of going over tilts least, and what is drawn of it."""

import pytest

from loadplan.assess import assess
from loadplan.files import read_job, shipped_folder
from loadplan.model.verdict import Assessment
from loadplan.report.pictures.elevation_levels import levels_of
from loadplan.report.pictures.elevation_shapes import Sight, ViewSide, triangle
from loadplan.report.pictures.least_tilt import least_tilt
from loadplan.report.pictures.plan_content import unit_scene, vehicle_scene
from loadplan.report.pictures.tipping_edge import RigidShown
from tests.demo.jobs import names

JOBS = names()


@pytest.fixture(scope="module")
def told() -> Assessment:
    return assess(read_job(shipped_folder("demo") / "front-unit.toml"))


@pytest.mark.parametrize("job", JOBS)
def test_the_least_tilt_is_the_computed_tip_angle(job: str) -> None:
    for stage in assess(read_job(shipped_folder("demo") / f"{job}.toml")).stages:
        modes = [mode for group in stage.statics.groups for mode in group.modes]
        for body in stage.statics.bodies:
            least = least_tilt([mode for mode in modes if body.name in dict(mode.margins)])
            if body.tip_angle is not None:
                assert least is not None
                assert least.tip_angle == pytest.approx(body.tip_angle)


def wholes(told: Assessment, index: int) -> dict[str, RigidShown]:
    return {whole.name: whole for whole in unit_scene(told, told.stages[index]).wholes}


def test_a_tilt_is_told_about_what_it_turns_about_not_about_the_nearest_edge(told: Assessment) -> None:
    cradle = wholes(told, 1)["cradle"]
    assert cradle.tilts
    assert cradle.nearest
    assert cradle.tilts.about == ("A", "C", "F")
    assert cradle.nearest.about == ("A", "B", "F")


def test_a_triangle_is_drawn_only_where_its_angle_is_the_one_told(told: Assessment) -> None:
    stage = told.stages[1]
    sight = Sight(ViewSide.FRONT, unit_scene(told, stage), levels_of(told.job, stage), told.job)
    drawn = {whole.name: triangle(sight, whole) is not None for whole in sight.scene.wholes}
    assert drawn == {"cradle": False, "powertrain": True}


def test_what_hangs_on_the_vehicle_goes_over_with_it_and_has_no_edge_of_its_own(told: Assessment) -> None:
    hung = wholes(told, 0)["powertrain"]
    assert hung.carrier == "shell"
    assert (hung.edges, hung.tilts) == ((), None)
    vehicle = vehicle_scene(told, told.stages[0])
    assert vehicle
    assert all(whole.edges and not whole.carrier for whole in vehicle.wholes)
    assert wholes(told, 1)["powertrain"].carrier == ""
