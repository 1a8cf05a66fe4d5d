"""Set-down: from hanging on the lift to standing on the stands, by how far the lift goes down.

Levels are how far the arms are below the file's attitude; positive is down. At each level the loads are those of
`contact_loads`, and between two levels at which something comes into touch or leaves it they are linear. Sought is
the first level at which a sum of loads comes to a share: doubled until it is past it, then narrowed to a 64th in each
of four rounds, until the stretch is some 10⁻⁷ of the depth and the straight line through its ends is the answer. What
comes and goes between two levels tried in the first round is not seen. Derived here.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from loadplan.model.answer import Motion
from loadplan.model.lowering import Lowering
from loadplan.statics.contact_loads import Settled, Springs, settle, springs
from loadplan.statics.distinct_rows import distinct_numbers
from loadplan.statics.equilibrium import Frame
from loadplan.statics.mass import Array
from loadplan.statics.tipping_modes import stands

BORNE = 0.90
"""The stands have taken the unit when they carry this share of its weight; common practice, no source."""

ARM_LEFT = 0.20
"""An arm below this share of its load before first touch may come off its pad (a pad that gets too little
load may slide free: HSE SIM 03/2010/2)."""

DEEPEST = 0.5
"""No lowering is looked for beyond this [m]."""

SHOWN = 41
"""Levels at which the loads over a lowering are told, besides the ones that matter."""

BEYOND = 1.15
"""How far they go on beyond the last level that matters."""

SHALLOWEST = 0.002
"""Least lowering [m] over which the loads are told, and the first that is looked into."""

GRID = 65
"""Levels tried at once; each round narrows down a crossing 64 times."""

Flags = np.ndarray[tuple[int], np.dtype[np.bool_]]


@dataclass(frozen=True, slots=True)
class SetDownWindow:
    """How far past first touch the lift goes down, at least and at most [m]; None where it never comes to that.

    Attributes:
        start: From here the stands carry 90 % of what they are to carry.
        end: From here an arm has lost 80 % of its load.
    """

    start: float | None
    end: float | None

    @property
    def middle(self) -> float | None:
        """The level between the two [m]; None where there is no window."""
        if self.start is None or self.end is None or self.start > self.end:
            return None
        return (self.start + self.end) / 2


@dataclass(frozen=True, slots=True)
class SetDown:
    """One group coming down onto its stands.

    Attributes:
        frame: The group.
        held: Its springs.
        gaps: Gap of each stand (n), scaled; that of the arms is their level.
        stands: Which supports take the unit (n): those under bodies other than the lift's.
        hung: Scaled motion (3 q) with everything on the arms, these in the file's attitude.
    """

    frame: Frame
    held: Springs
    gaps: Array
    stands: Flags
    hung: Array

    @property
    def first_touch(self) -> float:
        """Level [m] at which the first stand takes load."""
        reach = (self.frame.up @ self.hung + self.gaps)[self.stands]
        return float(reach.min()) * self.frame.span

    def loads(self, levels: Array) -> Array:
        """Return the loads (c, n) [N] with the arms at levels (c) past first touch [m]."""
        loads: Array = self._settled(levels).loads * self.frame.weight
        return loads

    def motions(self, level: float) -> dict[str, Motion]:
        """Return the motion of each body with the arms at a level past first touch [m]."""
        return dict(self.frame.motions(self._settled(np.array([level])).motions[0]))

    def forces(self, level: float) -> dict[str, float]:
        """Return the force [N] of each mount, positive pulling its first body up, at a level past first touch [m]."""
        found = self._settled(np.array([level])).forces[0] * self.frame.weight
        return dict(zip((each.name for each in self.frame.mounts), found.tolist(), strict=True))

    def _settled(self, levels: Array) -> Settled:
        down = (self.first_touch + levels) / self.frame.span
        gaps = np.where(_arms(self.frame), down[:, None], self.gaps)
        return settle(self.held, np.tile(self.frame.load, (len(levels), 1)), gaps)

    def window(self, weight: float) -> SetDownWindow:
        """Find the window for a unit.

        Args:
            weight: What the stands will carry once it is parted [N].

        Returns:
            Where it starts and ends.
        """
        arms = _arms(self.frame)
        before = self.loads(np.zeros(1))[0]
        # An arm that hangs empty has no share to lose.
        counted = arms & (before > 1e-9 * self.frame.weight)
        return SetDownWindow(
            # Of what they will carry once it is parted: until then mounts may bear some of it.
            start=crossing(lambda levels: self.loads(levels)[:, self.stands].sum(axis=1) - BORNE * weight),
            end=crossing(
                lambda levels: (ARM_LEFT * before - self.loads(levels))[:, counted].max(axis=1, initial=-np.inf)
            ),
        )

    def lowering(self, marks: tuple[float, ...]) -> Lowering:
        """Tell the loads over the lowering.

        Args:
            marks: Levels that matter [m], at least one; each is told exactly.

        Returns:
            Loads from first touch to a little past the last of them.
        """
        even = np.linspace(0.0, BEYOND * max(*marks, SHALLOWEST), SHOWN)
        # The levels that matter are among those told, so that a chart shows them where they are and not beside.
        levels = distinct_numbers(np.append(even, marks))
        return Lowering(
            levels=tuple(levels.tolist()),
            supports=tuple(support.name for support in self.frame.supports),
            loads=tuple(tuple(each) for each in self.loads(levels).T.tolist()),
        )


def _arms(frame: Frame) -> Flags:
    return np.array([support.is_arm for support in frame.supports], dtype=bool)


def crossing(excess: Callable[[Array], Array]) -> float | None:
    """Find the first level at which a piecewise linear excess is reached.

    Args:
        excess: The excess at any number of levels (c) [m]; 0 or more where it is reached.

    Returns:
        The level [m]; None where none up to `DEEPEST` reaches it.
    """
    low, high = 0.0, SHALLOWEST
    # Doubled from shallow on: a first try too deep could step over the first crossing.
    while excess(np.array([high]))[0] < 0:
        if high == DEEPEST:
            return None
        high = min(2 * high, DEEPEST)
    # One call solves all levels of a round at once, so many levels and few rounds are quicker than halving.
    for _ in range(4):
        levels = np.linspace(low, high, GRID)
        found = excess(levels)
        last = int((found >= 0).argmax())
        if last == 0:
            return low
        low, high = float(levels[last - 1]), float(levels[last])
    below, above = (float(each) for each in found[last - 1 : last + 1])
    return low + (high - low) * (-below) / (above - below)


def hang(frame: Frame, preload: dict[str, float]) -> Array | None:
    """Hang a group on the arms of the lift alone, these in the file's attitude.

    Args:
        frame: The group.
        preload: Force [N] of mounts in the file's attitude, by name.

    Returns:
        Scaled motion (3 q); None where the arms alone do not hold it.
    """
    arms = _arms(frame)
    alone = replace(frame, supports=tuple(each for each in frame.supports if each.is_arm), up=frame.up[arms])
    if not stands(alone):
        return None
    hung: Array = settle(springs(alone, preload), frame.load[None, :], np.zeros((1, len(alone.supports)))).motions[0]
    return hung
