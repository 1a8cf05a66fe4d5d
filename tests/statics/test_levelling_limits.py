"""A reset never loads a place beyond what it may take, nothing at all included."""

from dataclasses import replace

import pytest

from loadplan.model.job import Job
from loadplan.stages import states
from loadplan.statics.levelling import Reset, reset_for_level
from loadplan.statics.stage_sequence import solve_stages
from tests.statics import builders as make

LIMITS = [(None, True), (0.0, False), (1.0, False), (1e4, True)]


def leaning(limit: float | None) -> Job:
    """1000 kg on four stands, one of them 2 mm too high: lowered, it leaves more to the two beside it."""
    job = make.job([make.part(mass=1000.0)], make.stands(make.SQUARE))
    heights = (0.302, 0.300, 0.300, 0.300)
    supports = tuple(
        replace(each, height=height, limit=limit) for each, height in zip(job.supports, heights, strict=True)
    )
    return replace(job, supports=supports)


def reset(job: Job) -> Reset | None:
    (state,) = states(job)
    (statics,) = solve_stages(job, (state,))
    return reset_for_level(job, state, {each.name: each.gap for each in statics.supports}, "unit")


@pytest.mark.parametrize(("limit", "helps"), LIMITS)
def test_a_place_that_may_take_nothing_more_is_not_loaded_more(limit: float | None, helps: bool) -> None:  # noqa: FBT001
    assert (reset(leaning(limit)) is not None) is helps
