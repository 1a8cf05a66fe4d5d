"""Changes to when a stand stands: taken away with the part it stands under, and raised before another is taken away."""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from math import ceil

from loadplan.model.job import Job, SetAnew, Stage, Support
from loadplan.model.step_change import Unloading
from loadplan.model.verdict import Measure, Quantity, StageAssessment
from loadplan.planning.mending.plan_change import (
    ChangeKind,
    MadeChange,
    PlanChange,
    support_of,
    with_stage,
)
from loadplan.stages import states
from loadplan.statics.stage_sequence import solve_stages

LEFT = 100.0
"""What a stand may still carry [N] when it is taken away by hand; common practice, no source."""

MILLIMETRE = 1e-3
"""Stands are raised by whole millimetres [m]."""

HAIR = 1e-6
"""Part of a millimetre that is rounding."""


def clearings(job: Job, support: Support, first: int) -> Iterator[PlanChange]:
    """Yield a stand taken away with the part that it stands under, and put back with it.

    Args:
        job: The plan.
        support: The stand.
        first: Number of the first step that is not done yet, from 0.

    Yields:
        Where its part comes off while it stands there: it is taken away, or another one is raised first, so that
        nothing drops.
    """
    numbers = [
        number
        for number, (stage, state) in enumerate(zip(job.stages, states(job), strict=True))
        if number >= first
        and support.part in stage.off
        and support.name not in stage.in_place
        and any(each.name == support.name for each in state.supports)
    ]
    if not support.part or not numbers:
        return
    number = numbers[0]
    yield PlanChange(ChangeKind.CLEAR, support.name, partial(_cleared_with_part, name=support.name, number=number))
    if number > first:
        make = partial(_raised_and_cleared, name=support.name, number=number)
        yield PlanChange(ChangeKind.CLEAR, support.name, make)


def raisings(stages: tuple[StageAssessment, ...], first: int) -> Iterator[PlanChange]:
    """Yield the stand that is raised before another one is taken away, wherever that one still carries.

    Args:
        stages: The steps that are not done yet, judged.
        first: Number of the first of them, from 0.

    Yields:
        One change an unloading that a single stand can take over.
    """
    for stage in stages:
        for each in stage.statics.change.unloadings:
            if each.load is not None and each.load > LEFT and each.raising is not None and stage.state.index > first:
                make = partial(_raised, unloading=each, number=stage.state.index - 1)
                yield PlanChange(ChangeKind.RAISE, f"{each.support} in {stage.state.index}", make)


def _cleared_with_part(job: Job, *, name: str, number: int) -> MadeChange:
    """Return the plan with a stand taken away as its part comes off, and what it still carries taken off it first."""
    support = support_of(job, name)
    made = with_stage(job, number, replace(job.stages[number], cleared=(*job.stages[number].cleared, name)))
    back = next((at for at in range(number + 1, len(job.stages)) if support.part in job.stages[at].on), None)
    for at in range(number + 1, len(job.stages)):
        stage = made.stages[at]
        if name in stage.in_place:
            break
        if at == back and name not in stage.cleared:
            made = with_stage(made, at, replace(stage, in_place=(*stage.in_place, name)))
            break
        # It is gone already: nobody takes it away again, or sets it.
        set_anew = tuple(each for each in stage.set_anew if each.support != name)
        made = with_stage(made, at, replace(stage, cleared=_less(stage.cleared, name), set_anew=set_anew))
        if name in stage.cleared:
            break
    says = f'Take {name} away in step "{job.stages[number].name}", with {support.part} that it stands under'
    put_back = f', and put it back in step "{job.stages[back].name}"' if back is not None else ""
    return MadeChange(made, name, (f"{says}{put_back}.",))


def _raised_and_cleared(job: Job, *, name: str, number: int) -> MadeChange | None:
    """Return the plan with another stand raised, and then one taken away as its part comes off.

    Returns:
        None where it carries next to nothing before its part comes off, or no single stand takes that from it.
    """
    # What it carries while its part is still on is what drops.
    aside = Stage("\0taken away before", cleared=(name,))
    before = replace(job, stages=(*job.stages[:number], aside))
    unloading = next(
        (each for each in solve_stages(before, states(before))[number].change.unloadings if each.support == name), None
    )
    if unloading is None or unloading.load is None or unloading.load <= LEFT:
        return None
    raised = _raised(job, unloading=unloading, number=number - 1)
    cleared = raised and _cleared_with_part(raised.job, name=name, number=number)
    return MadeChange(cleared.job, name, (*raised.says, " ", *cleared.says)) if raised and cleared else None


def _raised(job: Job, *, unloading: Unloading, number: int) -> MadeChange | None:
    """Return the plan with a stand raised before another is taken away; None where it cannot be, or is not set."""
    raising = unloading.raising
    now = next((each for each in states(job)[number].supports if raising and each.name == raising.support), None)
    if raising is None or now is None or now.height is None or now.standby:
        return None
    # Under load only what turns is raised by so little.
    if now.equipment.heights is not None and now.equipment.heights.settings:
        return None
    by = ceil(raising.by / MILLIMETRE - HAIR) * MILLIMETRE
    height = round(now.height + by, 6)
    stage = job.stages[number]
    kept = tuple(each for each in stage.set_anew if each.support != now.name)
    made = with_stage(job, number, replace(stage, set_anew=(*kept, SetAnew(now.name, height))))
    says = (
        f"Raise {now.name} by ",
        Quantity(by, Measure.LENGTH),
        " to ",
        Quantity(height, Measure.LENGTH),
        f' in step "{stage.name}", before {unloading.support} is taken away.',
    )
    return MadeChange(made, now.name, says)


def _less(names: tuple[str, ...], name: str) -> tuple[str, ...]:
    return tuple(each for each in names if each != name)
