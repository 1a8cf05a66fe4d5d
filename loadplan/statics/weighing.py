"""Weighing: readings of scales become mass and centre of gravity, and say what else to read."""

from loadplan.model.readings import ReadingSet, Weighing
from loadplan.statics.least_squares import fit
from loadplan.statics.next_reading import advise


def weigh(sets: tuple[ReadingSet, ...]) -> Weighing:
    """Find what a unit weighs and where its centre of gravity is.

    Args:
        sets: At least one set, with at least one reading greater than 0.

    Returns:
        Estimates with expanded uncertainties, None for what the readings do not determine; whether they agree,
        and which does not; which further reading would help most.

    Example:
        >>> from loadplan.model.readings import Held, ScalePlace
        >>> front, rear = ScalePlace((0.0, 0.0, 0.2), 90.0, 0.5), ScalePlace((-1.0, 0.0, 0.2), 30.0, 0.5)
        >>> found = weigh((ReadingSet(Held.STANDS, (front, rear)),))
        >>> [round(each.value, 3) for each in (found.mass, found.cg[0])]
        [120.0, -0.25]
        >>> found.cg[2] is None, found.taken[0].value
        (True, 'y')
    """
    found = fit(sets)
    return Weighing(
        mass=found.mass,
        cg=found.cg,
        consistent=found.consistent,
        suspects=() if found.consistent else found.suspects,
        taken=found.taken,
        pulling=found.pulling,
        advice=advise(sets, found),
    )
