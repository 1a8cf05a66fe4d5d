"""Bodies as wholes, learnt: what scales tell of all parts of a body together, far better than of each of them.

A part that is heavier makes another one lighter, since scales know their sum. Judged part by part that is lost: every
part may then be at the wrong end at once, and a plan looks hardly better for having been weighed. So the job is judged
once more with each body weighed whole, within limits that file and scales leave open for the whole. The truth is inside
both descriptions, so neither verdict is milder than it may be, and the milder of the two counts.
"""

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from loadplan.model.job import Job
from loadplan.model.readings import COVERAGE, Estimate
from loadplan.model.vehicle import Body, Vehicle, Weighed
from loadplan.model.weight_basis import body_basis
from loadplan.statics.load_response import LoadResponse
from loadplan.statics.mass import Array, cg_box, mass_and_cg, upper_mass, whole_body
from loadplan.statics.weight_limits import WeightLimits, limits_together
from loadplan.statics.weight_update import FittedWeights, WeighedLoad

Spanned = Callable[[Estimate, Estimate, Estimate], Estimate]
"""What a figure is taken for, by what the file says, what is likely and what is sure."""


def with_learnt_bodies(
    job: Job, response: LoadResponse, read: tuple[WeighedLoad, ...], found: FittedWeights, spanned: Spanned
) -> Job | None:
    """Put what the readings tell of whole bodies into a job.

    Args:
        job: The job, with what they tell of its parts.
        response: How loads follow from the weights as the files have them.
        read: What scales read.
        found: What fits.
        spanned: Joins what is likely and what is sure.

    Returns:
        The job with bodies weighed whole, their bases as they were; None where that tells nothing more.
    """
    sets = {each.name: _weights_of(job.vehicle, each, response) for each in job.vehicle.bodies}
    sets = {name: numbers for name, numbers in sets.items() if len(numbers) > 1 and name in job.bodies}
    limits = limits_together(response, read, list(sets.values())) if sets else None
    if limits is None:
        return None
    told = {}
    for place, (name, numbers) in enumerate(sets.items()):
        body = next(each for each in job.vehicle.bodies if each.name == name)
        weighed = _weighed(job.vehicle, body, (_likely(response, found, numbers), _sure(limits, place)), spanned)
        if weighed is not None:
            told[name] = replace(body, weighed=weighed, basis=body_basis(job.vehicle, body))
    if not told:
        return None
    bodies = tuple(told.get(each.name, each) for each in job.vehicle.bodies)
    return replace(job, vehicle=replace(job.vehicle, bodies=bodies))


def _weights_of(vehicle: Vehicle, body: Body, response: LoadResponse) -> tuple[int, ...]:
    """Return the numbers of the weights that make up a body with all its parts on; none where it was weighed whole."""
    column = {(each.body, each.part): number for number, each in enumerate(response.weights)}
    own = [(body.name, each.name) for each in vehicle.parts if each.body == body.name]
    if body.weighed is not None or not all(each in column for each in own):
        return ()
    return tuple(column[each] for each in own)


def _sure(limits: WeightLimits, place: int) -> tuple[Estimate, ...]:
    """Return mass, x and y of a whole between its limits."""
    figures = range(3 * place, 3 * place + 3)
    ends = [(float(limits.low[each]), float(limits.high[each])) for each in figures]
    return tuple(Estimate((low + high) / 2, (high - low) / 2) for low, high in ends)


def _likely(response: LoadResponse, found: FittedWeights, numbers: tuple[int, ...]) -> tuple[Estimate, ...]:
    """Return mass, x and y of a whole that fit best, their plus or minus propagated (JCGM 100:2008, 5.2)."""
    figures = np.array([found.unknowns[3 * each : 3 * each + 3] for each in numbers])
    mass = float(figures[:, 0].sum())
    told = []
    for axis in range(3):
        value = mass if axis == 0 else float(figures[:, 0] @ figures[:, axis]) / mass
        change: Array = np.zeros(len(found.unknowns))
        for each, own in zip(numbers, figures, strict=True):
            change[3 * each] = 1.0 if axis == 0 else (own[axis] - value) / mass
            if axis:
                change[3 * each + axis] = own[0] / mass
        change *= response.spread
        told.append(Estimate(value, COVERAGE * max(float(change @ found.covariance @ change), 0.0) ** 0.5))
    return tuple(told)


def _weighed(
    vehicle: Vehicle, body: Body, learnt: tuple[tuple[Estimate, ...], tuple[Estimate, ...]], spanned: Spanned
) -> Weighed | None:
    """Return a whole body as it is known now, likely and sure; None where its parts tell as much."""
    made_of = whole_body(body, vehicle.parts)
    mass, cg = mass_and_cg(made_of)
    before = [Estimate(mass, upper_mass(made_of) - mass), *map(Estimate, cg, cg_box(made_of))]
    now = [spanned(*each) for each in zip(before[:3], *learnt, strict=True)]
    if now == before[:3] or now[0].value <= now[0].pm:
        return None
    first, second, third = now[1], now[2], before[3]
    return Weighed(
        mass=now[0].value,
        mass_pm=now[0].pm,
        cg=(first.value, second.value, third.value),
        cg_pm=(first.pm, second.pm, third.pm),
        date=None,
    )
