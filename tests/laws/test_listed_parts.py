"""A law: a step that lists several parts is as bad as the worst of as many steps that take off one part each.

Random made-up jobs by seed; job 3 hangs on a mount only while all parts but the first are on.
"""

from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from loadplan import read_job
from loadplan.assess import assess_as_it_is
from loadplan.checks.check_table import CHECKS
from loadplan.model.job import Stage
from loadplan.model.verdict import StageAssessment, Verdict
from tests.reference.random_jobs import any_order, write_job

ON_THE_WAY = tuple(each.name for each in CHECKS if each.with_parts_on or each.pushed_on_the_way)


def worst(stages: tuple[StageAssessment, ...]) -> dict[tuple[str, str], Verdict]:
    """The worst verdict of each check made on the way, by what it is about; notes count as holds."""
    told: dict[tuple[str, str], Verdict] = {}
    for each in (finding for stage in stages for finding in stage.findings if finding.check in ON_THE_WAY):
        key = (each.check.value, each.subject)
        told[key] = max(told.get(key, Verdict.NOTE), each.verdict)
    return told


def in_turn(stage: Stage) -> tuple[Stage, ...]:
    """The step, and one after it for each part but the first."""
    return tuple(replace(stage if not place else Stage("off"), off=(name,)) for place, name in enumerate(stage.off))


@pytest.mark.parametrize("seed", [0, 3, 5, 8])
def test_parts_off_as_listed_are_judged_like_a_step_for_each(seed: int, tmp_path: Path) -> None:
    job = read_job(write_job(any_order(Random(seed)), tmp_path))
    index, stage = next((place, each) for place, each in enumerate(job.stages) if len(each.off) > 1)
    stage = replace(stage, any_order=False)
    before = job.stages[:index]
    listed = assess_as_it_is(replace(job, stages=(*before, stage))).stages[index:]
    apart = assess_as_it_is(replace(job, stages=(*before, *in_turn(stage)))).stages[index:]
    assert len(listed) == 1
    assert len(apart) == len(stage.off) > 1
    assert worst(listed) == worst(apart)
