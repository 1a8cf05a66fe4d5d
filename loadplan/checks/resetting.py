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
from loadplan.statics.gaps import is_touching
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


def reset_cures(case: Case, reset: Reset | None) -> tuple[PlanCure, ...]:
    """Return a reset as something that can be done to the plan.

    Args:
        case: The stage.
        reset: Which stand, and how much; None for none.

    Returns:
        One change, none for a stand that is only brought up to touch.
    """
    return () if reset is None else raise_cures(case, (Raising(reset.support.name, reset.change),))


def raise_cures(case: Case, raises: tuple[Raising, ...]) -> tuple[PlanCure, ...]:
    """Return stands that are raised as something that can be done to the plan.

    Args:
        case: The stage.
        raises: The stands, and how much higher each is set [m].

    Returns:
        One change; none where one is only brought up to touch, or where those that are would not stay where they are.
    """
    if any(case.support(each.support).height is None for each in raises) or touched_follow(case, raises):
        return ()
    return (StandsRaised(raises),)


def touched_follow(case: Case, raises: tuple[Raising, ...]) -> bool:
    """Tell whether stands that are brought up to touch come up, or down, with others that are planned at other heights.

    They touch where the highest of the set ones holds the unit; so once that one changes, not only what is reset does.

    Args:
        case: The stage.
        raises: Stands, and how much higher each is set [m].

    Returns:
        Whether they do.
    """
    ups = {each.support: each.by for each in raises}
    lows = [
        (case.gap(each.name), ups.get(each.name, 0.0)) for each in case.state.bearing if not each.on and each.height
    ]
    moved = min((gap - up for gap, up in lows), default=0.0) - min((gap for gap, _ in lows), default=0.0)
    touched = any(is_touching(each) and not each.on and not each.standby for each in case.state.bearing)
    return touched and abs(moved) > TAPE


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
