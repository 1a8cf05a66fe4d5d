"""Before which stage a hose, harness or fastener has to be off or tied."""

from loadplan.model.job import Job
from loadplan.model.vehicle import TieUp


def due_stage(job: Job, tie: TieUp) -> int | None:
    """Find the stage before which something has to be off or tied.

    Args:
        job: The job.
        tie: What has to be.

    Returns:
        Number of the first stage, from 0, that undoes a joint or takes off a part that it has to be done before; None
        where none does, or the job leaves its body out.
    """
    if tie.body not in job.bodies:
        return None
    brackets = {joint.part for joint in job.vehicle.joints if joint.name in tie.before and joint.part}
    wanted = set(tie.before) | brackets
    return next((number for number, stage in enumerate(job.stages) if wanted & {*stage.undone, *stage.off}), None)


def ties_due(job: Job, index: int) -> tuple[TieUp, ...]:
    """List what has to be off or tied before a stage.

    Args:
        job: The job.
        index: Number of the stage, from 0.

    Returns:
        In the vehicle's order.
    """
    return tuple(each for each in job.vehicle.ties if due_stage(job, each) == index)


def ties_left(job: Job, index: int) -> tuple[TieUp, ...]:
    """List what a stage begins with that has to be off or tied before it or a later one.

    Args:
        job: The job.
        index: Number of the stage, from 0.

    Returns:
        In the vehicle's order.
    """
    due = ((each, due_stage(job, each)) for each in job.vehicle.ties)
    return tuple(each for each, number in due if number is not None and number >= index)
