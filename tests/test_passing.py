"""A stage looked at in passing: what a finger sees is what the whole look says, for every demo job and many moves."""

from dataclasses import replace
from random import Random

import pytest

from loadplan.assess import Preview, assess
from loadplan.model.job import Job, Support
from loadplan.model.verdict import StageAssessment
from tests.demo.jobs import job as job_named
from tests.demo.jobs import names

AGREES = 1e-9
"""Share of the heaviest load by which both looks may differ: rounding."""

LEANS = 2e-3
"""By how much a worst margin may look larger [m]: of the demos' widest, 784 mm, by 1.2 mm."""

CHOSEN = 1e-4
"""By how much it may look smaller [m]: the few corners of a glance are chosen by its own contact (0.04 mm seen)."""

NEARLY = 2e-2
"""The same once a support was moved: its place also changes, a little, how the stages before leave the lot."""


@pytest.mark.parametrize("name", names())
def test_an_unmoved_stage_reads_as_in_the_whole_look(name: str) -> None:
    job = job_named(name)
    for index, whole in enumerate(assess(job).stages):
        passing = Preview(job, index).look(whole.state.supports)
        assert _told(passing) == pytest.approx(_told(whole), rel=AGREES, abs=AGREES)
        assert_margins_seen(passing, whole)
        assert passing.verdict <= whole.verdict


@pytest.mark.slow
@pytest.mark.parametrize("name", names())
def test_a_moved_support_reads_as_in_the_whole_look(name: str) -> None:
    job = job_named(name)
    chance = Random(7)
    for index in range(len(job.stages)):
        passing = Preview(job, index)
        stage = assess(job).stages[index]
        own = [each for each in stage.state.supports if not each.is_arm]
        for support in own[:2]:
            moved = _moved(support, chance)
            whole = assess(_with(job, moved)).stages[index]
            seen = passing.look(tuple(moved if each is support else each for each in stage.state.supports))
            assert [each.balanced for each in seen.statics.bodies] == [each.balanced for each in whole.statics.bodies]
            assert_margins_seen(seen, whole)
            heaviest = max(_told(whole), default=0.0)
            assert _told(seen) == pytest.approx(_told(whole), abs=NEARLY * heaviest)
            assert seen.verdict <= whole.verdict


def test_a_saddle_that_was_brought_up_touches_at_its_new_place() -> None:
    """The unit hangs askew as it comes down, so the same saddle touches lower or higher somewhere else."""
    given = job_named("front-unit")
    job = replace(given, supports=tuple(replace(each, height=None, shim=None) for each in given.supports))
    stage = assess(job).stages[2]
    for support in [each for each in stage.state.supports if each.name in {"A", "B", "C", "D"}]:
        x, y, z = support.at
        moved = replace(support, at=(x + 0.08, y - 0.08, z))
        whole = assess(_with(job, moved)).stages[2]
        seen = Preview(job, 2).look(tuple(moved if each is support else each for each in stage.state.supports))
        assert _told(seen) == pytest.approx(_told(whole), abs=2e-3 * max(_told(whole)))


def test_a_glance_has_no_range() -> None:
    job = job_named("front-unit")
    stage = assess(job).stages[2]
    seen = Preview(job, 2).look(stage.state.supports)
    loads = [each.load for each in seen.statics.supports if each.load is not None]
    assert loads
    assert all(load.range is None for load in loads)
    assert all(not (group.lost or group.sunk or group.snags or group.pushes) for group in seen.statics.groups)


def _moved(support: Support, chance: Random) -> Support:
    x, y, z = support.at
    return replace(support, at=(x + chance.uniform(-0.03, 0.03), y + chance.uniform(-0.03, 0.03), z))


def _with(job: Job, support: Support) -> Job:
    return replace(job, supports=tuple(support if each.name == support.name else each for each in job.supports))


def _told(stage: StageAssessment) -> list[float]:
    return [each.load.expected for each in stage.statics.supports if each.load is not None]


def assert_margins_seen(seen: StageAssessment, whole: StageAssessment) -> None:
    """Of an uneven floor a glance sees the corners that tilt most: a worst margin may look a little larger."""
    for passing, other in zip(seen.statics.bodies, whole.statics.bodies, strict=True):
        assert passing.margin == other.margin
        assert (passing.worst_margin is None) == (other.worst_margin is None)
        if passing.worst_margin is not None and other.worst_margin is not None:
            assert other.worst_margin - CHOSEN <= passing.worst_margin <= other.worst_margin + LEANS
