"""Sideways push and pull: what friction at the saddles and the stands' own footing can stand.

Greatest λ such that forces exist with Σ W f + λ p = w at every rigid whole, six balances each, where the forces f are
those that saddles and ties can hold (`sideways_resistance`). A linear programme; its prices at the end are the motion
that begins there, which tells sliding from tipping. The pushes that can be stood make a convex polygon, and the least
of them over all directions is the distance of its nearest side (`push_polygon`).

Such a limit is an upper bound: friction is not associated, so what really holds depends on how the lot was set down
(Drucker, Coulomb friction, plasticity, and limit loads, Journal of Applied Mechanics 21, 1954, 71-74).
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import atan2, inf

import numpy as np

from loadplan.model.vehicle import Place
from loadplan.statics.equilibrium import Frame
from loadplan.statics.mass import Array
from loadplan.statics.push_polygon import NEVER, nearest_sides
from loadplan.statics.sideways_resistance import FACES, Grip, Resistance, axes_at, axes_of
from loadplan.statics.simplex import NoBalanceError, Programme, SimplexBasis, best, spread, start
from loadplan.statics.table_base import base_rows

TELLING = 1e-6
"""Speeds (where that of the place that is pushed is 1) below this are none."""

COMPASS = ((1.0, 0.0, 0.0), (-1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, -1.0, 0.0))
"""Forward, back, left, right."""


@dataclass(frozen=True, slots=True)
class Hold:
    """One group with what it can stand, and where it is pushed.

    Attributes:
        resistance: What can hold it.
        body: Rigid whole that is pushed.
        at: Where it is pushed [m].
        load: Its weights (3 q), scaled.
        others: Other weights (k, 3 q), scaled: the group leant otherwise, or upright.
        gives: How the weights change (3, 3) with a force along x, y and z at a place, since what is pushed leans
            further; None where that is not reckoned with.
    """

    resistance: Resistance
    body: int
    at: Place
    load: Array
    others: Array | None = None
    gives: Callable[[Place], Array] | None = None

    @property
    def frame(self) -> Frame:
        """The group."""
        return self.resistance.frame

    @property
    def grips(self) -> tuple[Grip, ...]:
        """How each of its supports holds sideways."""
        return self.resistance.grips


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
    """The balances as a programme: what can hold, then one column a push.

    Attributes:
        held: What can hold, with balances for all of the pushes.
        programme: The programme.
    """

    held: Resistance
    programme: Programme


def overloaded(hold: Hold) -> bool:
    """Tell whether the ties of a group, each held to its line and limit, cannot even bear it as it stands.

    Args:
        hold: The group.

    Returns:
        Whether that is so; never where every tie is a mount without limit.
    """
    if not hold.resistance.has_limits:
        return False
    try:
        hold.resistance.borne(hold.load)
    except NoBalanceError:
        return True
    return False


def weakest_pushes(holds: tuple[Hold, ...], below: float = inf) -> tuple[Limit | None, ...]:
    """Find the least horizontal push that a group cannot stand at each of some places, and what happens first.

    Args:
        holds: The group with its weights, pushed at one place and another.
        below: Force [N] of which a greater one is not asked about: the search ends as soon as it is sure.

    Returns:
        Force, direction and what happens at each; None where every push up to `below` is stood.
    """
    balances = _balances(holds, COMPASS)
    hold = holds[0]
    try:
        basis = hold.resistance.borne(hold.load)
    except NoBalanceError:
        return tuple(weakest_push(each, below) for each in holds)
    if balances.held is not hold.resistance:
        return tuple(weakest_push(each, below) for each in holds)
    return _nearest(holds, balances, basis, below)


def weakest_push(hold: Hold, below: float = inf) -> Limit | None:
    """Find the least horizontal push that the group cannot stand, and what happens first.

    Args:
        hold: The group, and where it is pushed.
        below: Force [N] of which a greater one is not asked about: the search ends as soon as it is sure.

    Returns:
        Force, direction and what happens; None where every push up to `below` is stood.
    """
    balances = _balances((hold,), COMPASS)
    try:
        basis = _begun(hold, balances)
    except NoBalanceError:
        # A push one way may still hold it: then the nearest side, beyond the origin, tells which way it goes by itself.
        try:
            basis = start(balances.programme)
        except NoBalanceError:
            return _nothing(hold)
    return _nearest((hold,), balances, basis, below)[0]


def _nearest(
    holds: tuple[Hold, ...], balances: "_Balances", basis: SimplexBasis, below: float
) -> tuple[Limit | None, ...]:
    """Return the nearest sides of the pushes' polygons as limits."""
    hold = holds[0]
    loads = hold.load[None, :] if hold.others is None else hold.others
    others = np.array([balances.held.right(load) for load in loads])
    weight = hold.frame.weight
    sides = nearest_sides(balances.programme, basis, len(holds), below / weight, others)
    return tuple(
        None
        if side is None
        else Limit(side.distance * weight, side.angle, *_happens(hold, balances, (side.basis, side.value)))
        for side in sides
    )


def stands(hold: Hold, towards: Place) -> Limit:
    """Find the largest force in one direction that the group can stand, and what happens first.

    Args:
        hold: The group, and where it is pushed.
        towards: Direction, unit vector; it need not be level.

    Returns:
        Force (infinite where nothing limits it), direction and what happens.
    """
    balances = _balances((hold,), (towards,))
    value = np.zeros((1, len(balances.programme.columns)))
    value[0, -1] = 1.0
    try:
        basis = _begun(hold, balances)
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
    held, count = hold.resistance, len(pushes)
    pushed = np.array([_pushed(hold, at, towards) for at, towards in pushes])
    # Balances that only the pushes reach would leave no basis to start from: then each is asked by itself.
    if held.reaching(pushed) is not held:
        return np.array([stands(replace(hold, at=at), towards).force for at, towards in pushes])
    # All pushes stand in one programme; each question takes its own, and the price keeps it off the others.
    columns = np.vstack([held.columns, held.pressed(pushed)])
    value = np.full((count, len(columns)), -NEVER)
    value[:, :-count] = 0.0
    np.fill_diagonal(value[:, -count:], 1.0)
    shares = best(Programme(columns, held.right(hold.load)), spread(held.borne(hold.load), count), value)
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
    motion = price[: len(balances.held.motions)] @ balances.held.motions
    costs = (balances.programme.columns @ price)[: FACES * len(frame.supports)].reshape(-1, FACES)
    speeds = np.array([axes_of(frame, support) @ motion for support in frame.supports])
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


def _balances(holds: tuple[Hold, ...], pushes: tuple[Place, ...]) -> _Balances:
    """Return the balances of a group, with pushes at the place of each hold, as a programme."""
    hold = holds[0]
    pushed = np.array([_pushed(each, each.at, push) for each in holds for push in pushes])
    held = hold.resistance.reaching(pushed)
    return _Balances(held, Programme(np.vstack([held.columns, held.pressed(pushed)]), held.right(hold.load)))


def _begun(hold: Hold, balances: _Balances) -> SimplexBasis:
    """Return a basis that bears the weights: without a push, where there is no balance that only pushes can change.

    Raises:
        NoBalanceError: If nothing bears them.
    """
    return hold.resistance.borne(hold.load) if balances.held is hold.resistance else start(balances.programme)


def _pushed(hold: Hold, at: Place, towards: Place) -> Array:
    """Return the balances (6 q) of a push, with what it makes the weight of what it pushes add to it."""
    pushed: Array = np.array(towards) @ axes_at(hold.frame, at, hold.body, None)
    if hold.gives is not None:
        pushed[6 * hold.body + 2 : 6 * hold.body + 5] -= hold.gives(at) @ np.array(towards)
    return pushed
