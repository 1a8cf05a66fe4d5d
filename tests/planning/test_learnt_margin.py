"""The verdict with readings is never milder than the truth, also where every figure is at the end of its tolerance."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import loadplan
from loadplan.assess import assess
from loadplan.limits import GRAVITY
from loadplan.model.job import Job, StageReading
from loadplan.planning.weight_learning import learn_weights
from tests.checks.small_jobs import Raw, unit_job
from tests.reference.random_jobs import write_job
from tests.statics.learning import two_bodies

ROUNDING = 1e-6
"""Margins are found to a thousandth of a millimetre [m]."""


PLACES = {"A": [400, 300, 200], "B": [400, -300, 200], "C": [-400, 0, 200]}


def one_block() -> Raw:
    """400 kg, known to a fifth and 60 mm, on three stands."""
    part = {"name": "block", "body": "unit", "mass": 400, "mass_pm": 80, "at": [20, 10, 500], "at_pm": 60}
    return unit_job(PLACES, part=[part], limits={"uneven": 1, "uneven_touch": 1})


def on_three() -> Raw:
    """Three parts of one unit on three stands, each known to a tenth and 30 mm."""
    parts = [
        {"name": name, "body": "unit", "mass": mass, "mass_pm": "10 %", "at": at, "at_pm": 30}
        for name, mass, at in (
            ("block", 200, [60, 20, 500]),
            ("head", 60, [90, -30, 700]),
            ("gearbox", 90, [-200, 0, 450]),
        )
    ]
    return unit_job(PLACES, part=parts, limits={"uneven": 1, "uneven_touch": 1})  # type: ignore[arg-type]


JOBS = {"one block": one_block, "one on three": on_three, "two on six": two_bodies}
SCALES = {"one block": ["A", "B", "ABC"], "one on three": ["B", "C", "ABC"], "two on six": ["A", "E", "ABCDEF"]}


def at_the_end(job: Job, luck: np.random.Generator) -> Job:
    """The truth: every mass and place at the end of its plus or minus, and known exactly."""
    parts = []
    for part in job.vehicle.parts:
        x, y, z = part.at
        ends = luck.choice([-1.0, 1.0], 3)
        at = (x + ends[1] * part.at_pm[0], y + ends[2] * part.at_pm[1], z)
        exact = replace(part, mass=part.mass + ends[0] * part.mass_pm, mass_pm=0.0, at=at, at_pm=(0.0, 0.0, 0.0))
        parts.append(exact)
    return replace(job, vehicle=replace(job.vehicle, parts=tuple(parts)))


def margins(job: Job) -> dict[str, float]:
    found = assess(job).stages[0].statics.bodies
    return {each.name: each.worst_margin for each in found if each.worst_margin is not None}


def truly_read(truth: Job, names: str, luck: np.random.Generator) -> tuple[StageReading, ...]:
    """What scales read of it: each off by no more than its plus or minus, most by nearly all of it."""
    told = []
    for name in names:
        load = assess(truth).stages[0].statics.load(name)
        assert load is not None
        pm = 2 * GRAVITY
        told.append(StageReading(name, max(load.expected + pm * luck.choice([-0.99, 0.3, 0.99]), 0.0), pm))
    return tuple(told)


@pytest.mark.slow
@pytest.mark.parametrize("kind", JOBS)
def test_a_margin_that_was_learnt_is_never_milder_than_the_truth(kind: str, tmp_path: Path) -> None:
    job = loadplan.read_job(write_job(JOBS[kind](), tmp_path))
    luck, used, better = np.random.default_rng(16), 0, 0
    before = margins(job)
    for number in range(30):
        truth = at_the_end(job, luck)
        readings = truly_read(truth, SCALES[kind][number % 3], luck)
        stages = (replace(job.stages[0], readings=readings), *job.stages[1:])
        found = learn_weights(replace(job, stages=stages), 0)
        learnt, true = margins(found.assessment.job), margins(truth)
        for body, margin in learnt.items():
            assert margin <= true[body] + ROUNDING, (number, body)
        used += found.update.consistent
        better += any(learnt[body] > before[body] + 1e-3 for body in learnt)
    assert used >= 10
    assert kind != "one block" or better >= 5, "scales under all stands make a margin known better"
