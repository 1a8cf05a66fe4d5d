"""What if: a job changed in one thing after one of its steps, and judged again as a whole.

Each change is a step of its own behind the one it asks about, and is undone by the step behind it, so that all
other steps stay what they are.
"""

from dataclasses import dataclass, replace

from loadplan.assess import assess
from loadplan.model.answer import GroupAnswer, Load
from loadplan.model.job import Job, Stage, Support
from loadplan.model.vehicle import Basis, Part
from loadplan.model.verdict import Assessment, StageAssessment

SAME = 1e-6
"""Loads that differ by less [N] are the same."""


@dataclass(frozen=True, slots=True)
class Shot:
    """One step of a judged job: what one picture shows.

    Attributes:
        assessment: The job, judged.
        index: Number of the step, from 0.
    """

    assessment: Assessment
    index: int

    @property
    def stage(self) -> StageAssessment:
        """The step."""
        return self.assessment.stages[self.index]

    def load(self, support: str) -> Load | None:
        """Return what a support carries, None where it carries nothing that can be told, or is not there."""
        return self.stage.statics.load(support)

    def group_of(self, body: str) -> GroupAnswer:
        """Return the group that a body belongs to."""
        return self.stage.statics.group_of(body)


def without(shot: Shot, supports: tuple[str, ...]) -> Shot:
    """Take supports away after a step.

    Args:
        shot: The step.
        supports: Names of what is taken away.

    Returns:
        The step without them.
    """
    away = Stage(f"Without {', '.join(supports)}", cleared=supports)
    return _inserted(shot, shot.assessment.job, away, Stage("As before", in_place=supports))


def laid_on(shot: Shot, support: Support, mass: float) -> Shot | None:
    """Lay a load on the unit right over a support after a step.

    Args:
        shot: The step.
        support: Where.
        mass: How much [kg].

    Returns:
        The step with it; None where the load cannot be told from the job, so that the steps before would change: an
        assembly weighed whole, or one that hangs on mounts whose force hangs on all that is on it.
    """
    job = shot.assessment.job
    taken = {part.name for part in job.vehicle.parts}
    name = "the load laid on"
    while name in taken:
        name += "'"
    top = next(each for each in job.vehicle.bodies if each.name == support.body).top
    on_top = support.at[0], support.at[1], support.at[2] if top is None else top
    extra = Part(name, support.body, mass, 0.0, on_top, (0.0, 0.0, 0.0), (), Basis.WEIGHED)
    vehicle = replace(job.vehicle, parts=(*job.vehicle.parts, extra))
    first = replace(job.stages[0], off=(*job.stages[0].off, extra.name))
    loaded = replace(job, vehicle=vehicle, stages=(first, *job.stages[1:]))
    laid = Stage(f"A load over {support.name}", on=(extra.name,))
    found = _inserted(shot, loaded, laid, Stage("As before", off=(extra.name,)))
    return found if _unchanged(shot, found.assessment) else None


def all_on(job: Job) -> Shot:
    """Judge a job before its first step: everything on, all of it on the lift.

    Args:
        job: A job with a lift that holds the vehicle from the start.

    Returns:
        That state.
    """
    return Shot(assess(replace(job, stages=(Stage("Everything on"),))), 0)


def _inserted(shot: Shot, job: Job, change: Stage, back: Stage) -> Shot:
    """Return the job judged with a change behind a step, and the step that undoes it."""
    after = shot.index + 1
    stages = (*job.stages[:after], change, back, *job.stages[after:])
    return Shot(assess(replace(job, stages=stages)), after)


def _unchanged(shot: Shot, changed: Assessment) -> bool:
    """Return whether the step reads as before in a job that only differs after it."""
    same = Shot(changed, shot.index)
    names = [each.name for each in shot.stage.statics.supports]
    pairs = [(shot.load(name), same.load(name)) for name in names]
    return all(
        one is other if one is None or other is None else abs(one.expected - other.expected) < SAME
        for one, other in pairs
    )
