"""What a group is solved with, where it comes to rest, and what is told of it: shared by a whole look and a glance."""

from dataclasses import dataclass
from math import inf

import numpy as np

from loadplan.limits import GRAVITY
from loadplan.model.answer import GroupAnswer, Load, Loose, Mode, Motion, Proof, Tips
from loadplan.model.vehicle import Joint, Place
from loadplan.statics.contact_loads import Settled, Springs, settle, springs
from loadplan.statics.equilibrium import Frame
from loadplan.statics.laid_on_weight import Corner
from loadplan.statics.mass import Array
from loadplan.statics.minimum_cut import Needs
from loadplan.statics.push_limit import Grip
from loadplan.statics.stance import Stance


@dataclass(frozen=True, slots=True)
class Settings:
    """What a group is solved with besides its equations.

    Attributes:
        gaps: How much lower each support's saddle is (n) [m].
        uneven: How far each saddle may be off (n) [m].
        preload: (mount, force [N]) in the file's attitude.
        slope: Floor slope [rad].
        needs: Pairs of lumps: a removable part, and one that must be off before it.
        undone: Joints undone at bodies of the group.
        held: Bodies rigid with the one on the lift: no snag is looked for at them, and they are not pushed.
        grips: How each support holds sideways (n).
        pushed: Of each rigid whole (q) the body that is pushed, and where [m].
        asked: The hardest push that a job may ask for, with what it must be stood by [N]: how far is searched where
            no friction is said.
        corners: Of each rigid whole (q) the corners of the outlines of what is on it.
    """

    gaps: tuple[float, ...]
    uneven: tuple[float, ...]
    preload: tuple[tuple[str, float], ...]
    slope: float
    needs: Needs
    undone: tuple[Joint, ...]
    held: frozenset[str]
    grips: tuple[Grip, ...]
    pushed: tuple[tuple[str, Place], ...]
    asked: float
    corners: tuple[tuple[Corner, ...], ...]


@dataclass(frozen=True, slots=True)
class Solved:
    """One group solved; lists in the frame's order.

    Attributes:
        answer: What reports tell of it.
        margins: Of each rigid whole [m]; None where not balanced or no mode rotates it.
        worst_margins: The same, worst.
        tip_angles: Of each rigid whole [rad].
        motions: Expected motion of each rigid whole; None where not balanced.
        loads: Of each support; None where not balanced.
        forces: Of each mount [N]; None where not balanced.
        stance: How it stands; None where not balanced, or at a glance.
    """

    answer: GroupAnswer
    margins: tuple[float | None, ...]
    worst_margins: tuple[float | None, ...]
    tip_angles: tuple[float | None, ...]
    motions: tuple[Motion, ...] | None
    loads: tuple[Load, ...] | None
    forces: tuple[float, ...] | None
    stance: Stance | None = None


def bare(frame: Frame, proof: Proof, modes: tuple[Mode, ...]) -> GroupAnswer:
    """Tell no more of a group than whether it stands, and how it could go over.

    Args:
        frame: The group.
        proof: The evidence.
        modes: Every way to go over, as told.

    Returns:
        The answer, not robust, and with nothing else in it.
    """
    return GroupAnswer(
        bodies=frame.bodies,
        supports=tuple(support.name for support in frame.supports),
        proof=proof,
        robust=False,
        modes=modes,
        snags=(),
        lost=(),
        sunk=(),
        simplified=False,
        sway=None,
        pushes=(),
        laid_on=(),
    )


def fallen(frame: Frame, proof: Tips | Loose, modes: tuple[Mode, ...]) -> Solved:
    """Tell of a group that does not stand.

    Args:
        frame: The group.
        proof: How it goes.
        modes: Every way to go over, as told.

    Returns:
        Nothing but that.
    """
    nothing = (None,) * len(frame.wholes)
    return Solved(bare(frame, proof, modes), nothing, nothing, nothing, None, None, None)


@dataclass(frozen=True, slots=True)
class Rest:
    """A group at rest; n supports.

    Attributes:
        held: Its springs.
        gaps: How much lower each saddle is (n), scaled.
        settled: Where it came to rest; one case.
    """

    held: Springs
    gaps: Array
    settled: Settled


def at_rest(frame: Frame, settings: Settings) -> Rest:
    """Let a group come to rest as it is set.

    Args:
        frame: The group, balanced.
        settings: What it is solved with.

    Returns:
        Its springs, and where they hold it.
    """
    held = springs(frame, dict(settings.preload))
    gaps = np.array(settings.gaps) / frame.span
    return Rest(held, gaps, settle(held, frame.load[None, :], gaps[None, :]))


def heights(frame: Frame) -> Array:
    """Find how high each rigid whole's centre of gravity is over its lowest saddle.

    Args:
        frame: The group.

    Returns:
        Heights (q) [m].
    """
    moments = np.zeros(len(frame.wholes))
    for lump, whole in zip(frame.lumps, frame.whole_of, strict=True):
        if lump.counts:
            moments[whole] += lump.sign * lump.mass * (lump.at[2] - frame.base[whole])
    found: Array = moments * GRAVITY / (frame.load[::3] * frame.weight)
    return found


def finite(values: Array) -> tuple[float | None, ...]:
    """Put None where there is no end.

    Args:
        values: Any numbers.

    Returns:
        The same, with None for what is infinite.
    """
    return tuple(None if value == inf else float(value) for value in values)
