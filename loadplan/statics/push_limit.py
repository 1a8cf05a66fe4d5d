"""Sideways push and pull: what friction at the saddles and the stands' own footing can stand.

Greatest λ such that forces exist with Σ W f + λ p = w at every rigid whole, six balances each: a saddle pushes up
with a normal N ≥ 0 and holds sideways up to μ N, a cone of 32 faces inscribed in the round one, so at most 0.5 % on
the careful side; a mount carries any force at its point, a link one along its line, each up to its limit. A linear
programme; its prices at the end are the motion that begins there, which tells sliding from tipping. The pushes that
can be stood make a convex polygon, and the least of them over all directions is the distance of its nearest side
(`push_polygon`).

Such a limit is an upper bound: friction is not associated, so what really holds depends on how the lot was set down
(Drucker, Coulomb friction, plasticity, and limit loads, Journal of Applied Mechanics 21, 1954, 71-74).
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import product
from math import atan2, inf

import numpy as np

from loadplan.model.vehicle import Joint, JointKind, Place
from loadplan.statics.equilibrium import Frame
from loadplan.statics.mass import Array
from loadplan.statics.null_space import SINGULAR, null_space
from loadplan.statics.push_polygon import nearest_side
from loadplan.statics.simplex import NoBalanceError, Programme, SimplexBasis, best, spread, start
from loadplan.statics.table_base import TableBase, base_rows

FACES = 32
"""Faces of the friction cone."""

OILED = 0.05
"""Friction of oiled steel on steel (OpenStax University Physics 1, table 6.1)."""

TELLING = 1e-6
"""Speeds (where that of the place that is pushed is 1) below this are none."""

NEVER = 1e6
"""What it costs to take another push beside the one asked about: more than it could ever gain."""

COMPASS = ((1.0, 0.0, 0.0), (-1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, -1.0, 0.0))
"""Forward, back, left, right."""


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
class Hold:
    """One group with the forces that it can stand, scaled to weight 1 and span 1.

    Attributes:
        frame: The group, balanced as given.
        grips: Of each support (n); a hoist has 0.
        body: Rigid whole that is pushed.
        at: Where it is pushed [m].
        others: Other weights (k, 3 q), scaled: the group leant otherwise, or upright.
        gives: How the weights change (3, 3) with a force along x, y and z at a place, since what is pushed leans
            further; None where that is not reckoned with.
    """

    frame: Frame
    grips: tuple[Grip, ...]
    body: int
    at: Place
    others: Array | None = None
    gives: Callable[[Place], Array] | None = None


@dataclass(frozen=True, slots=True)
class Limit:
    """The least sideways push that a group cannot stand.

    Attributes:
        force: Force [N].
        direction: Where it pushes [rad], from forward towards the left.
        first: "slides", "tips", "stand" where a stand itself goes over, or "holds" where nothing limits it.
        about: Supports that it turns about when it tips, that slip when it slides, that go over for "stand".
    """

    force: float
    direction: float
    first: str
    about: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Balances:
    """The balances as a programme: FACES columns a support, then one a push.

    Attributes:
        programme: The programme, without the rows that mounts take care of.
        motions: Motion (m, 6 q) of the wholes that belongs to a price of each row.
    """

    programme: Programme
    motions: Array


def overloaded(hold: Hold) -> bool:
    """Tell whether the ties of a group, each held to its line and limit, cannot even bear it as it stands.

    Args:
        hold: The group.

    Returns:
        Whether that is so; never where every tie is a mount without limit.
    """
    frame = hold.frame
    if all(joint.kind is JointKind.MOUNT and joint.limit is None for joint in (*frame.mounts, *frame.links)):
        return False
    try:
        start(_balances(hold, COMPASS).programme)
    except NoBalanceError:
        return True
    return False


def weakest_push(hold: Hold, below: float = inf) -> Limit | None:
    """Find the least horizontal push that the group cannot stand, and what happens first.

    Args:
        hold: The group, and where it is pushed.
        below: Force [N] of which a greater one is not asked about: the search ends as soon as it is sure.

    Returns:
        Force, direction and what happens; None where every push up to `below` is stood.
    """
    balances = _balances(hold, COMPASS)
    loads = hold.frame.load[None, :] if hold.others is None else hold.others
    bounds = balances.programme.right[len(balances.motions) :]
    others = np.array([np.append(balances.motions @ _weights(load), bounds) for load in loads])
    try:
        basis = start(balances.programme)
    except NoBalanceError:
        return _nothing(hold)
    side = nearest_side(balances.programme, basis, below / hold.frame.weight, others)
    if side is None:
        return None
    first, about = _happens(hold, balances, (side.basis, side.value))
    return Limit(side.distance * hold.frame.weight, side.angle, first, about)


def stands(hold: Hold, towards: Place) -> Limit:
    """Find the largest force in one direction that the group can stand, and what happens first.

    Args:
        hold: The group, and where it is pushed.
        towards: Direction, unit vector; it need not be level.

    Returns:
        Force (infinite where nothing limits it), direction and what happens.
    """
    balances = _balances(hold, (towards,))
    value = np.zeros((1, len(balances.programme.columns)))
    value[0, -1] = 1.0
    try:
        basis = start(balances.programme)
    except NoBalanceError:
        return _nothing(hold)
    angle = atan2(towards[1], towards[0])
    share = float(best(balances.programme, basis, value)[0])
    if share == inf:
        return Limit(inf, angle, "holds", ())
    return Limit(share * hold.frame.weight, angle, *_happens(hold, balances, (basis, value)))


def _nothing(hold: Hold) -> Limit:
    """Return the limit of a group that friction does not even hold as it leans: it slides with no push at all."""
    return Limit(0.0, 0.0, "slides", tuple(support.name for support in hold.frame.supports))


def stands_each(hold: Hold, pushes: tuple[tuple[Place, Place], ...]) -> Array:
    """Find the largest force that the group can stand at each of many places.

    Args:
        hold: The group; where it is pushed does not matter.
        pushes: Place [m] and direction (unit vector) of each.

    Returns:
        Forces (k) [N]; infinite where nothing limits one.
    """
    balances = _balances(replace(hold, at=pushes[0][0]), tuple(towards for _, towards in pushes))
    columns, count = balances.programme.columns.copy(), len(pushes)
    for number, (at, towards) in enumerate(pushes):
        columns[number - count, : len(balances.motions)] = balances.motions @ _pushed(hold, at, towards)
    held = replace(balances.programme, columns=columns[:-count])
    # Balances that only the pushes reach would leave no basis to start from: then each is asked by itself.
    if np.linalg.matrix_rank(held.columns) < len(held.right):
        return np.array([stands(replace(hold, at=at), towards).force for at, towards in pushes])
    # All pushes stand in one programme; each question takes its own, and the price keeps it off the others.
    value = np.full((count, len(columns)), -NEVER)
    value[:, :-count] = 0.0
    np.fill_diagonal(value[:, -count:], 1.0)
    shares = best(replace(held, columns=columns), spread(start(held), count), value)
    forces: Array = shares * hold.frame.weight
    return forces


def _happens(hold: Hold, balances: _Balances, end: tuple[SimplexBasis, Array]) -> tuple[str, tuple[str, ...]]:
    """Return what happens at the limit, told from the motion that begins there: where saddles that carry slip.

    The prices at the end of the search are that motion, of speed 1 at the place that is pushed; a saddle stays in
    touch where a face of its cone costs nothing.
    """
    frame = hold.frame
    basis, value = end
    price = np.einsum("i,ij->j", basis.worth(value)[0], basis.inverse[0])
    moving = price[: len(balances.motions)]
    costs = (balances.programme.columns @ price)[: FACES * len(frame.supports)].reshape(-1, FACES)
    speeds = np.array([moving @ balances.motions @ _at(frame, number) for number in range(len(costs))])
    slips = (costs.min(axis=1) < TELLING) & (np.hypot(speeds[:, 0], speeds[:, 1]) > TELLING)
    weak = np.array([grip.footing < grip.friction for grip in hold.grips])
    rows = base_rows(tuple(grip.base for grip in hold.grips))
    over = {row.piece for row, cost in zip(rows, price[len(price) - len(rows) :], strict=True) if abs(cost) > TELLING}
    if over:
        return "stand", _named(frame, np.array([bool(grip.base and grip.base.piece in over) for grip in hold.grips]))
    if not slips.any():
        return "tips", _named(frame, np.abs(speeds).max(axis=1) <= TELLING)
    if (slips & weak).any():
        return "stand", _named(frame, slips & weak)
    return "slides", _named(frame, slips)


def _named(frame: Frame, flags: Array) -> tuple[str, ...]:
    return tuple(support.name for support, flag in zip(frame.supports, flags, strict=True) if flag)


def _balances(hold: Hold, pushes: tuple[Place, ...]) -> _Balances:
    """Return the balances of a group as a programme, along the motions that the mounts leave free."""
    frame = hold.frame
    angles = 2 * np.pi * np.arange(FACES) / FACES
    around = np.column_stack([np.cos(angles), np.sin(angles)])
    cones = [np.column_stack([grip.holds * around, np.ones(FACES)]) for grip in hold.grips]
    held = [_at(frame, number) @ cone.T for number, cone in enumerate(cones)]
    pushed = [_pushed(hold, hold.at, push)[:, None] for push in pushes]
    ties = [_Tie.of(frame, joint) for joint in (*frame.mounts, *frame.links)]
    endless = [tie.forces.T for tie in ties if tie.most == inf]
    bounded = [tie for tie in ties if tie.most < inf]
    freedom = null_space(np.vstack([np.zeros((0, 6 * len(frame.wholes))), *endless]), 6 * len(frame.wholes))
    columns = (freedom @ np.hstack([*held, *(tie.pulls for tie in bounded), *pushed])).T
    # Balances that no force can change would make every basis singular; the group is balanced, so these hold.
    _, sizes, axes = np.linalg.svd(columns, full_matrices=False)
    reached = axes[sizes > SINGULAR * sizes[0]]
    motions = reached @ freedom
    programme = Programme(columns @ reached.T, motions @ _weights(frame.load))
    shared = _shared(programme, bounded, FACES * len(frame.supports))
    return _Balances(_on_bases(shared, hold, cones), motions)


@dataclass(frozen=True, slots=True)
class _Tie:
    """What a mount or a link can hold: any force at its place, or along its line, up to its limit.

    Attributes:
        forces: Balances (6 q, 3 or 1) of a unit force along each axis that it holds.
        most: Most that it may carry, as share of the weight; infinite where nothing is said.
    """

    forces: Array
    most: float

    @staticmethod
    def of(frame: Frame, joint: Joint) -> "_Tie":
        forces = _between(frame, joint.at[0], *(frame.whole(name) for name in joint.between))
        if joint.kind is JointKind.LINK and joint.to is not None:
            line = np.array(joint.to) - np.array(joint.at[0])
            forces = forces @ (line / np.linalg.norm(line))[:, None]
        return _Tie(forces, inf if joint.limit is None else joint.limit / frame.weight)

    @property
    def pulls(self) -> Array:
        """Balances (6 q, k) of the greatest force in each of several ways all round; what lies between is inside."""
        size = self.forces.shape[1]
        ways = np.array([way for way in product((-1.0, 0.0, 1.0), repeat=size) if any(way)])
        pulls: Array = self.forces @ (self.most * ways / np.linalg.norm(ways, axis=1)[:, None]).T
        return pulls


def _shared(programme: Programme, bounded: list[_Tie], first: int) -> Programme:
    """Return a programme with a row a bounded tie: the shares of its greatest forces, and of none, come to 1.

    The columns of the first tie begin at `first`; that of none comes before all others.
    """
    if not bounded:
        return programme
    counts = [tie.pulls.shape[1] for tie in bounded]
    rows = np.zeros((len(programme.columns), len(bounded)))
    for number, count in enumerate(counts):
        begin = first + sum(counts[:number])
        rows[begin : begin + count, number] = 1.0
    none = np.hstack([np.zeros((len(bounded), programme.columns.shape[1])), np.eye(len(bounded))])
    columns = np.hstack([programme.columns, rows])
    return Programme(
        np.vstack([columns[:first], none, columns[first:]]), np.append(programme.right, np.ones(len(bounded)))
    )


def _on_bases(programme: Programme, hold: Hold, cones: list[Array]) -> Programme:
    """Return a programme with a row a side of each table's base: what holds it down there, less what is left, is 0.

    The columns of what is left come where the cones end, before all that follow.
    """
    bases = tuple(grip.base for grip in hold.grips)
    rows = base_rows(bases)
    if not rows:
        return programme
    first = FACES * len(cones)
    held = np.zeros((len(programme.columns), len(rows)))
    for number, (base, cone, support) in enumerate(zip(bases, cones, hold.frame.supports, strict=True)):
        for row, (piece, side) in enumerate(rows):
            if base and base.piece == piece:
                moments = base.hold(side, support.at[:2], cone) / hold.frame.span
                held[FACES * number : FACES * number + FACES, row] = moments
    left = np.hstack([np.zeros((len(rows), programme.columns.shape[1])), -np.eye(len(rows))])
    columns = np.hstack([programme.columns, held])
    return Programme(
        np.vstack([columns[:first], left, columns[first:]]), np.append(programme.right, np.zeros(len(rows)))
    )


def _pushed(hold: Hold, at: Place, towards: Place) -> Array:
    """Return the balances (6 q) of a push, with what it makes the weight of what it pushes add to it."""
    pushed: Array = _between(hold.frame, at, hold.body, None) @ np.array(towards)
    if hold.gives is not None:
        pushed[6 * hold.body + 2 : 6 * hold.body + 5] -= hold.gives(at) @ np.array(towards)
    return pushed


def _at(frame: Frame, number: int) -> Array:
    """Return the balances (6 q, 3) of a force at one support."""
    support = frame.supports[number]
    return _between(frame, support.at, _whole(frame, support.body), _whole(frame, support.on))


def _whole(frame: Frame, body: str) -> int | None:
    return frame.whole(body) if body in frame.bodies else None


def _between(frame: Frame, at: Place, first: int | None, second: int | None) -> Array:
    """Return the balances (6 q, 3) of a force along x, y, z at a place, on one whole and back on another."""
    x, y, z = (at[0] - frame.middle[0]) / frame.span, (at[1] - frame.middle[1]) / frame.span, at[2] / frame.span
    wrench = np.vstack([np.eye(3), [[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]]])
    both = np.zeros((6 * len(frame.wholes), 3))
    for whole, sign in ((first, 1.0), (second, -1.0)):
        if whole is not None:
            both[6 * whole : 6 * whole + 6] += sign * wrench
    return both


def _weights(load: Array) -> Array:
    """Return what the supports have to bear (6 q) of weights (3 q)."""
    weights = np.zeros((len(load) // 3, 6))
    weights[:, 2:5] = load.reshape(-1, 3)
    return weights.ravel()
