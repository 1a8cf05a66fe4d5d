"""Corners of outlines: where somebody may lay a weight on a unit, or lean on it."""

from typing import TypeAlias

from loadplan.model.job import Job, State
from loadplan.model.vehicle import PlanPoint

Corner: TypeAlias = tuple[str, PlanPoint]
"""A body, and a corner of the outline of it or of a part on it [m]."""


def outline_corners(job: Job, state: State, bodies: tuple[str, ...]) -> tuple[Corner, ...]:
    """Find where a weight may be laid on a rigid whole, or somebody may lean on it.

    Args:
        job: The job.
        state: The state.
        bodies: Bodies of the whole.

    Returns:
        Corners of their outlines, and of those of the parts that are on.
    """
    own = [(body.name, body.outline) for body in job.vehicle.bodies if body.name in bodies]
    own += [(part.body, part.outline) for part in job.vehicle.parts if part.body in bodies and part.name in state.on]
    return tuple((body, place) for body, outline in own for place in outline)
