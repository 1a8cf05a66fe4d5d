"""Heights at which mounts let go without a drop: so set, and the lift so far down, nothing moves when it is parted."""

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from loadplan.files import read_job
from loadplan.model.job import Job
from loadplan.stages import states
from loadplan.statics.release_heights import Release, release_heights
from loadplan.statics.stage_sequence import solve_stages

DEMO = Path(__file__).parents[2] / "demo"


def released(job: Job) -> tuple[Release, ...]:
    followed = states(job)
    return release_heights(job, followed, solve_stages(job, followed))


def so_set(job: Job, found: tuple[Release, ...]) -> Job:
    """The job with its stands and its lift as they were found."""
    by = {each.support: each.by for release in found for each in release.raises}
    supports = tuple(
        each if each.height is None else replace(each, height=each.height + by.get(each.name, 0.0))
        for each in job.supports
    )
    (level,) = {each.lowered for each in found}
    downs = [each.set_down is not None for each in solve_stages(job, states(job))]
    stages = tuple(replace(each, lowered=level) if down else each for each, down in zip(job.stages, downs, strict=True))
    return replace(job, supports=supports, stages=stages)


def largest_move(job: Job, stage: str, stands: set[str]) -> float:
    """How far any of the stands' places sinks or rises in a stage [m]."""
    for state, statics in zip(states(job), solve_stages(job, states(job)), strict=True):
        if state.name == stage:
            return max(abs(each.fall) for each in statics.change.drops if each.place in stands)
    raise AssertionError(stage)


@pytest.mark.parametrize("name", ["front-unit.toml", "battery-pack-stands.toml", "drive-unit-on-oil.toml"])
def test_so_set_nothing_moves_when_the_unit_comes_free(name: str) -> None:
    job = read_job(DEMO / name)
    found = released(job)
    stands = {each.support for release in found for each in release.raises}
    assert largest_move(job, found[0].stage, stands) > 1e-4
    assert largest_move(so_set(job, found), found[0].stage, stands) < 2e-5


@pytest.mark.parametrize("name", ["front-unit.toml", "battery-pack-stands.toml", "drive-unit-on-oil.toml"])
def test_of_stands_that_would_all_go_up_the_highest_stays_where_it_is(name: str) -> None:
    """All stands that are set let the unit go: the lift takes what they would go up alike."""
    job = read_job(DEMO / name)
    by = {each.support: each.by for release in released(job) for each in release.raises}
    first = released(job)[0].stage
    before = next(one for one, other in pairwise(states(job)) if other.name == first)
    rises = {each.name: each.set_height - each.at[2] for each in before.bearing if each.set_height and not each.on}
    assert set(rises) == set(by)
    assert max(rise + by[name] for name, rise in rises.items()) == pytest.approx(max(rises.values()), abs=1e-9)


def test_where_no_step_parts_anything_from_a_lift_there_is_nothing_to_tell() -> None:
    assert released(read_job(DEMO / "heights-open.toml")) == ()
