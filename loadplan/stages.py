"""The stages: what is on, done up and in place after each step of the job."""

from collections.abc import Mapping
from dataclasses import replace

from loadplan.model.job import Job, Stage, State, Support
from loadplan.model.transition import StageProgress, after_stage, before_first_stage, gone_bodies
from loadplan.model.vehicle import Joint


def states(job: Job) -> tuple[State, ...]:
    """Follow the job from its start through every stage.

    Args:
        job: A job whose stages make sense, as the reader leaves it.

    Returns:
        One state a stage, in the job's order.
    """
    progress = _start(job)
    lowered: float | None = None
    locked = False
    heights: dict[str, float] = {}
    told: list[State] = []
    for index, stage in enumerate(job.stages):
        before, progress = progress, after_stage(progress, stage, job.vehicle, job.bodies)
        lowered = _latest(lowered, stage)
        locked = locked if stage.lift_locked is None else stage.lift_locked
        heights |= {each.support: each.height for each in stage.set_anew}
        bodies = tuple(name for name in job.bodies if name not in progress.gone)
        joints = [joint for joint in job.vehicle.joints if set(joint.between) <= set(bodies)]
        told.append(
            State(
                index=index,
                stage=stage,
                bodies=bodies,
                on=progress.on,
                may_be_on=tuple(name for name in stage.off if stage.any_order),
                done_up=tuple(joint for joint in joints if joint.name not in progress.undone),
                undone=tuple(joint for joint in joints if joint.name in progress.undone),
                supports=_in_place(job, progress.standing, heights),
                lowered=lowered,
                lift_locked=locked,
                gone_with_parts=tuple(
                    joint
                    for joint in joints
                    if joint.part in stage.off and joint.name not in before.undone and joint.name not in stage.undone
                ),
            )
        )
    return tuple(told)


def untouched(job: Job) -> State:
    """Return the job before its first stage: all parts on, all joints done up, nothing standing but the lift.

    Args:
        job: The job.

    Returns:
        The state, numbered -1.
    """
    start = _start(job)
    bodies = bodies_left(job, start.on)
    return State(
        index=-1,
        stage=Stage(""),
        bodies=bodies,
        on=start.on,
        may_be_on=(),
        done_up=tuple(joint for joint in job.vehicle.joints if set(joint.between) <= set(bodies)),
        undone=(),
        supports=job.lift.arms if job.lift and job.lift.in_place else (),
        lowered=None,
        lift_locked=False,
    )


def bodies_left(job: Job, on: frozenset[str]) -> tuple[str, ...]:
    """Name the bodies in use that are still there.

    Args:
        job: The job.
        on: Names of the parts that are on.

    Returns:
        Names in the job's order.
    """
    gone = gone_bodies(job.vehicle, job.bodies, on)
    return tuple(name for name in job.bodies if name not in gone)


def undone_joints(job: Job, state: State) -> tuple[Joint, ...]:
    """List the joints that are undone at bodies still there.

    Args:
        job: The job.
        state: The state.

    Returns:
        Joints in the file's order, those to bodies left out among them: these are undone from the start.
    """
    left_out = {body.name for body in job.vehicle.bodies if body.name not in job.bodies}
    known = {joint.name: joint for joint in state.undone}
    done = {joint.name for joint in state.done_up}
    for joint in job.vehicle.joints:
        if joint.name not in done and set(joint.between) & left_out and set(joint.between) & set(state.bodies):
            known[joint.name] = joint
    return tuple(known[joint.name] for joint in job.vehicle.joints if joint.name in known)


def joined(joints: tuple[Joint, ...], body: str) -> frozenset[str]:
    """Name the bodies tied to one body by done-up joints, through any number of others.

    Args:
        joints: Joints that are done up.
        body: Where to start.

    Returns:
        Names, the body itself among them.

    Example:
        >>> sorted(joined((), "shell"))
        ['shell']
    """
    reached = {body}
    while True:
        more = {name for joint in joints if reached & set(joint.between) for name in joint.between}
        if more <= reached:
            return frozenset(reached)
        reached |= more


def _start(job: Job) -> StageProgress:
    """Return what is so before the first stage."""
    lift = job.lift.lift.name if job.lift and job.lift.in_place else None
    return before_first_stage(job.vehicle, job.bodies, lift)


def _latest(lowered: float | None, stage: Stage) -> float | None:
    """Return what was last said of the lowering; raised stands act as a lowered lift."""
    if stage.lowered is not None:
        return stage.lowered
    return stage.raised if stage.raised is not None else lowered


def _in_place(job: Job, standing: frozenset[str], heights: Mapping[str, float]) -> tuple[Support, ...]:
    """Return what stands, at the saddle heights that were set last, then the arms of the lift."""
    supports = tuple(
        replace(support, height=heights.get(support.name, support.height))
        for support in job.supports
        if support.name in standing
    )
    if job.lift and job.lift.lift.name in standing:
        return supports + job.lift.arms
    return supports
