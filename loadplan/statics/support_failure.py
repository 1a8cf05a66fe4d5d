"""Support failure: what a group does when one of its supports goes, each in turn.

A group that stood falls only by a motion that the lost support alone stood against: a free one, or a further mode.
Those modes are found in the same pass as the others (`tipping_modes.ways`), so each support costs no search of its own.
How near to tipping it is left is the least worst margin over these modes; over the others it is what it was.
"""

from dataclasses import replace
from math import inf

import numpy as np

from loadplan.model.disturbance import LostSupport
from loadplan.statics.equilibrium import Frame
from loadplan.statics.lean import Tilted, upright
from loadplan.statics.mass import Array
from loadplan.statics.mode_axes import still
from loadplan.statics.resting_state import Settings
from loadplan.statics.tipping_modes import free_motion, over
from loadplan.statics.worst_margin import worst_ratios


def lost_supports(frame: Frame, without: tuple[Array, ...], settings: Settings) -> tuple[LostSupport, ...]:
    """Tell what happens without each support in turn, arms of the lift aside.

    Args:
        frame: The group, balanced as given.
        without: For each support the further modes (k, 3 q) that it alone stands against.
        settings: What the group is solved with.

    Returns:
        One record a support.
    """
    tilted = Tilted(settings.slope, upright(frame))
    _, ratios = worst_ratios(frame, np.vstack(without), tilted, settings.needs)
    ends = np.cumsum([len(each) for each in without])
    left = [frame.span * float(each.min(initial=inf)) for each in np.split(ratios, ends[:-1])]
    return tuple(
        replace(lost, worst_margin=left[number] if lost.balanced and left[number] < inf else None)
        for number, support in enumerate(frame.supports)
        if not support.is_arm
        for lost in (_without(frame, number, without[number]),)
    )


def _without(frame: Frame, number: int, further: Array) -> LostSupport:
    """Return what happens without one support; further: the modes (k, 3 q) that it alone stands against."""
    less = replace(
        frame,
        supports=frame.supports[:number] + frame.supports[number + 1 :],
        up=np.delete(frame.up, number, axis=0),
    )
    # First: where a motion is free, modes alone no longer tell whether the rest stands.
    going = free_motion(less)
    if going is None:
        going = over(less, further)
    return LostSupport(frame.supports[number].name, going is None, () if going is None else still(less, going))
