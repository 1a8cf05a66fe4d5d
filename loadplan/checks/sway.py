"""Sway: by how much the weight of a tall unit on soft supports makes its own tilt worse, until it goes over by that."""

from math import dist, sqrt
from statistics import fmean

from loadplan.checks.case import Case, Told
from loadplan.checks.cure import Way, steady
from loadplan.checks.moved_stand_cure import FurtherOut, further_out_cure
from loadplan.checks.phrases import names, share
from loadplan.model.answer import GroupAnswer
from loadplan.model.verdict import CheckName, Finding, Measure, Sentence, SolvedCure, Verdict
from loadplan.statics.group import upright_in_full
from loadplan.statics.moved_stands import MovedGroup

MUCH = 0.1
"""Share up to which the lean need not be reckoned with (EN 1993-1-1, 5.2.1, by analogy: critical factor 10)."""

TOO_MUCH = 1 / 3
"""Share beyond which a simple allowance for the lean no longer will do (EN 1993-1-1, 5.2.2, by analogy: factor 3)."""


def check(case: Case) -> list[Told]:
    """Judge the sway of each balanced group.

    Args:
        case: The stage.

    Returns:
        One finding a balanced group; one without a sway goes over by its own lean.
    """
    return [_finding(case, group) for group in case.statics.groups if group.balanced]


def _finding(case: Case, group: GroupAnswer) -> Finding:
    """Return how much of what rights a group its own leaning takes away."""
    sway = group.sway
    verdict = Verdict.HOLDS if sway is not None and sway <= MUCH else Verdict.CAUTION
    # Without a figure it goes over by its own lean.
    if sway is None or sway > TOO_MUCH:
        verdict = Verdict.STOP
    return Finding(
        check=CheckName.SWAY,
        verdict=verdict,
        subject=", ".join(group.bodies),
        value=sway,
        limit=TOO_MUCH if verdict is Verdict.STOP else MUCH,
        measure=Measure.SHARE,
        says=_says(case, group, verdict),
        cure=_further_out(case, group) if verdict is not Verdict.HOLDS else None,
    )


def _further_out(case: Case, group: GroupAnswer) -> SolvedCure | None:
    """Return how far out all stands would have to be; None where the lift holds the group."""
    if case.holds_lift(group):
        return None
    # Stiffness against a tilt goes with the square of how far out the stands are.
    stands = [each.at for each in case.stands if each.name in group.supports]
    middle = [fmean(each[axis] for each in stands) for axis in (0, 1)] if stands else [0.0, 0.0]
    reach = fmean(dist(each[:2], middle) for each in stands) if stands else 0.0
    guess = None if group.sway is None else reach * (sqrt(group.sway / MUCH) - 1)
    out = FurtherOut(case, group.bodies[0], group.supports, None, upright_in_full, guess)
    return further_out_cure(out, _is_steady, "a tilt makes itself a tenth worse at most")


def _is_steady(group: MovedGroup) -> bool:
    sway = group.solved.answer.sway
    return sway is not None and sway <= MUCH


def _says(case: Case, group: GroupAnswer, verdict: Verdict) -> Sentence:
    """Return how much a tilt feeds itself, and what would help where that is too much."""
    bodies = names(group.bodies)
    if group.sway is None:
        gives = (
            f"The {bodies} on {names(group.supports)}: too tall for what carries, it leans further until it goes over."
        )
        return (gives, *_cure(case, group))
    leans: Sentence = (f"A tilt of the {bodies} makes itself ", share(group.sway), " worse")
    match verdict:
        case Verdict.STOP:
            return (*leans, ": far too tall for supports that soft.", *_cure(case, group))
        case Verdict.CAUTION:
            return (*leans, ": tall on soft supports.", *_cure(case, group))
        case _:
            return (*leans, ".")


def _cure(case: Case, group: GroupAnswer) -> Sentence:
    return (*steady(case, Way(group.bodies, group.supports, "")), " Stiffer or lower ones help, too.")
