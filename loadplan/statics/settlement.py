"""Settlement: how far each place sinks from the state before a stage to the one after it, the lift left where it is.

Both motions are measured from the same reference, the file's attitude over the stands as they are set now, so that a
place that did not move in the room has not sunk, whatever was set anew meanwhile.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from loadplan.model.answer import Motion
from loadplan.model.job import Job, State
from loadplan.model.step_change import Drop
from loadplan.model.vehicle import PlanPoint
from loadplan.stages import joined, undone_joints

FAR = 4.0
"""A place that drops by more than this many times what is asked for stops the job; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Watched:
    """A place of a body that is watched while it sinks.

    Attributes:
        name: Support, or undone joint.
        body: Body that it is on.
        at: Where, in plan [m].
    """

    name: str
    body: str
    at: PlanPoint


def free_bodies(job: Job, state: State) -> frozenset[str]:
    """Name the bodies that do not hang on the lift in a state.

    Args:
        job: The job.
        state: The state.

    Returns:
        Their names; all of them where the lift does not hold.
    """
    if job.lift is None or not any(each.is_arm for each in state.supports):
        return frozenset(state.bodies)
    return frozenset(state.bodies) - joined(state.done_up, job.lift.body)


def spots(job: Job, before: State, after: State) -> tuple[Watched, ...]:
    """List the places that may sink in a stage: of supports there before or after, and of joints undone after it.

    Args:
        job: The job.
        before: The state that the stage began with.
        after: The state that it leaves.

    Returns:
        Places of bodies that do not hang on the lift afterwards; a joint has one a place and free body.
    """
    free = free_bodies(job, after)
    standing = dict.fromkeys(each.name for each in (*before.bearing, *after.bearing) if not each.is_arm)
    seats = {each.name: each for each in (*before.supports, *after.supports)}
    found = [Watched(name, seats[name].body, seats[name].at[:2]) for name in standing if seats[name].body in free]
    for joint in undone_joints(job, after):
        found += [Watched(joint.name, body, at[:2]) for body in joint.between if body in free for at in joint.at]
    return tuple(found)


def drops(places: tuple[Watched, ...], before: Mapping[str, Motion], after: Mapping[str, Motion]) -> tuple[Drop, ...]:
    """Find how far places sink.

    Args:
        places: The places.
        before: Motion of each body before; one whose group did not stand has none.
        after: Motion of each body after.

    Returns:
        One record a support or joint, of several places of a joint the one that sinks furthest; none for a body that
        did not stand before or does not after.
    """
    furthest: dict[str, Drop] = {}
    for each in places:
        # What stood nowhere before, or stands nowhere after, has no way down to tell.
        if each.body not in before or each.body not in after:
            continue
        fall = before[each.body].up_at(*each.at) - after[each.body].up_at(*each.at)
        if each.name not in furthest or fall > furthest[each.name].fall:
            furthest[each.name] = Drop(each.name, each.body, fall)
    return tuple(furthest.values())
