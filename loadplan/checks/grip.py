"""Grip: does a saddle that carries hold by friction, tilted as its assembly is and on a floor that slopes."""

from loadplan.checks.case import Case, Told
from loadplan.checks.cure import move_stand
from loadplan.checks.phrases import angle
from loadplan.checks.sideways_cure import takes_rubber
from loadplan.model.answer import GripAnswer
from loadplan.model.verdict import CheckName, Finding, Measure, Sentence, Verdict

TWICE = 2.0
"""Times the tilt that a saddle should hold without a caution; common practice, no source."""


def check(case: Case) -> list[Told]:
    """Judge each saddle that carries: what stands steeper than its friction angle slides (Coulomb).

    Args:
        case: The stage.

    Returns:
        One finding a saddle that carries and whose body has a settled state, arms of the lift too; hoists hang.
    """
    return [_finding(case, grip) for grip in case.statics.grips]


def _finding(case: Case, grip: GripAnswer) -> Finding:
    """Return how steep a saddle may come to stand against its friction angle; at half of it a knock may be enough."""
    verdict = Verdict.CAUTION if TWICE * grip.angle >= grip.holds else Verdict.HOLDS
    if grip.angle >= grip.holds:
        verdict = Verdict.STOP
    body = case.support(grip.support).body
    return Finding(
        check=CheckName.GRIP,
        verdict=verdict,
        subject=grip.support,
        value=grip.angle,
        limit=grip.holds if verdict is Verdict.STOP else grip.holds / TWICE,
        measure=Measure.ANGLE,
        says=(
            f"The {body} on {grip.support} may come to stand ",
            angle(grip.angle),
            " steep with the floor, and friction there holds up to ",
            angle(grip.holds),
            "" if grip.said else " (assumed)",
            *_cure(case, grip.support, verdict),
        ),
    )


def _cure(case: Case, name: str, verdict: Verdict) -> Sentence:
    """Return what happens on a saddle that is too steep, and what would help."""
    if verdict is Verdict.HOLDS:
        return (".",)
    does = ": it slides off." if verdict is Verdict.STOP else ": it may slide when knocked."
    support = case.support(name)
    act = f"level it, or put rubber or timber on the saddle of {name}" if takes_rubber(support) else "level it"
    if support.is_arm:
        return (f"{does} Before lifting: {act}.",)
    return (does, *move_stand(case, support.body, name, (act,)))
