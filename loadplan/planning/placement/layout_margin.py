"""The worst margin that one layout has at most, without its lean and without judging anything else of it."""

from dataclasses import replace
from math import inf

from loadplan.planning.placement.branch_and_bound import Members
from loadplan.planning.placement.layout_space import Space, movable, stand_under
from loadplan.statics.equilibrium import frames
from loadplan.statics.lean import Tilted, upright
from loadplan.statics.mass import lumps, off_before
from loadplan.statics.tipping_modes import free_motion, rays
from loadplan.statics.worst_margin import worst


def exact_margin(space: Space, members: Members) -> float:
    """Find the worst margin of a layout, without its lean, over its stages and the bodies other than the lift's.

    Args:
        space: The job without the supports to be planned.
        members: Numbers of the points.

    Returns:
        Worst margin [m]; −inf where something is free to move, infinite where nothing can tip.
    """
    job = space.job
    anything = movable(job)[0]
    stands = tuple(
        (space.points[member], stand_under(f"\0{member}", space.points[member], anything, job.vehicle))
        for member in members
    )
    body = job.lift.body if job.lift else ""
    least = inf
    for state in space.states:
        there = tuple(each for point, each in stands if space.stands(point, state))
        for frame in frames(replace(state, supports=there + state.supports), lumps(job, state)):
            if state.stage.moved or set(frame.bodies) == {body}:
                continue
            if free_motion(frame) is not None:
                return -inf
            floor = Tilted(job.limits.floor_slope, upright(frame))
            found = worst(frame, rays(frame), floor, off_before(job, frame.lumps))
            asked = (set(names) != {body} for names in frame.wholes)
            least = min([least, *(float(margin) for margin, ask in zip(found.margins, asked, strict=True) if ask)])
    return least
