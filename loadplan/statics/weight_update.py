"""Learning weights: which masses and centres fit both what the files say and what scales read in a stage.

Minimised over the unknowns t, each counted in standard uncertainties from what the files say, is

    Σ ((reading − load(t)) / spread)² + Σ t²

so the files' figures are readings like others (JCGM 100:2008; the estimate with prior knowledge: Tarantola, Inverse
Problem Theory, 2005, 3.2). Loads bend only where a saddle comes into touch or leaves it: the first steps see that from
afar (differences over a whole standard uncertainty), the last are exact where it rests (Gauss-Newton; Björck, Numerical
Methods for Least Squares Problems, 1996, 9.2). What is left over is chi-squared with as many degrees of freedom as
there are readings, since every unknown has a figure of its own. The reading that contradicts is the one whose residual
is largest over its own standard deviation; it is set aside and the rest is tried again (data snooping: Baarda, A
Testing Procedure for Use in Geodetic Networks, 1968).
"""

from dataclasses import dataclass
from math import inf

import numpy as np

from loadplan.model.job import StageReading
from loadplan.statics.chi_squared import chance_of_more
from loadplan.statics.contact_loads import NoEquilibriumError
from loadplan.statics.load_response import LoadResponse
from loadplan.statics.mass import Array

LEVEL = 0.05
"""Readings agree unless chance alone would make them differ as much in fewer cases than this."""

FINEST = 0.5
"""Least plus or minus that a scale is taken to have [N]: none under a unit reads finer; common practice, no source."""

COVERAGE = 2.0
"""Expanded uncertainty is this many standard deviations: about 95 % (JCGM 100, 6.3.3)."""

FROM_AFAR = (1.0, 1.0, 0.3, 0.1)
"""How far the unknowns are moved to see how loads change, step after step, of their standard uncertainties."""

CLOSE = 1e-3
"""The same from then on."""

ROUNDS = 25
"""Rounds of Gauss-Newton end after a handful."""

SETTLED = 1e-4
"""Steps that change no unknown by more than this share of its standard uncertainty have settled."""

HALVINGS = 12
"""A step that does not come closer is halved so often."""

ALIKE = 1e-6
"""Readings that contradict equally within this cannot be told apart."""


@dataclass(frozen=True, slots=True)
class WeighedLoad:
    """What one scale reads, as an equation of the loads.

    Attributes:
        reading: The reading, of a scale.
        counted: 1 for each support (n) whose load it adds up, else 0.
        lower: How much further down the arms were than the stage has them [m].
    """

    reading: StageReading
    counted: Array
    lower: float

    @property
    def spread(self) -> float:
        """Its standard uncertainty [N]."""
        return max(self.reading.pm, FINEST) / COVERAGE


@dataclass(frozen=True, slots=True)
class FittedWeights:
    """Unknowns that fit; u unknowns, r readings.

    Attributes:
        unknowns: Those of the response (u).
        covariance: Of the unknowns, each counted in its standard uncertainty before (u, u).
        squares: What is left over: chi-squared with r degrees of freedom.
        misfits: Residual of each reading over its own standard deviation (r).
    """

    unknowns: Array
    covariance: Array
    squares: float
    misfits: Array

    @property
    def consistent(self) -> bool:
        """Whether chance alone may leave so much over."""
        return not len(self.misfits) or chance_of_more(self.squares, len(self.misfits)) >= LEVEL


def fit_weights(response: LoadResponse, read: tuple[WeighedLoad, ...]) -> FittedWeights:
    """Find the unknowns that fit the files and the readings best.

    Args:
        response: How loads follow from them.
        read: What scales read.

    Returns:
        The fit; the file's figures where nothing was read.

    Raises:
        NoEquilibriumError: If it tips with a figure only a little off.
    """
    told = np.zeros(len(response.given))
    shares = (*FROM_AFAR, *(CLOSE,) * (ROUNDS - len(FROM_AFAR)))
    for number, share in enumerate(shares):
        rows = rows_of(response, read, response.given + told * response.spread, share)
        step = _step(rows, _residuals(response, read, told), told)
        moved = _as_far_as_it_helps(response, read, told, step)
        told, gone = moved, float(np.abs(moved - told).max(initial=0.0))
        if number >= len(FROM_AFAR) and gone < SETTLED:
            break
    rows = rows_of(response, read, response.given + told * response.spread)
    residuals = _residuals(response, read, told)
    left = np.linalg.inv(np.eye(len(read)) + rows @ rows.T)
    return FittedWeights(
        unknowns=response.given + told * response.spread,
        covariance=np.eye(len(told)) - rows.T @ left @ rows,
        squares=float(residuals @ residuals + told @ told),
        misfits=residuals / np.sqrt(np.maximum(np.diag(left), np.finfo(float).tiny)),
    )


def suspects(response: LoadResponse, read: tuple[WeighedLoad, ...]) -> tuple[WeighedLoad, ...]:
    """Find which readings contradict the plan.

    Args:
        response: How loads follow from the unknowns.
        read: What scales read.

    Returns:
        Those without which the rest agrees, worst first; empty where all agree.
    """
    named: list[WeighedLoad] = []
    rest = read
    while rest and not (found := fit_weights(response, rest)).consistent:
        sizes = np.abs(found.misfits)
        worst = np.flatnonzero(sizes >= sizes.max() * (1 - ALIKE))
        named += [rest[number] for number in worst]
        # Of those that cannot be told apart each may be right: what would be left without all of them proves nothing.
        if len(worst) > 1:
            break
        rest = tuple(each for number, each in enumerate(rest) if number not in worst)
    return tuple(named)


def spread_with(found: FittedWeights, rows: Array, price: Array) -> float:
    """Find how well something is known that hangs on the unknowns, if more were read.

    Args:
        found: What is known.
        rows: Further readings (k, u), by standard uncertainties of the unknowns, over their own spread.
        price: How it changes with each unknown, a standard uncertainty of it (u).

    Returns:
        Its plus or minus (k = 2), in units of the price.
    """
    known = found.covariance
    seen = rows @ known
    left = known - seen.T @ np.linalg.solve(np.eye(len(rows)) + seen @ rows.T, seen)
    return COVERAGE * float(np.sqrt(max(float(price @ left @ price), 0.0)))


def rows_of(response: LoadResponse, read: tuple[WeighedLoad, ...], around: Array, share: float = CLOSE) -> Array:
    """Find how readings change with the unknowns, a standard uncertainty of each.

    Args:
        response: How loads follow from them.
        read: What scales read, or would.
        around: The unknowns (u) about which they change.
        share: How far they are moved for it, of their standard uncertainties.

    Returns:
        Rows (r, u), over the spread of each reading.
    """
    levels = {lower: response.changes(around, lower, share) for lower in {each.lower for each in read}}
    rows = [each.counted @ levels[each.lower] / each.spread for each in read]
    return np.array(rows).reshape(len(read), len(around))


def _residuals(response: LoadResponse, read: tuple[WeighedLoad, ...], told: Array) -> Array:
    """Return what readings (r) lie above the loads, over their own spread."""
    around = (response.given + told * response.spread)[None, :]
    loads = {lower: response.loads(around, lower)[0] for lower in {each.lower for each in read}}
    return np.array([((each.reading.load or 0.0) - each.counted @ loads[each.lower]) / each.spread for each in read])


def _step(rows: Array, residuals: Array, told: Array) -> Array:
    """Return the step of Gauss-Newton, by orthogonal factors: scales far finer than the files square badly."""
    stacked = np.vstack([rows, np.eye(len(told))])
    step: Array = np.linalg.lstsq(stacked, np.concatenate([residuals, -told]), rcond=None)[0]
    return step


def _as_far_as_it_helps(response: LoadResponse, read: tuple[WeighedLoad, ...], told: Array, step: Array) -> Array:
    """Return the unknowns after a step, halved until less is left over; the old ones where no step helps."""
    before = _left_over(response, read, told)
    for _ in range(HALVINGS):
        if _left_over(response, read, told + step) <= before:
            moved: Array = told + step
            return moved
        step = step / 2
    return told


def _left_over(response: LoadResponse, read: tuple[WeighedLoad, ...], told: Array) -> float:
    """Return what is minimised; infinite where it tips with such weights."""
    try:
        residuals = _residuals(response, read, told)
    except NoEquilibriumError:
        return inf
    return float(residuals @ residuals + told @ told)
