"""What if: a job changed in one thing after one of its steps, and that judged again.

Each change is a step of its own behind the one it asks about, and is undone by the step behind it, so that all
other steps stay what they are: they are taken as they were judged, and only the changed step is solved.
"""

from dataclasses import dataclass, replace

from loadplan.assess import Preview, assess, assess_step, worst_of
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
    changed = _inserted(shot, shot.assessment.job, away, Stage("As before", in_place=supports))
    return changed.judged(assess_step(changed.job, changed.index))


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
    changed = _with_load(shot, support, mass)
    if not _unchanged(shot, changed.job):
        return None
    return changed.judged(assess_step(changed.job, changed.index))


def laid_on_in_passing(shot: Shot, support: Support, mass: float) -> Shot | None:
    """Lay a load on the unit right over a support after a step, and see in passing what comes of it.

    Args:
        shot: The step.
        support: Where.
        mass: How much [kg].

    Returns:
        What `laid_on` returns, but for all that `Preview` leaves out: expected loads and margins are the same.
    """
    changed = _with_load(shot, support, mass)
    return changed.judged(Preview(changed.job, changed.index).as_it_is()) if _unchanged(shot, changed.job) else None


def all_on(job: Job) -> Shot:
    """Judge a job before its first step: everything on, all of it on the lift.

    Args:
        job: A job with a lift that holds the vehicle from the start.

    Returns:
        That state.
    """
    return Shot(assess(replace(job, stages=(Stage("Everything on"),))), 0)


@dataclass(frozen=True, slots=True)
class _Changed:
    """A job with a change behind one of its steps, and the step that undoes it.

    Attributes:
        shot: The step.
        job: The job with both.
        index: Number of the change, from 0.
    """

    shot: Shot
    job: Job
    index: int

    def judged(self, changed: StageAssessment) -> Shot:
        """Put the changed step between the others, which stay as they were.

        Args:
            changed: It, as it was judged.

        Returns:
            The changed step.
        """
        before = self.shot.assessment
        undone = replace(self.shot.stage.state, stage=self.job.stages[self.index + 1])
        later = (replace(self.shot.stage, state=undone), *before.stages[self.index :])
        moved = (
            replace(each, state=replace(each.state, index=index))
            for index, each in enumerate(later, start=self.index + 1)
        )
        verdict = worst_of([before.verdict, changed.verdict])
        stages = (*before.stages[: self.index], changed, *moved)
        return Shot(replace(before, job=self.job, verdict=verdict, stages=stages, narrowest=None), self.index)


def _inserted(shot: Shot, job: Job, change: Stage, back: Stage) -> _Changed:
    """Return a job with a change behind a step, and the step that undoes it."""
    after = shot.index + 1
    stages = (*job.stages[:after], change, back, *job.stages[after:])
    return _Changed(shot, replace(job, stages=stages), after)


def _with_load(shot: Shot, support: Support, mass: float) -> _Changed:
    """Return the job with a load that is laid on over a support after a step, and taken off again."""
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
    return _inserted(shot, loaded, laid, Stage("As before", off=(extra.name,)))


def _unchanged(shot: Shot, job: Job) -> bool:
    """Return whether the step reads as before in a job that only differs after it."""
    same = Preview(job, shot.index).as_it_is().statics
    names = [each.name for each in shot.stage.statics.supports]
    pairs = [(shot.load(name), same.load(name)) for name in names]
    return all(
        one is other if one is None or other is None else abs(one.expected - other.expected) < SAME
        for one, other in pairs
    )
