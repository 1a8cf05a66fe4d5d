"""Loads of rigid wholes on push-only springs: exact, whatever loses touch.

Minimised is the energy over the motion u, with weights w, supports s of gap g and mounts m of preload p:

    E(u) = w·u + Σ k/2 max(0, −s·u − g)² + Σ (k/2 (m·u)² − p m·u)

It is convex and piecewise quadratic, so its least is unique in the loads. A Newton step with the springs in touch
ends exactly on it once these are those of the answer. Full steps may go round in circles (soft arms beside stiff
stands), so after a few each goes only as far as the energy falls: its slope along a step is piecewise linear and
rising, and its root is found by sorting the places where a spring comes into touch or leaves it. The energy falls in
every round; the rounds are counted all the same. (Boyd and Vandenberghe, Convex Optimization, 2004: Newton's method
9.5, exact line search 9.2; the sorting of kinks derived here.)
"""

from dataclasses import dataclass, replace

import numpy as np

from loadplan.statics.distinct_rows import patterns
from loadplan.statics.equilibrium import Frame
from loadplan.statics.mass import Array
from loadplan.statics.unsolved import UnsolvedError

RESIDUAL = 1e-12
"""Out-of-balance force, as a share of the weight, below which a solution is exact to rounding."""

LEAPS = 8
"""Rounds of full steps before each step is measured."""

REFINED = 2
"""Steps that take away what rounding left of full steps: the second matters where stiffnesses lie far apart."""

RESTED = 0.01
"""What springs hold counts as at rest when its force is below this share of what moves what none holds."""

STEPS = 5000
"""Rounds of measured steps: they end after a few, rarely after hundreds, where stiffnesses lie far apart."""

NOWHERE = 1e-10
"""Share of a step by which it presses or stretches nothing: a spring would have to be miles long to be met by it."""

FALLING = 1e-9
"""Share of the weight that goes down with a step where no rounding can have made it so."""

ROUNDED = 8 * np.finfo(float).eps
"""What rounding leaves of a force, as a share of the largest that it is the difference of."""

COARSE = 1e-6
"""Where rounding leaves more than this share of the weight, there is no answer."""


class NoEquilibriumError(UnsolvedError):
    """The loads do not settle: what was asked about is not balanced."""


@dataclass(frozen=True, slots=True)
class Springs:
    """The springs of one group, scaled to weight 1 and span 1; n supports, m mounts, q rigid wholes.

    Attributes:
        up: Rows (n, 3 q) of the supports.
        stretch: Rows (m, 3 q) of the mounts.
        stiffness: Of the supports (n).
        mount_stiffness: Of the mounts (m).
        preload: Force of each mount in the file's attitude (m).
    """

    up: Array
    stretch: Array
    stiffness: Array
    mount_stiffness: Array
    preload: Array

    def only(self, kept: np.ndarray[tuple[int], np.dtype[np.bool_]]) -> "Springs":
        """Return the springs with only some of the supports (n)."""
        return replace(self, up=self.up[kept], stiffness=self.stiffness[kept])


@dataclass(frozen=True, slots=True)
class Settled:
    """Where a group comes to rest; c cases.

    Attributes:
        motions: Scaled motions (c, 3 q).
        loads: Support loads (c, n), as shares of the weight.
        forces: Mount forces (c, m), positive pulling the first body up.
    """

    motions: Array
    loads: Array
    forces: Array


def springs(frame: Frame, preload: dict[str, float]) -> Springs:
    """Take the springs of a group from its frame.

    Args:
        frame: The group.
        preload: Force [N] of mounts in the file's attitude, by name; others 0.

    Returns:
        Scaled springs.
    """
    # Motions are lengths over the span, forces are shares of the weight: so stiffness scales by span over weight.
    scale = frame.span / frame.weight
    return Springs(
        up=frame.up,
        stretch=frame.stretch,
        stiffness=np.array([support.equipment.stiffness * scale for support in frame.supports]),
        mount_stiffness=np.array([mount.stiffness * scale for mount in frame.mounts]),
        preload=np.array([preload.get(mount.name, 0.0) / frame.weight for mount in frame.mounts]),
    )


def settle(held: Springs, load: Array, gaps: Array) -> Settled:
    """Find the loads of many cases on the same springs.

    Args:
        held: The springs.
        load: Weights (c, 3 q), scaled.
        gaps: How much lower each saddle is (c, n), scaled.

    Returns:
        Motions, loads and mount forces of every case.

    Raises:
        NoEquilibriumError: If a case does not settle, or stiffnesses lie so far apart that rounding drowns the loads.
    """
    motions = _leap(held, load, gaps)
    # Nearly all cases end with full steps, many at a time; only the few that go round in circles need a measured one.
    left = np.flatnonzero(~_done(held, motions, load, gaps))
    if left.size:
        # From rest, not from where the leaps ended: that may be miles away, where a ridge stood for a stiffness.
        motions[left] = _descend(held, np.zeros_like(motions[left]), load[left], gaps[left])
    # Better no answer than loads that are small differences of huge ones.
    if (_rounding(held, motions, gaps) > COARSE).any():
        raise NoEquilibriumError
    forces = held.preload - (motions @ held.stretch.T) * held.mount_stiffness
    return Settled(motions, _loads(held, motions, gaps), forces)


def _loads(held: Springs, motions: Array, gaps: Array) -> Array:
    pressed: Array = np.maximum(-motions @ held.up.T - gaps, 0.0) * held.stiffness
    return pressed


def _gradient(held: Springs, motions: Array, load: Array, gaps: Array) -> Array:
    pulled = held.preload - (motions @ held.stretch.T) * held.mount_stiffness
    slope: Array = load - _loads(held, motions, gaps) @ held.up - pulled @ held.stretch
    return slope


def _done(held: Springs, motions: Array, load: Array, gaps: Array) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    # Asked of forces, not of the last step: on soft springs a long step changes hardly any load.
    left = np.abs(_gradient(held, motions, load, gaps)).max(axis=1)
    done: np.ndarray[tuple[int], np.dtype[np.bool_]] = left <= RESIDUAL + _rounding(held, motions, gaps)
    return done


def _rounding(held: Springs, motions: Array, gaps: Array) -> Array:
    """Return what rounding leaves (c) of forces that are differences of large ones: far down on a soft spring."""
    pressed = (np.abs(motions) @ np.abs(held.up).T + np.abs(gaps)) * held.stiffness
    pulled = (np.abs(motions) @ np.abs(held.stretch).T) * held.mount_stiffness
    left: Array = ROUNDED * np.hstack([pressed, pulled]).max(axis=1, initial=0.0)
    return left


def _mount_hessian(held: Springs) -> Array:
    hessian: Array = held.stretch.T @ (held.mount_stiffness[:, None] * held.stretch)
    return hessian


def _support_hessians(held: Springs) -> Array:
    """Return each support's share (n, 9 q²) of the stiffness matrix, flat."""
    squares: Array = held.stiffness[:, None, None] * held.up[:, :, None] * held.up[:, None, :]
    return squares.reshape(len(held.stiffness), -1)


def _leap(held: Springs, load: Array, gaps: Array) -> Array:
    """Return where full Newton steps from everything in touch lead; cases with the same touch share an inverse."""
    size = load.shape[1]
    mounts = _mount_hessian(held)
    squares = _support_hessians(held)
    # Where too little is in touch to hold the group the matrix has no inverse; so small a ridge gives some far step,
    # and `_done` then hands the case to the measured steps.
    ridge = 1e-14 * (np.trace(mounts) + squares.sum(axis=0).reshape(size, size).trace()) * np.eye(size)
    pull = held.preload @ held.stretch - load
    # Everything in touch first: if any pattern of touch holds the group, this one does.
    touching = np.ones(gaps.shape, dtype=bool)
    motions = np.zeros_like(load)
    open_cases = np.arange(len(load))
    for _ in range(LEAPS):
        # Thousands of cases share a few patterns of touch, so few matrices are inverted.
        first, which = patterns(touching)
        hessians = mounts + (touching[first] @ squares).reshape(-1, size, size) + ridge
        target = pull[open_cases] - (touching * (held.stiffness * gaps[open_cases])) @ held.up
        inverses = np.linalg.inv(hessians)[which]
        at = np.einsum("cij,cj->ci", inverses, target)
        before, touching = touching, -at @ held.up.T > gaps[open_cases]
        # A step with the springs that are in touch at its end was exact, and nothing is left to repeat.
        ended = (before == touching).all(axis=1)
        cases = open_cases[ended]
        at[ended] = _refined(held, at[ended], inverses[ended], (load[cases], gaps[cases]))
        motions[open_cases] = at
        open_cases, touching = open_cases[~ended], touching[~ended]
        if not open_cases.size:
            break
    return motions


def _refined(held: Springs, motions: Array, inverses: Array, cases: tuple[Array, Array]) -> Array:
    """Return motions (c, 3 q) that full steps ended on, less what rounding left of the force; weights and gaps of each.

    The ridge holds a little, and inverses round: under many stands both leave more than `RESIDUAL`, and what had come
    to rest would go to the measured steps. Where the touch still changed a step against the force that is left would
    only lead on to where a ridge stands for a stiffness.
    """
    for _ in range(REFINED):
        motions = motions - np.einsum("cij,cj->ci", inverses, _gradient(held, motions, *cases))
    return motions


def _descend(held: Springs, motions: Array, load: Array, gaps: Array) -> Array:
    """Return where Newton steps lead, each taken just as far as the energy falls.

    Raises:
        NoEquilibriumError: If that does not end.
    """
    mounts = _mount_hessian(held)
    squares = _support_hessians(held)
    # What is softer than this share of all springs together is held by none of them, but for rounding.
    softest = 1e-9 * float(np.trace(mounts) + squares.reshape(-1, *mounts.shape).sum(axis=0).trace())
    open_cases = np.arange(len(motions))
    for _ in range(STEPS):
        # Most cases end in a handful of rounds, one may take hundreds: only what is open goes on.
        open_cases = open_cases[~_done(held, motions[open_cases], load[open_cases], gaps[open_cases])]
        if not open_cases.size:
            return motions
        at, weights, low = motions[open_cases], load[open_cases], gaps[open_cases]
        touching = -at @ held.up.T > low
        hessians = mounts + (touching @ squares).reshape(-1, *mounts.shape)
        step = _newton(hessians, _gradient(held, at, weights, low), softest)
        if _endless(held, step, weights).any():
            raise NoEquilibriumError
        motions[open_cases] = at + _length(held, at, step, weights, low)[:, None] * step
    raise NoEquilibriumError


def _newton(hessians: Array, gradient: Array, softest: float) -> Array:
    """Return downhill steps (c, 3 q): what springs hold comes to rest first, then what none holds goes its way.

    Both in one step would hold each other up: the one has to stop where the other has hardly begun.
    """
    stiff, axes = np.linalg.eigh(hessians)
    along = np.einsum("cji,cj->ci", axes, gradient)
    held = stiff > softest
    unrest = np.abs(np.where(held, along, 0.0)).max(axis=1)
    adrift = np.abs(np.where(held, 0.0, along)).max(axis=1)
    first = (unrest > RESTED * adrift)[:, None]
    along = np.where(
        held, np.where(first, along / np.maximum(stiff, softest), 0.0), np.where(first, 0.0, along / softest)
    )
    steps: Array = -np.einsum("cij,cj->ci", axes, along)
    return steps


def _endless(held: Springs, step: Array, load: Array) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Return which steps (c) lead down for ever: no support is pressed, no mount stretched, and the weights go down.

    That proves that nothing balances. To go on until the steps are used up would take thousands of times as long.
    """
    size = np.abs(step).max(axis=1, initial=0.0)
    way = step / np.where(size > 0, size, 1.0)[:, None]
    meets = (way @ held.up.T < -NOWHERE).any(axis=1) | (np.abs(way @ held.stretch.T) > NOWHERE).any(axis=1)
    endless: np.ndarray[tuple[int], np.dtype[np.bool_]] = ~meets & ((way * load).sum(axis=1) < -FALLING)
    return endless


def _length(held: Springs, at: Array, step: Array, load: Array, gaps: Array) -> Array:
    """Return how far (c) along each step the energy falls: the root of its piecewise linear slope."""
    pressed = -at @ held.up.T - gaps
    pace = step @ held.up.T
    flat = (step * (load - held.preload @ held.stretch)).sum(axis=1) + (
        (step @ held.stretch.T) * held.mount_stiffness * (at @ held.stretch.T)
    ).sum(axis=1)
    rise = ((step @ held.stretch.T) ** 2 * held.mount_stiffness).sum(axis=1)
    with np.errstate(divide="ignore", invalid="ignore"):
        # A kink that lies behind is passed, one without end belongs to a spring that the step does not move: neither
        # bends the slope ahead.
        kinks = np.where(pressed / pace > 0, pressed / pace, 0.0)
    kinks[~np.isfinite(kinks)] = 0.0
    places = np.sort(np.hstack([np.zeros((len(at), 1)), np.ones((len(at), 1)), kinks]), axis=1)
    # Beyond the last kink the slope is one straight line; a place further out shows where it leads.
    places = np.hstack([places, 2 * places[:, -1:] + 1])
    push = np.maximum(pressed[:, None, :] - places[:, :, None] * pace[:, None, :], 0.0)
    slope = flat[:, None] + places * rise[:, None] - (push * (held.stiffness * pace)[:, None, :]).sum(axis=2)
    end = np.where((slope >= 0).any(axis=1), (slope >= 0).argmax(axis=1), places.shape[1] - 1)
    # A slope that is 0 at the start would choose the piece before the first.
    end = np.maximum(end, 1)
    each = np.arange(len(at))
    low, high = slope[each, end - 1], slope[each, end]
    share = np.where(high > low, -low / np.where(high > low, high - low, 1.0), 1.0)
    length: Array = places[each, end - 1] + share * (places[each, end] - places[each, end - 1])
    return length
