"""A group that gives way, slowly: a slope, or a corner of the tolerance, is brought on in small steps.

Newton's method from the step before finds the next one; where it finds none the end is halved to. Whether a saddle
that stands a little lower catches the group from there is not judged: such an end is not sure.

Units as everywhere here: mm, N, rad.
"""

from dataclasses import dataclass, replace
from itertools import product
from math import inf

import numpy as np

from tests.reference import elastic, exact
from tests.reference.elastic import Array
from tests.reference.exact import Frame, Ray
from tests.reference.group import springs_of, weights_of
from tests.reference.leaning import Lean, bases_of, diagonal_of, levers_of, merged_of, rates, scaled, tangent_of
from tests.reference.scenes import Lump
from tests.reference.tolerance import Floor, tables_of

HARD, NEAR, FOLLOWED = 0.01, 2.0, 40
"""Sway up to which nothing is followed; times the least slope, and how many, that are."""

BEYOND = 1.1
"""Times what may be off up to which a group has to settle."""

STEPS, HALVINGS = 60, 50
"""Steps of a path, and halvings at its end."""


@dataclass(frozen=True)
class End:
    """Where a path ended: its factor, what the supports carry there, None where it goes over, and whether that is sure.

    It is not where a saddle that stands lower may catch the group.
    """

    factor: float
    loads: Array | None
    sure: bool


@dataclass(frozen=True)
class Path:
    """How a group is loaded: weights and saddles at a factor s from 0 on, and what a unit of s changes.

    `start` is the motion of every whole where it rests; moved are only those in `merged`, from `rested`.
    """

    springs: elastic.Springs
    start: Array
    merged: Array
    rested: Array
    diagonal: Array
    weights: tuple[Array, Array]
    low: tuple[Array, Array]
    slope: Array

    def loads(self, moved: Array, factor: float) -> Array:
        pressed: Array = np.maximum(self._pressed(moved, factor), 0.0) * self.springs.seat_k
        return pressed

    def _pressed(self, moved: Array, factor: float) -> Array:
        motion = self.start + self.merged @ (moved - self.rested)
        pressed: Array = -(self.springs.seats.T @ motion) - self.low[0] - factor * self.low[1]
        return pressed

    def settled(self, moved: Array, factor: float) -> Array | None:
        """Return where Newton's method leads; None where what touches on the way does not hold the group."""
        touching = self._pressed(moved, factor) > -1e-12
        for _ in range(40):
            tangent = tangent_of(self.springs, touching, self.merged) - np.diag(self.diagonal)
            if np.linalg.eigvalsh(scaled(tangent))[0] <= 0:
                return None
            motion = self.start + self.merged @ (moved - self.rested)
            loads = np.where(touching, self.springs.seat_k * self._pressed(moved, factor), 0.0)
            forces = self.springs.tie_f0 - self.springs.tie_k * (self.springs.ties.T @ motion)
            weights = self.weights[0] + factor * self.weights[1]
            out = self.merged.T @ (weights - self.springs.seats @ loads - self.springs.ties @ forces)
            moved = moved - np.linalg.solve(tangent, out - self.diagonal * (moved + factor * self.slope))
            now = self._pressed(moved, factor) > -1e-12
            if (now == touching).all():
                return moved
            touching = now
        return None

    def followed(self, limit: float) -> "End":
        """Return how far it comes."""
        moved, factor = self.settled(self.rested, 0.0), 0.0
        if moved is None:
            return End(0.0, None, sure=False)
        while factor < limit:
            after = min(factor + limit / STEPS, limit)
            found = self.settled(moved, after)
            if found is None:
                factor, moved = self._halved(moved, factor, after)
                return End(factor, None, sure=not self._may_be_caught(moved, factor))
            moved, factor = found, after
        return End(limit, self.loads(moved, limit), sure=True)

    def _may_be_caught(self, moved: Array, factor: float) -> bool:
        """Tell whether a saddle in the air comes nearer as the group goes the way that nothing resists."""
        pressed = self._pressed(moved, factor)
        leaving, air = np.abs(pressed) <= 1e-7, pressed < -1e-7
        tangent = tangent_of(self.springs, pressed > 1e-7, self.merged) - np.diag(self.diagonal)
        stiffness, axes = np.linalg.eigh(scaled(tangent))
        if stiffness[0] > 0 or not leaving.any():
            return bool(air.any())
        way = np.tile([1.0, 1e-3, 1e-3], len(moved) // 3) * axes[:, 0]
        pace = -self.springs.seats.T @ (self.merged @ way)
        # It goes the way in which what just comes off comes off.
        return bool((pace[air] * pace[leaving].sum() < 0).any())

    def _halved(self, moved: Array, low: float, high: float) -> tuple[float, Array]:
        for _ in range(HALVINGS):
            middle = (low + high) / 2
            found = self.settled(moved, middle)
            if found is None:
                high = middle
            else:
                low, moved = middle, found
        return low, moved


@dataclass(frozen=True)
class Ground:
    """A group as it rests: springs, gaps, its motion, what touches, m g h of every whole, and who rides on whom."""

    frame: Frame
    springs: elastic.Springs
    low: Array
    motion: Array
    touching: Array
    base: list[int]
    diagonal: Array

    @property
    def left(self) -> list[int]:
        return sorted(set(self.base))

    def own(self, motion: Array) -> Array:
        return np.concatenate([motion[3 * one : 3 * one + 3] for one in self.left])

    def path(self, ray: Ray, rise: float) -> Path:
        """Return the path on which nothing but the slope grows."""
        still = np.zeros(len(self.low))
        weights = weights_of(self.frame)
        return Path(
            springs=self.springs,
            start=self.motion,
            merged=merged_of(self.base),
            rested=self.own(self.motion),
            diagonal=self.diagonal,
            weights=(weights, np.zeros(len(weights))),
            low=(self.low, still),
            slope=rise * self.way(ray),
        )

    def way(self, ray: Ray) -> Array:
        """Return the level direction in which each whole slopes, the way that it turns."""
        turns = self.own(np.array(ray.motion)).reshape(-1, 3)[:, 1:]
        largest = float(np.abs(np.array(ray.motion).reshape(-1, 3)[:, 1:]).max()) or 1.0
        sizes = np.linalg.norm(turns, axis=1) / largest
        moments = [size * high if size > 1e-9 else -1.0 for size, high in zip(sizes, self.diagonal[1::3], strict=True)]
        way = np.zeros((len(turns), 3))
        for number, turn in enumerate(turns):
            chosen = turn if sizes[number] > 1e-9 else turns[int(np.argmax(moments))]
            way[number, 1:] = chosen / max(float(np.linalg.norm(chosen)), 1e-12)
        return way.ravel()


def ground_of(frame: Frame, gaps: dict[str, float], f0: dict[str, float], lean: Lean) -> Ground | None:
    """Return a group as it rests; None where its supports are so hard that nothing is followed."""
    if lean.sway <= HARD:
        return None
    springs = springs_of(frame, f0)
    low = np.array([gaps[seat.name] for seat in frame.seats])
    touching = -(springs.seats.T @ lean.motion) - low > 1e-9
    lumps = [lump for lump in frame.scene.lumps if lump.there]
    levers = levers_of(frame, elastic.settle(springs, low, weights_of(frame)), lumps)
    base = bases_of(frame, touching, (springs, levers))
    return Ground(frame, springs, low, lean.motion, touching, base, diagonal_of(levers, base))


def slope_shares(ground: Ground, rays: list[Ray], slopes: list[float]) -> list[float] | None:
    """Return for each mode the share of its slope that is left, as it is told; None where an end is not sure."""
    near = [number for number, ray in enumerate(rays) if _is_near(number, ray, (rays, slopes))]
    near.sort(key=lambda number: slopes[number])
    shares = [1.0] * len(rays)
    for number in near[:FOLLOWED]:
        path = ground.path(rays[number], 1.0)
        rigid = _rigid(ground, rays, path.slope)
        if 0 < rigid < inf:
            end = path.followed(rigid)
            if not end.sure:
                return None
            shares[number] = end.factor / rigid
    for number in near[FOLLOWED:]:
        shares[number] = min(shares)
    if any(seat.on for seat in ground.frame.seats):
        return [min(1.0, share) for share in shares]
    return [min(1.0, max(share, 0.85 + 1.5 * (share - 0.85))) for share in shares]


def _is_near(number: int, ray: Ray, every: tuple[list[Ray], list[float]]) -> bool:
    rays, slopes = every
    least = [
        min(slope for other, slope in zip(rays, slopes, strict=True) if other.turns[whole])
        for whole, turn in enumerate(ray.turns)
        if turn
    ]
    return any(slopes[number] <= NEAR * each for each in least)


def _rigid(ground: Ground, rays: list[Ray], way: Array) -> float:
    weights = merged_of(ground.base).T @ weights_of(ground.frame) - ground.diagonal * ground.own(ground.motion)
    slopes = []
    for ray in rays:
        own = ground.own(np.array(ray.motion))
        takes = float(own @ (ground.diagonal * way))
        if takes > 1e-9 * float(np.abs(own).max()) * float(weights[0::3].sum()):
            slopes.append(max(float(own @ weights), 0.0) / takes)
    return min(slopes, default=inf)


@dataclass(frozen=True)
class Corner:
    """A corner of the tolerance that hurts a mode, and the margin of each whole there [mm].

    `lowered`: how much lower each saddle is [mm]; `margins` is None where the group goes over; `sure`: that it does.
    """

    ray: Ray
    lumps: list[Lump]
    lowered: Array
    margins: dict[int, float] | None
    sure: bool


def corners_of(ground: Ground, rays: list[Ray], floor: Floor, uneven: Array) -> list[Corner]:
    """Follow a group to the corners that hurt each mode: with the masses that hurt it, and with all at their most."""
    corners = []
    for ray in rays:
        lowered = uneven * _signs(ground, ray)
        for masses in (_worst_lumps(ground.frame, ray, floor), _heaviest(ground.frame)):
            lumps = _moved(ground, ray, masses)
            end = _end_of(ground, ray, (lumps, floor.slope), lowered)
            margins = None if end.loads is None else _margins_of(ground.frame, ray, lumps, end.loads)
            corners.append(Corner(ray, lumps, lowered, margins, end.sure))
    return corners


def least_margins(frame: Frame, corners: list[Corner]) -> dict[int, float]:
    """Return the least margin of each whole at corners [mm]: 0 in a mode by which the group goes over."""
    least: dict[int, float] = {}
    for corner in corners:
        turned = [whole for whole, turn in zip(frame.wholes, corner.ray.turns, strict=True) if turn]
        for whole, margin in (dict.fromkeys(turned, 0.0) if corner.margins is None else corner.margins).items():
            least[whole] = min(least.get(whole, inf), margin)
    return least


def _heaviest(frame: Frame) -> list[Lump]:
    here = [lump for lump in frame.scene.lumps if lump.there and frame.scene.whole_of(lump.body) in frame.wholes]
    return [replace(lump, mass=lump.mass + lump.sign * lump.mass_pm) for lump in here]


def _worst_lumps(frame: Frame, ray: Ray, floor: Floor) -> list[Lump]:
    """Return what is on, with the masses that leave a mode the least margin of any whole, by halving."""
    best, chosen, take = inf, list[Lump](), rates(frame, ray, floor.lean.tilts)
    for gone in frame.scene.subsets:
        here = [lump for lump in frame.scene.lumps if frame.scene.whole_of(lump.body) in frame.wholes]
        lumps = [lump for lump in here if not lump.optional or (lump.optional in gone) == (lump.sign < 0)]
        turning = [number for number, turn in enumerate(ray.turns) if turn]
        for signs, place in product(product((-1, 1), repeat=len(turning)), turning):
            tilted = (floor, dict(zip(turning, signs, strict=True)), take)
            tables = [tables_of(frame, ray, lump, place, tilted) for lump in lumps]
            ratio = _ratio([work for _, work, _ in tables], [turn for _, _, turn in tables])
            if ratio < best - 1e-9:
                best = ratio
                picked = [int((work - ratio * turn).argmin()) for _, work, turn in tables]
                chosen = [
                    replace(lump, mass=float(abs(mass[pick])))
                    for lump, (mass, _, _), pick in zip(lumps, tables, picked, strict=True)
                ]
    return chosen


def _ratio(works: list[Array], turns: list[Array]) -> float:
    low, high = -1e5, 1e5
    while high - low > 1e-10 * max(1.0, abs(high)):
        middle = (low + high) / 2
        least = sum(float((work - middle * turn).min()) for work, turn in zip(works, turns, strict=True))
        low, high = (middle, high) if least >= 0 else (low, middle)
    return low


def _moved(ground: Ground, ray: Ray, lumps: list[Lump]) -> list[Lump]:
    """Put every centre of gravity where it hurts a mode most: out across its axis, and up.

    Of what the mode does not turn out the way that its floor slopes.
    """
    frame = ground.frame
    size = max(abs(value) for whole in range(len(frame.wholes)) for value in ray.motion[3 * whole + 1 : 3 * whole + 3])
    sloping = merged_of(ground.base) @ ground.way(ray)
    moved = []
    for lump in lumps:
        own = frame.wholes.index(frame.scene.whole_of(lump.body))
        turns = range(3 * own + 1, 3 * own + 3)
        stays = max(abs(ray.motion[turn]) for turn in turns) <= 1e-9 * size
        largest = 1.0 if stays else size
        rx, ry = ((sloping if stays else ray.motion)[turn] for turn in turns)
        rx, ry = (value if abs(value) > 1e-9 * largest else 0.0 for value in (rx, ry))
        ways = (np.sign(ry), -np.sign(rx), 1.0)
        x, y, z = (at + lump.sign * way * pm for at, way, pm in zip(lump.at, ways, lump.at_pm, strict=True))
        moved.append(replace(lump, at=(float(x), float(y), float(z))))
    return moved


def _end_of(ground: Ground, ray: Ray, put: tuple[list[Lump], float], lowered: Array) -> End:
    """Follow the group to one corner."""
    (lumps, rise), frame = put, ground.frame
    weights = np.array([float(value) for value in exact.weight_row(frame, lumps)])
    try:
        first = elastic.settle(ground.springs, ground.low + lowered, weights)
    except (ValueError, AssertionError):
        return End(0.0, None, sure=True)
    path = replace(
        ground.path(ray, rise),
        diagonal=diagonal_of(levers_of(frame, first, lumps), ground.base),
        weights=(weights_of(frame), weights - weights_of(frame)),
        low=(ground.low, lowered),
    )
    beyond = path.followed(BEYOND)
    return path.followed(1.0) if beyond.sure and beyond.loads is not None else beyond


def _margins_of(frame: Frame, ray: Ray, lumps: list[Lump], loads: Array) -> dict[int, float]:
    """Return the margin of each whole that a mode turns [mm], by what the supports still press."""
    weights = [float(value) for value in exact.weight_row(frame, lumps)]
    work = sum(
        float(load) * sum(float(a) * b for a, b in zip(row, ray.motion, strict=True))
        for load, row in zip(loads, frame.seat_rows, strict=True)
    )
    return {
        whole: work / (share * turn)
        for whole, share, turn in zip(frame.wholes, weights[0::3], ray.turns, strict=True)
        if turn and share > 0
    }


def _signs(ground: Ground, ray: Ray) -> Array:
    """Return for each saddle 1 where it hurts a mode to be low, and −1 where to be high."""
    merged = merged_of(ground.base)
    tangent = tangent_of(ground.springs, ground.touching, merged) - np.diag(ground.diagonal)
    prices = ground.own(np.array(ray.motion)) * ground.diagonal
    costs = -prices @ np.linalg.solve(tangent, (merged.T @ ground.springs.seats) * ground.springs.seat_k)
    return np.where(costs < -1e-9 * np.abs(costs).max(), -1.0, 1.0)
