"""The steps of a swap as stages of the job: the helper comes and takes the load, the stand goes, another comes."""

from dataclasses import dataclass, replace

from loadplan.model.job import Job, SetAnew, Stage, Support
from loadplan.model.verdict import Measure, Quantity, Sentence
from loadplan.planning.mending.fitted_setting import FittedSetting
from loadplan.planning.mending.plan_change import kind_words, set_words


@dataclass(frozen=True, slots=True)
class SwapParts:
    """Who takes part in a swap.

    Attributes:
        index: Number of the stage in which it begins, from 0.
        stand: The stand that goes, as it stands.
        comes: The stand that comes, None for nothing.
        helper: What takes the load meanwhile, brought up to touch; None where the stand carries nothing as it is.
        height: Height of the helper's saddle as it touches [m].
    """

    index: int
    stand: Support
    comes: Support | None
    helper: Support | None
    height: float


@dataclass(frozen=True, slots=True)
class Planned:
    """One step of a swap.

    Attributes:
        stage: What it changes.
        says: What to do, a sentence.
    """

    stage: Stage
    says: Sentence


def arrival(parts: SwapParts) -> Planned:
    """Plan the helper's coming.

    Args:
        parts: Who takes part, a helper among them.

    Returns:
        The step.
    """
    helper = _helper(parts)
    shim = () if helper.shim is None else (" with a shim of ", Quantity(helper.shim.height, Measure.LENGTH))
    says = (f"Set {helper.name}, {kind_words(helper)}, under {helper.point}", *shim, ", and bring it up to just touch.")
    return Planned(Stage(_called(parts, f"{helper.name} set"), in_place=(helper.name,)), says)


def raising(parts: SwapParts, by: float) -> Planned:
    """Plan the helper's raising, until it has taken the load.

    Args:
        parts: Who takes part, a helper among them.
        by: How far it is raised from where it touches [m].

    Returns:
        The step.
    """
    helper, height = _helper(parts), round(parts.height + by, 6)
    stage = Stage(_called(parts, f"{helper.name} raised"), set_anew=(SetAnew(helper.name, height),))
    says = (
        f"Raise {helper.name} by ",
        Quantity(by, Measure.LENGTH),
        ", to ",
        Quantity(height, Measure.LENGTH),
        f", until {parts.stand.name} turns by hand.",
    )
    return Planned(stage, says)


def departure(parts: SwapParts) -> Planned:
    """Plan the going of the stand; where nothing helps, what comes is set in the same step.

    Args:
        parts: Who takes part.

    Returns:
        The step.
    """
    name, comes = parts.stand.name, parts.comes
    says: Sentence = (f"Take {name} away, which carries nothing.",)
    if parts.helper is None and comes is not None:
        stage = Stage(_called(parts, f"{comes.name} for {name}"), in_place=(comes.name,), cleared=(name,))
        return Planned(stage, (*says, " Set ", *_coming(comes), "."))
    return Planned(Stage(_called(parts, f"{name} away"), cleared=(name,)), says)


def lowering(parts: SwapParts, height: float) -> Planned:
    """Plan what comes, and the helper's lowering until it carries nothing.

    Args:
        parts: Who takes part, a helper among them.
        height: Height of the helper's saddle then [m].

    Returns:
        The step: what comes is set before the helper is lowered, and carries nothing until then.
    """
    helper, comes = _helper(parts), parts.comes
    down: Sentence = ("ower ", helper.name, " to ", Quantity(height, Measure.LENGTH), ", until it turns by hand.")
    stage = Stage(_called(parts, f"{helper.name} lowered"), set_anew=(SetAnew(helper.name, round(height, 6)),))
    if comes is None:
        return Planned(stage, ("L", *down))
    return Planned(replace(stage, in_place=(comes.name,)), ("Set ", *_coming(comes), ". Then l", *down))


def leaving(parts: SwapParts) -> Planned:
    """Plan the helper's going.

    Args:
        parts: Who takes part, a helper among them.

    Returns:
        The step.
    """
    name = _helper(parts).name
    return Planned(Stage(_called(parts, f"{name} away"), cleared=(name,)), (f"Take {name} away.",))


def own_lowering(parts: SwapParts, height: float) -> Planned:
    """Plan the lowering of the stand that goes, where it turns and the others hold.

    Args:
        parts: Who takes part.
        height: Height of its saddle then [m].

    Returns:
        The step.
    """
    name = parts.stand.name
    stage = Stage(_called(parts, f"{name} lowered"), set_anew=(SetAnew(name, round(height, 6)),))
    return Planned(stage, (f"Lower {name} to ", Quantity(height, Measure.LENGTH), ", until it turns by hand."))


def with_steps(job: Job, parts: SwapParts, steps: tuple[Planned, ...]) -> Job:
    """Put the steps of a swap into a job, behind the stage in which it begins.

    Args:
        job: The job.
        parts: Who takes part.
        steps: The steps.

    Returns:
        The job: what comes stands for what goes in all stages behind.
    """
    new = tuple(each for each in (parts.helper, parts.comes) if each is not None)
    behind = job.stages[parts.index + 1 :]
    name = parts.stand.name
    later = _without(behind, name) if parts.comes is None else _renamed(behind, name, parts.comes.name)
    stages = (*job.stages[: parts.index + 1], *(each.stage for each in steps), *later)
    return replace(job, supports=(*job.supports, *new), stages=stages)


def _helper(parts: SwapParts) -> Support:
    """Return the helper of a swap that has one."""
    # Only steps with a helper ask for it.
    assert parts.helper is not None
    return parts.helper


def _coming(comes: Support) -> Sentence:
    """Return what comes, where, and how it is set."""
    setting = None if comes.height is None else FittedSetting(comes.height, comes.shim)
    where = f" under {comes.point}" if comes.point else " at the same place"
    return (f"{comes.name}, {kind_words(comes)},{where}, ", *set_words(setting))


def _called(parts: SwapParts, what: str) -> str:
    return f"Swap {parts.stand.name}: {what}"


def _renamed(stages: tuple[Stage, ...], old: str, new: str) -> tuple[Stage, ...]:
    """Return stages in which one stand stands for another."""
    return tuple(
        replace(
            stage,
            in_place=tuple(new if each == old else each for each in stage.in_place),
            cleared=tuple(new if each == old else each for each in stage.cleared),
            set_anew=tuple(replace(each, support=new) if each.support == old else each for each in stage.set_anew),
        ).read_without((old,))
        for stage in stages
    )


def _without(stages: tuple[Stage, ...], name: str) -> tuple[Stage, ...]:
    """Return stages in which a stand that is gone is not taken away, nor set, until it is put in place again."""
    told: list[Stage] = []
    gone = True
    for stage in stages:
        gone = gone and name not in stage.in_place
        cleared = tuple(each for each in stage.cleared if each != name)
        set_anew = tuple(each for each in stage.set_anew if each.support != name)
        told.append(replace(stage, cleared=cleared, set_anew=set_anew).read_without((name,)) if gone else stage)
    return tuple(told)
