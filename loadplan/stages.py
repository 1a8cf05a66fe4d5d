"""The stages: what is on, done up and in place after each step of the job."""

from collections.abc import Mapping
from dataclasses import replace

from loadplan.model.job import Job, Stage, State, Support
from loadplan.model.transition import StageProgress, after_stage, before_first_stage, gone_bodies
from loadplan.model.vehicle import Joint, JointKind


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


def goes_first(job: Job, after: State) -> frozenset[str]:
    """Name what a stage takes away before anything else is done: what stood under what the lift holds, which moves.

    That is the body on the lift with all that is bolted to it all the while. Another stand may come to the very same
    spot. What carries waits for one that comes elsewhere, and for a lift that comes itself.

    Args:
        job: The job.
        after: The stage.

    Returns:
        Their names; none where no lift holds anything.
    """
    stage, use = after.stage, job.lift
    if use is None or use.lift.name in stage.in_place or not any(each.is_arm for each in after.supports):
        return frozenset()
    # What is being tied stands on its own until it is: nothing goes from under it before.
    loose = {body for each in job.vehicle.joints if each.name in stage.done_up for body in each.between} - {use.body}
    ties = (each for each in after.done_up if each.kind is JointKind.BOLTED and loose.isdisjoint(each.between))
    held = joined(tuple(ties), use.body)
    under = [each for each in job.supports if each.body in held]
    spots = {each.at[:2] for each in under if each.name in stage.in_place}
    going = {each.name for each in under if each.standby or not spots or each.at[:2] in spots}
    return frozenset(going & set(stage.cleared))


def unhooked(job: Job, after: State) -> frozenset[str]:
    """Name what a stage takes away when its joints are undone: what hung from the vehicle would lift the unit with it.

    Args:
        job: The job.
        after: The stage.

    Returns:
        Their names; none where the stage does not let go of the vehicle on the lift.
    """
    if job.lift is None:
        return frozenset()
    lets_go = any(job.lift.body in joint.between for joint in job.vehicle.joints if joint.name in after.stage.undone)
    hung = {each.name for each in job.supports if each.on == job.lift.body}
    return frozenset(hung & set(after.stage.cleared)) if lets_go else frozenset()


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
