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

from dataclasses import dataclass, replace
from math import inf
from typing import NamedTuple

import numpy as np

from loadplan.model.job import StageReading
from loadplan.model.readings import COVERAGE
from loadplan.statics.chi_squared import LEVEL, chance_of_more
from loadplan.statics.load_response import LoadResponse
from loadplan.statics.mass import Array
from loadplan.statics.unsolved import UNSOLVED

FINEST = 0.5
"""Least plus or minus that a scale is taken to have [N]: none under a unit reads finer; common practice, no source."""

CLOSE = 1e-3
"""How far the unknowns are moved, of their standard uncertainties, to see how loads change where they are."""

SETTLED = 1e-4
"""Steps that change no unknown by more than this share of its standard uncertainty have settled."""

HALVINGS = 12
"""A step that does not come closer is halved so often."""

ALIKE = 1e-6
"""Readings that contradict equally within this cannot be told apart."""


class WayDown(NamedTuple):
    """One leg of a way down to the least.

    Attributes:
        share: How far the unknowns are moved to see how loads change, of their standard uncertainties.
        blunt: How many times as coarse the scales are taken to be.
        rounds: Steps at the most.
    """

    share: float
    blunt: float
    rounds: int


LAST = WayDown(CLOSE, 1.0, 20)
"""The end of each way: exact where it rests."""

WAYS = (
    (WayDown(1.0, 1.0, 2), WayDown(0.3, 1.0, 1), WayDown(0.1, 1.0, 1), LAST),
    *((*(WayDown(share, blunt, 4) for blunt in (300.0, 100.0, 30.0, 10.0, 3.0)), LAST) for share in (CLOSE, 0.1, 0.5)),
)
"""Ways down: straight on, which serves where what touches stays in touch; then with scales that are coarse at first, so
that what touches comes and goes little by little."""


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

    def blunted(self, times: float) -> "WeighedLoad":
        """Return it as a scale would read that is so many times as coarse."""
        return replace(self, reading=replace(self.reading, pm=times * max(self.reading.pm, FINEST)))


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
        UnsolvedError: If it tips with a figure only a little off from where it fits.
    """
    told, least = np.zeros(len(response.given)), inf
    for way in WAYS:
        try:
            tried = _descended(response, read, way)
        except UNSOLVED:
            # Looked at from afar it may tip; a way that looks close by may still lead to where it stands.
            continue
        left_over = _left_over(response, read, tried)
        if left_over < least:
            told, least = tried, left_over
        # Where chance may leave as much over there is nothing more to find; else another way down is tried.
        if not read or chance_of_more(least, len(read)) >= LEVEL:
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


def suspects(
    response: LoadResponse, read: tuple[WeighedLoad, ...], fitted: FittedWeights | None = None
) -> tuple[WeighedLoad, ...]:
    """Find which readings contradict the plan.

    Args:
        response: How loads follow from the unknowns.
        read: What scales read.
        fitted: What fits all of them best, where that is known.

    Returns:
        Those without which the rest agrees, worst first; empty where all agree.
    """
    named: list[WeighedLoad] = []
    rest = read
    while rest and not (found := fitted or fit_weights(response, rest)).consistent:
        fitted = None
        sizes = np.abs(found.misfits)
        worst = np.flatnonzero(sizes >= sizes.max() * (1 - ALIKE))
        named += [rest[number] for number in worst]
        # Of those that cannot be told apart each may be right: what would be left without all of them proves nothing.
        if len(worst) > 1:
            break
        rest = tuple(each for number, each in enumerate(rest) if number not in worst)
    return tuple(named)


def touch_for_certain(response: LoadResponse, found: FittedWeights, read: tuple[WeighedLoad, ...]) -> bool:
    """Tell whether all that bears carried for certain while it was read.

    A saddle that may have hung free makes all look softer than it is: then stiffness cannot be told from it.

    Args:
        response: How loads follow from the unknowns.
        found: What fits.
        read: What scales read.

    Returns:
        Whether every load, at each lowering, is above 0 by more than its plus or minus.
    """
    known = [name in response.known for name in response.supports]
    for lower in sorted({each.lower for each in read}):
        loads = response.loads(found.unknowns[None, :], lower)[0]
        rows = response.changes(found.unknowns, lower, CLOSE)
        off = COVERAGE * np.sqrt(np.maximum(np.diag(rows @ found.covariance @ rows.T), 0.0))
        if (loads <= off)[known].any():
            return False
    return True


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
    levels = {
        lower: response.changes(around, lower, share, touching) for lower, touching in _touching(response, read).items()
    }
    rows = [each.counted @ levels[each.lower] / each.spread for each in read]
    return np.array(rows).reshape(len(read), len(around))


def _descended(response: LoadResponse, read: tuple[WeighedLoad, ...], way: tuple[WayDown, ...]) -> Array:
    """Return the unknowns (u) to which a way down leads, counted in standard uncertainties."""
    told = np.zeros(len(response.given))
    for leg in way:
        blunt = tuple(each.blunted(leg.blunt) for each in read)
        for _ in range(leg.rounds):
            rows = rows_of(response, blunt, response.given + told * response.spread, leg.share)
            step = _step(rows, _residuals(response, blunt, told), told)
            moved = _as_far_as_it_helps(response, blunt, told, step)
            told, gone = moved, float(np.abs(moved - told).max(initial=0.0))
            if gone < SETTLED:
                break
    return told


def _residuals(response: LoadResponse, read: tuple[WeighedLoad, ...], told: Array) -> Array:
    """Return what readings (r) lie above the loads, over their own spread."""
    around = (response.given + told * response.spread)[None, :]
    loads = {lower: response.loads(around, lower, touching)[0] for lower, touching in _touching(response, read).items()}
    return np.array([((each.reading.load or 0.0) - each.counted @ loads[each.lower]) / each.spread for each in read])


def _touching(response: LoadResponse, read: tuple[WeighedLoad, ...]) -> dict[float, frozenset[str]]:
    """Return for each lowering the supports that touch, since a scale under them reads more than it may be off.

    Without that a stand which the plan has idle could never be found to carry: nothing that changes a little would
    change its load.
    """
    names = set(response.supports)
    told: dict[float, frozenset[str]] = {}
    for each in read:
        reading = each.reading
        touches = reading.support in names and (reading.load or 0.0) > COVERAGE * reading.pm
        told[each.lower] = told.get(each.lower, frozenset()) | (
            frozenset({reading.support}) if touches else frozenset()
        )
    return told


def _step(rows: Array, residuals: Array, told: Array) -> Array:
    """Return the step of Gauss-Newton, by orthogonal factors: scales far finer than the files square badly.

    The unknowns after it, t, and what is left of the readings, e, are the shortest that fulfil rows · t + e = what was
    read: few readings meet many unknowns, so the factors of that are small (least norm by QR: Golub and Van Loan,
    Matrix Computations, 2013, 5.6).
    """
    turned, upper = np.linalg.qr(np.hstack([rows, np.eye(len(rows))]).T)
    shortest = turned @ np.linalg.solve(upper.T, residuals + rows @ told)
    step: Array = shortest[: len(told)] - told
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
    except UNSOLVED:
        return inf
    return float(residuals @ residuals + told @ told)
