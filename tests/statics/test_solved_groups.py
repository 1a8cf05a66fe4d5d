"""Groups that were solved once are not solved again for a job that differs elsewhere, and what differs is."""

from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.files import read_job
from loadplan.model.answer import Statics
from loadplan.model.job import Job
from loadplan.stages import states
from loadplan.statics.equilibrium import Frame
from loadplan.statics.group import glance
from loadplan.statics.resting_state import Settings, Solved
from loadplan.statics.solved_groups import SolvedGroups
from loadplan.statics.stage_sequence import solve_stages_by

FRONT_UNIT = Path(__file__).parents[2] / "demo" / "front-unit.toml"


def _raised(job: Job, name: str, by: float) -> Job:
    """The job with one stand set higher."""
    return replace(
        job,
        supports=tuple(
            replace(each, height=(each.height or 0.0) + by) if each.name == name else each for each in job.supports
        ),
    )


def _margins(stages: tuple[Statics, ...]) -> list[float]:
    return [each.worst_margin for stage in stages for each in stage.bodies if each.worst_margin is not None]


def test_what_a_change_leaves_as_it_was_is_not_solved_again_and_all_is_as_without_memory() -> None:
    solved: list[Frame] = []

    def counted(frame: Frame, settings: Settings) -> Solved:
        solved.append(frame)
        return glance(frame, settings)

    job = read_job(FRONT_UNIT)
    groups = SolvedGroups(counted, job, states(job))
    first = len(solved)
    changed = _raised(job, "E", 0.04)
    found = tuple(groups.stages(changed, states(changed)))
    again = len(solved) - first
    assert 0 < again < first
    alone = solve_stages_by(glance, changed, states(changed), lambda _: None)
    assert _margins(found) == pytest.approx(_margins(alone))
    assert _margins(found) != pytest.approx(_margins(solve_stages_by(glance, job, states(job), lambda _: None)))


def test_stages_are_solved_only_as_far_as_they_are_asked_for() -> None:
    job = read_job(FRONT_UNIT)
    solved: list[Frame] = []

    def counted(frame: Frame, settings: Settings) -> Solved:
        solved.append(frame)
        return glance(frame, settings)

    groups = SolvedGroups(counted, job, states(job))
    first = len(solved)
    changed = _raised(job, "E", 0.04)
    next(groups.stages(changed, states(changed)))
    assert len(solved) == first + 1
