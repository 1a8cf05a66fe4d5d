"""What readings say: the balance of forces and moments of every set, as linear equations in scaled unknowns.

Unknowns, in this order: the mass; the mass times each coordinate of the centre of gravity; the force of every
place of every set; mass times how far each hook holds beside its place; what each uncertain tilt is off; what the tape
may be off. Lengths are measured from the middle of the places and divided by their span, masses by the largest reading.

A place that is δ off adds its force times δ to what turns its set. What that comes to in all sets, Σ f δ, is what
counts, not each δ: sets that share places, measured once, share their errors. So the covariance of those sums over the
sets, Σ f f' s² over shared places (JCGM 100, F.1.2.3), is split into a root, and each column of the root gets one
unknown an axis, known to be 0 ± 1: three a set, however many places there are.
"""

from dataclasses import dataclass
from math import cos, sin, sqrt
from typing import NamedTuple

import numpy as np

from loadplan.model.readings import COVERAGE, Held, Reading, ReadingSet, UnknownKind
from loadplan.statics.mass import Array

MASS = 0
"""Number of the mass among the unknowns; the three moments follow it."""

MOMENTS = slice(1, 4)

BESIDE_HOOK = 0.005
"""How far the centre of gravity may lie beside a hook [m], expanded (k = 2): half a degree off level on a sling of
half a metre, and where the eye bears; common practice, no source."""

FINEST = 0.001
"""Least plus or minus on a reading [kg]: none is exact."""

IN_LINE = 1e-6
"""Places nearer than this to one line [share of their span] stand in line."""

STEEPEST = 0.1
"""Least rise of the vertical along the unit's own: nobody tilts a unit by 84 degrees, but a wild reading might."""

Tilt = tuple[float, float]
"""Front up and left side up [rad]."""


class UncertainTilt(NamedTuple):
    """A tilt that may be off.

    Attributes:
        of_set: Number of its set.
        kind: Nose up or left up.
        column: Number of its unknown.
    """

    of_set: int
    kind: UnknownKind
    column: int


class ScaledReading(NamedTuple):
    """One reading as the equations see it.

    Attributes:
        reading: What was read.
        column: Number of its unknown.
        value: What was read, scaled.
        spread: Its standard deviation, scaled.
    """

    reading: Reading
    column: int
    value: float
    spread: float


@dataclass(frozen=True, slots=True)
class Scheme:
    """Which unknown stands where, and the scale of all.

    Attributes:
        sets: The readings.
        middle: Middle of all places (3) [m].
        span: Their largest distance from it [m].
        unit: Largest reading [kg].
        forces: Number of the first force of each set.
        hooks: (set, number of its first unknown) of each set that hangs at a known attitude.
        tilts: Each tilt that is uncertain.
        tapes: Number of the first unknown of what the tape is off, three a set from there on.
        count: Number of unknowns.
    """

    sets: tuple[ReadingSet, ...]
    middle: Array
    span: float
    unit: float
    forces: tuple[int, ...]
    hooks: tuple[tuple[int, int], ...]
    tilts: tuple[UncertainTilt, ...]
    tapes: int
    count: int

    @property
    def taped(self) -> bool:
        """Whether some places may be off."""
        return self.count > self.tapes

    def places(self, number: int) -> Array:
        """Return the places (n, 3) of a set, scaled."""
        scaled: Array = (np.array([place.at for place in self.sets[number].places]) - self.middle) / self.span
        return scaled

    def tilted(self, unknowns: Array) -> tuple[Tilt, ...]:
        """Return the tilt of each set with what it is off."""
        off = {(number, kind): float(unknowns[column]) for number, kind, column in self.tilts}
        return tuple(
            (
                each.nose_up + off.get((number, UnknownKind.NOSE_UP), 0.0),
                each.left_up + off.get((number, UnknownKind.LEFT_UP), 0.0),
            )
            for number, each in enumerate(self.sets)
        )


def numbered(sets: tuple[ReadingSet, ...], *, tilts_uncertain: bool) -> Scheme:
    """Number the unknowns.

    Args:
        sets: The readings.
        tilts_uncertain: Whether the uncertainty of tilts is looked at.

    Returns:
        The scheme.
    """
    at = np.array([place.at for each in sets for place in each.places])
    middle = at.mean(axis=0)
    forces = [4 + sum(len(each.places) for each in sets[:number]) for number in range(len(sets) + 1)]
    hanging = [number for number, each in enumerate(sets) if each.held is Held.HANGS]
    hooks = tuple((number, forces[-1] + 2 * place) for place, number in enumerate(hanging))
    after = forces[-1] + 2 * len(hooks)
    uncertain = _uncertain(sets) if tilts_uncertain else []
    return Scheme(
        sets=sets,
        middle=middle,
        # All places in one spot would leave no length to divide by.
        span=max(float(np.linalg.norm(at - middle, axis=1).max()), 0.1),
        unit=max((place.load or 0.0 for each in sets for place in each.places), default=0.0) or 1.0,
        forces=tuple(forces[:-1]),
        hooks=hooks,
        tilts=tuple(UncertainTilt(number, kind, after + place) for place, (number, kind) in enumerate(uncertain)),
        tapes=after + len(uncertain),
        count=after + len(uncertain) + (3 * len(sets) if any(each.tape for each in sets) else 0),
    )


def _uncertain(sets: tuple[ReadingSet, ...]) -> list[tuple[int, UnknownKind]]:
    """Return the tilts that may be off: number of the set, and which of its two."""
    return [
        (number, kind)
        for number, each in enumerate(sets)
        # What hangs askew tells its weight alone: no moment of it is used, so no tilt of it matters.
        if each.held is not Held.HANGS_ASKEW
        for kind, spread in ((UnknownKind.NOSE_UP, each.nose_up_pm), (UnknownKind.LEFT_UP, each.left_up_pm))
        if spread > 0
    ]


def vertical(tilt: Tilt) -> Array:
    """Return the vertical (3) in the unit's axes, upward.

    Args:
        tilt: Front up and left side up [rad].

    Returns:
        Unit vector.

    Example:
        >>> vertical((0.0, 0.0)).tolist()
        [0.0, 0.0, 1.0]
    """
    # A level laid along an axis reads how steep that axis is: its sine is the part of the vertical along it.
    x, y = sin(tilt[0]), sin(tilt[1])
    return np.array([x, y, sqrt(max(1 - x * x - y * y, STEEPEST**2))])


def balance(scheme: Scheme, tilts: tuple[Tilt, ...], around: Array | None) -> Array:
    """Write down the balance of every set.

    Args:
        scheme: The unknowns.
        tilts: Tilt of each set.
        around: Unknowns (u) about which the effect of tilts and of the tape is taken as linear; None leaves both out.

    Returns:
        Matrix (3 a set, u), which gives 0 for unknowns in balance: force, moments about x and y.
    """
    rows = np.stack([_of_set(scheme, number, tilts[number], around) for number in range(len(scheme.sets))])
    if around is not None and scheme.taped:
        _put_tape(scheme, tilts, _off_by_tape(scheme, around), rows)
    return np.vstack(list(rows))


def _off_by_tape(scheme: Scheme, around: Array) -> Array:
    """Return what each set's sum of forces times places may be off by along an axis, as a root (s, s)."""
    shared: dict[tuple[bool, float, float], int] = {}
    keys = [[(of.held is Held.STANDS, *place.at[:2]) for place in of.places] for of in scheme.sets]
    for key in (key for of_set in keys for key in of_set):
        shared.setdefault(key, len(shared))
    pressed = np.zeros((len(scheme.sets), len(shared)))
    for number, of_set in enumerate(keys):
        forces = around[_forces(scheme, number)] * scheme.sets[number].tape / 2 / scheme.span
        np.add.at(pressed[number], [shared[key] for key in of_set], forces)
    across, sizes, _ = np.linalg.svd(pressed, full_matrices=True)
    root: Array = across[:, : len(sizes)] * sizes
    return np.hstack([root, np.zeros((len(root), len(root) - len(sizes)))])


def _put_tape(scheme: Scheme, tilts: tuple[Tilt, ...], root: Array, rows: Array) -> None:
    """Write what the tape may be off into the rows (s, 3, u) of every set that turns."""
    for number, each in enumerate(scheme.sets):
        if each.held is Held.HANGS_ASKEW:
            continue
        turned = np.kron(np.eye(3), root[number])
        rows[number, 1:, scheme.tapes :] = _about(turned, vertical(tilts[number]))


def measured_only(scheme: Scheme, tilts: tuple[Tilt, ...]) -> Array:
    """Write down the balance of every set, less what only says that places in one line cannot tip over it.

    A unit does not stand on one line: that its centre of gravity lies over it was not measured.

    Args:
        scheme: The unknowns.
        tilts: Tilt of each set.

    Returns:
        Matrix (m, u).
    """
    rows = [_of_set(scheme, number, tilts[number], None) for number in range(len(scheme.sets))]
    return np.vstack([_measured(scheme, number, tilts[number], each) for number, each in enumerate(rows)])


def _of_set(scheme: Scheme, number: int, tilt: Tilt, around: Array | None) -> Array:
    """Return the rows (3, u) by which one set balances: forces, and moments but where it hangs askew."""
    turned = _turning(scheme, number)
    up = vertical(tilt)
    rows = np.zeros((3, scheme.count))
    rows[0, MASS] = -1.0
    rows[0, _forces(scheme, number)] = 1.0
    # How it hangs was not read, so that it hangs in balance says nothing.
    if scheme.sets[number].held is Held.HANGS_ASKEW:
        return rows
    rows[1:] = _about(turned, up)
    if around is not None:
        for of_set, kind, column in scheme.tilts:
            if of_set == number:
                rows[1:, column] = _about((turned @ around)[:, None], _swing(tilt, kind))[:, 0]
    return rows


def _turning(scheme: Scheme, number: int) -> Array:
    """Return the rows (3, u) of the forces times their places, less the mass times its own."""
    rows = np.zeros((3, scheme.count))
    rows[:, MOMENTS] = -np.eye(3)
    rows[:, _forces(scheme, number)] = scheme.places(number).T
    for of_set, column in scheme.hooks:
        if of_set == number:
            # A hook bears a little beside its place; the mass times that is an unknown of its own, with its spread.
            rows[0, column] = rows[1, column + 1] = 1.0
    return rows


def _forces(scheme: Scheme, number: int) -> slice:
    first = scheme.forces[number]
    return slice(first, first + len(scheme.sets[number].places))


def _about(turned: Array, up: Array) -> Array:
    """Return the moments about x and y of vertical forces whose places add up to these."""
    return np.array([turned[1] * up[2] - turned[2] * up[1], turned[2] * up[0] - turned[0] * up[2]])


def _swing(tilt: Tilt, kind: UnknownKind) -> Array:
    """Return how the vertical changes with one tilt."""
    up = vertical(tilt)
    axis, angle = (0, tilt[0]) if kind is UnknownKind.NOSE_UP else (1, tilt[1])
    change = np.zeros(3)
    change[axis] = cos(angle)
    # The vertical keeps its length: what one part of it gains, the upward part gives.
    change[2] = -up[axis] * cos(angle) / up[2]
    return change


def _measured(scheme: Scheme, number: int, tilt: Tilt, rows: Array) -> Array:
    """Return the rows of a set that its readings can see: on one line of scales only the moment across it."""
    if scheme.sets[number].held is not Held.STANDS:
        return rows
    places, up = scheme.places(number), vertical(tilt)
    # As seen along the vertical: places in line from there are in line for every scale.
    seen = places[:, :2] - places[:, 2:] * up[:2] / up[2]
    _, sizes, along = np.linalg.svd(seen - seen.mean(axis=0), full_matrices=True)
    # One place has one size only; with a 0 behind it both questions can be asked.
    sizes = np.append(sizes, 0.0)
    if sizes[0] <= IN_LINE:
        return rows[:1]
    if sizes[1] > IN_LINE:
        return rows
    return np.vstack([rows[:1], along[0, 0] * rows[2:3] - along[0, 1] * rows[1:2]])


def readings(scheme: Scheme) -> list[ScaledReading]:
    """List what was read.

    Args:
        scheme: The unknowns.

    Returns:
        Each reading on the unknown that it is of, scaled.
    """
    told: list[ScaledReading] = []
    for number, each in enumerate(scheme.sets):
        for place, scale in enumerate(each.places):
            if scale.load is not None:
                # An expanded uncertainty covers two standard deviations (k = 2).
                spread = max(scale.pm, FINEST) / 2 / scheme.unit
                column = scheme.forces[number] + place
                reading = Reading(UnknownKind.LOAD, number, place)
                told.append(ScaledReading(reading, column, scale.load / scheme.unit, spread))
    # A hook and a tilt count as read, too: that each is off by nothing, give or take; so a fit may move them a little.
    for number, column in scheme.hooks:
        load = scheme.sets[number].places[0].load or scheme.unit
        spread = BESIDE_HOOK / COVERAGE * load / scheme.unit / scheme.span
        told += [ScaledReading(Reading(UnknownKind.HOOK, number, 0), column + axis, 0.0, spread) for axis in (0, 1)]
    for number, kind, column in scheme.tilts:
        of_set = scheme.sets[number]
        spread = (of_set.nose_up_pm if kind is UnknownKind.NOSE_UP else of_set.left_up_pm) / 2
        told.append(ScaledReading(Reading(kind, number, 0), column, 0.0, spread))
    # What the tape is off is one of these: 0, give or take 1, of a column of the root.
    tape = Reading(UnknownKind.TAPE, 0, 0)
    return told + [ScaledReading(tape, column, 0.0, 1.0) for column in range(scheme.tapes, scheme.count)]
