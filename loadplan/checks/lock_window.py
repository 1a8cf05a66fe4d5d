"""Lock window: whether one of the lift's locks lies in a window of heights where it is to stand on them."""

from enum import Enum

from loadplan.model.job import Job, State
from loadplan.model.lowering import SetDownAnswer

HAIR = 1e-12
"""What a window may be narrower than from one lock to the next [m]: rounding."""


class LockDoubt(Enum):
    """Why the lift may not stand on its locks inside a window."""

    NONE = "one lies there, or none is wanted"
    APART = "they lie further apart than the window is wide"
    UNKNOWN = "nobody says how far they are apart"


def lock_doubt(job: Job, state: State, down: SetDownAnswer | None) -> LockDoubt:
    """Find whether the lift has a lock in the window in which a unit is set down.

    Where the stands are brought up the lift stays on the lock on which it stands.

    Args:
        job: The job.
        state: The state in which it is set down.
        down: What was computed of that; None where nothing is set down.

    Returns:
        Why none may lie there.
    """
    if job.lift is None or down is None or not state.lift_locked or brings_stands_up(job, state):
        return LockDoubt.NONE
    if down.start is None or down.end is None or down.start > down.end:
        return LockDoubt.NONE
    step = job.lift.lift.lock_step
    if step is None:
        return LockDoubt.UNKNOWN
    return LockDoubt.APART if down.end - down.start < step - HAIR else LockDoubt.NONE


def brings_stands_up(job: Job, state: State) -> bool:
    """Return whether the steps so far bring the stands up, and not the lift down.

    Args:
        job: The job.
        state: Its state.

    Returns:
        Whether they do.
    """
    said = [each for each in job.stages[: state.index + 1] if (each.lowered, each.raised) != (None, None)]
    return bool(said) and said[-1].lowered is None
