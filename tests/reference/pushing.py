"""Sideways: the least level push that a group cannot stand, and the factor on a known pull, by linprog in 3D.

Six balances a rigid whole. A support pushes up at its saddle and holds sideways up to µ times that (a cone with many
sides, inscribed); a mount carries any force at its point. The least push is the least distance from no push to the edge
of the convex set of pushes that can be stood: the least of its support function, scanned and refined.
"""

from dataclasses import dataclass
from math import cos, pi, sin
from typing import Any

import numpy as np
from scipy.optimize import linprog, minimize_scalar

from tests.reference import elastic, exact
from tests.reference.elastic import Array
from tests.reference.exact import GRAVITY, Frame
from tests.reference.group import springs_of
from tests.reference.scenes import Place, Seat

SIDES = 96
"""Sides of the inscribed friction cone: at most 0.06 % on the safe side."""

ROLLING = 0.02


@dataclass(frozen=True)
class Hold:
    """A group as a programme: columns of forces on six balances a whole [N, N·m], what limits them, and the weights."""

    columns: Array
    limits: Array
    free: int
    """The first so many columns are loads of supports, which only push."""
    weights: Array

    def most(self, push: Array) -> float:
        """Return the largest factor on a force column that can be stood; inf where nothing limits it."""
        matrix = np.hstack([self.columns, push[:, None]])
        limits = np.hstack([self.limits, np.zeros((len(self.limits), 1))])
        cost = np.zeros(matrix.shape[1])
        cost[-1] = -1
        bounds = [(0, None)] * self.free + [(None, None)] * (matrix.shape[1] - self.free - 1) + [(0, None)]
        answer = linprog(cost, limits, np.zeros(len(limits)), matrix, -self.weights, bounds)
        if answer.status == 3:
            return float("inf")
        assert answer.status == 0, answer.message
        return -float(answer.fun or 0.0)


def hold_of(frame: Frame, friction: dict[str, float], lean: dict[str, tuple[float, float]] | None = None) -> Hold:
    """Write down a group's programme, with the friction of each seat; each body's centre moved by its lean [mm]."""
    seats, ties = frame.seats, frame.ties
    sideways = [seat for seat in seats if friction[seat.name] > 0]
    columns = [_between(frame, seat, (0, 0, 1)) for seat in seats]
    columns += [_between(frame, seat, axis) for seat in sideways for axis in ((1, 0, 0), (0, 1, 0))]
    for tie in ties:
        for axis in ((1, 0, 0), (0, 1, 0), (0, 0, 1)):
            column = force_on(frame, tie.first, tie.places[0], axis)
            columns.append(column - force_on(frame, tie.second, tie.places[0], axis))
    limits = np.zeros((SIDES * len(sideways), len(columns)))
    for number, seat in enumerate(sideways):
        for side in range(SIDES):
            angle = 2 * pi * (side + 0.5) / SIDES
            row = limits[SIDES * number + side]
            first = len(seats) + 2 * number
            row[first : first + 2] = cos(angle), sin(angle)
            row[seats.index(seat)] = -friction[seat.name] * cos(pi / SIDES)
    weights = np.zeros(6 * len(frame.wholes))
    for lump in frame.scene.lumps:
        if lump.there and frame.scene.whole_of(lump.body) in frame.wholes:
            x, y = (lean or {}).get(lump.body, (0.0, 0.0))
            at = (lump.at[0] + x, lump.at[1] + y, lump.at[2])
            weights += force_on(frame, lump.body, at, (0, 0, -lump.sign * lump.mass * GRAVITY))
    return Hold(np.array(columns).T, limits, len(seats), weights)


def force_on(frame: Frame, body: str, at: Place, force: tuple[float, float, float]) -> Array:
    """Return the six balances [N, N·m] of a force on a body at a place [mm]."""
    column = np.zeros(6 * len(frame.wholes))
    first = 6 * frame.wholes.index(frame.scene.whole_of(body))
    column[first : first + 3] = force
    column[first + 3 : first + 6] = np.cross(np.array(at) / 1000, force)
    return column


def _between(frame: Frame, seat: Seat, axis: tuple[int, int, int]) -> Array:
    column = force_on(frame, seat.body, seat.at, axis)
    return column - force_on(frame, seat.on, seat.at, axis) if seat.on else column


def least_push(hold: Hold, frame: Frame, body: str, at: Place) -> float:
    """Return the least level push [N] on a body at a place that cannot be stood."""

    def reach(angle: float) -> float:
        return _furthest(hold, frame, (body, at), angle)

    step = 2 * pi / 48
    found = [reach(step * number) for number in range(48)]
    best = sorted(range(48), key=lambda number: found[number])[:4]
    refined = [
        minimize_scalar(reach, bounds=(step * (n - 1), step * (n + 1)), method="bounded", options={"xatol": 1e-6}).fun
        for n in best
    ]
    return min(*refined, *found)


def _furthest(hold: Hold, frame: Frame, pushed: tuple[str, Place], angle: float) -> float:
    """Return how far the set of stood pushes reaches in a direction: any push, its share along that direction."""
    body, at = pushed
    along, across = (cos(angle), sin(angle), 0.0), (-sin(angle), cos(angle), 0.0)
    wider = Hold(
        np.hstack([hold.columns, force_on(frame, body, at, across)[:, None]]),
        np.hstack([hold.limits, np.zeros((len(hold.limits), 1))]),
        hold.free,
        hold.weights,
    )
    return wider.most(force_on(frame, body, at, along))


def lean_under(frame: Frame, gaps: dict[str, float], push: Array) -> tuple[float, float] | None:
    """Return how far the one whole of a group leans [mm] under six balances [N, N·m] of a push; None: it goes over.

    Round by round: the springs with the weights where the round before left them. The push is taken at the height of
    the saddles that carry, each as it carries without it.
    """
    springs, low = springs_of(frame, {}), np.array([gaps[seat.name] for seat in frame.seats])
    there = [lump for lump in frame.scene.lumps if lump.there and lump.body in frame.scene.wholes[frame.wholes[0]]]
    weights = np.array([float(value) for value in exact.weight_row(frame, there)])
    loads = elastic.settle(springs, low, weights).loads
    saddles = float(loads @ [seat.at[2] for seat in frame.seats]) / float(loads.sum())
    height = sum(lump.sign * lump.mass * lump.at[2] for lump in there) * GRAVITY / weights[0] - saddles
    x, y, z = push[:3]
    pushed = np.array([-z, -1000 * push[3] - y * saddles, -1000 * push[4] + x * saddles])
    shift = np.zeros(2)
    for _ in range(400):
        try:
            motion = elastic.settle(
                springs, low, weights + pushed + weights[0] * np.array([0, shift[1], -shift[0]])
            ).motion
        except (ValueError, AssertionError):
            return None
        leant = max(height, 0.0) * np.array([motion[2], -motion[1]])
        if np.abs(leant - shift).max() < 1e-7:
            return float(leant[0]), float(leant[1])
        shift = leant
    return None


def friction_of(raw: dict[str, Any], frame: Frame) -> dict[str, float]:
    """Return µ of every seat: its own, else its equipment's, else the limits'; at most half base over height."""
    shop = raw["shop"] if isinstance(raw.get("shop"), dict) else raw
    equipment = {each["name"]: each for each in shop["equipment"]}
    supports = {each["name"]: each for each in raw["support"]}
    limit = raw.get("limits", {}).get("friction", 0.15)
    values = [seat.value for seat in frame.scene.seats if seat.value is not None and not seat.on]
    level = -min(values) if values else None
    found = {}
    for seat in frame.seats:
        support = supports.get(seat.name, {})
        item = equipment.get(support.get("use", ""), {})
        grip = float(support.get("friction", item.get("friction", limit)))
        if seat.on and "friction" not in support:
            # Its foot stands on bare metal.
            grip = min(grip, limit)
        if item.get("wheels"):
            grip = min(grip, ROLLING)
        high = _height(frame, seat, (support, item, level))
        if "base" in item and high:
            grip = min(grip, _half(item["base"]) / high)
        found[seat.name] = 0.0 if seat.hoist else grip
    return found


def _half(base: dict[str, float] | list[float] | float) -> float:
    if isinstance(base, dict):
        return base["circle"] / 2
    return min(base) / 2 if isinstance(base, list) else base / 2


def _height(frame: Frame, seat: Seat, found: tuple[dict[str, Any], dict[str, Any], float | None]) -> float | None:
    """Return height of saddle and shim over the floor [mm]: set, needed at the others' level, or the greatest."""
    support, item, level = found
    if seat.high is not None:
        return seat.high
    # What stands on a body reaches from its foot, as the others there that are set show.
    feet = [each.at[2] - each.high for each in frame.scene.seats if each.high is not None and each.on == seat.on]
    level = -min(feet) if seat.on and feet else None if seat.on else level
    if level is not None:
        return seat.at[2] + level
    shim = support.get("shim", 0)
    greatest = item["heights"]["to"] if "heights" in item else None
    return None if greatest is None else greatest + (shim["height"] if isinstance(shim, dict) else shim)


def highest_part(raw: dict[str, Any], bodies: tuple[str, ...]) -> tuple[str, Place]:
    """Return body and place of the highest part of some bodies, all parts on."""
    parts = [part for part in raw["part"] if part["body"] in bodies]
    part = max(parts, key=lambda each: each["at"][2])
    return part["body"], tuple(part["at"])
