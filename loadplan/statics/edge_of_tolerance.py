"""The most that each support carries on this floor, leaning, with every mass and centre of gravity at its worst.

The loads of push-only springs change almost in proportion to the weights w (3 q): r(w + d) = r(w) + g·d, g the
gradient where that load is highest on an uneven floor. Over a box of masses m and centres (x, y) the sum Σ g·w is
greatest where each centre lies at its own end, and each mass at its own, by the sign of g: with (g0, g1, g2) of its
body a lump adds m (g0 + g1 y - g2 x). Such weights are then settled in full, contacts changing.
"""

from dataclasses import dataclass

import numpy as np

from loadplan.limits import GRAVITY
from loadplan.statics.contact_loads import Springs, settle
from loadplan.statics.equilibrium import Frame
from loadplan.statics.lean import heights_over_lowest
from loadplan.statics.mass import Array
from loadplan.statics.uneven_floor import LoadEnds
from loadplan.statics.unsolved import UnsolvedError

ROUNDS = 2
"""How often the gradient is taken: contacts may have changed where the first one leads."""


@dataclass(frozen=True, slots=True)
class LeanAndSlope:
    """How a group may lean while it stands.

    Attributes:
        tilts: Tilts (q, 2) as it settles [rad].
        slope: Slope of the floor, whichever way [rad].
    """

    tilts: Array
    slope: float


def most_at_edge(frame: Frame, held: Springs, ends: LoadEnds, lean: LeanAndSlope) -> Array:
    """Find the most that each support carries with the weights anywhere inside their tolerance.

    Args:
        frame: The group, balanced over its whole tolerance.
        held: Its springs.
        ends: The loads on an uneven floor, and where each is highest.
        lean: How it may lean: a centre of gravity moves by its height over the lowest saddle or mount times that.

    Returns:
        The most (n), as shares of the weight, at least what `ends` has, and only that where such weights do not settle.
    """
    most, loads = ends.high.copy(), ends.loads_at_high
    for _ in range(ROUNDS):
        touching = loads > 0
        levels = _worst(frame, _gradients(held, touching), lean)
        try:
            loads = settle(held, levels, ends.gaps_at_high).loads
        except UnsolvedError:
            break
        most = np.maximum(most, loads.max(axis=0))
        if ((loads > 0) == touching).all():
            break
    return most


def _gradients(held: Springs, touching: np.ndarray[tuple[int, int], np.dtype[np.bool_]]) -> Array:
    """Return how each load (n) answers to the weights (n, 3 q), in its own state: which supports touch in it (n, n)."""
    mounts = held.stretch.T @ (held.mount_stiffness[:, None] * held.stretch)
    stiff = held.stiffness[:, None] * held.up
    # Equilibrium is K du = -dw, with K of what touches, and a load changes by -k up du.
    give = np.linalg.pinv(mounts + np.einsum("cn,ni,nj->cij", touching.astype(float), held.up, stiff), hermitian=True)
    answers: Array = np.einsum("ni,nij->nj", stiff, give)
    return answers


def _worst(frame: Frame, gradients: Array, lean: LeanAndSlope) -> Array:
    """Return the weights (n, 3 q) inside tolerance that raise each load most, by its gradient (n, 3 q)."""
    counted = [number for number, lump in enumerate(frame.lumps) if lump.counts]
    own = [frame.lumps[number] for number in counted]
    sign = np.array([lump.sign for lump in own], dtype=float)
    at = (np.array([lump.at[:2] for lump in own]) - frame.middle) / frame.span
    whole = frame.whole_of[counted]
    high = heights_over_lowest(frame)[counted] / frame.span
    # A settled lean moves a centre one way, that of the floor any way.
    reach = np.array([lump.at_pm[:2] for lump in own]) / frame.span + np.abs(high)[:, None] * lean.slope
    forward, left = high * lean.tilts[whole, 1], -high * lean.tilts[whole, 0]
    up, rx, ry = sign * gradients.reshape(len(gradients), -1, 3)[:, whole].transpose(2, 0, 1)
    x, y = at[:, 0] - np.sign(ry) * reach[:, 0], at[:, 1] + np.sign(rx) * reach[:, 1]
    # A lean that takes load off is not trusted.
    leans = rx * left - ry * forward > 0
    x, y = x + np.where(leans, forward, 0.0), y + np.where(leans, left, 0.0)
    ends = np.array([(lump.low, lump.high) for lump in own])
    mass = sign * np.where(up + rx * y - ry * x > 0, ends[:, 1], ends[:, 0])
    rows = np.stack([mass, mass * y, -mass * x], axis=2)
    level = np.einsum("nlc,lw->nwc", rows, np.eye(len(frame.wholes))[whole])
    load: Array = level.reshape(len(gradients), -1) * GRAVITY / frame.weight
    return load
