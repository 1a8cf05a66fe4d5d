"""What readings teach, what a what-if comes to, and the trial on scales, held against kept texts."""

from dataclasses import replace
from pathlib import Path

import pytest

import loadplan
from loadplan.assess import assess
from loadplan.files import read_job, shipped_folder
from loadplan.limits import GRAVITY
from loadplan.model.job import StageReading
from loadplan.planning.lesson.lesson_unit import bearers, carried, first_unit, pieces_of, stands_of, the_unit, unit_of
from loadplan.planning.lesson.scale_trial import bench_trial, tray_job
from loadplan.planning.weight_learning import learn_weights, narrowed
from loadplan.planning.whatif import Shot, all_on, laid_on, laid_on_in_passing, without
from tests.kept_text import assert_kept
from tests.planning.test_learnt_bodies import three_parts
from tests.planning.test_weight_learning import on_three, scale
from tests.planning.written import record
from tests.reference.random_jobs import write_job

KEPT = Path(__file__).parent / "kept"


def test_what_three_scales_teach_is_as_it_is_kept(tmp_path: Path) -> None:
    job = on_three(tmp_path)
    told = []
    for scales in ("A", "AB", "ABC"):
        loads = {"A": 110.0, "B": 90.0, "C": 220.0}
        readings = (*(scale(name, loads[name]) for name in scales), StageReading("C", None, turns=False))
        found = learn_weights(replace(job, stages=(replace(job.stages[0], readings=readings),)), 0)
        now = found.assessment.job.vehicle
        told.append(record((found.stage, found.update, found.careful, found.assessment.verdict, now.parts, now.bodies)))
        told.append(record(narrowed(found.update.parts, job.vehicle)))
    assert_kept(KEPT / "learnt-of-one-part.txt", "\n".join(told))


def test_what_scales_teach_of_three_parts_together_is_as_it_is_kept(tmp_path: Path) -> None:
    job = loadplan.read_job(write_job(three_parts(off=200), tmp_path))
    loads = {each.name: each.load for each in assess(job).stages[0].statics.supports}
    readings = tuple(StageReading(name, load.expected, 2 * GRAVITY) for name, load in loads.items() if load)
    found = learn_weights(replace(job, stages=(replace(job.stages[0], readings=readings), *job.stages[1:])), 0)
    vehicle = found.assessment.job.vehicle
    told = record((found.update, found.careful, found.assessment.verdict, vehicle.parts, vehicle.bodies))
    assert_kept(KEPT / "learnt-of-three-parts.txt", told)


@pytest.mark.parametrize("name", ["front-unit", "battery-pack-table"])
def test_what_a_lesson_asks_about_is_as_it_is_kept(name: str) -> None:
    judged = assess(read_job(shipped_folder("demo") / f"{name}.toml"))
    shot = first_unit(judged, balanced=True)
    assert shot is not None
    unit = the_unit(shot)
    stands = stands_of(shot, unit.bodies)
    loads = tuple((each.name, carried(shot, each.name)) for each in (*stands, *judged.job.supports))
    changed = [
        without(shot, (stands[0].name,)),
        laid_on(shot, stands[1], 20.0),
        laid_on_in_passing(shot, stands[1], 20.0),
    ]
    told = [
        record((shot.index, unit.bodies, pieces_of(shot, unit), bearers(stands), loads, carried(shot, "nobody"))),
        record(tuple(each and (each.index, _steps(each), _loads(each)) for each in changed)),
        record(tuple(each.stage.state.name for each in (all_on(judged.job),))),
        record(first_unit(judged, balanced=False) is None),
    ]
    assert_kept(KEPT / f"lesson-{name}.txt", "\n".join(told))


def _steps(shot: object) -> object:
    assert isinstance(shot, Shot)
    return tuple((each.state.index, each.state.name, each.verdict) for each in shot.assessment.stages)


def _loads(shot: object) -> object:
    assert isinstance(shot, Shot)
    return tuple((each.name, each.load and each.load.expected) for each in shot.stage.statics.supports)


def test_the_trial_on_scales_is_as_it_is_kept() -> None:
    found = bench_trial()
    job = tray_job((0.02, -0.03), 0.7, 2.5)
    told = [
        record((found.own, found.least, found.pair, found.overhang)),
        record(tuple((each.spot, each.at, each.loads, each.inside) for each in found.trials)),
        record((job.title, job.source, job.date, job.bodies, job.limits, job.supports, job.us_units, job.assumed)),
        record((job.vehicle.parts, job.vehicle.bodies, job.shop.equipment, [each.name for each in job.stages])),
        record((job.stages[0].in_place, job.vehicle.name, job.vehicle.example)),
        record(tuple((each.rating, each.stiffness, each.base, each.saddle) for each in job.shop.equipment)),
    ]
    assert_kept(KEPT / "trial-on-scales.txt", "\n".join(told))


def test_without_stands_nothing_stands_on_its_own() -> None:
    job = read_job(shipped_folder("demo") / "front-unit.toml")
    shot = all_on(job)
    assert unit_of(shot) is None
    with pytest.raises(ValueError, match="nothing stands on its own in 'Everything on'"):
        the_unit(shot)
