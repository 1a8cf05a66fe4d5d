"""Which scale to read next: the one that narrows most what is not known of the margin that is smallest in a stage."""

from math import hypot

import numpy as np

from loadplan.model.answer import Mode, Statics
from loadplan.model.job import Job, StageReading, State
from loadplan.model.learnt_weights import FurtherScale
from loadplan.statics.expected_reading import lift_names, loads_read
from loadplan.statics.load_response import LoadResponse
from loadplan.statics.mass import Array, lumps, mass_and_cg
from loadplan.statics.weight_update import FittedWeights, WeighedLoad, rows_of, spread_with

WORTH = 0.95
"""A further reading that leaves more than this share of a plus or minus does not help; common practice, no source."""


def further_scale(
    job: Job,
    of_stage: tuple[State, Statics],
    response: LoadResponse,
    known: tuple[FittedWeights, tuple[WeighedLoad, ...]],
) -> FurtherScale | None:
    """Find the further scale that would tell most.

    Args:
        job: The job.
        of_stage: The stage, and what was computed about it.
        response: Its loads.
        known: What fits what was read, and what that is; one at least.

    Returns:
        The scale; None where nothing can tip, or none would help much.
    """
    state, statics = of_stage
    found, read = known
    price = _margin_price(job, state, statics, response)
    if price is None:
        return None
    now = spread_with(found, np.zeros((0, len(price))), price)
    done = {each.reading.support for each in read if each.lower == 0}
    # As coarse as the coarsest so far: advice must not count on a better scale than there is.
    pm = max(each.reading.pm for each in read)
    # Under a pad nobody puts a scale: what all arms carry together the lift's own gauge reads.
    stands = [name for name, is_arm in zip(response.supports, response.is_arm, strict=True) if not is_arm]
    names = [name for name in (*stands, *sorted(lift_names(job, state))) if name not in done]
    best = None
    for name in names:
        counted = loads_read(response, StageReading(name, 0.0, pm))
        if counted is None:
            continue
        scale = WeighedLoad(StageReading(name, 0.0, pm), counted, 0.0)
        then = spread_with(found, rows_of(response, (scale,), found.unknowns), price)
        if best is None or then < best.then:
            best = FurtherScale(name, now, then)
    return best if best is not None and best.then < WORTH * now else None


def _margin_price(job: Job, state: State, statics: Statics, response: LoadResponse) -> Array | None:
    """Return how the margin that is smallest in a stage changes with each unknown, a standard uncertainty of it (u)."""
    found = [
        (margin, body, mode)
        for group in statics.groups
        for mode in group.modes
        for body, margin in (mode.worst_margins or mode.margins)
    ]
    if not found:
        return None
    _, body, mode = min(found, key=lambda each: each[0])
    return _price(job, state, (body, *statics.body(body).rigid_with), mode, response)


def _price(job: Job, state: State, whole: tuple[str, ...], mode: Mode, response: LoadResponse) -> Array:
    """Return the same for one mode and one rigid whole: its work, over the weight of the whole times its turn."""
    motions = dict(mode.motions)
    made_of = [each for each in lumps(job, state) if each.counts]
    own = tuple(each for each in made_of if each.body in whole)
    mass, _ = mass_and_cg(own)
    turn = hypot(motions[whole[0]].rx, motions[whole[0]].ry)
    margin = next(margin for body, margin in mode.margins if body == whole[0])
    column = {(each.body, each.part): 3 * number for number, each in enumerate(response.weights)}
    price = np.zeros(len(response.given))
    for each in made_of:
        motion = motions.get(each.body)
        at = column[each.body, each.part]
        if motion is None:
            continue
        x, y, _ = each.at
        price[at] += each.sign * motion.up_at(x, y) / (mass * turn)
        price[at + 1] -= each.sign * each.mass * motion.ry / (mass * turn)
        price[at + 2] += each.sign * each.mass * motion.rx / (mass * turn)
        if each in own:
            price[at] -= each.sign * margin / mass
    scaled: Array = price * response.spread
    return scaled
