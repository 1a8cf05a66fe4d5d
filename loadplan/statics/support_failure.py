"""Small mishaps: a support that goes, a hose left on, a jack that sinks."""

from dataclasses import replace
from math import hypot

import numpy as np

from loadplan.model.answer import LostSupport, Mode, Snag, Sunk
from loadplan.model.vehicle import Joint
from loadplan.statics.contact_loads import Springs, settle
from loadplan.statics.equilibrium import Frame
from loadplan.statics.mass import Array
from loadplan.statics.mode_axes import still
from loadplan.statics.tipping_modes import EDGE, free_motion, over

SINKS = 0.010
"""How far a support that does not lock is let sink [m]: a weeping jack overnight; common practice, no source."""


def lost_supports(frame: Frame, without: tuple[Array, ...]) -> tuple[LostSupport, ...]:
    """Tell what happens without each support in turn, arms of the lift aside.

    Args:
        frame: The group, balanced as given.
        without: For each support the further modes (k, 3 q) that it alone stands against.

    Returns:
        One record a support.
    """
    return tuple(
        _without(frame, number, without[number]) for number, support in enumerate(frame.supports) if not support.is_arm
    )


def _without(frame: Frame, number: int, further: Array) -> LostSupport:
    """Return what happens without one support; further: the modes (k, 3 q) that it alone stands against."""
    less = replace(
        frame,
        supports=frame.supports[:number] + frame.supports[number + 1 :],
        up=np.delete(frame.up, number, axis=0),
    )
    going = free_motion(less)
    if going is None:
        going = over(less, further)
    return LostSupport(frame.supports[number].name, going is None, () if going is None else still(less, going))


def snags(undone: tuple[Joint, ...], free: frozenset[str], modes: tuple[Mode, ...]) -> tuple[Snag, ...]:
    """Find the least upward pull at each undone joint that takes a body out of balance.

    Args:
        undone: Joints undone at bodies of a group.
        free: Bodies of the group at which one is looked for.
        modes: The modes of the group.

    Returns:
        One record for each joint with places and each of its free bodies.
    """
    return tuple(
        Snag(joint.name, body, _least_pull(joint, body, modes))
        for joint in undone
        for body in joint.between
        if body in free and joint.at
    )


def _least_pull(joint: Joint, body: str, modes: tuple[Mode, ...]) -> float | None:
    """Return the least upward force [N] on a body at a joint that takes a mode's work away."""
    pulls = [
        mode.work / rise
        for mode in modes
        for x, y, _ in joint.at
        if (rise := dict(mode.motions)[body].up_at(x, y)) > EDGE
    ]
    return min(pulls, default=None)


def sunk_supports(frame: Frame, held: Springs, gaps: Array) -> tuple[Sunk, ...]:
    """Tell what happens when each support that does not lock sinks a little, arms of the lift aside.

    Args:
        frame: The group, balanced as given.
        held: Its springs; n supports.
        gaps: How much lower each saddle is (n), scaled.

    Returns:
        One record a support that oil or a chain brake holds.
    """
    soft = [each for each, support in enumerate(frame.supports) if not support.equipment.locks and not support.is_arm]
    return tuple(_sinking(frame, held, gaps, number) for number in soft)


def _sinking(frame: Frame, held: Springs, gaps: Array, number: int) -> Sunk:
    lower = gaps.copy()
    lower[number] += SINKS / frame.span
    settled = settle(held, frame.load[None, :], lower[None, :])
    loads = settled.loads[0] * frame.weight
    motions = frame.motions(settled.motions[0])
    return Sunk(
        support=frame.supports[number].name,
        loads=tuple((each.name, float(load)) for each, load in zip(frame.supports, loads, strict=True)),
        tilts=tuple((name, hypot(motion.rx, motion.ry)) for name, motion in motions),
    )
