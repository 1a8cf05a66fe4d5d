"""The unit of a lesson: of what stands on its own that on most stands, and by hand what carries it. Made-up jobs."""

from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.assess import assess
from loadplan.files import read_job
from loadplan.limits import GRAVITY
from loadplan.model.job import Stage
from loadplan.model.shop import EquipmentKind
from loadplan.planning.lesson.lesson_unit import (
    bearers,
    carried,
    first_unit,
    pieces_of,
    stands_of,
    the_unit,
    unit_of,
)
from loadplan.planning.whatif import Shot
from tests.checks.small_jobs import lifted_job, part, stands, unit_job
from tests.reference.random_jobs import write_job

THREE = {"A": [400, 300, 200], "B": [400, -300, 200], "C": [-400, 0, 200]}
FOUR = {"E": [2400, 300, 200], "F": [2400, -300, 200], "G": [1600, 300, 200], "H": [1600, -300, 200]}


def step(folder: Path, *, lone: dict[str, list[float]] = THREE, other: dict[str, list[float]] = FOUR) -> Shot:
    """A unit of 400 kg, and another of 200 kg 2 m in front of it, each on stands of its own."""
    job = unit_job(
        lone,
        body=[{"name": "unit"}, {"name": "other"}],
        part=[part("block", "unit", 400, [0, 0, 500]), part("axle", "other", 200, [2000, 0, 500])],
        support=[*stands(lone, "unit"), *stands(other, "other")],
        stage=[{"name": "on stands", "in_place": [*lone, *other]}],
    )
    return Shot(assess(read_job(write_job(job, folder))), 0)


def test_of_several_what_stands_on_most_stands_is_the_unit(tmp_path: Path) -> None:
    shot = step(tmp_path)
    assert the_unit(shot).bodies == ("other",)
    assert [each.name for each in stands_of(shot, ("other",))] == list("EFGH")
    assert [each.name for each in stands_of(shot, ("unit", "other"))] == list("ABCEFGH")
    assert [carried(shot, each) for each in "AE"] == pytest.approx([100 * GRAVITY, 50 * GRAVITY])
    assert carried(shot, "nothing of that name") == 0.0


def test_three_stands_are_enough_and_two_are_not(tmp_path: Path) -> None:
    two = {name: FOUR[name] for name in "EH"}
    assert the_unit(step(tmp_path, other=two)).bodies == ("unit",)
    neither = step(tmp_path, lone={name: THREE[name] for name in "BC"}, other=two)
    assert unit_of(neither) is None
    with pytest.raises(ValueError, match="nothing stands on its own in 'on stands'"):
        the_unit(neither)
    assert first_unit(neither.assessment, balanced=True) is None


def test_hoists_arms_and_what_stands_by_carry_no_unit(tmp_path: Path) -> None:
    shot = step(tmp_path)
    stage = shot.stage
    hoist = replace(stage.state.supports[3].equipment, kind=EquipmentKind.HOIST)
    arm = replace(hoist, kind=EquipmentKind.ARM)
    changed = [
        replace(each, equipment=kind) for each, kind in zip(stage.state.supports[3:5], (hoist, arm), strict=True)
    ]
    by = replace(stage.state.supports[5], standby=True)
    state = replace(stage.state, supports=(*stage.state.supports[:3], *changed, by, stage.state.supports[6]))
    other = Shot(replace(shot.assessment, stages=(replace(stage, state=state),)), 0)
    assert [each.name for each in stands_of(other, ("unit", "other"))] == list("ABCH")
    assert the_unit(other).bodies == ("unit",)


def test_what_the_lift_holds_is_none_and_rigid_pieces_are_told_apart(tmp_path: Path) -> None:
    """Bolted to the shell the unit hangs with it; unbolted it stands on its own."""
    planned = assess(read_job(write_job(lifted_job(), tmp_path)))
    assert unit_of(Shot(planned, 0)) is None
    shot = first_unit(planned, balanced=True)
    assert shot is not None
    assert (shot.stage.state.name, the_unit(shot).bodies) == ("unbolted", ("unit",))
    (group,) = Shot(planned, 0).stage.statics.groups
    assert pieces_of(Shot(planned, 0), group) == (group.bodies,)
    assert set(group.bodies) == {"shell", "unit"}
    assert pieces_of(shot, the_unit(shot)) == (("unit",),)


def test_a_step_in_which_it_is_rolled_or_tips_is_passed_over(tmp_path: Path) -> None:
    shot = step(tmp_path)
    (first,) = shot.assessment.stages
    moved = replace(first, state=replace(first.state, stage=replace(first.state.stage, moved=True)))
    later = replace(first, state=replace(first.state, index=1, stage=Stage("later")))
    found = first_unit(replace(shot.assessment, stages=(moved, later)), balanced=True)
    assert found is not None
    assert found.index == 1
    assert first_unit(shot.assessment, balanced=False) is None


def test_places_of_one_piece_are_no_stands(tmp_path: Path) -> None:
    those = step(tmp_path).stage.state.supports[:2]
    assert bearers(those) == "stands"
    assert bearers([replace(each, piece="table") for each in those]) == "places"
