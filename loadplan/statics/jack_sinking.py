"""Jack sinking: what a support that does not lock does to the others when it goes down a little overnight."""

from math import hypot

from loadplan.model.disturbance import Sunk
from loadplan.statics.contact_loads import Springs, settle
from loadplan.statics.equilibrium import Frame
from loadplan.statics.mass import Array

SINKS = 0.010
"""How far a support that does not lock is let sink [m]: a weeping jack overnight; common practice, no source."""


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
    """Return the loads and tilts after one support (its number) has sunk, everything else as it was."""
    lower = gaps.copy()
    # Down is a larger gap; the others stay as they were set, which no one corrects overnight.
    lower[number] += SINKS / frame.span
    settled = settle(held, frame.load[None, :], lower[None, :])
    loads = settled.loads[0] * frame.weight
    motions = frame.motions(settled.motions[0])
    return Sunk(
        support=frame.supports[number].name,
        loads=tuple((each.name, float(load)) for each, load in zip(frame.supports, loads, strict=True)),
        tilts=tuple((name, hypot(motion.rx, motion.ry)) for name, motion in motions),
    )
