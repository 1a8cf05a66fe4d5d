"""Lean: how far tilts carry the centres of gravity level, and what that takes off the work of each mode.

A body whose centre of gravity lies h over its lowest saddle or mount, tilted by (rx, ry), has it moved by
(h·ry, −h·rx). In a mode that turns it by (rx', ry') that lowers its work by its weight times h·(rx·rx' + ry·ry').

A body on which stands of another one stand carries their saddles along besides: a load F on one that lies h over its
own lowest place then acts so far out on it, as if that much of its weight lay there.
"""

from dataclasses import dataclass, replace
from math import tan
from typing import NamedTuple

import numpy as np

from loadplan.limits import GRAVITY
from loadplan.model.answer import GroupAnswer
from loadplan.model.shop import EquipmentKind
from loadplan.statics.distinct_rows import distinct_numbers
from loadplan.statics.equilibrium import Frame
from loadplan.statics.mass import Array

AT_ONCE = 1_000_000
"""Products of tilts and motions that are reckoned at once, to bound the memory."""

Numbers = np.ndarray[tuple[int, ...], np.dtype[np.intp]]


@dataclass(frozen=True, slots=True)
class Lean:
    """How a group of q rigid wholes may lean.

    Attributes:
        tilts: Tilts (c, q, 2) about x and y [rad], of which the one counts that hurts a mode most.
        growth: By how much a tilt of the floor tilts the group: 1 / (1 − sway).
    """

    tilts: Array
    growth: float


@dataclass(frozen=True, slots=True)
class Tilted:
    """What a floor and the lean do to a group.

    Attributes:
        slope: Floor slope [rad].
        lean: How the group leans.
    """

    slope: float
    lean: Lean

    @property
    def rise(self) -> float:
        """Tangent of the slope at which the group stands: what stands on springs gives way to it, and leans more."""
        return tan(self.slope) * self.lean.growth


def upright(frame: Frame) -> Lean:
    """Say that a group does not lean.

    Args:
        frame: The group.

    Returns:
        No lean, and no growth.
    """
    return Lean(np.zeros((1, len(frame.wholes), 2)), 1.0)


def told_lean(frame: Frame, group: GroupAnswer) -> Lean:
    """Take the lean of a group from what was told of it.

    Args:
        frame: The group, or one of the same bodies.
        group: What was told.

    Returns:
        The lean; upright where the group does not stand, or goes over by its own lean.
    """
    if group.sway is None:
        return upright(frame)
    # Bodies of one whole lean as one: the first speaks for all.
    row = [group.bodies.index(names[0]) for names in frame.wholes]
    return Lean(np.array(group.worst_tilts)[:, row], 1.0 / (1.0 - group.sway))


def leaning_loads(frame: Frame, tilts: Array, carried: Array) -> Array:
    """Move the centre of gravity of every body by its lean, and the saddles that stand on it.

    Args:
        frame: The group; q rigid wholes.
        tilts: Tilts (c, q, 2) about x and y [rad].
        carried: What stands on each whole (q, q), as of `carried_moments`.

    Returns:
        Its weights (c, 3 q), scaled.
    """
    counts = np.array([lump.sign * lump.mass * GRAVITY if lump.counts else 0.0 for lump in frame.lumps])
    each = counts * heights_over_lowest(frame) / (frame.weight * frame.span)
    moment = np.bincount(frame.whole_of, each, len(frame.wholes)) + carried.sum(axis=0)
    loads = np.tile(frame.load, (len(tilts), 1))
    for axis in (0, 1):
        loads[:, axis + 1 :: 3] -= moment * tilts[:, :, axis]
    return loads


def carried_moments(frame: Frame, loads: Array) -> Array:
    """Measure what stands on each rigid whole of a group as it leans: load times height over its own lowest place.

    Args:
        frame: The group; n supports, q rigid wholes.
        loads: What each support carries (n), as shares of the weight.

    Returns:
        Moments (q, q), scaled: of each whole, a row, on each other one. What hangs from one swings, and stays plumb.
    """
    moments = np.zeros((len(frame.wholes), len(frame.wholes)))
    for support, load in zip(frame.supports, loads, strict=True):
        if support.on in frame.bodies and support.equipment.kind is not EquipmentKind.HOIST:
            base = frame.whole(support.on)
            moments[frame.whole(support.body), base] += load * max(support.at[2] - frame.lowest[base], 0.0) / frame.span
    return moments


def carried_work(motions: Array, lean: Lean, carried: Array) -> Array:
    """Find what the work of each motion loses because saddles on a whole go with its lean.

    Args:
        motions: Scaled motions (k, 3 q).
        lean: How the group leans.
        carried: As of `carried_moments` (q, q).

    Returns:
        Work (k), scaled, by the tilt that takes most; a lean the other way is not trusted.
    """
    turns = motions.reshape(len(motions), -1, 3)[:, :, 1:]
    along = np.einsum("cqa,kqa->kcq", lean.tilts, turns)
    lost: Array = (np.maximum(along, 0.0) @ carried.sum(axis=0)).max(axis=1)
    return lost


def lean_rates(frame: Frame, motions: Array, lean: Lean) -> Array:
    """Find what the lean takes off the work of each motion, a unit of mass and of height.

    A body's lean counts only in motions in which it lessens that body's work, masses as given: a lean the other way is
    not trusted. Of several tilts the one counts that takes off most.

    Args:
        frame: The group; p lumps.
        motions: Scaled motions (k, 3 q).
        lean: How it may lean.

    Returns:
        Rates (k, p): times mass and height over the lowest saddle or mount that is what the work loses.
    """
    bodies = _bodies(frame)
    rates = np.zeros((len(motions), len(bodies.moment)))
    if lean.tilts.any():
        for rows in _chunks(motions, lean, bodies):
            along, lost, worst = _worst_tilts(motions[rows], lean, bodies)
            each = np.arange(len(worst))
            rates[rows] = np.where(lost[each, worst] > 0, along[each, worst], 0.0)
    by_lump: Array = rates[:, bodies.number]
    return by_lump


def telling(frame: Frame, motions: Array, lean: Lean) -> Lean:
    """Leave only those tilts that take most off some motion: what worst margins come to stays the same.

    Args:
        frame: The group.
        motions: Scaled motions (k, 3 q).
        lean: How it may lean.

    Returns:
        The lean, with few tilts.
    """
    if not len(motions):
        return replace(lean, tilts=lean.tilts[:1])
    bodies = _bodies(frame)
    # A tilt that is the worst of no motion changes no margin, and each that is kept costs a pass over all parts.
    chosen = [_worst_tilts(motions[rows], lean, bodies).worst for rows in _chunks(motions, lean, bodies)]
    return replace(lean, tilts=lean.tilts[distinct_numbers(np.concatenate(chosen))])


def tilt_prices(frame: Frame, motions: Array) -> Array:
    """Say which motions of a group cost each of its modes most by their tilt.

    Args:
        frame: The group.
        motions: Its scaled modes (k, 3 q).

    Returns:
        Rows (k, 3 q): a scaled motion times a row is what its lean takes off the work of that mode, up to a factor.
    """
    bodies = _bodies(frame)
    moment = (bodies.whole[:, None] == np.arange(len(frame.wholes))).T @ bodies.moment
    prices: Array = motions * np.kron(moment, [0.0, 1.0, 1.0])
    return prices


def heights_over_lowest(frame: Frame) -> Array:
    """Measure how high each lump lies over the lowest saddle or mount of its rigid whole.

    Args:
        frame: The group; p lumps.

    Returns:
        Heights (p) [m].
    """
    heights: Array = np.array([lump.at[2] for lump in frame.lumps]) - frame.lowest[frame.whole_of]
    return heights


@dataclass(frozen=True, slots=True)
class _Bodies:
    """The bodies of a group, b of them, for what leans with each.

    Attributes:
        number: Body of each lump (p).
        moment: Mass times height over the lowest saddle or mount (b) [kg m], masses as given.
        whole: Rigid whole of each body (b).
    """

    number: Numbers
    moment: Array
    whole: Numbers


def _bodies(frame: Frame) -> _Bodies:
    names = tuple(dict.fromkeys(lump.body for lump in frame.lumps))
    number = np.array([names.index(lump.body) for lump in frame.lumps], dtype=np.intp)
    # Masses as given decide which lean hurts; those that make it worst are chosen by the margins.
    given = np.array([lump.sign * lump.mass if lump.counts else 0.0 for lump in frame.lumps])
    moment = (number[:, None] == np.arange(len(names))).T @ (given * heights_over_lowest(frame))
    return _Bodies(number, moment, np.array([frame.whole(name) for name in names], dtype=np.intp))


def _chunks(motions: Array, lean: Lean, bodies: _Bodies) -> list[slice]:
    size = max(1, AT_ONCE // (len(lean.tilts) * len(bodies.moment)))
    return [slice(start, start + size) for start in range(0, len(motions), size)]


class _WorstTilts(NamedTuple):
    """How far each tilt goes with each motion (k, c, b), what the work loses by it, and which is worst (k)."""

    along: Array
    lost: Array
    worst: Numbers


def _worst_tilts(motions: Array, lean: Lean, bodies: _Bodies) -> _WorstTilts:
    """Return which way of standing crooked takes most work off each motion."""
    turns = motions.reshape(len(motions), -1, 3)[:, :, 1:]
    along = np.einsum("cqa,kqa->kcq", lean.tilts, turns, optimize=True)[:, :, bodies.whole]
    # Body by body: what one gains by leaning back does not pay for what another loses.
    lost = np.maximum(along * bodies.moment, 0.0)
    return _WorstTilts(along, lost, lost.sum(axis=2).argmax(axis=1))
