"""The worst margin of one layout: at most, without its lean; at a glance; and as it was judged, with its loads."""

from dataclasses import replace
from math import inf

from loadplan.errors import InputError
from loadplan.model.answer import Statics
from loadplan.model.job import Job, State
from loadplan.model.verdict import Assessment, CheckName
from loadplan.planning.placement.branch_and_bound import Members
from loadplan.planning.placement.layout_space import Space, movable, stand_under
from loadplan.stages import states
from loadplan.statics.equilibrium import frames
from loadplan.statics.group import glance
from loadplan.statics.lean import Tilted, upright
from loadplan.statics.mass import Array, lumps, off_before
from loadplan.statics.stage_sequence import solve_stages_by
from loadplan.statics.tipping_modes import free_motion, rays
from loadplan.statics.worst_margin import worst


class ExactMargins:
    """Finds worst margins of layouts without their lean, over the stages and the bodies other than the lift's."""

    def __init__(self, space: Space) -> None:
        """Put a stand under every point, and follow the job.

        Args:
            space: The job without the supports to be planned.
        """
        self._job = space.job
        self._stands = tuple(
            stand_under(f"\0{number}", point, movable(space.job)[0], space.job.vehicle)
            for number, point in enumerate(space.points)
        )
        # What is rolled is asked for no margin.
        followed = [state for state in space.states if not state.stage.moved]
        self._states = tuple(
            (
                state,
                lumps(space.job, state),
                frozenset(n for n, point in enumerate(space.points) if space.stands(point, state)),
            )
            for state in followed
        )

    def of(self, members: Members) -> float:
        """Find the worst margin of a layout.

        Args:
            members: Numbers of the points.

        Returns:
            Worst margin [m]; −inf where something is free to move, infinite where nothing can tip.
        """
        job = self._job
        body = job.lift.body if job.lift else ""
        # Steps on the same stands and mounts share their motions; only what the weights make of them differs.
        motions: dict[tuple[object, ...], Array] = {}
        least = inf
        for state, weights, standing in self._states:
            there = tuple(self._stands[each] for each in members if each in standing)
            for frame in frames(replace(state, supports=there + state.supports), weights):
                if set(frame.bodies) == {body}:
                    continue
                key = (frame.wholes, frame.supports, frame.mounts)
                if key not in motions:
                    if free_motion(frame) is not None:
                        return -inf
                    motions[key] = rays(frame)
                floor = Tilted(job.limits.floor_slope, upright(frame))
                found = worst(frame, motions[key], floor, off_before(job, frame.lumps))
                asked = (set(names) != {body} for names in frame.wholes)
                least = min([least, *(float(margin) for margin, ask in zip(found.margins, asked, strict=True) if ask)])
        return least


def margin_from(assessment: Assessment, start: int) -> float:
    """Find the smallest worst margin from a stage on, over the bodies other than the lift's.

    Args:
        assessment: The job, judged.
        start: Number of the stage, from 0.

    Returns:
        Worst margin [m]; −inf where something is not balanced, infinite where nothing can tip.
    """
    return _smallest(assessment.job, [(stage.state, stage.statics) for stage in assessment.stages[start:]])


def margin_at_most(job: Job, start: int) -> float:
    """Find a margin than which a whole look leaves no more: at a glance fewer corners of the floor are solved.

    Args:
        job: The job.
        start: Number of the stage from which it counts, from 0.

    Returns:
        Worst margin [m], as `margin_from` gives it.
    """
    followed = states(job)
    try:
        solved = solve_stages_by(glance, job, followed, lambda _: None)
    except InputError:
        # What cannot be computed is told by the whole look.
        return inf
    return _smallest(job, list(zip(followed, solved, strict=True))[start:])


def _smallest(job: Job, stages: list[tuple[State, Statics]]) -> float:
    """Return the smallest worst margin [m] in some stages, over the bodies other than the lift's."""
    bodies = [
        body
        for state, statics in stages
        if not state.stage.moved
        for body in statics.bodies
        if job.lift is None or body.name != job.lift.body
    ]
    if not all(body.balanced for body in bodies):
        return -inf
    return min((body.worst_margin for body in bodies if body.worst_margin is not None), default=inf)


def largest_share(assessment: Assessment, start: int) -> float:
    """Find the greatest share of a rating that a piece of equipment carries from a stage on, the lift apart.

    Args:
        assessment: The job, judged.
        start: Number of the stage, from 0.

    Returns:
        The share, 0 where no rating is known.
    """
    found = (each for stage in assessment.stages[start:] for each in stage.findings if each.check is CheckName.RATING)
    return max((each.value / each.limit for each in found if each.value is not None and each.limit), default=0.0)
