"""A push on assemblies that stand on each other: how far all give way to it on their springs, until one goes over.

What is pushed leans, and so does what it stands on: a level force F that meets a whole Δz over its saddles turns it by
F Δz, goes on through these saddles, and turns what they stand on by the share of F that comes there times their height
over its own. The path of all of them together, contact by contact and with their own overturning, ends where no settled
state with the force on it is left (`load_path`).
"""

from dataclasses import dataclass
from math import inf

import numpy as np

from loadplan.model.shop import EquipmentKind
from loadplan.model.vehicle import Place
from loadplan.statics.equilibrium import Frame
from loadplan.statics.load_path import Growth, followed
from loadplan.statics.mass import Array
from loadplan.statics.slope_response import ROCKS, Footing

TIED, TIES = 0.4, 0.85
"""Shares that are told of a push where what stands on the floor and on an assembly ties the two by its friction: on
that assembly, and on what ties it. As one leans, its saddles pull at the other, which no bound of friction sees. Of
made-up units a simulator bore down to 1 / 2.4 and 1 / 1.14 of that bound.
"""

ALL = 1e-6
"""Share of what a whole's saddles carry that is none."""


@dataclass(frozen=True, slots=True)
class StackedStands:
    """A group of q rigid wholes, some on stands that stand on another, and no mount between them.

    Attributes:
        frame: The group, balanced.
        ground: The same as it rests.
        saddles: Height of the saddles of each whole (q), by what they carry [m].
        passed: Share (q, q) of what a whole's saddles carry that comes down on each other one.
    """

    frame: Frame
    ground: Footing
    saddles: Array
    passed: Array

    def kept(self, whole: int) -> float:
        """Return what is left of a push on a whole where one stands on the floor and on another, or on two others."""
        ways = (self.passed > 0).sum(axis=1) + (self.passed.sum(axis=1) < 1.0 - ALL)
        if (self.passed[ways > 1, whole] > 0).any():
            return TIED
        return TIES if ways[whole] > 1 else 1.0

    def borne(self, whole: int, at: Place, push: Array, most: float) -> float:
        """Find the largest force on a whole with which a settled state is left.

        Args:
            whole: Number of the whole that is pushed.
            at: Where it is pushed [m].
            push: Direction (3), a unit vector.
            most: Force [N] beyond which is not asked.

        Returns:
            Force [N]; `most` where it stands that, less where friction may be locked in.
        """
        if not 0 < most < inf:
            return most * self.kept(whole)
        ground, frame = self.ground, self.frame
        limit = most / ROCKS / frame.weight
        added = self._turned(whole, at, push) @ ground.merged.columns
        growth = Growth(ground.overturning, ground.load, added, np.zeros(len(ground.held.gaps)), limit, told=limit)
        end = followed(ground.held, growth)
        return min(most, (ROCKS if end.rocked else 1.0) * float(end.factor) * frame.weight) * self.kept(whole)

    def _turned(self, whole: int, at: Place, push: Array) -> Array:
        """Return what a force of 1 does along the motions of each whole (3 q), scaled."""
        x, y = (at[axis] - self.frame.middle[axis] for axis in (0, 1))
        turned = np.zeros((len(self.frame.wholes), 3))
        turned[whole] = push[2], push[2] * y / self.frame.span, -push[2] * x / self.frame.span
        # From the top down: each share of the force that reaches a whole, and how high over its saddles it does.
        reaching = [(whole, 1.0, at[2])]
        while reaching:
            reached, share, height = reaching.pop()
            own = float(self.saddles[reached])
            turned[reached, 1:] += share * (height - own) / self.frame.span * np.array([-push[1], push[0]])
            below = enumerate(self.passed[reached].tolist())
            reaching += [(base, share * passed, own) for base, passed in below if passed > 0]
        return turned.ravel()


def stack(frame: Frame, ground: Footing, loads: Array) -> StackedStands | None:
    """Write a group down as a stack.

    Args:
        frame: The group, balanced.
        ground: The same as it rests.
        loads: What each of its supports carries (n), any unit.

    Returns:
        The stack; None where a mount or link ties it, something hangs, nothing stands on another whole, or two wholes
        stand on each other: then the sway alone is taken off.
    """
    count = len(frame.wholes)
    on = [frame.whole(each.on) if each.on in frame.bodies else -1 for each in frame.supports]
    hangs = any(each.equipment.kind is EquipmentKind.HOIST for each in frame.supports)
    if frame.mounts or frame.links or hangs or max(on) < 0:
        return None
    own = np.zeros(count)
    high, passed = np.zeros(count), np.zeros((count, count))
    for support, base, load in zip(frame.supports, on, loads, strict=True):
        whole = frame.whole(support.body)
        own[whole] += load
        high[whole] += load * support.at[2]
        if base >= 0:
            passed[whole, base] += load
    # What stands on itself by a detour has no top to begin at.
    if (own <= 0).any() or np.linalg.matrix_power((passed > 0).astype(float), count).any():
        return None
    return StackedStands(frame, ground, high / own, passed / own[:, None])
