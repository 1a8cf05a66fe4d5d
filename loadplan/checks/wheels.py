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
    wheeled = [(each, case.load(each.name)) for each in case.stands if each.equipment.wheels]
    return [_finding(case, each, carried.at_most) for each, carried in wheeled if carried is not None]


def _finding(case: Case, support: Support, high: float) -> Finding:
    """Return a caution for a stand on castors that may carry something; high: the most that is known of [N]."""
    carries = case.may_carry(support)
    return Finding(
        check=CheckName.WHEELS,
        verdict=Verdict.CAUTION if carries else Verdict.HOLDS,
        subject=support.name,
        value=high,
        limit=0.0,
        measure=Measure.LOAD,
        says=_rolls(case, support, high) if carries else (f"{support.name} stands on castors but carries nothing.",),
    )


def _rolls(case: Case, support: Support, high: float) -> Sentence:
    """Return that a stand may roll away, and what to do."""
    rolls: Sentence = (f"{support.name} carries up to ", load(high), " on castors and may roll away.")
    act = f"lock or chock its wheels, or use a {support.equipment.kind.value} without wheels"
    return (*rolls, *move_stand(case, support.body, support.name, (act,)))
