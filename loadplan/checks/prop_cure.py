"""Where a prop goes under the heavy end of the vehicle on the lift, and what it will carry if the vehicle moves."""

from loadplan.checks.case import Case
from loadplan.checks.pads import Pads
from loadplan.checks.phrases import load
from loadplan.checks.prop_height import prop_height
from loadplan.model.vehicle import Point
from loadplan.model.verdict import Sentence
from loadplan.statics.prop_load import prop_load

TRIED = 4
"""Places looked at, the furthest from the pads first: the others carry more."""


def prop_words(case: Case, pads: Pads, end: str) -> Sentence:
    """Word where a standby prop goes under the body on the lift, and what it will carry if the vehicle moves.

    Args:
        case: The stage, in which the lift holds that body.
        pads: Where its pads are.
        end: "front" or "rear": the end that is heavy.

    Returns:
        A sentence of its own, beginning with a blank.
    """
    found = _place(case, pads, end)
    if found is None:
        return (f" Before the weight moves: set a prop to just touch under its {end} end.",)
    point, most = found
    advice = f" ({point.say})" if point.say else ""
    where = f" Before the weight moves: set a prop to just touch under {point.name}{advice}. "
    high = prop_height(case, point, most)
    return (where, "If the vehicle moves, the prop carries up to ", load(most), ".", *high)


def prop_place(case: Case, pads: Pads, end: str) -> str:
    """Name the place where a standby prop goes.

    Args:
        case: The stage, in which the lift holds a body.
        pads: Where its pads are.
        end: "front" or "rear": the end that is heavy.

    Returns:
        The name of a point, or words for the end.
    """
    found = _place(case, pads, end)
    return found[0].name if found else f"its {end} end"


def _place(case: Case, pads: Pads, end: str) -> tuple[Point, float] | None:
    """Return the point furthest out that takes what the prop may come to carry [N]."""
    group = case.group(case.job.lift.body) if case.job.lift else None
    if group is None or not (group.balanced and group.robust):
        return None
    for point in _beyond(case, pads, end)[:TRIED]:
        most = prop_load(case.job, case.state, point)
        if most is not None and (point.limit is None or most <= point.limit):
            return point, most
    return None


def _beyond(case: Case, pads: Pads, end: str) -> list[Point]:
    """Return the free points of the body on the lift beyond its pads, the furthest out first, then the most central."""
    body = case.job.lift.body if case.job.lift else ""
    taken = {each.at for each in case.state.supports}
    points = [each for each in case.job.vehicle.points if not each.part or each.part in case.state.on]
    free = [each for each in points if each.body == body and each.at not in taken]
    out = [(pads.rear - each.at[0] if end == "rear" else each.at[0] - pads.front, each) for each in free]
    outside = [(by, each) for by, each in out if by > 0]
    return [each for _, each in sorted(outside, key=lambda pair: (-pair[0], abs(pair[1].at[1])))]
