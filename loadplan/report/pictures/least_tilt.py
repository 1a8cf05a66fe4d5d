"""The way in which something goes over at the least tilt: not always the one whose edge is nearest."""

from math import pi

from loadplan.model.answer import Mode


def least_tilt(modes: list[Mode]) -> Mode | None:
    """Choose the way to go over that takes the least tilt.

    Args:
        modes: Ways to go over.

    Returns:
        The mode; None where there is none.
    """
    return min(modes, key=lambda mode: pi if mode.tip_angle is None else mode.tip_angle, default=None)
