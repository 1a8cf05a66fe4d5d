"""Ballast on the vehicle on the lift: the least mass at one place that puts its weight back over the arms.

Each thing asked for is met from some mass on, or up to some mass: weight at a place moves the centre of
gravity and every arm's load one way only. So the least mass is found by halving, to the whole kilogram, over
what is not met without ballast; everything is then asked again with that mass on.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from loadplan.limits import GRAVITY
from loadplan.model.job import Job, State
from loadplan.model.vehicle import Place, PlanPoint, Point
from loadplan.statics.contact_loads import springs
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.mass import Lump, lumps, mass_and_cg, upper_mass
from loadplan.statics.mount_preload import mount_preload
from loadplan.statics.tipping_modes import rays, stands
from loadplan.statics.uneven_floor import load_range, mass_levels

MOST = 256
"""No ballast beyond this is looked for [kg]."""


@dataclass(frozen=True, slots=True)
class BallastQuestion:
    """What is asked of the load on a lift.

    Attributes:
        between: Rearmost and foremost x at which its centre of gravity may lie [m].
        arm: Most that an arm may carry [N].
        total: Most that the lift may carry with masses at their upper tolerance [N].
        nothing: Share of the group's weight up to which an arm carries nothing.
        uneven: How far the saddle of each support of the group may be off [m], by name.
        gaps: How much lower each is [m], by name.
    """

    between: PlanPoint
    arm: float
    total: float
    nothing: float
    uneven: Mapping[str, float]
    gaps: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Ballast:
    """A mass at one place.

    Attributes:
        point: Where it is laid.
        mass: How much [kg].
    """

    point: Point
    mass: float


def least_ballast(job: Job, state: State, points: tuple[Point, ...], asked: BallastQuestion) -> Ballast | None:
    """Find the least ballast at one point with which everything asked for is met.

    Args:
        job: The job.
        state: The state; the lift holds its body.
        points: Where it could be laid.
        asked: What is asked for.

    Returns:
        Place and mass in whole kilograms; None where no place has such a mass, or none is needed.
    """
    load = _Load(job, state, asked)
    # What holds already may fail with more mass on, so it cannot be halved for: it is asked again at the end.
    missing = ~load.met(Ballast(points[0], 0.0)) if points else np.zeros(0, dtype=bool)
    found: Ballast | None = None
    for point in points if missing.any() else ():
        # A further place has to do with less, or it is no better.
        most = MOST if found is None else int(found.mass) - 1
        least = _least(load, point, missing, most)
        if least is not None and load.met(least).all():
            found = least
    return found


def _least(
    load: "_Load", point: Point, missing: np.ndarray[tuple[int], np.dtype[np.bool_]], most: int
) -> Ballast | None:
    """Return the least whole number of kilograms at a point that meets what is missing; None where `most` does not."""
    low, high = 0, most
    if high < 1 or not load.met(Ballast(point, high))[missing].all():
        return None
    # Sound since each thing that is missing is met from some mass on, and not lost again before the end.
    while high - low > 1:
        middle = (low + high) // 2
        if load.met(Ballast(point, middle))[missing].all():
            high = middle
        else:
            low = middle
    return Ballast(point, float(high))


class _Load:
    """The load on the lift, asked again and again with other ballast."""

    def __init__(self, job: Job, state: State, asked: BallastQuestion) -> None:
        self._state = state
        self._asked = asked
        self._body = job.lift.body if job.lift else ""
        self._lumps = lumps(job, state)
        self._preload = mount_preload(job)

    def met(self, ballast: Ballast) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
        """Return what is met: it stands, not too far back, nor ahead, not too heavy; then each arm twice."""
        made_of = (*self._lumps, *_lump(ballast.point, ballast.mass))
        frame = next(frame for frame in frames(self._state, made_of) if self._body in frame.bodies)
        own = frame.lumps
        (x, _, _), total = mass_and_cg(own)[1], upper_mass(own) * GRAVITY
        behind, ahead = self._asked.between
        arms = np.array([each.is_arm for each in frame.supports])
        low, high = self._range(frame)
        return np.array([
            np.isfinite(low).all(),
            x >= behind,
            x <= ahead,
            total <= self._asked.total,
            *(low[arms] > self._asked.nothing * frame.weight),
            *(high[arms] <= self._asked.arm),
        ])

    def _range(self, frame: Frame) -> tuple[np.ndarray, np.ndarray]:
        """Return least and most load of each support (n) [N]; without end where the group does not stand."""
        if not stands(frame):
            # Ends that fail every question, since without balance there are no loads.
            nowhere = np.full(len(frame.supports), np.inf)
            return -nowhere, nowhere
        gaps, uneven = (
            np.array([told[each.name] for each in frame.supports]) / frame.span
            for told in (self._asked.gaps, self._asked.uneven)
        )
        ranged = load_range(springs(frame, self._preload), mass_levels(frame, rays(frame)), gaps, uneven)
        return ranged.low * frame.weight, ranged.high * frame.weight


def _lump(point: Point, mass: float) -> tuple[Lump, ...]:
    if mass <= 0:
        return ()
    still: Place = (0.0, 0.0, 0.0)
    lump = Lump(point.body, "ballast", 1, mass, mass, mass, point.at, still, counts=True, optional=False)
    return (lump,)
