"""Lost support: what goes over, or is left near to tipping, when one support gives way or is knocked out."""

from loadplan.checks.case import Case, Told
from loadplan.checks.phrases import length, names, several, turning_about
from loadplan.model.answer import GroupAnswer
from loadplan.model.disturbance import LostSupport
from loadplan.model.verdict import CheckName, Finding, Measure, Sentence, Verdict


def check(case: Case) -> list[Told]:
    """Tell what happens without each support in turn.

    Args:
        case: The stage.

    Returns:
        One finding a support of a balanced group, arms aside: a note where the group goes over without it, or may go
        by the jolt.
    """
    return [
        Finding(
            check=CheckName.LOST_SUPPORT,
            verdict=Verdict.HOLDS if lost.balanced and not _near(case, lost) else Verdict.NOTE,
            subject=lost.support,
            value=lost.worst_margin,
            limit=case.job.limits.margin if lost.balanced else None,
            measure=Measure.LENGTH,
            says=_says(case, group, lost),
        )
        for group in case.statics.groups
        if group.balanced
        for lost in group.lost
    ]


def _near(case: Case, lost: LostSupport) -> bool:
    """Return whether a group is left nearer to tipping than the job's limit."""
    return lost.worst_margin is not None and lost.worst_margin < case.job.limits.margin


def _says(case: Case, group: GroupAnswer, lost: LostSupport) -> Sentence:
    """Return what happens without a support."""
    bodies = names(group.bodies)
    if lost.balanced and lost.worst_margin is not None and _near(case, lost):
        left: Sentence = ("nothing",) if lost.worst_margin <= 0 else (length(lost.worst_margin),)
        return (f"If {lost.support} goes, the {bodies} may go by the jolt: ", *left, " left to tipping.")
    if lost.balanced:
        return (f"If {lost.support} goes, the others still hold the {bodies}.",)
    goes = several(group.bodies, "goes", "go")
    return (f"If {lost.support} goes, the {bodies} {goes} over, {turning_about(lost.turns_about)}.",)
