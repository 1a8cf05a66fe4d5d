"""Changes to when a stand stands: taken away with the part it stands under, and raised before another is taken away."""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from math import ceil

from loadplan.checks.unloading import LEFT
from loadplan.model.job import Job, SetAnew, Stage, Support
from loadplan.model.step_change import Raising
from loadplan.model.verdict import Measure, Quantity, StageAssessment
from loadplan.planning.mending.fitted_setting import finest
from loadplan.planning.mending.plan_change import (
    ChangeKind,
    MadeChange,
    PlanChange,
    support_of,
    with_stage,
)
from loadplan.stages import states
from loadplan.statics.stage_sequence import solve_stages

HAIR = 1e-6
"""Part of a step that is rounding."""


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
    """Yield the stands that are raised before another one is taken away while it carries, or before a body drops.

    Args:
        stages: The steps that are not done yet, judged.
        first: Number of the first of them, from 0.

    Yields:
        One change a stand that takes over what another one carries; one a body that drops.
    """
    for stage in stages:
        before = stage.state.index - 1
        if before < first:
            continue
        for unloading in stage.statics.change.unloadings:
            for each in unloading.raisings if unloading.load is not None and unloading.load > LEFT else ():
                why = f"before {unloading.support} is taken away"
                make = partial(_raised, raises=(each,), number=before, why=why)
                yield PlanChange(ChangeKind.RAISE, f"{unloading.support} in {before}", make)
        for cure in stage.statics.change.drop_cures:
            make = partial(_raised, raises=cure.raises, number=before, why=f"so that the {cure.body} does not drop")
            yield PlanChange(ChangeKind.RAISE, f"{cure.body} in {before}", make)


def _cleared_with_part(job: Job, *, name: str, number: int) -> MadeChange:
    """Return the plan with a stand taken away as its part comes off, and what it still carries taken off it first."""
    support = support_of(job, name)
    here = job.stages[number].read_without((name,))
    made = with_stage(job, number, replace(here, cleared=(*here.cleared, name)))
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
        left = replace(stage, cleared=_less(stage.cleared, name), set_anew=set_anew).read_without((name,))
        made = with_stage(made, at, left)
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
    why = f"before {name} is taken away"
    every = (_raised(job, raises=(each,), number=number - 1, why=why) for each in unloading.raisings)
    raised = next((each for each in every if each is not None), None)
    if raised is None:
        return None
    cleared = _cleared_with_part(raised.job, name=name, number=number)
    return MadeChange(cleared.job, name, (*raised.says, " ", *cleared.says))


def _raised(job: Job, *, raises: tuple[Raising, ...], number: int, why: str) -> MadeChange | None:
    """Return the plan with stands raised in a step; None where one of them does not turn, or its height is not set."""
    stage = job.stages[number]
    there = {each.name: each for each in states(job)[number].supports}
    told: list[str | Quantity] = []
    for each in raises:
        now = there.get(each.support)
        # Under load only what turns is raised by so little.
        if now is None or now.height is None or now.standby or not now.equipment.is_stepless:
            return None
        by = ceil(each.by / finest(job) - HAIR) * finest(job)
        height = round(now.height + by, 6)
        kept = tuple(other for other in stage.set_anew if other.support != now.name)
        stage = replace(stage, set_anew=(*kept, SetAnew(now.name, height)))
        told += [" and " if told else "Raise ", f"{now.name} by ", Quantity(by, Measure.LENGTH), " to "]
        told.append(Quantity(height, Measure.LENGTH))
    says = (*told, f' in step "{stage.name}", {why}.')
    return MadeChange(with_stage(job, number, stage), raises[0].support, says)


def _less(names: tuple[str, ...], name: str) -> tuple[str, ...]:
    return tuple(each for each in names if each != name)
