"""Fitting: the mass and centre of gravity that fit readings of scales best, by weighted least squares.

Least Σ ((reading − x) / spread)² over unknowns x that balance exactly, B x = 0. What balances is x = Nᵀ y with N the
null space of B, so y is free, and an ordinary fit remains (null space method: Björck, Numerical Methods for Least
Squares Problems, 1996, 5.1). Directions of y that no reading sees are told as not known, not guessed. Tilts that may
be off make the balance bend: it is taken straight about the last answer and fitted again until that stands still
(Gauss-Newton, Björck 9.2). Uncertainties are propagated as in JCGM 100:2008 (5.2, and 6.2 with k = 2); heights come
out of the exact rotation, not of a small tilt.
"""

from dataclasses import dataclass
from math import sqrt

import numpy as np

from loadplan.model.readings import COORDINATES, COVERAGE, Estimate, MeasuredAmount, Reading, ReadingSet, UnknownKind
from loadplan.statics.chi_squared import LEVEL, chance_of_more
from loadplan.statics.mass import Array
from loadplan.statics.null_space import null_space
from loadplan.statics.reading_equations import MASS, Scheme, balance, measured_only, numbered, readings

UNSEEN = 1e-7
"""What readings see less of than this [share] they do not determine: far below any scale."""

WORTHLESS = 0.25
"""A coordinate that is known no better than this [m] is not known: a unit is hardly larger."""

ROUNDS = 20
"""Rounds of linearising the tilts end after a handful."""

SETTLED = 1e-12
"""Tilts that change by less than this [rad] have settled."""

ALIKE = 1e-6
"""Readings that fit equally ill within this cannot be told apart."""


@dataclass(frozen=True, slots=True)
class Fit:
    """Mass and centre of gravity that fit the readings best.

    Attributes:
        mass: Mass [kg]; None where the readings do not determine it.
        cg: Centre of gravity along x, y, z [m]; None where the readings do not determine it.
        redundancy: How many readings there are to spare.
        squares: Sum of squared residuals, each over its standard deviation.
        suspects: The reading that fits worst, several where they cannot be told apart; empty without redundancy.
        taken: Coordinates known only because all places stand in one line.
        pulling: Places that would have to pull the unit down.
        loads: Force at every place of every set [kg]; None where the readings do not determine it.
    """

    mass: Estimate | None
    cg: tuple[Estimate | None, Estimate | None, Estimate | None]
    redundancy: int
    squares: float
    suspects: tuple[Reading, ...]
    taken: tuple[MeasuredAmount, ...]
    pulling: tuple[Reading, ...]
    loads: tuple[tuple[float | None, ...], ...]

    @property
    def consistent(self) -> bool | None:
        """Whether the readings agree inside their tolerances; None where none is to spare."""
        return None if self.redundancy == 0 else chance_of_more(self.squares, self.redundancy) >= LEVEL

    def estimate(self, amount: MeasuredAmount) -> Estimate | None:
        """Return the estimate of one amount."""
        return self.mass if amount is MeasuredAmount.MASS else self.cg[COORDINATES.index(amount)]


@dataclass(frozen=True, slots=True)
class _Solution:
    """Unknowns (u) with their covariance (u, u); what is lost on the readings (l, u); residuals over their spread."""

    unknowns: Array
    spread: Array
    lost: Array
    redundancy: int
    misfits: Array
    squares: float


def fit(sets: tuple[ReadingSet, ...]) -> Fit:
    """Find the mass and centre of gravity that fit all readings best.

    Args:
        sets: At least one set, with at least one reading greater than 0.

    Returns:
        Estimates with expanded uncertainties; None for what the readings do not determine.
    """
    # Tilts as read make the equations linear: one solution is the answer, and shows whether tilts are worth asking
    # about.
    level = numbered(sets, tilts_uncertain=False)
    plain = _solve(level, balance(level, level.tilted(np.zeros(level.count)), None))
    # Without the height there is no saying what a tilt that is off would do, and nothing is lost by not asking.
    high = _seen(plain.lost, 3) and _seen(plain.lost, MASS)
    scheme = numbered(sets, tilts_uncertain=True) if high else level
    return _told(scheme, _settled(scheme) if scheme.tilts or scheme.taped else plain)


def _settled(scheme: Scheme) -> _Solution:
    """Return the solution with uncertain tilts and places, linear about itself."""
    off = np.zeros(scheme.count)
    # The balance is taken straight about some unknowns: at first those that come of the tilts as read.
    around = _solve(scheme, balance(scheme, scheme.tilted(off), None)).unknowns
    columns = [each.column for each in scheme.tilts]
    for _ in range(ROUNDS):
        solved = _solve(scheme, balance(scheme, scheme.tilted(off), around), off)
        step = solved.unknowns[columns] - off[columns]
        off[columns], around = solved.unknowns[columns], solved.unknowns.copy()
        if np.abs(step).max(initial=0.0) < SETTLED:
            break
    return solved


def _solve(scheme: Scheme, balanced: Array, off: Array | None = None) -> _Solution:
    """Return what fits the readings inside the balance; off: what tilts already are off."""
    told = readings(scheme)
    columns = np.array([each.column for each in told], dtype=np.intp)
    values, spreads = np.array([each.value for each in told]), np.array([each.spread for each in told])
    start = np.zeros(scheme.count) if off is None else off
    free = null_space(balanced, scheme.count)
    _, sizes, seen = np.linalg.svd(free[:, columns].T, full_matrices=True)
    rank = int((sizes > UNSEEN).sum())
    # Only what readings see is fitted; the rest of the balance is kept, to know which unknowns it leaves open.
    known, lost = seen[:rank] @ free, seen[rank:] @ free
    weighted = known[:, columns].T / spreads[:, None]
    # By orthogonal factors: normal equations would square how ill the readings are placed.
    across, triangle = np.linalg.qr(weighted)
    found = np.linalg.solve(triangle, across.T @ ((values - start[columns]) / spreads))
    # As a product with its own transpose a covariance cannot come out below 0.
    back = np.linalg.solve(triangle.T, known).T
    unknowns = start + found @ known
    residuals = (values - unknowns[columns]) / spreads
    # A reading that nothing checks fits itself: its residual is 0 whatever it says, and must not be divided by 0.
    left = 1 - (across * across).sum(axis=1)
    with np.errstate(over="ignore"):
        # What is further off than a number holds is infinitely far off: it fits as badly, and is told so.
        squares = float(residuals @ residuals)
    return _Solution(
        unknowns=unknowns,
        spread=back @ back.T,
        lost=lost,
        redundancy=len(told) - rank,
        misfits=np.where(left > UNSEEN, residuals / np.sqrt(np.maximum(left, UNSEEN)), 0.0),
        squares=squares,
    )


def _seen(lost: Array, number: int) -> bool:
    return not lost.size or float(np.abs(lost[:, number]).max()) < UNSEEN


def _told(scheme: Scheme, solved: _Solution) -> Fit:
    """Return a solution in units of the readings; what they leave open as None."""
    mass = _mass(scheme, solved)
    names = tuple(each.reading for each in readings(scheme))
    first, second, third = (_coordinate(scheme, solved, axis) if mass else None for axis in range(3))
    return Fit(
        mass=mass,
        cg=(first, second, third),
        redundancy=solved.redundancy,
        squares=solved.squares,
        suspects=_suspects(names, solved) if solved.redundancy else (),
        taken=_taken(scheme, (first, second, third)),
        pulling=_pulling(scheme, solved),
        loads=_loads(scheme, solved),
    )


def _mass(scheme: Scheme, solved: _Solution) -> Estimate | None:
    """Return the mass; None where it is not seen, or no larger than its uncertainty."""
    value = float(solved.unknowns[MASS]) * scheme.unit
    pm = COVERAGE * sqrt(float(solved.spread[MASS, MASS])) * scheme.unit
    return Estimate(value, pm) if _seen(solved.lost, MASS) and value > pm else None


def _coordinate(scheme: Scheme, solved: _Solution, axis: int) -> Estimate | None:
    """Return a coordinate, moment over mass, its uncertainty propagated from both and from what ties them."""
    if not _seen(solved.lost, 1 + axis):
        return None
    mass, moment = solved.unknowns[MASS], solved.unknowns[1 + axis]
    # Mass and moment come of the same readings, so their uncertainties hang together and must not be added one by one.
    change = np.zeros(scheme.count)
    change[MASS], change[1 + axis] = -moment / mass**2, 1 / mass
    pm = COVERAGE * sqrt(max(float(change @ solved.spread @ change), 0.0)) * scheme.span
    value = float(scheme.middle[axis] + scheme.span * moment / mass)
    return Estimate(value, pm) if pm < WORTHLESS else None


def _suspects(names: tuple[Reading, ...], solved: _Solution) -> tuple[Reading, ...]:
    """Return the readings with the largest residual over its own standard deviation; a tape is off in many places."""
    sizes = np.where([each.kind is UnknownKind.TAPE for each in names], 0.0, np.abs(solved.misfits))
    # Readings that check only each other misfit alike: to name one of them would be a guess.
    worst = np.flatnonzero(sizes >= sizes.max() * (1 - ALIKE))
    return tuple(dict.fromkeys(names[number] for number in worst))


def _taken(scheme: Scheme, cg: tuple[Estimate | None, ...]) -> tuple[MeasuredAmount, ...]:
    plain = numbered(scheme.sets, tilts_uncertain=False)
    # A coordinate is taken, not measured, if it is lost once nobody says that the unit does not tip over its line of
    # scales.
    rows = measured_only(plain, plain.tilted(np.zeros(plain.count)))
    lost = _solve(plain, rows).lost
    found = zip(COORDINATES, cg, strict=True)
    return tuple(amount for axis, (amount, each) in enumerate(found) if each is not None and not _seen(lost, 1 + axis))


def _pulling(scheme: Scheme, solved: _Solution) -> tuple[Reading, ...]:
    """Return the places whose force is below 0 by more than its uncertainty."""
    return tuple(
        Reading(UnknownKind.LOAD, number, place)
        for number, first in enumerate(scheme.forces)
        for place in range(len(scheme.sets[number].places))
        if _seen(solved.lost, first + place)
        and solved.unknowns[first + place] < -COVERAGE * sqrt(solved.spread[first + place, first + place]) - UNSEEN
    )


def _loads(scheme: Scheme, solved: _Solution) -> tuple[tuple[float | None, ...], ...]:
    return tuple(
        tuple(
            float(solved.unknowns[first + place]) * scheme.unit if _seen(solved.lost, first + place) else None
            for place in range(len(scheme.sets[number].places))
        )
        for number, first in enumerate(scheme.forces)
    )
