"""The lean of a group, slowly: the settled state by small steps, and what tilts take off a mode, body by body.

Units as everywhere here: mm, N, rad; a moment against a tilt is N mm.
"""

from dataclasses import dataclass
from math import atan, degrees, hypot

import numpy as np

from tests.reference import elastic, exact
from tests.reference.elastic import Array
from tests.reference.exact import GRAVITY, Frame, Ray
from tests.reference.group import springs_of
from tests.reference.scenes import Lump, Place

STEPS = 200
"""Steps in which the weights' own overturning is brought on."""


@dataclass(frozen=True)
class Lean:
    """How a group may lean: tilts (whole, axis) of which the worst counts, those of them for tip angles, and sway.

    `motion` is that of the settled state; `carried` what stands on each whole, as (whole, base, moment): a load times
    its height over the lowest place of that [N mm].
    """

    tilts: list[Array]
    settled: list[Array]
    sway: float
    motion: Array
    carried: list[tuple[int, int, float]]

    @property
    def growth(self) -> float:
        return 1 / (1 - self.sway)


def upright(frame: Frame) -> Lean:
    still = np.zeros((len(frame.wholes), 2))
    return Lean([still], [still], 0.0, np.zeros(frame.size), [])


def lean_of(
    frame: Frame, gaps: dict[str, float], f0: dict[str, float], corners: tuple[list[Array], list[Array]]
) -> Lean | None:
    """Return how a group leans; None where it goes over by that.

    `corners`: first-order motions on an uneven floor, as the stage leaves it and with what it took off still on.
    """
    springs = springs_of(frame, f0)
    low = np.array([gaps[seat.name] for seat in frame.seats])
    found = settled(frame, springs, low, [lump for lump in frame.scene.lumps if lump.there])
    if found is None:
        return None
    motion, sway = found
    tilts = [_tilts(motion)]
    if corners[1]:
        before = settled(frame, springs, low, lumps_before(frame))
        if before is not None:
            tilts.append(_tilts(before[0]))
    uneven = [_tilts(each) / (1 - sway) for each in [*corners[0], *corners[1]]]
    first = elastic.settle(springs, low, weights_now(frame))
    return Lean([*tilts, *uneven], tilts, sway, motion, carried_of(frame, first.loads))


def weights_now(frame: Frame) -> Array:
    lumps = [lump for lump in frame.scene.lumps if lump.there]
    return np.array([float(value) for value in exact.weight_row(frame, lumps)])


def carried_of(frame: Frame, loads: Array) -> list[tuple[int, int, float]]:
    """Return what stands on each whole, load by load times how high over the lowest place of that [N mm]."""
    carried = []
    for seat, load in zip(frame.seats, loads, strict=True):
        if seat.on and not seat.hoist:
            base = _own(frame, seat.on)
            high = max(seat.at[2] - lowest_of(frame, frame.wholes[base]), 0.0)
            carried.append((_own(frame, seat.body), base, float(load) * high))
    return carried


def lumps_before(frame: Frame) -> list[Lump]:
    """Return what the group weighed with everything on that the stage takes off."""
    there = [lump for lump in frame.scene.lumps if lump.there]
    return there + [lump for lump in frame.scene.came_off if frame.scene.whole_of(lump.body) in frame.wholes]


def weights_before(frame: Frame) -> Array:
    return np.array([float(value) for value in exact.weight_row(frame, lumps_before(frame))])


def _tilts(motion: Array) -> Array:
    tilts: Array = motion.reshape(-1, 3)[:, 1:]
    return tilts


def settled(frame: Frame, springs: elastic.Springs, low: Array, lumps: list[Lump]) -> tuple[Array, float] | None:
    """Follow the group in small steps; return its motion and its sway, None where it goes over."""
    weights = np.array([float(value) for value in exact.weight_row(frame, lumps)])
    first = elastic.settle(springs, low, weights)
    levers = levers_of(frame, first, lumps)
    fixed = first.loads > 1e-9 * float(np.abs(weights[0::3]).sum())
    for _ in frame.wholes:
        base = bases_of(frame, fixed, (springs, levers))
        motion = _followed(springs, low, weights, first.motion, (levers, base))
        if motion is None:
            return None
        touching = -(springs.seats.T @ motion) - low > 1e-9
        carried = {_own(frame, seat.body) for seat, on in zip(frame.seats, touching, strict=True) if on}
        if all(base[whole] == whole for whole in carried):
            return motion, _sway(springs, touching, levers, bases_of(frame, touching, (springs, levers)))
        fixed = fixed | touching
    return None


def _own(frame: Frame, body: str) -> int:
    return frame.wholes.index(frame.scene.whole_of(body))


def levers_of(frame: Frame, first: elastic.Settled, lumps: list[Lump]) -> list[float]:
    """Return m g z less Σ F z of every whole [N mm]."""
    levers = [0.0] * len(frame.wholes)
    for lump in lumps:
        if frame.scene.whole_of(lump.body) in frame.wholes:
            levers[_own(frame, lump.body)] += lump.sign * lump.mass * GRAVITY * lump.at[2]
    for seat, load in zip(frame.seats, first.loads, strict=True):
        levers[_own(frame, seat.body)] -= load * seat.at[2]
        if seat.on:
            levers[_own(frame, seat.on)] += load * seat.at[2]
    for tie, force in zip(frame.ties, first.forces, strict=True):
        levers[_own(frame, tie.first)] -= force * tie.places[0][2]
        levers[_own(frame, tie.second)] += force * tie.places[0][2]
    return levers


def bases_of(frame: Frame, carries: Array, held: tuple[elastic.Springs, list[float]]) -> list[int]:
    """Return for each whole the one that it counts as rigid with, by asking again until nothing changes."""
    base = list(range(len(frame.wholes)))
    carried = {_own(frame, seat.body) for seat, on in zip(frame.seats, carries, strict=True) if on}
    while True:
        for one in sorted(set(base)):
            members = [whole for whole, of in enumerate(base) if of == one]
            ends = [(_own(frame, tie.first), _own(frame, tie.second), tie.places[0]) for tie in frame.ties]
            cross = [(first in members) != (second in members) for first, second, _ in ends]
            crossing = [each for each, does in zip(ends, cross, strict=True) if does]
            others = {base[each[1] if each[0] in members else each[0]] for each in crossing}
            rows = [(1.0, at[1] / 1000, at[0] / 1000) for _, _, at in crossing]
            alone = not carried & set(members) and len(others) == 1
            full = alone and np.linalg.matrix_rank(np.array(rows), tol=1e-9) == 3
            if full and _topples(np.array(rows), held[0].tie_k[cross], sum(held[1][one] for one in members)) <= 0.1:
                (other,) = others
                base = [other if of == one else of for of in base]
                break
        else:
            return base


def _topples(rows: Array, tie_k: Array, lever: float) -> float:
    """Return the share of what mounts hold that a weight on them takes away, their base still; lever: m g h [N mm]."""
    stiffness = (rows.T * tie_k) @ rows
    roots = np.linalg.eigvals(np.linalg.solve(stiffness, np.diag([0.0, 1.0, 1.0]) * max(lever, 0.0) * 1e-6))
    return float(roots.real.max())


def merged_of(base: list[int]) -> Array:
    left = sorted(set(base))
    return np.kron(np.array([[float(of == one) for one in left] for of in base]), np.eye(3))


def diagonal_of(levers: list[float], base: list[int]) -> Array:
    own = [[lever for lever, of in zip(levers, base, strict=True) if of == one] for one in sorted(set(base))]
    sums = [max(sum(each), 0.0) for each in own]
    return np.kron(sums, [0.0, 1.0, 1.0])


def tangent_of(springs: elastic.Springs, touching: Array, merged: Array) -> Array:
    seats = merged.T @ springs.seats[:, touching]
    ties = merged.T @ springs.ties
    tangent: Array = (seats * springs.seat_k[touching]) @ seats.T + (ties * springs.tie_k) @ ties.T
    return tangent


def scaled(matrix: Array) -> Array:
    scale = np.tile([1.0, 1e-3, 1e-3], len(matrix) // 3)
    sizes: Array = scale[:, None] * matrix * scale
    return sizes


def _followed(
    springs: elastic.Springs, low: Array, weights: Array, first: Array, terms: tuple[list[float], list[int]]
) -> Array | None:
    """Return where Newton's method leads as the m g h terms are brought on in small steps; None: it goes over."""
    _, base = terms
    merged, diagonal = merged_of(base), diagonal_of(*terms)
    left = sorted(set(base))
    start = np.concatenate([first[3 * one : 3 * one + 3] for one in left])
    moved = start.copy()
    for factor in np.linspace(0.0, 1.0, STEPS + 1):
        for _ in range(100):
            motion = first + merged @ (moved - start)
            pressed = -(springs.seats.T @ motion) - low
            loads = springs.seat_k * np.maximum(pressed, 0.0)
            forces = springs.tie_f0 - springs.tie_k * (springs.ties.T @ motion)
            out = merged.T @ (weights - springs.seats @ loads - springs.ties @ forces) - factor * diagonal * moved
            tangent = tangent_of(springs, pressed > -1e-12, merged) - factor * np.diag(diagonal)
            if np.linalg.eigvalsh(scaled(tangent))[0] <= 0:
                return None
            step = np.linalg.solve(tangent, out)
            moved = moved - step
            if np.abs(step * np.tile([1.0, 1e3, 1e3], len(left))).max() < 1e-11:
                break
    return first + merged @ (moved - start)


def _sway(springs: elastic.Springs, touching: Array, levers: list[float], base: list[int]) -> float:
    """Return the largest t for which stiffness less 1/t of the m g h terms is singular."""
    merged = merged_of(base)
    roots = np.linalg.eigvals(
        np.linalg.solve(tangent_of(springs, touching, merged), np.diag(diagonal_of(levers, base)))
    )
    return float(roots.real.max())


def lowest_of(frame: Frame, whole: int) -> float:
    """Return the height of the lowest saddle or mount of a whole [mm]."""
    names = frame.scene.wholes[whole]
    heights = [seat.at[2] for seat in frame.seats if seat.body in names]
    heights += [tie.places[0][2] for tie in frame.ties if tie.first in names or tie.second in names]
    return min(heights, default=0.0)


def moment_of(frame: Frame, body: str) -> float:
    """Return a body's mass times its height over the lowest saddle or mount of its whole, as given [kg mm]."""
    low = lowest_of(frame, frame.scene.whole_of(body))
    own = [lump for lump in frame.scene.lumps if lump.there and lump.body == body]
    return sum(lump.sign * lump.mass * (lump.at[2] - low) for lump in own)


def rates(frame: Frame, ray: Ray, tilts: list[Array]) -> dict[str, float]:
    """Return what a unit of mass and height of each body takes off a mode's work, by the tilt that hurts it most."""
    bodies = [body for whole in frame.wholes for body in frame.scene.wholes[whole]]
    best, chosen = -1.0, dict.fromkeys(bodies, 0.0)
    for tilt in tilts:
        along = {}
        for body in bodies:
            own = _own(frame, body)
            _, rx, ry = ray.motion[3 * own : 3 * own + 3]
            with_it = rx * float(tilt[own][0]) + ry * float(tilt[own][1])
            along[body] = with_it if with_it * moment_of(frame, body) > 0 else 0.0
        lost = sum(value * moment_of(frame, body) for body, value in along.items())
        if lost > best:
            best, chosen = lost, along
    return chosen


def tip_angle(frame: Frame, ray: Ray, lean: Lean) -> float:
    """Return the floor slope at which a mode goes [degrees], each whole about the line that it really turns about."""
    take = rates(frame, ray, lean.settled)
    work = arm = 0.0
    for place, whole in enumerate(frame.wholes):
        lumps = [lump for lump in frame.scene.lumps if lump.there and frame.scene.whole_of(lump.body) == whole]
        mass = sum(lump.sign * lump.mass for lump in lumps)
        cg = [sum(lump.sign * lump.mass * lump.at[axis] for lump in lumps) / mass for axis in range(3)]
        w, rx, ry = ray.motion[3 * place : 3 * place + 3]
        lost = sum(moment_of(frame, body) * take[body] for body in frame.scene.wholes[whole]) / mass
        up = w + rx * cg[1] - ry * cg[0] - lost
        work += mass * up
        if ray.turns[place]:
            about = _arm(frame, ray, place, (cg, up / ray.turns[place]))
            arm += mass * ray.turns[place] * (abs(cg[2] - lowest_of(frame, whole)) if about is None else about)
            if about is None:
                along = [moment * ray.turns[base] for top, base, moment in lean.carried if top == place]
                arm += sum(along) / GRAVITY
    work = max(work - _carried_along(ray, lean) / GRAVITY, 0.0)
    return degrees(atan(work / arm)) if arm else 90.0


def _carried_along(ray: Ray, lean: Lean) -> float:
    """Return what a mode's work loses because stands go with the lean of what they stand on, by the worst tilt."""

    def along(base: int, tilts: Array) -> float:
        rx, ry = ray.motion[3 * base + 1 : 3 * base + 3]
        return max(float(rx) * float(tilts[base][0]) + float(ry) * float(tilts[base][1]), 0.0)

    return max(sum(moment * along(base, tilts) for _, base, moment in lean.carried) for tilts in lean.settled)


def _arm(frame: Frame, ray: Ray, place: int, at: tuple[list[float], float]) -> float | None:
    """Return h of one whole [mm]: the largest over pairs of places that do not move, nor the whole there."""
    cg, beside = at
    places = [({seat.body, seat.on} - {""}, seat.at) for seat in frame.seats]
    places += [({tie.first, tie.second}, tie.places[0]) for tie in frame.ties]
    size = max(abs(value) for value in (*np.array(ray.motion) * np.tile([1e-3, 1.0, 1.0], len(frame.wholes)),))

    def rests(number: int, spot: Place) -> bool:
        w, rx, ry = ray.motion[3 * number : 3 * number + 3]
        return abs(w + rx * spot[1] - ry * spot[0]) < 1e-6 * size

    still = [each for names, each in places if rests(place, each) and all(rests(_own(frame, n), each) for n in names)]
    arms = []
    for number, one in enumerate(still):
        for other in still[number + 1 :]:
            run = hypot(other[0] - one[0], other[1] - one[1])
            if run > 1e-6:
                steep = (other[2] - one[2]) / run
                along = ((cg[0] - one[0]) * (other[0] - one[0]) + (cg[1] - one[1]) * (other[1] - one[1])) / run
                arms.append(hypot(cg[2] - one[2] - steep * along, beside * steep))
    return max(arms, default=None)
