"""Questions about the work: a part comes off, a pull on a bar, a hose that was forgotten."""

from dataclasses import dataclass
from math import hypot

from loadplan.model.answer import BodyAnswer, PullAnswer, PushAnswer, Snag
from loadplan.model.vehicle import PlanPoint
from loadplan.model.verdict import Assessment, StageAssessment
from loadplan.planning.lesson.lesson_unit import the_unit
from loadplan.planning.whatif import Shot

STILL = 0.001
"""A centre of gravity that moves by less [m] does not walk."""


@dataclass(frozen=True, slots=True)
class PartsOff:
    """Parts come off, and the centre of gravity walks.

    Attributes:
        before: The step before.
        after: The step in which they come off.
        parts: What comes off.
        was: The assembly before.
        now: The assembly after.
    """

    before: Shot
    after: Shot
    parts: tuple[str, ...]
    was: BodyAnswer
    now: BodyAnswer

    @property
    def walk(self) -> PlanPoint:
        """How far the centre of gravity walks forward and to the left [m]."""
        return self.now.cg[0] - self.was.cg[0], self.now.cg[1] - self.was.cg[1]


@dataclass(frozen=True, slots=True)
class Bar:
    """A pull on a bar: the job's own, or where it has none the hardest push that the unit stands.

    Attributes:
        shot: The step.
        answer: What was computed.
        asked: The pull of one person on a bar [N], which a push is held against.
    """

    shot: Shot
    answer: PullAnswer | PushAnswer
    asked: float


@dataclass(frozen=True, slots=True)
class Hose:
    """A forgotten hose: the least upward pull [N] at a loosened joint that tips the unit."""

    shot: Shot
    snag: Snag
    pull: float
    at: PlanPoint


def ask_parts_off(assessment: Assessment) -> PartsOff | None:
    """Ask where a centre of gravity walks as parts come off.

    Args:
        assessment: The job, judged.

    Returns:
        The first step in which one walks on what stands in balance; None where none does.
    """
    for before, after in zip(assessment.stages, assessment.stages[1:], strict=False):
        walked = _walked(assessment, before, after)
        if walked:
            parts = _parts(assessment, after, walked[0].name)
            return PartsOff(_shot(assessment, before), _shot(assessment, after), parts, *walked)
    return None


def ask_bar(assessment: Assessment, unit: Shot | None) -> Bar | None:
    """Ask how hard a pull the unit stands.

    Args:
        assessment: The job, judged.
        unit: A step in which something stands on its own, None where there is none.

    Returns:
        The question with its answer; None where nothing can be pulled.
    """
    asked = assessment.job.limits.bar
    for stage in assessment.stages:
        if stage.statics.pull is not None and stage.statics.pull.factor is not None:
            return Bar(Shot(assessment, stage.state.index), stage.statics.pull, asked)
    push = the_unit(unit).push if unit else None
    return Bar(unit, push, asked) if unit and push else None


def ask_hose(shot: Shot) -> Hose | None:
    """Ask how little a forgotten hose has to pull.

    Args:
        shot: A step in which something stands on its own.

    Returns:
        The question with its answer; None where nothing was undone, or no pull up tips it.
    """
    pulls = [(each.pull, each) for each in the_unit(shot).snags if each.pull is not None]
    if not pulls:
        return None
    pull, snag = min(pulls, key=lambda each: each[0])
    joint = next(each for each in shot.assessment.job.vehicle.joints if each.name == snag.joint)
    return Hose(shot, snag, pull, joint.at[0][:2])


def _walked(
    assessment: Assessment, before: StageAssessment, after: StageAssessment
) -> tuple[BodyAnswer, BodyAnswer] | None:
    """Return the body whose centre of gravity walks furthest, before and after; None where nothing does."""
    lifted = assessment.job.lift.body if assessment.job.lift else ""
    was = {body.name: body for body in before.statics.bodies}
    pairs = [
        (was[body.name], body)
        for body in after.statics.bodies
        if body.name in was and lifted not in (body.name, *body.rigid_with) and _parts(assessment, after, body.name)
    ]
    standing = [(old, new) for old, new in pairs if old.margin is not None and new.margin is not None]
    furthest = max(standing, key=_far, default=None)
    return furthest if furthest and _far(furthest) > STILL else None


def _shot(assessment: Assessment, stage: StageAssessment) -> Shot:
    return Shot(assessment, stage.state.index)


def _far(pair: tuple[BodyAnswer, BodyAnswer]) -> float:
    old, new = pair
    return hypot(new.cg[0] - old.cg[0], new.cg[1] - old.cg[1])


def _parts(assessment: Assessment, stage: StageAssessment, body: str) -> tuple[str, ...]:
    own = {part.name for part in assessment.job.vehicle.parts if part.body == body}
    return tuple(name for name in stage.state.stage.off if name in own)
