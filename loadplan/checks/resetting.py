"""Words for a stand that is set anew: how much higher or lower, and what that makes of its setting and shims."""

from loadplan.checks.case import Case
from loadplan.checks.cure import move_stand
from loadplan.checks.phrases import length
from loadplan.limits import TAPE
from loadplan.model.job import Support
from loadplan.model.plan_cure import PlanCure, StandsRaised
from loadplan.model.shop import Heights
from loadplan.model.step_change import Raising
from loadplan.model.verdict import Sentence
from loadplan.statics.levelling import Reset


def reset_words(case: Case, body: str, reset: Reset) -> Sentence:
    """Word a stand's reset, for the time when lift or jack still holds the weight.

    Args:
        case: The stage.
        body: Body that is to come right.
        reset: Which stand, and how much.

    Returns:
        A sentence of its own, beginning with a blank.
    """
    stand, act = reset.support.name, _act(reset.support, reset.change)
    told = move_stand(case, body, stand, act)
    return (*told, " Then ", *act, ".") if case.already_free(body) else told


def reset_cures(reset: Reset | None) -> tuple[PlanCure, ...]:
    """Return a reset as something that can be done to the plan.

    Args:
        reset: Which stand, and how much; None for none.

    Returns:
        One change, none for a stand that is only brought up to touch.
    """
    if reset is None or reset.support.height is None:
        return ()
    return (StandsRaised((Raising(reset.support.name, reset.change),)),)


def _act(support: Support, change: float) -> Sentence:
    """Return how to raise or lower a stand, by its settings and a shim where it goes in steps."""
    heights = support.equipment.heights
    by: Sentence = (f"{'raise' if change > 0 else 'lower'} {support.name} by ", length(abs(change)))
    if (
        support.height is None
        or support.set_height is None
        or heights is None
        or _turned(heights, support.height + change)
    ):
        return by
    total = support.set_height + change
    setting = max((each for each in heights.settings if each <= total + TAPE), default=min(total, heights.highest))
    height = round(total - setting, 6)
    shim = (", shim ", length(height)) if height > TAPE else (", no shim",)
    return (*by, " (set to ", length(setting), *shim, ")")


def _turned(heights: Heights, height: float) -> bool:
    """Return whether a stepless stand is just turned to a height, with what lies on it left there."""
    return not heights.settings and heights.lowest - TAPE <= height <= heights.highest + TAPE
