"""Idle support: does each stand carry something; one that carries nothing holds nothing, whatever the plan shows."""

from math import floor

from loadplan.checks.case import Case, Told
from loadplan.checks.cure import move_stand
from loadplan.checks.phrases import length, load
from loadplan.checks.resetting import raise_cures, touched_follow
from loadplan.model.answer import Load
from loadplan.model.job import Support
from loadplan.model.shop import EquipmentKind
from loadplan.model.step_change import Raising
from loadplan.model.verdict import CheckName, Finding, Measure, Sentence, Verdict

LEAST_RAISE = 0.001
"""Least raise [m] that is told: nobody sets a stand finer."""


def check(case: Case) -> list[Told]:
    """Judge whether each support carries something; arms of the lift are told by `lift`.

    Args:
        case: The stage.

    Returns:
        One finding a support whose load is known.
    """
    found: list[Told] = []
    for support in case.stands:
        carried = case.load(support.name)
        if carried is not None:
            verdict, says = _judged(case, support, carried)
            cures = raise_cures(case, _raised(case, support)) if verdict is Verdict.CAUTION else ()
            found.append(
                Finding(
                    CheckName.IDLE_SUPPORT, verdict, support.name, carried.expected, 0.0, Measure.LOAD, says, cures
                ),
            )
    return found


def _judged(case: Case, support: Support, carried: Load) -> tuple[Verdict, Sentence]:
    """Return the verdict on what a support carries, as expected and at least."""
    if case.is_nothing(carried.expected, support.body):
        return _idle(case, support)
    if support.standby:
        return Verdict.HOLDS, (f"{support.name} is a standby and carries ", load(carried.expected), ".")
    if carried.range is None:
        return Verdict.HOLDS, (f"{support.name} carries ", load(carried.expected), " as set.")
    if case.is_nothing(carried.range.low, support.body):
        loose = " as set, but may come loose on an uneven floor; try it by hand."
        return Verdict.NOTE, (f"{support.name} carries ", load(carried.expected), loose)
    return Verdict.HOLDS, (f"{support.name} carries at least ", load(carried.range.low), " on this floor.")


def _idle(case: Case, support: Support) -> tuple[Verdict, Sentence]:
    """Return the verdict on a support that carries nothing: whether that is as it should be."""
    name = support.name
    if support.standby:
        return Verdict.HOLDS, (f"{name} is a standby: it carries nothing until something moves.",)
    if support.set_height is None and name in case.state.stage.in_place:
        return Verdict.NOTE, (f"{name} is brought up to just touch and carries nothing yet.",)
    if case.on_lift(support.body):
        return Verdict.HOLDS, (f"{name} carries nothing yet: the {support.body} still hangs on the lift.",)
    # On the way of a step it still stands that is taken away at its end.
    if any(name in stage.cleared for stage in case.job.stages[case.state.index :][:2]):
        # It has to be empty by then: what is taken away while it carries lets its load down at once.
        return Verdict.HOLDS, (f"{name} carries nothing, and the next step takes it away.",)
    act: Sentence = (f"{_raise(support)} about ", length(_air(case, support)))
    if touched_follow(case, _raised(case, support)) and not case.already_free(support.body):
        act = ("plan without it, or set what is only brought up to touch to a lower height",)
        return Verdict.CAUTION, (f"{name} carries nothing.", *move_stand(case, support.body, name, act))
    told = move_stand(case, support.body, support.name, act)
    cure = told if case.already_free(support.body) else (*told, " If it still turns by hand, plan without it.")
    return Verdict.CAUTION, (f"{name} carries nothing.", *cure)


def _raised(case: Case, support: Support) -> tuple[Raising, ...]:
    return (Raising(support.name, _air(case, support)),)


def _raise(support: Support) -> str:
    if support.equipment.kind is EquipmentKind.HOIST:
        return f"take up {support.name}"
    stepped = support.equipment.heights is not None and bool(support.equipment.heights.settings)
    return f"shim up {support.name}" if stepped else f"raise {support.name}"


def _air(case: Case, support: Support) -> float:
    motion = case.answer(support.body).motion
    up = motion.up_at(support.at[0], support.at[1]) if motion else 0.0
    air = max(up + case.gap(support.name), 0.0)
    # The next millimetre beyond: raised by just the air it would touch, and still carry nothing.
    return (floor(round(air / LEAST_RAISE, 6)) + 1) * LEAST_RAISE
