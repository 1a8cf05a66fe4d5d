"""The basis of weights: how good a body's figures are as a whole, and which body's are the poorest."""

from loadplan.model.job import Job
from loadplan.model.vehicle import Basis, Body, Vehicle

MOST_OF_IT = 0.9
"""Share of a body's mass that a basis, with better ones, has to cover: what a few brackets weigh decides nothing."""

ROUNDING = 1e-9
"""A share that is short by less than this is not short."""


def body_basis(vehicle: Vehicle, body: Body) -> Basis:
    """Tell how good the figures of a body are: the best basis that, with better ones, covers 90 % of its mass.

    Args:
        vehicle: The vehicle.
        body: One of its bodies.

    Returns:
        Its own basis where it was weighed whole, else that of its parts.
    """
    if body.weighed is not None:
        return body.basis
    own = [part for part in vehicle.parts if part.body == body.name]
    wanted = MOST_OF_IT * sum(part.mass for part in own) * (1 - ROUNDING)
    best_first = sorted({part.basis for part in own}, reverse=True)
    covering = (each for each in best_first if sum(part.mass for part in own if part.basis >= each) >= wanted)
    return next(covering, body.basis)


def poorest_basis(job: Job) -> Basis:
    """Return the poorest basis of the bodies in use; invented data is an example, whatever it says.

    Args:
        job: The job.

    Returns:
        The basis that stands beside every verdict.
    """
    if job.vehicle.example:
        return Basis.EXAMPLE
    bodies = [body for body in job.vehicle.bodies if body.name in job.bodies]
    return min(body_basis(job.vehicle, body) for body in bodies)
