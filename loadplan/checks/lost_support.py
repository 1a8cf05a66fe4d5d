"""Lost support: what goes over when one support gives way or is knocked out."""

from loadplan.checks.case import Case, Told
from loadplan.checks.phrases import names, several, turning_about
from loadplan.model.answer import GroupAnswer
from loadplan.model.disturbance import LostSupport
from loadplan.model.verdict import CheckName, Finding, Measure, Sentence, Verdict


def check(case: Case) -> list[Told]:
    """Tell what happens without each support in turn.

    Args:
        case: The stage.

    Returns:
        One finding a support of a balanced group, arms aside: a note where the group goes over without it.
    """
    return [
        Finding(
            check=CheckName.LOST_SUPPORT,
            verdict=Verdict.HOLDS if lost.balanced else Verdict.NOTE,
            subject=lost.support,
            value=None,
            limit=None,
            measure=Measure.LENGTH,
            says=_says(group, lost),
        )
        for group in case.statics.groups
        if group.balanced
        for lost in group.lost
    ]


def _says(group: GroupAnswer, lost: LostSupport) -> Sentence:
    bodies = names(group.bodies)
    if lost.balanced:
        return (f"If {lost.support} goes, the others still hold the {bodies}.",)
    goes = several(group.bodies, "goes", "go")
    return (f"If {lost.support} goes, the {bodies} {goes} over, {turning_about(lost.turns_about)}.",)
