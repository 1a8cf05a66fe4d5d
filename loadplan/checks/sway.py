"""Sway: by how much the weight of a tall unit on soft supports makes its own tilt worse."""

from loadplan.checks.case import Case, Told
from loadplan.checks.cure import steady
from loadplan.checks.phrases import names, share
from loadplan.model.answer import GroupAnswer
from loadplan.model.verdict import CheckName, Finding, Measure, Sentence, Verdict

MUCH = 0.1
"""Share from which a tilt that grows by itself is felt; common practice, no source."""

ENDLESS = 1.0
"""Share from which a tilt grows until the unit goes over: its stiffness is gone (elastic stability)."""


def check(case: Case) -> list[Told]:
    """Judge the sway of each balanced group.

    Args:
        case: The stage.

    Returns:
        One finding a group whose sway is known.
    """
    return [_finding(case, group, group.sway) for group in case.statics.groups if group.sway is not None]


def _finding(case: Case, group: GroupAnswer, sway: float) -> Finding:
    """Return how much of what rights a group its own leaning takes away."""
    verdict, limit = _judged(sway)
    return Finding(
        check=CheckName.SWAY,
        verdict=verdict,
        subject=", ".join(group.bodies),
        value=sway,
        limit=limit,
        measure=Measure.SHARE,
        says=_says(case, group, sway, verdict),
    )


def _judged(sway: float) -> tuple[Verdict, float]:
    """Return the verdict, and the limit that it was held against."""
    if sway >= ENDLESS:
        return Verdict.STOP, ENDLESS
    return (Verdict.CAUTION if sway > MUCH else Verdict.HOLDS), MUCH


def _says(case: Case, group: GroupAnswer, sway: float, verdict: Verdict) -> Sentence:
    bodies = names(group.bodies)
    if verdict is Verdict.STOP:
        gives = f"The {bodies} on {names(group.supports)}: too tall for supports that soft, any tilt grows by itself."
        return (gives, *_cure(case, group))
    leans: Sentence = (f"A tilt of the {bodies} makes itself ", share(sway), " worse")
    return (*leans, ": tall on soft supports.", *_cure(case, group)) if verdict is Verdict.CAUTION else (*leans, ".")


def _cure(case: Case, group: GroupAnswer) -> Sentence:
    return (*steady(case, group, ""), " Stiffer or lower ones help, too.")
