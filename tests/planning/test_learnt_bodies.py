"""Bodies learnt as wholes: tighter than part by part, and never milder than the truth."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import loadplan
from loadplan.assess import assess
from loadplan.limits import GRAVITY
from loadplan.model.job import Job, StageReading
from loadplan.model.vehicle import Basis
from loadplan.model.verdict import Verdict
from loadplan.planning import weight_learning
from loadplan.planning.learnt_bodies import with_learnt_bodies
from loadplan.planning.weight_learning import WeightLearning, learn_weights
from tests.checks.small_jobs import Raw, unit_job
from tests.planning.test_learnt_margin import PLACES, at_the_end, truly_read
from tests.reference.random_jobs import write_job
from tests.statics.learning import two_bodies

ROUNDING = 1e-6
"""Margins are found to a thousandth of a millimetre [m]."""


def three_parts(off: float = 30) -> Raw:
    """Three parts of one unit on three stands, each known to a tenth; one of them comes off in the second step."""
    parts = [
        {"name": name, "body": "unit", "mass": mass, "mass_pm": "10 %", "at": at, "at_pm": off}
        for name, mass, at in (
            ("block", 200, [60, 20, 500]),
            ("head", 60, [90, -30, 700]),
            ("gearbox", 90, [-200, 0, 450]),
        )
    ]
    stages = [{"name": "set down", "in_place": ["A", "B", "C"]}, {"name": "head off", "off": ["head"]}]
    return unit_job(PLACES, part=parts, stage=stages, limits={"uneven": 1, "uneven_touch": 1})  # type: ignore[arg-type]


def margins(job: Job) -> list[float]:
    stages = assess(job).stages
    return [each.worst_margin for stage in stages for each in stage.statics.bodies if each.worst_margin is not None]


def learnt(job: Job, readings: tuple[StageReading, ...]) -> WeightLearning:
    stages = (replace(job.stages[0], readings=readings), *job.stages[1:])
    return learn_weights(replace(job, stages=stages), 0)


@pytest.fixture
def wholes(monkeypatch: pytest.MonkeyPatch) -> list[Job | None]:
    """What was learnt of whole bodies, each time, whether or not the verdict is the milder for it."""
    made: list[Job | None] = []

    def kept(job: Job, *of: object) -> Job | None:
        made.append(with_learnt_bodies(job, *of))  # type: ignore[arg-type]
        return made[-1]

    monkeypatch.setattr(weight_learning, "with_learnt_bodies", kept)
    return made


@pytest.mark.slow
@pytest.mark.parametrize(
    ("raw", "scales", "tighter_at_least"),
    [(three_parts(), ("ABC", "AB", "C"), 3), (two_bodies(), ("ABCDEF", "EF", "ABCD"), 0)],
)
def test_a_margin_of_a_whole_is_never_milder_than_the_truth(
    raw: Raw, scales: tuple[str, ...], tighter_at_least: int, tmp_path: Path, wholes: list[Job | None]
) -> None:
    """Draws with every figure at an end of its tolerance, and scales nearly as far off as they may be.

    What mounts carry is not weighed: two bodies that hang together are told by the scales as one, and no tighter.
    """
    job = loadplan.read_job(write_job(raw, tmp_path))
    job = replace(job, limits=replace(job.limits, margin=0.4))  # so that none holds, and both ways are judged
    luck, used, tighter = np.random.default_rng(61), 0, 0
    for number in range(24):
        truth = at_the_end(job, luck)
        found = learnt(job, truly_read(truth, scales[number % 3], luck))
        if not (found.update.consistent and wholes and wholes[-1]):
            continue
        used += 1
        now, true, by_parts = margins(wholes[-1]), margins(truth), margins(found.assessment.job)
        wholes.clear()
        assert len(now) == len(true) == len(by_parts)
        assert all(margin <= most + ROUNDING for margin, most in zip(now, true, strict=True)), number
        tighter += any(mine > theirs + 2e-3 for mine, theirs in zip(now, by_parts, strict=True))
    assert used >= 8
    assert tighter >= tighter_at_least


def test_scales_under_all_stands_turn_a_stop_into_none(tmp_path: Path) -> None:
    """Part by part it may tip: each may be 200 mm off. Together they cannot: three scales tell where the whole is."""
    job = loadplan.read_job(write_job(three_parts(off=200), tmp_path))
    assert assess(job).verdict is Verdict.STOP
    loads = {each.name: each.load for each in assess(job).stages[0].statics.supports}
    readings = tuple(StageReading(name, load.expected, 2 * GRAVITY) for name, load in loads.items() if load)
    found = learnt(job, readings)
    first = found.assessment.stages[0].statics.bodies[0].worst_margin
    assert first is not None
    assert first > 0.05
    assert found.assessment.basis is Basis.GUESS
