"""A what-if says of its step what the whole changed job says of it, and judges no other step for that."""

from pathlib import Path

import pytest

from loadplan import assess as assessing
from loadplan.assess import assess
from loadplan.checks.case import Case
from loadplan.files import read_job, shipped_folder
from loadplan.limits import GRAVITY
from loadplan.model.verdict import Verdict
from loadplan.planning.lesson.lesson_unit import carried, first_unit, stands_of, the_unit
from loadplan.planning.whatif import Shot, laid_on, laid_on_in_passing, without
from tests.checks.small_jobs import part, stands, unit_job
from tests.reference.random_jobs import write_job


def test_a_load_lies_on_top_of_its_own_assembly() -> None:
    body = "cradle"
    shot = first_unit(assess(read_job(shipped_folder("demo") / "front-unit.toml")), balanced=True)
    assert shot is not None
    over = stands_of(shot, (body,))[0]
    assert body in the_unit(shot).bodies
    loaded = laid_on(shot, over, 1.0)
    assert loaded is not None
    vehicle = loaded.assessment.job.vehicle
    (top,) = (each.top for each in vehicle.bodies if each.name == body)
    assert top is not None
    assert vehicle.parts[-1].at == (*over.at[:2], top)
    assert vehicle.parts[-1].body == body
    laid = vehicle.parts[-1]
    assert (laid.name, laid.mass, laid.mass_pm, laid.at_pm) == ("the load laid on", 1.0, 0.0, (0.0, 0.0, 0.0))
    again = laid_on(loaded, over, 1.0)
    assert again is not None
    assert again.assessment.job.vehicle.parts[-1].name == "the load laid on'"


def a_step(name: str) -> Shot:
    shot = first_unit(assess(read_job(shipped_folder("demo") / f"{name}.toml")), balanced=True)
    assert shot is not None
    return shot


def same(one: Shot, other: Shot) -> None:
    assert [each.says for each in one.stage.findings] == [each.says for each in other.stage.findings]
    assert one.stage.verdict is other.stage.verdict
    assert one.stage.state == other.stage.state
    loads = [[each.load and each.load.expected for each in shot.stage.statics.supports] for shot in (one, other)]
    assert loads[0] == pytest.approx(loads[1])


@pytest.mark.parametrize("name", ["front-unit", "us-units", "battery-pack-table"])
def test_the_changed_step_is_that_of_the_whole_changed_job(name: str) -> None:
    shot = a_step(name)
    first, *_, last = stands_of(shot, the_unit(shot).bodies)
    for changed in (without(shot, (last.name,)), laid_on(shot, first, 20.0)):
        assert changed is not None
        whole = assess(changed.assessment.job)
        same(changed, Shot(whole, changed.index))
        # What was changed is undone in the step behind it.
        in_place, by_whole = (
            [[each.name for each in stage.state.supports] for stage in told.stages]
            for told in (changed.assessment, whole)
        )
        assert in_place == by_whole


def test_a_what_if_judges_its_own_step_and_no_other(monkeypatch: pytest.MonkeyPatch) -> None:
    shot, judged = a_step("front-unit"), list[str]()
    judge = assessing.judge

    def told(case: Case, *checks: tuple[object, ...]) -> object:
        judged.append(case.state.name)
        return judge(case, *checks)  # type: ignore[arg-type]

    monkeypatch.setattr(assessing, "judge", told)
    changed = without(shot, ("E",))
    assert judged == [changed.stage.state.name] == ["Without E"]
    assert len(changed.assessment.stages) == len(changed.assessment.job.stages)


def test_a_load_on_an_assembly_of_which_nobody_knows_the_top_lies_at_its_stand(tmp_path: Path) -> None:
    """And the job with it comes to the worse of what it came to before, and of the step with the load."""
    places = {"A": [400, 300, 200], "B": [400, -300, 200], "C": [-400, 0, 200]}
    planned = assess(read_job(write_job(unit_job(places), tmp_path)))
    shot = Shot(planned, 0)
    assert planned.job.vehicle.bodies[0].top is None
    loaded = laid_on(shot, shot.stage.state.supports[2], 50_000.0)
    assert loaded is not None
    assert loaded.assessment.job.vehicle.parts[-1].at == (-0.4, 0.0, 0.2)
    assert loaded.stage.verdict is Verdict.STOP
    assert loaded.assessment.verdict is Verdict.STOP
    assert planned.verdict < Verdict.STOP
    assert loaded.group_of("unit") is loaded.stage.statics.groups[0]


PLACES = {"A": [400, 300, 200], "B": [400, -300, 200], "C": [-400, 0, 200]}


def test_a_load_is_laid_on_one_assembly_while_nobody_can_tell_what_another_puts_on_its_stands(tmp_path: Path) -> None:
    """The other tips over the stands behind its middle, and does so with the load and without."""
    behind = {"D": [1600, 300, 200], "E": [1600, -300, 200]}
    job = unit_job(
        PLACES,
        body=[{"name": "unit"}, {"name": "other"}],
        part=[part("block", "unit", 400, [0, 0, 500]), part("axle", "other", 200, [2000, 0, 500])],
        support=[*stands(PLACES, "unit"), *stands(behind, "other")],
        stage=[{"name": "on stands", "in_place": [*PLACES, *behind]}],
    )
    shot = Shot(assess(read_job(write_job(job, tmp_path))), 0)
    assert (shot.load("D"), shot.load("A") is None) == (None, False)
    for laid in (laid_on, laid_on_in_passing):
        loaded = laid(shot, shot.stage.state.supports[2], 20.0)
        assert loaded is not None
        more = [carried(loaded, name) - carried(shot, name) for name in "ABCDE"]
        assert more == pytest.approx([0.0, 0.0, 20.0 * GRAVITY, 0.0, 0.0], abs=1e-3)


@pytest.mark.parametrize(("ahead", "mass"), [(0, 20.0), (300, 100.0)])
def test_nothing_is_laid_on_an_assembly_that_was_weighed_whole_in_passing_either(
    tmp_path: Path, ahead: float, mass: float
) -> None:
    """Less the load it would weigh less in every step before, and with its middle 533 mm ahead it would tip there."""
    whole = {"mass": 400, "mass_pm": 4, "cg": [ahead, 0, 500], "cg_pm": 10}
    job = unit_job(PLACES, body=[{"name": "unit", "weighed": whole}])
    shot = Shot(assess(read_job(write_job(job, tmp_path))), 0)
    over = shot.stage.state.supports[2]
    assert shot.load("C") is not None
    assert (laid_on(shot, over, mass), laid_on_in_passing(shot, over, mass)) == (None, None)


def test_the_group_of_an_assembly_is_the_one_that_it_belongs_to() -> None:
    shot = Shot(assess(read_job(shipped_folder("demo") / "front-unit.toml")), 2)
    groups = shot.stage.statics.groups
    assert len(groups) > 1
    for group in groups:
        assert all(shot.group_of(body) is group for body in group.bodies)
