"""Several stands set anew together: those that are out of line with the others brought back into it.

Two stands one setting too low let the unit down crooked, and setting one of them right by itself helps nothing: the
unit then hangs on that one. No search that builds on what helps by itself comes to such a pair early.
"""

from collections.abc import Sequence

from loadplan.model.job import Job, Support
from loadplan.planning.mending.change_search import TriedChanges
from loadplan.planning.mending.plan_change import ChangeKind, PlanChange, support_of

ALIKE = 1e-3
"""Levels that differ by less [m] are one."""


def back_in_line(job: Job, singles: Sequence[TriedChanges]) -> list[tuple[PlanChange, ...]]:
    """List the changes that bring all stands to one level, for each level at which one of them is set.

    Args:
        job: The plan.
        singles: Plans with one change each; those of another height count.

    Returns:
        Two changes or more each, the fewest first: of each stand further off than an uneven floor makes it the setting
        that comes nearest.
    """
    levels: dict[int, float] = {}
    for each in job.supports:
        if (own := _level(each)) is not None:
            levels.setdefault(round(own / ALIKE), own)
    found = [_at_level(job, singles, each) for each in levels.values()]
    return sorted((each for each in found if len(each) > 1), key=len)


def _at_level(job: Job, singles: Sequence[TriedChanges], wanted: float) -> tuple[PlanChange, ...]:
    """Return the changes of height that bring the stands nearest to a level; none of a stand that is there."""
    nearest: dict[str, tuple[float, PlanChange]] = {}
    for each in singles:
        change = each.changes[0]
        if change.kind is not ChangeKind.HEIGHT:
            continue
        now, then = (_level(support_of(plan, change.about)) for plan in (job, each.plan.job))
        if now is None or then is None or abs(now - wanted) <= job.limits.uneven:
            continue
        off = abs(then - wanted)
        if off < min(abs(now - wanted), nearest.get(change.about, (off + ALIKE, change))[0]):
            nearest[change.about] = off, change
    return tuple(change for _, change in nearest.values())


def _level(support: Support) -> float | None:
    """Return how high a unit stands on a stand over the file's attitude [m]; None where no height is set."""
    return None if support.set_height is None or support.on else support.set_height - support.at[2]
