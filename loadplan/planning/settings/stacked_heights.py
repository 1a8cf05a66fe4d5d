"""Stacked heights: how stands that stand on an assembly are set, over the place of it that they stand on.

What is borne by such stands alone may stand a little higher or lower over that assembly, if that leaves the saddles
more even; what stands on the floor besides stays where the file has it.
"""

from dataclasses import replace
from itertools import combinations

from loadplan.model.job import Job, Support
from loadplan.model.shop import Heights
from loadplan.planning.settings.saddle_settings import DIGITS

FAR = 0.060
"""How far it may stand higher or lower over the assembly under it [m]: three steps of a stand; no source."""


def set_over(job: Job, stands: tuple[Support, ...]) -> tuple[tuple[Support, float], ...]:
    """Set the stands on one assembly; what lies on their saddles stays there.

    Args:
        job: The job.
        stands: Stands on one assembly, each with a known foot and with heights in the shop's file.

    Returns:
        (the stand with its height, height and shim less place and level [m]) of each.
    """
    needs = [_need(each) for each in stands]
    fits = [
        round(setting - need, DIGITS)
        for each, need in zip(stands, needs, strict=True)
        for setting in _settings(each.equipment.heights)
    ]
    near = {level for level in fits if abs(level) <= FAR}
    # Least uneven is where one saddle is as much too high as another is too low: halfway between two that fit.
    levels = {0.0, *near, *(round((one + other) / 2, DIGITS) for one, other in combinations(sorted(near), 2))}
    held = {each.body for each in stands}
    others = [each for each in job.supports if each.body in held and each not in stands]
    tried = [0.0] if others else sorted(levels, key=abs)
    rows = [[_nearest(each, need + level) for each, need in zip(stands, needs, strict=True)] for level in tried]
    row = min(rows, key=lambda those: round(max(abs(misfit) for _, misfit in those), DIGITS))
    return tuple((replace(each, height=height), misfit) for each, (height, misfit) in zip(stands, row, strict=True))


def _need(stand: Support) -> float:
    """Return the height at which its saddle meets its place [m], with what lies on it."""
    assert stand.foot is not None
    return stand.at[2] - stand.foot - (stand.shim.height if stand.shim else 0.0)


def _settings(heights: Heights | None) -> tuple[float, ...]:
    assert heights is not None
    return heights.settings or (heights.lowest, heights.highest)


def _nearest(stand: Support, height: float) -> tuple[float, float]:
    """Return the setting nearest to a height, and how much higher it is [m]."""
    heights = stand.equipment.heights
    assert heights is not None
    found = heights.nearest(height)
    return round(found, DIGITS), round(found - height, DIGITS) + 0.0
