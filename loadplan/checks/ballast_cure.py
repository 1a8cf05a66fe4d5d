"""Ballast on the vehicle on the lift, worded only for where the vehicle maker's manual names it."""

from collections.abc import Sequence

from loadplan.checks.case import NOTHING, Case
from loadplan.checks.load_centre import MOVED_END, POSTS, WITHIN
from loadplan.checks.pads import Pads
from loadplan.model.job import LiftUse
from loadplan.model.vehicle import Point
from loadplan.model.verdict import CheckName, Finding, Measure, Quantity, Verdict
from loadplan.statics.gaps import unevenness
from loadplan.statics.least_ballast import BallastQuestion, least_ballast

FEW = 8
"""Only a load on so few arms and props is tried with ballast: no unit stands under it any more."""


def ballast_note(case: Case, use: LiftUse, pads: Pads, found: Sequence[Finding]) -> list[Finding]:
    """Tell the least ballast that clears every caution about the load on the lift, the shift of its centre apart.

    Args:
        case: The stage.
        use: How the job uses the lift.
        pads: Where its pads are.
        found: What was found about arms and centre.

    Returns:
        A note, none where ballast does not clear them, or there are none.
    """
    cautions = [each.subject for each in found if each.verdict > Verdict.NOTE and each.subject != MOVED_END]
    if not cautions or POSTS in cautions or len(case.group(use.body).supports) > FEW or case.statics.set_down:
        return []
    best = least_ballast(case.job, case.state, _points(case, use, pads), _asked(case, use, pads))
    if best is None:
        return []
    named = "If the vehicle maker's manual names ballast: at least "
    says = (named, Quantity(best.mass, Measure.MASS), f" at {best.point.name} clears this. If it names none, use none.")
    return [Finding(CheckName.LIFT, Verdict.NOTE, "ballast", best.mass, None, Measure.MASS, says)]


def _points(case: Case, use: LiftUse, pads: Pads) -> tuple[Point, ...]:
    """Return the points of the body on the lift, pads too, those that weigh most against its centre first."""
    middle = (pads.front + pads.rear) / 2
    light = 1 if case.answer(use.body).cg[0] < middle else -1
    own = [each for each in case.job.vehicle.points if each.body == use.body]
    return tuple(sorted(own, key=lambda point: -light * point.at[0]))


def _asked(case: Case, use: LiftUse, pads: Pads) -> BallastQuestion:
    """Return what the load on the lift must meet with ballast: this far inside the pads, no arm empty or over."""
    limits, inside = case.job.limits, WITHIN * case.job.limits.margin
    supports = [each for each in case.state.supports if each.name in case.group(use.body).supports]
    return BallastQuestion(
        between=(pads.rear + inside, pads.front - inside),
        arm=limits.arm_share * use.lift.arm_rating,
        total=use.lift.rating,
        nothing=NOTHING,
        uneven={each.name: unevenness(each, limits) for each in supports},
        gaps={each.name: case.gap(each.name) for each in supports},
    )
