"""Equipment shortage: how many pieces too few the shop has, whatever is set where.

A change puts another piece under a place, or a stand elsewhere; none takes a place away, but that of a stand whose part
has come off. So where a step wants more pieces than the shop has of all kinds together, no change mends the plan, and
none needs to be looked for.
"""

from math import inf

from loadplan.checks.piece import pieces
from loadplan.model.job import Job, State
from loadplan.stages import states


def equipment_shortage(job: Job, first: int) -> int:
    """Count the pieces that the shop lacks in the step that lacks most.

    Args:
        job: The plan.
        first: Number of the first step that is not done yet, from 0.

    Returns:
        How many; 0 where the shop has enough of some kind or other, or does not count what it has.
    """
    return max((_lacking(job, state) for state in states(job)[first:]), default=0)


def _lacking(job: Job, state: State) -> int:
    # Whose part is off can be cleared with it: that place is none any more.
    standing = [each for each in state.supports if not each.is_arm and (not each.part or each.part in state.on)]
    used = [piece.equipment.name for piece in pieces(standing)]
    kinds = {each.name: each.usable_count for each in job.shop.equipment}
    kinds |= {each.equipment.name: each.equipment.usable_count for each in standing}
    left = sum(inf if count is None else count - used.count(name) for name, count in kinds.items())
    return 0 if left >= 0 else int(-left)
