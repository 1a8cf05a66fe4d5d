"""What can hold a group against weights and pushes: saddles, mounts and links, as columns of a linear programme.

A saddle pushes up with a normal N ≥ 0 and holds sideways up to μ N, a cone of 32 faces inscribed in the round one, so
at most 0.5 % on the careful side; a mount carries any force at its point, a link one along its line, each up to its
limit. There are six balances for every rigid whole; those that mounts without limit take care of whatever comes, and
those that nothing here could change, are left out. None of this hangs on how the group leans or where it is pushed, so
it is written down once, with a set of forces that bears the weights: other weights are mostly borne by the same, in
other amounts.
"""

from dataclasses import dataclass, replace
from itertools import product
from math import inf

import numpy as np

from loadplan.model.job import Support
from loadplan.model.vehicle import Joint, JointKind, Place
from loadplan.statics.equilibrium import Frame
from loadplan.statics.mass import Array
from loadplan.statics.null_space import SINGULAR, null_space
from loadplan.statics.simplex import NoAnswerError, Programme, SimplexBasis, start
from loadplan.statics.table_base import TableBase, base_rows

FACES = 32
"""Faces of the friction cone."""

OILED = 0.05
"""Friction of oiled steel on steel (OpenStax University Physics 1, table 6.1)."""


@dataclass(frozen=True, slots=True)
class Grip:
    """How one saddle holds sideways.

    Attributes:
        friction: Sideways force a unit of load, before it slides.
        footing: The same before the stand itself goes over; infinite where it cannot.
        said: Whether anybody has said the friction; else it was assumed.
        base: The base of its piece, where that makes several supports and goes over as one; None for a stand by itself.
    """

    friction: float
    footing: float
    said: bool = True
    base: TableBase | None = None

    @property
    def holds(self) -> float:
        """The smaller of the two."""
        return min(self.friction, self.footing)

    @property
    def oiled(self) -> "Grip":
        """The same, with oil on the saddle where nobody has said its friction."""
        return self if self.said else replace(self, friction=min(self.friction, OILED), said=True)


@dataclass(frozen=True, slots=True)
class Resistance:
    """What can hold a group of q rigid wholes, scaled to weight 1 and span 1; m balances, b bounds.

    Attributes:
        frame: The group; how its weights lie does not matter.
        grips: Of each support (n); a hoist has 0.
        free: Motions (f, 6 q) that mounts without limit leave free, of length 1 and square to each other.
        motions: Motions (m, 6 q) of which each makes a balance: those of them that something here can stand against.
        columns: Rows (k, m + b): the faces of each saddle's cone, then what is left of each table's hold, then no force
            of each tie with a limit, then the greatest ones of each.
        bounds: Right side (b) of what is asked besides: the shares of each tie come to 1, and what holds a table down
            at a side of its base, less what is left of it, to 0.
        basis: A basis of these that bears the weights as the frame has them; None where there is none.
    """

    frame: Frame
    grips: tuple[Grip, ...]
    free: Array
    motions: Array
    columns: Array
    bounds: Array
    basis: SimplexBasis | None

    @classmethod
    def of(cls, frame: Frame, grips: tuple[Grip, ...]) -> "Resistance":
        """Write down what can hold a group.

        Args:
            frame: The group, balanced as given.
            grips: Of each support; a hoist has 0.

        Returns:
            What can hold it.
        """
        ties = [_Tie.of(frame, joint) for joint in (*frame.mounts, *frame.links)]
        endless = [tie.forces for tie in ties if tie.most == inf]
        free = null_space(np.vstack([np.zeros((0, 6 * len(frame.wholes))), *endless]), 6 * len(frame.wholes))
        bounded = [tie.pulls for tie in ties if tie.most < inf]
        forces = np.vstack([_faces(frame, grips), *bounded])
        _, sizes, axes = np.linalg.svd(forces @ free.T, full_matrices=False)
        # Balances that no force can change would make every basis singular; the group is balanced, so these hold.
        motions = axes[sizes > SINGULAR * sizes[0]] @ free
        shared = _shared(forces @ motions.T, FACES * len(grips), [len(pulls) for pulls in bounded])
        columns = _on_bases(shared, frame, grips)
        bounds = np.append(np.ones(len(bounded)), np.zeros(columns.shape[1] - shared.shape[1]))
        found = cls(frame, grips, free, motions, columns, bounds, None)
        try:
            basis = start(Programme(columns, found.right(frame.load)))
        except NoAnswerError:
            return found
        return replace(found, basis=basis)

    @property
    def has_limits(self) -> bool:
        """Whether a tie holds only so much, or along its line only."""
        joints = (*self.frame.mounts, *self.frame.links)
        return any(joint.kind is not JointKind.MOUNT or joint.limit is not None for joint in joints)

    def right(self, load: Array) -> Array:
        """Return the right side (m + b) of the balances for weights (3 q), and of the bounds."""
        weights = np.zeros((len(load) // 3, 6))
        weights[:, 2:5] = load.reshape(-1, 3)
        return np.append(self.motions @ weights.ravel(), self.bounds)

    def borne(self, load: Array) -> SimplexBasis:
        """Return a feasible basis that bears weights (3 q).

        Raises:
            NoBalanceError: If nothing here can bear them.
        """
        right = self.right(load)
        known = self.basis.at(right) if self.basis else None
        return known or start(Programme(self.columns, right))

    def reaching(self, pushes: Array) -> "Resistance":
        """Add the balances that only some pushes (c, 6 q) can change: nothing here stands against them.

        Returns:
            The same where there are none, as almost always; with more of them it has no basis of its own.
        """
        missed = (pushes - pushes @ self.motions.T @ self.motions) @ self.free.T
        if np.abs(missed).max() <= SINGULAR * np.abs(pushes).max():
            return self
        _, sizes, axes = np.linalg.svd(missed, full_matrices=False)
        more = axes[sizes > SINGULAR * np.abs(pushes).max()] @ self.free
        count = len(self.motions)
        columns = np.hstack([
            self.columns[:, :count],
            np.zeros((len(self.columns), len(more))),
            self.columns[:, count:],
        ])
        return replace(self, motions=np.vstack([self.motions, more]), columns=columns, basis=None)

    def pressed(self, pushes: Array) -> Array:
        """Return pushes (c, 6 q) as columns of the programme (c, m + b): they have no part in any bound."""
        return np.hstack([pushes @ self.motions.T, np.zeros((len(pushes), len(self.bounds)))])


@dataclass(frozen=True, slots=True)
class _Tie:
    """What a mount or a link can hold: any force at its place, or along its line, up to its limit.

    Attributes:
        forces: Balances (3 or 1, 6 q) of a unit force along each axis that it holds.
        most: Most that it may carry, as share of the weight; infinite where nothing is said.
    """

    forces: Array
    most: float

    @staticmethod
    def of(frame: Frame, joint: Joint) -> "_Tie":
        forces = axes_at(frame, joint.at[0], *(frame.whole(name) for name in joint.between))
        if joint.kind is JointKind.LINK and joint.to is not None:
            line = np.array(joint.to) - np.array(joint.at[0])
            forces = (line / np.linalg.norm(line))[None, :] @ forces
        return _Tie(forces, inf if joint.limit is None else joint.limit / frame.weight)

    @property
    def pulls(self) -> Array:
        """Balances (k, 6 q) of the greatest force in each of several ways all round; what lies between is inside."""
        size = len(self.forces)
        ways = np.array([way for way in product((-1.0, 0.0, 1.0), repeat=size) if any(way)])
        pulls: Array = self.most * ways / np.linalg.norm(ways, axis=1)[:, None] @ self.forces
        return pulls


def axes_at(frame: Frame, at: Place, first: int | None, second: int | None) -> Array:
    """Write down a force along x, y and z at a place, on one rigid whole and back on another.

    Args:
        frame: The group.
        at: The place [m].
        first: Number of the whole that the force acts on; None for the floor.
        second: Number of the whole that it acts back on; None for the floor.

    Returns:
        Balances (3, 6 q), scaled: forces along x, y, z and moments about them of every whole.
    """
    x, y, z = (at[0] - frame.middle[0]) / frame.span, (at[1] - frame.middle[1]) / frame.span, at[2] / frame.span
    axes = np.array([
        [1.0, 0.0, 0.0, 0.0, z, -y],
        [0.0, 1.0, 0.0, -z, 0.0, x],
        [0.0, 0.0, 1.0, y, -x, 0.0],
    ])
    both = np.zeros((3, 6 * len(frame.wholes)))
    for whole, sign in ((first, 1.0), (second, -1.0)):
        if whole is not None:
            both[:, 6 * whole : 6 * whole + 6] += sign * axes
    return both


def axes_of(frame: Frame, support: Support) -> Array:
    """Write down a force along x, y and z at a support.

    Args:
        frame: The group.
        support: One of its supports.

    Returns:
        Balances (3, 6 q), as of `axes_at`.
    """
    first, second = (frame.whole(body) if body in frame.bodies else None for body in (support.body, support.on))
    return axes_at(frame, support.at, first, second)


def _faces(frame: Frame, grips: tuple[Grip, ...]) -> Array:
    """Return the balances (FACES n, 6 q) of a unit of load on each support with as much sideways as that holds."""
    held = [_cone(grip) @ axes_of(frame, support) for support, grip in zip(frame.supports, grips, strict=True)]
    return np.vstack([np.zeros((0, 6 * len(frame.wholes))), *held])


def _cone(grip: Grip) -> Array:
    """Return the forces (FACES, 3) along x, y and z at the faces of a saddle's cone, of a unit of load each."""
    angles = 2 * np.pi * np.arange(FACES) / FACES
    around = np.column_stack([np.cos(angles), np.sin(angles)])
    return np.column_stack([grip.holds * around, np.ones(FACES)])


def _shared(columns: Array, first: int, counts: list[int]) -> Array:
    """Return columns with a row a tie with a limit: the shares of its greatest forces, and of none, come to 1.

    The columns of the first tie begin at `first`, each has so many as counted; that of none comes before all others.
    """
    if not counts:
        return columns
    rows = np.zeros((len(columns), len(counts)))
    for number, count in enumerate(counts):
        begin = first + sum(counts[:number])
        rows[begin : begin + count, number] = 1.0
    none = np.hstack([np.zeros((len(counts), columns.shape[1])), np.eye(len(counts))])
    shared = np.hstack([columns, rows])
    return np.vstack([shared[:first], none, shared[first:]])


def _on_bases(columns: Array, frame: Frame, grips: tuple[Grip, ...]) -> Array:
    """Return columns with a row a side of each table's base: what holds it down there, less what is left, is 0.

    The columns of what is left come where the cones end, before all that follow.
    """
    rows = base_rows(tuple(grip.base for grip in grips))
    if not rows:
        return columns
    first = FACES * len(grips)
    held = np.zeros((len(columns), len(rows)))
    for number, (grip, support) in enumerate(zip(grips, frame.supports, strict=True)):
        for row, (piece, side) in enumerate(rows):
            if grip.base and grip.base.piece == piece:
                moments = grip.base.hold(side, support.at[:2], _cone(grip)) / frame.span
                held[FACES * number : FACES * number + FACES, row] = moments
    left = np.hstack([np.zeros((len(rows), columns.shape[1])), -np.eye(len(rows))])
    wider = np.hstack([columns, held])
    return np.vstack([wider[:first], left, wider[first:]])
