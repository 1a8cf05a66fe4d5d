"""Which steps share a page: neighbours between which nothing changes on the unit or on the floor under it."""

from loadplan.model.job import Job
from loadplan.model.verdict import Assessment, StageAssessment
from loadplan.report.words.stage_tables import carried
from loadplan.report.words.vocabulary import Reader


def step_groups(assessment: Assessment, reader: Reader) -> list[list[StageAssessment]]:
    """Put steps together that one plan shows.

    Args:
        assessment: The job, judged.
        reader: Who reads it.

    Returns:
        The steps of each page, in order; a step begins a page where it changes anything on the unit or under it.
    """
    groups: list[list[StageAssessment]] = []
    for stage in assessment.stages:
        if groups and _alike(assessment.job, groups[-1][-1], stage, reader):
            groups[-1].append(stage)
        else:
            groups.append([stage])
    return groups


def _alike(job: Job, before: StageAssessment, stage: StageAssessment, reader: Reader) -> bool:
    """Return whether a step leaves the unit, what ties it, what it stands on and what that carries as they were."""
    first, then = before.state, stage.state
    lifted = job.lift.body if job.lift else ""
    if (first.bodies, first.on, first.done_up) != (then.bodies, then.on, then.done_up) or then.stage.set_anew:
        return False
    stands = [tuple(each for each in state.supports if each.body != lifted) for state in (first, then)]
    if stands[0] != stands[1] or (first.lowered, first.lift_locked) != (then.lowered, then.lift_locked):
        return False
    if lifted and _on_lift(before) != _on_lift(stage):
        return False
    loads = [[carried(step.statics.load(each.name), reader) for each in stands[0]] for step in (before, stage)]
    return loads[0] == loads[1]


def _on_lift(stage: StageAssessment) -> bool:
    """Return whether the lift holds the vehicle in a step."""
    return any(each.is_arm for each in stage.state.supports)
