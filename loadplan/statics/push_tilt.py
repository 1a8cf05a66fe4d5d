"""A push tilts what it pushes: how far a rigid whole on its springs gives way to a force, and leans further for it.

On the springs in touch, of stiffness K, a force that adds p to the weights moves the whole by u with

    (K − G) u = −p,

G holding the weight's own overturning m g h against a tilt (second order, P-delta). The tilt carries the centre of
gravity with it, which changes the moment of the weight by G u: so much more has to be balanced a unit of the force.
That is exact until a saddle comes off or touches; from there on the state is sought force by force (`leant_under`).
"""

from dataclasses import dataclass
from math import inf

import numpy as np

from loadplan.model.vehicle import Place
from loadplan.statics.contact_loads import Springs, settle
from loadplan.statics.equilibrium import Frame
from loadplan.statics.mass import Array
from loadplan.statics.null_space import SINGULAR

ROUNDS = 300
"""Rounds in which a state is sought; each takes off what is left of it in the measure of the sway."""

RESTED = 1e-10
"""Change of the weights' moment, as a share of weight times span, below which a state is found."""

BALANCED = 1e-9
"""Work of a mode, scaled, below which the group goes over."""

Flags = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]


@dataclass(frozen=True, slots=True)
class Leant:
    """States that a whole leans into; c cases, n supports.

    Attributes:
        loads: The weights with the centre of gravity where it has leant to (c, 3), scaled.
        touching: Which supports touch (c, n).
        found: Whether there is such a state (c).
    """

    loads: Array
    touching: Flags
    found: Flags


@dataclass(frozen=True, slots=True)
class Yielding:
    """One rigid whole on supports only, on its springs; n supports.

    Attributes:
        frame: Its group, balanced as given.
        held: Its springs.
        gaps: How much lower each saddle is (n), scaled.
        touching: Which supports are in touch as it stands (n).
        motions: Its scaled modes (k, 3).
        overturning: m g h, scaled: its weight times the height of its centre of gravity over its saddles.
        saddles: Height of its saddles, by what they carry [m].
    """

    frame: Frame
    held: Springs
    gaps: Array
    touching: Flags
    motions: Array
    overturning: float
    saddles: float

    def pressed(self, at: Place) -> Array:
        """Return what a force along x, y and z at a place adds to the weights (3, 3), a column each."""
        x, y = ((at[axis] - self.frame.middle[axis]) / self.frame.span for axis in (0, 1))
        lever = (at[2] - self.saddles) / self.frame.span
        return np.array([[0.0, 0.0, -1.0], [0.0, lever, -y], [-lever, 0.0, x]])

    def gives(self, at: Place) -> Array:
        """Return how the weights change (3, 3) by a force along x, y and z at a place; by nothing if unstable."""
        up, stiffness = self.held.up[self.touching], self.held.stiffness[self.touching]
        overturning = self.overturning * np.diag([0.0, 1.0, 1.0])
        tangent = up.T @ (stiffness[:, None] * up) - overturning
        sizes = np.linalg.eigvalsh(tangent)
        if sizes[0] <= SINGULAR * sizes[-1]:
            return np.zeros((3, 3))
        changed: Array = overturning @ np.linalg.solve(tangent, self.pressed(at))
        return changed

    def leant_under(self, added: Array) -> "Leant":
        """Seek the state under what is added to the weights (c, 3): round by round with the lean of the round before.

        Args:
            added: Of each case (c, 3), scaled.

        Returns:
            The state of each case, where there is one.
        """
        load, count = self.frame.load, len(added)
        leant: Array = np.zeros((count, 3))
        found: Flags = self._stands(load + added)
        touching = np.zeros((count, len(self.gaps)), dtype=bool)
        change = inf
        for _ in range(ROUNDS):
            there = np.flatnonzero(found)
            if change < RESTED or not len(there):
                break
            gaps = np.tile(self.gaps, (len(there), 1))
            settled = settle(self.held, load + added[there] + leant[there], gaps)
            touching[there] = settled.loads > 0
            now = -self.overturning * settled.motions * np.array([0.0, 1.0, 1.0])
            change = float(np.abs(now - leant[there]).max())
            leant[there] = now
            found[there] = self._stands(load + added[there] + now)
        if change >= RESTED:
            found = np.zeros(count, dtype=bool)
        return Leant(loads=load + leant, touching=touching, found=found)

    def _stands(self, loads: Array) -> Flags:
        stands: Flags = np.all(loads @ self.motions.T > BALANCED, axis=1)
        return stands
