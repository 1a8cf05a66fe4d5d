"""Wheels: does anything on castors carry load while people work on it."""

from loadplan.checks.case import Case, Told
from loadplan.checks.cure import move_stand
from loadplan.checks.phrases import load
from loadplan.model.job import Support
from loadplan.model.verdict import CheckName, Finding, Measure, Sentence, Verdict


def check(case: Case) -> list[Told]:
    """Judge every support on castors; castors with brakes on are written as no wheels.

    Args:
        case: The stage.

    Returns:
        One finding a support on castors whose load is known, none in a stage that is rolled.
    """
    if case.state.stage.moved:
        return []
    wheeled = [each for each in case.stands if each.equipment.wheels and case.load(each.name) is not None]
    return [_finding(case, each) for each in wheeled]


def _finding(case: Case, support: Support) -> Finding:
    """Return a caution for a stand on castors that may carry something."""
    carried = case.load_range(support.name)
    carries = case.may_carry(support)
    return Finding(
        check=CheckName.WHEELS,
        verdict=Verdict.CAUTION if carries else Verdict.HOLDS,
        subject=support.name,
        value=carried.high if carried else None,
        limit=0.0,
        measure=Measure.LOAD,
        says=_rolls(case, support, carried.high if carried else 0.0)
        if carries
        else (f"{support.name} stands on castors but carries nothing.",),
    )


def _rolls(case: Case, support: Support, high: float) -> Sentence:
    """Return that a stand may roll away, and what to do."""
    rolls: Sentence = (f"{support.name} carries up to ", load(high), " on castors and may roll away.")
    act = f"lock or chock its wheels, or use a {support.equipment.kind.value} without wheels"
    return (*rolls, *move_stand(case, support.body, support.name, (act,)))
