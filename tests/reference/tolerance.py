"""Figures over the tolerances: worst margins by bisection over corners, load bounds by scipy's linprog.

Every lump is a mass m with moments s = m·x, m·y, m·z inside its box; lumps are independent, so a linear figure is a
sum over lumps of the least (or most) of each lump's 16 corners. The worst ratio is found by bisection.
"""

from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog

from tests.reference.exact import GRAVITY, Frame, Ray
from tests.reference.leaning import Lean, lowest_of, rates
from tests.reference.scenes import Lump

Array = NDArray[np.float64]


def corners(lump: Lump) -> Array:
    """Return (m, m·x, m·y, m·z) at the 16 corners of a lump's tolerance, with its sign [kg, kg·mm]."""
    rows = []
    for one in product((-1, 1), repeat=4):
        mass = lump.mass + one[0] * lump.mass_pm
        at = [lump.at[axis] + one[axis + 1] * lump.at_pm[axis] for axis in range(3)]
        rows.append([lump.sign * mass, *(lump.sign * mass * value for value in at)])
    return np.array(rows)


@dataclass(frozen=True)
class Floor:
    """What a floor does: its slope (tangent), the height of each whole's lowest saddle (or mount), and the lean."""

    slope: float
    base: dict[int, float]
    lean: Lean


def worst_ratio(frame: Frame, rays: list[Ray], whole: int, floor: Floor) -> float | None:
    """Return the worst margin [mm] of one whole; None where no mode turns it.

    Every subset of the optional parts and every sign of each
    whole's height over its base is tried.
    """
    place = frame.wholes.index(whole)
    best: float | None = None
    for ray in rays:
        if ray.turns[place] == 0:
            continue
        take = rates(frame, ray, floor.lean.tilts)
        for gone in frame.scene.subsets:
            lumps = [lump for lump in frame.scene.lumps if _counts(lump, gone) and _inside(frame, lump)]
            turning = [number for number, turn in enumerate(ray.turns) if turn]
            for signs in product((-1, 1), repeat=len(turning)):
                tilt = dict(zip(turning, signs, strict=True))
                tables = [tables_of(frame, ray, lump, place, (floor, tilt, take)) for lump in lumps]
                best = _bisect(np.array([t[1] for t in tables]), np.array([t[2] for t in tables]), best)
    return best


def _counts(lump: Lump, gone: frozenset[str]) -> bool:
    return not lump.optional or (lump.optional in gone) == (lump.sign < 0)


def _inside(frame: Frame, lump: Lump) -> bool:
    return frame.scene.whole_of(lump.body) in frame.wholes


def tables_of(
    frame: Frame, ray: Ray, lump: Lump, place: int, tilted: tuple[Floor, dict[int, int], dict[str, float]]
) -> tuple[Array, Array, Array]:
    """Return m at each corner of a lump, and what that adds to the work and to m·|turn| of the whole at `place`."""
    floor, tilt, take = tilted
    whole = frame.scene.whole_of(lump.body)
    own = frame.wholes.index(whole)
    w, rx, ry = ray.motion[3 * own : 3 * own + 3]
    m, mx, my, mz = corners(lump).T
    work = m * w + my * rx - mx * ry
    if own in tilt:
        work = work - floor.slope * floor.lean.growth * ray.turns[own] * tilt[own] * (mz - m * floor.base[whole])
    work = work - take[lump.body] * (mz - m * lowest_of(frame, whole))
    return m, work, m * ray.turns[place] * (own == place)


def _bisect(work: Array, turn: Array, best: float | None) -> float:
    """Return the smaller of `best` and the least Σ work / Σ turn over one corner a lump."""

    def least(ratio: float) -> float:
        return float((work - ratio * turn).min(axis=1).sum())

    if best is not None and least(best) >= 0:
        return best
    high = best if best is not None else 1.0
    while least(high) >= 0:
        high = 2 * abs(high) + 1
    step = 1.0
    while least(high - step) < 0:
        step *= 2
    low = high - step
    while high - low > 1e-12 * max(1.0, abs(high)):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        low, high = (middle, high) if least(middle) >= 0 else (low, middle)
    return high


def worst_by_programme(
    frame: Frame, ray: Ray, whole: int, floor: tuple[float, dict[int, int], dict[int, float]]
) -> float:
    """Return one mode's worst ratio of one whole with all optional parts gone, by Charnes and Cooper's programme.

    The same figure as `worst_ratio` for one ray and one choice of signs, by another method: variables are τ = 1/D and
    each lump's m·τ, s·τ, with D = Σ m·|turn| = 1.
    """
    slope, tilt, base = floor
    place = frame.wholes.index(whole)
    lumps = [lump for lump in frame.scene.lumps if lump.there and _inside(frame, lump)]
    size = 4 * len(lumps) + 1
    cost, turn, rows = np.zeros(size), np.zeros(size), []
    for number, lump in enumerate(lumps):
        own_whole = frame.scene.whole_of(lump.body)
        own = frame.wholes.index(own_whole)
        w, rx, ry = ray.motion[3 * own : 3 * own + 3]
        first = 4 * number
        cost[first : first + 3] = np.array([w, -ry, rx]) * lump.sign
        if own in tilt:
            factor = slope * ray.turns[own] * tilt[own] * lump.sign
            cost[first + 3] -= factor
            cost[first] += factor * base[own_whole]
        turn[first] = lump.sign * ray.turns[place] * (own == place)
        rows += _box_rows(lump, first, size)
    answer = linprog(
        cost, A_ub=np.array(rows), b_ub=np.zeros(len(rows)), A_eq=[turn], b_eq=[1.0], bounds=[(None, None)] * size
    )
    assert answer.status == 0, answer.message
    return float(answer.fun or 0.0)


def _box_rows(lump: Lump, first: int, size: int) -> list[Array]:
    def row(*entries: tuple[int, float]) -> Array:
        new = np.zeros(size)
        for place, value in entries:
            new[place] = value
        return new

    last = size - 1
    low, high = lump.mass - lump.mass_pm, lump.mass + lump.mass_pm
    rows = [row((first, 1), (last, -high)), row((first, -1), (last, low))]
    for axis in range(3):
        at, pm = lump.at[axis], lump.at_pm[axis]
        rows += [row((first + 1 + axis, 1), (first, -(at + pm))), row((first + 1 + axis, -1), (first, at - pm))]
    return rows


def load_bounds(frame: Frame) -> list[tuple[float, float | None]]:
    """Return (least, most) of each seat's load over every balance inside tolerance [N]; None: nothing limits it."""
    lumps = [lump for lump in frame.scene.lumps if _inside(frame, lump)]
    weight = GRAVITY * sum(lump.sign * lump.mass for lump in lumps if lump.there)
    span = max(abs(value) for seat in frame.seats for value in seat.at[:2]) or 1.0
    seats, ties = len(frame.seats), len(frame.ties)
    size = seats + ties + 3 * len(lumps)
    scale = np.tile([1.0, 1 / span, 1 / span], len(frame.wholes))
    balance = np.zeros((frame.size, size))
    for column, row in enumerate([*frame.seat_rows, *frame.tie_rows]):
        balance[:, column] = [float(value) for value in row]
    limits: list[Array] = []
    bounds: list[tuple[float | None, float | None]] = [(0, None)] * seats + [(None, None)] * ties
    for number, lump in enumerate(lumps):
        first = seats + ties + 3 * number
        own = 3 * frame.wholes.index(frame.scene.whole_of(lump.body))
        force = lump.sign * GRAVITY / weight
        balance[own, first] = -force
        balance[own + 2, first + 1] = force * span
        balance[own + 1, first + 2] = -force * span
        for axis in range(2):
            at, pm = lump.at[axis] / span, lump.at_pm[axis] / span
            for sign, edge in ((1, at + pm), (-1, at - pm)):
                limit = np.zeros(size)
                limit[first + 1 + axis], limit[first] = sign, -sign * edge
                limits.append(limit)
        low = 0.0 if lump.optional else lump.mass - lump.mass_pm
        bounds += [(low, lump.mass + lump.mass_pm), (None, None), (None, None)]
    balance *= scale[:, None]
    return [_range(number, balance, np.array(limits), (bounds, weight)) for number in range(seats)]


def _range(
    number: int, balance: Array, limits: Array, rest: tuple[list[tuple[float | None, float | None]], float]
) -> tuple[float, float | None]:
    bounds, weight = rest
    ends: list[float | None] = []
    for sign in (1, -1):
        cost = np.zeros(balance.shape[1])
        cost[number] = sign
        answer = linprog(
            cost,
            A_ub=limits,
            b_ub=np.zeros(len(limits)),
            A_eq=balance,
            b_eq=np.zeros(len(balance)),
            bounds=bounds,
            options={"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10},
        )
        assert answer.status in (0, 3), answer.message
        ends.append(float(answer.fun or 0.0) * sign * weight if answer.status == 0 else None)
    assert ends[0] is not None
    return ends[0], ends[1]


def farkas_work(frame: Frame, weights: Array) -> float:
    """Return the least y·b over the cone of motions inside a box, by linprog: below 0 where the group tips.

    Scaled: total weight 1, moments over the span; the box is ±1.
    """
    span = max(abs(value) for seat in frame.seats for value in seat.at[:2]) or 1.0
    scale = np.tile([1.0, 1 / span, 1 / span], len(frame.wholes))
    seats = np.array([[float(value) for value in row] for row in frame.seat_rows]) * scale
    ties = np.array([[float(value) for value in row] for row in frame.tie_rows]).reshape(-1, frame.size) * scale
    answer = linprog(
        weights * scale / np.abs(weights[0::3]).sum(),
        A_ub=-seats,
        b_ub=np.zeros(len(seats)),
        A_eq=ties if len(ties) else None,
        b_eq=np.zeros(len(ties)) if len(ties) else None,
        bounds=(-1, 1),
        options={"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10},
    )
    return float(answer.fun or 0.0)
