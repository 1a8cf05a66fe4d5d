"""How a piece of equipment is set to come as near as it can to a height: one of its settings, and at most one shim."""

from statistics import median
from typing import NamedTuple

from loadplan.limits import TAPE
from loadplan.model.job import Job, Stack, Support
from loadplan.model.shop import Equipment

FINEST = 1e-3
"""Nobody sets a stepless stand finer [m]."""

FINEST_US = 0.003175
"""The same for who reads inches [m]: an eighth, the finest mark that is told."""

NEAR = 0.025
"""Heights that are tried lie within this [m] of where a saddle is, or where the others say that it should be."""

STEPLESS = (0, -1, 1, -2, 2, -3, 3, -5, 5, -10, 10)
"""How far from there a stepless stand is tried, in the finest steps."""


class FittedSetting(NamedTuple):
    """How a saddle is set.

    Attributes:
        height: Saddle height [m].
        shim: What lies on it, None for nothing.
    """

    height: float
    shim: Stack | None

    @property
    def total(self) -> float:
        """Saddle height with its shim [m]."""
        return self.height + (self.shim.height if self.shim else 0.0)


def finest(job: Job) -> float:
    """Say in which steps a stand without steps is set.

    Args:
        job: The job, whose units count.

    Returns:
        The step [m].
    """
    return FINEST_US if job.us_units else FINEST


def fitted(job: Job, equipment: Equipment, total: float) -> FittedSetting:
    """Find the setting that comes nearest to a height, of those alike the one without a shim.

    Args:
        job: The job, whose shop has the shims.
        equipment: The equipment; without heights in the file it is taken to reach.
        total: Height wanted, shim and all [m].

    Returns:
        The setting.
    """
    near = settings_near(job, equipment, total)
    return min(near, key=lambda each: (round(abs(each.total - total), 5), each.shim is not None))


def settings_near(job: Job, equipment: Equipment, total: float) -> list[FittedSetting]:
    """List what a piece of equipment can be set to, with each kind of shim and without.

    Args:
        job: The job, whose shop has the shims.
        equipment: The equipment.
        total: Height wanted [m]; a stepless piece is set as near to it as it goes.

    Returns:
        At least one setting, those without shim first.
    """
    heights = equipment.heights
    if heights is None:
        return [FittedSetting(_settable(job, total), None)]
    stacks = [None, *(Stack(each.height, each.wood, crib=False) for each in job.shop.shims)]
    if heights.settings:
        return [FittedSetting(setting, stack) for stack in stacks for setting in heights.settings]
    lengths = [(stack, total - (stack.height if stack else 0.0)) for stack in stacks]
    near = [(stack, _settable(job, length)) for stack, length in lengths]
    return [FittedSetting(min(max(length, heights.lowest), heights.highest), stack) for stack, length in near]


def other_settings(job: Job, support: Support, totals: list[float]) -> list[FittedSetting]:
    """List the settings of a support near some heights, each height once, other than the one it has.

    Args:
        job: The job.
        support: A support that is set to a height.
        totals: Heights [m].

    Returns:
        The settings, of those alike the one without a shim.
    """
    found: dict[int, FittedSetting] = {}
    for total in totals:
        wanted = [total + step * finest(job) for step in STEPLESS] if support.equipment.is_stepless else [total]
        for each in wanted:
            for setting in settings_near(job, support.equipment, each):
                if abs(setting.total - total) <= NEAR:
                    found.setdefault(round(setting.total / FINEST), setting)
    now = FittedSetting(support.height or 0.0, support.shim)
    return [each for each in found.values() if abs(each.total - now.total) > TAPE or _cannot(support)]


def level_of_others(job: Job, support: Support) -> float | None:
    """Say how high the unit stands over the file's attitude, as the other stands are set.

    Args:
        job: The job.
        support: The support that is not asked.

    Returns:
        The median of the others' heights less their places [m], those under the same body where there are any; None
        where none is set.
    """
    others = [
        (each.body, each.set_height - each.at[2])
        for each in job.supports
        if each.name != support.name and each.set_height is not None and not each.on
    ]
    same = [level for body, level in others if body == support.body]
    levels = same or [level for _, level in others]
    return median(levels) if levels else None


def _settable(job: Job, height: float) -> float:
    """Return the height nearest to one [m] that somebody can set."""
    return round(round(height / finest(job)) * finest(job), 6)


def _cannot(support: Support) -> bool:
    """Return whether its equipment cannot be set to the height that it has."""
    heights = support.equipment.heights
    if heights is None or support.height is None:
        return False
    near = heights.settings or (min(max(support.height, heights.lowest), heights.highest),)
    return all(abs(each - support.height) > TAPE for each in near)
