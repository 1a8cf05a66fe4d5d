"""Level: how far each assembly leans out of the attitude that it has in the vehicle."""

from math import hypot

from loadplan.checks.carried_saddles import carried_saddles
from loadplan.checks.case import Case, Told, first_of_wholes
from loadplan.checks.cure import move_stand
from loadplan.checks.phrases import angle, low_side, names
from loadplan.checks.resetting import reset_cures, reset_words
from loadplan.model.answer import Motion
from loadplan.model.verdict import CheckName, Finding, Measure, Sentence, Verdict
from loadplan.statics.levelling import Reset, reset_for_level

TOO_FAR = 5.0
"""Times the limit beyond which tilts are no small motions any more and saddles bear on their edges; common practice,
no source."""


def check(case: Case) -> list[Told]:
    """Judge the tilt of each balanced rigid whole.

    Args:
        case: The stage.

    Returns:
        One finding a rigid whole, told by its first body; besides, stands that one takes sideways as it leans.
    """
    tilted = [
        _finding(case, body.name, body.motion)
        for body in first_of_wholes(case)
        if body.balanced and body.motion is not None
    ]
    return [*tilted, *carried_saddles(case)]


def _finding(case: Case, body: str, motion: Motion) -> Finding:
    """Return how far a body stands out of level."""
    tilt = hypot(motion.rx, motion.ry)
    limit = case.job.limits.level
    over = tilt > limit
    # Along its line only: how a link holds changes with every degree that the unit leans.
    links = case.group(body).needed_links if over else ()
    reset = _reset(case, body) if over else None
    far = tilt > TOO_FAR * limit
    verdict = Verdict.STOP if far or links else Verdict.CAUTION if over else Verdict.HOLDS
    stands: Sentence = (f"The {body} stands ", angle(tilt), " out of level")
    held = f" Without {names(links)} it goes over, and a rod holds the less the more it leans." if links else ""
    return Finding(
        check=CheckName.LEVEL,
        verdict=verdict,
        subject=body,
        value=tilt,
        limit=TOO_FAR * limit if far else limit,
        measure=Measure.ANGLE,
        says=(*stands, f", {low_side(motion)} low.{held}", *_cure(case, body, low_side(motion), reset))
        if over
        else (*stands, "."),
        cures=reset_cures(case, reset),
    )


def _on_pads(case: Case, body: str) -> bool:
    """Return whether a body hangs on the lift, and no stand is under it or what is rigid with it."""
    whole = {body, *case.answer(body).rigid_with}
    return case.holds_lift(case.group(body)) and not any(each.body in whole for each in case.stands)


def _reset(case: Case, body: str) -> Reset | None:
    """Return the one stand whose reset levels a body; None where there is none, or it hangs on the lift."""
    return None if _on_pads(case, body) else reset_for_level(case.job, case.state, case.statics.gaps, body)


def _cure(case: Case, body: str, side: str, reset: Reset | None) -> Sentence:
    """Return what would level a body: packing the pads, or resetting a stand."""
    if _on_pads(case, body):
        return (f" Before lifting: pack the lift pads at the {side}.",)
    if reset is None:
        return move_stand(case, body, "the stands", (f"raise or shim the stands at the {side}",))
    together = case.group(body).bodies
    alone = set(together) <= set(case.whole(body))
    # What is tied to it, or stands on it, may lean more than it does itself.
    of_all = "" if alone else f"the worst of the {names(together)} "
    return (*reset_words(case, body, reset), f" That leaves {of_all}", angle(reset.left), "." if alone else " out.")
