"""Swapping a stand while a unit stands on it: what takes the load meanwhile, and how far it is raised.

The idea. A free piece that turns, at a free point of the same rigid whole, is brought up to touch and raised until the
stand carries nothing; the load falls piecewise linearly with that, so the first millimetre at which it is gone is found
by ever larger steps and halving. Each state on the way is a stage of the job and judged by the whole of `check`; of all
pieces and points the one is taken that leaves nothing but an oil-held helper to caution, with the fewest steps, then
with the greatest smallest worst margin.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from loadplan.assess import assess_in_short, worst_of
from loadplan.checks.piece import pieces
from loadplan.errors import Fault, InputError
from loadplan.model.answer import Statics
from loadplan.model.job import Job, State, Support
from loadplan.model.shop import STANDS_UNDER, Equipment
from loadplan.model.vehicle import Point
from loadplan.model.verdict import CheckName, Sentence, StageAssessment, Verdict
from loadplan.planning.mending.fitted_setting import finest, fitted
from loadplan.planning.mending.judged_plan import judged, on_paper, smallest_margin
from loadplan.planning.mending.plan_change import free_letter, taken_names
from loadplan.planning.mending.stand_resets import free_tags
from loadplan.planning.mending.swap_stages import (
    Planned,
    SwapParts,
    arrival,
    departure,
    leaving,
    lowering,
    own_lowering,
    raising,
    with_steps,
)
from loadplan.stages import states
from loadplan.statics.group import glance
from loadplan.statics.stage_sequence import solve_stages, solve_stages_by

FARTHEST = 0.04
"""A helper is raised or lowered by no more than this [m]: what takes more is planned anew."""

CARRIES = 1.0
"""A stand that carries no more than this [N] turns by hand."""

PLAY = 1e-4
"""Room over a saddle [m] that a stand needs at least to be taken away, or set; whole steps mostly give more."""


@dataclass(frozen=True, slots=True)
class SwapStep:
    """One step of a swap.

    Attributes:
        says: What to do, a sentence.
        verdict: Verdict of the state after it.
        worst_margin: Smallest worst margin then, over the bodies other than the lift's [m]: −inf where one is not
            balanced, inf where nothing can tip.
    """

    says: Sentence
    verdict: Verdict
    worst_margin: float


@dataclass(frozen=True, slots=True)
class StandSwap:
    """How a stand is taken away, or changed for another, while a unit stands on it.

    Attributes:
        job: The job with the steps in it; as it was where there is no way.
        stage: Name of the stage in which it begins.
        stand: Name of the stand.
        steps: The steps; empty where there is no way.
        stages: The states of the steps, judged.
        clean: Whether nothing but what oil holds cautions on the way that did not before.
        verdict: Verdict of the steps, and of all that comes behind.
        considered: Pieces at points that were considered.
        moving: Names of the stand, of what comes and of what helps.
    """

    job: Job
    stage: str
    stand: str
    steps: tuple[SwapStep, ...]
    stages: tuple[StageAssessment, ...]
    clean: bool
    verdict: Verdict
    considered: int
    moving: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Way:
    """One way to do it, judged.

    Attributes:
        parts: Who takes part.
        steps: The steps.
        judged: Their states, judged.
        margins: Smallest worst margin of each [m].
        worst: The worst verdict of what is not allowed to caution.
    """

    parts: SwapParts
    steps: tuple[Planned, ...]
    judged: tuple[StageAssessment, ...]
    margins: tuple[float, ...]
    worst: Verdict

    @property
    def rank(self) -> tuple[int, int, float]:
        """What orders ways: the milder verdict, fewer steps, the greater smallest margin."""
        return int(self.worst), len(self.steps), -min(self.margins)


def swap(job: Job, index: int, name: str, incoming: Equipment | None) -> StandSwap:
    """Plan how a stand is changed for another, or taken away, while a unit stands on it.

    Args:
        job: The job.
        index: Number of the stage in which it stands, from 0.
        name: Name of the stand.
        incoming: What comes instead; None for nothing.

    Returns:
        The steps, each judged.

    Raises:
        InputError: If it does not stand there, is a hoist or an arm, or no height is set at all.
    """
    short = replace(job, stages=job.stages[: index + 1])
    followed = states(short)
    state, statics = followed[index], solve_stages(short, followed)[index]
    stand = _stand(job, state, name)
    height = None if statics.floor is None else statics.height(stand.body, stand.at)
    if height is None:
        message = "is left out at every stand, or the unit does not stand: run `loadplan heights` with --write first"
        raise InputError(Fault(job.source, f'support "{name}"', "height", message))
    comes = _comes(job, stand, height, incoming)
    before = judged(short, index, Verdict.CAUTION)
    ways = [
        way
        for parts, steps in _possible(short, state, statics, SwapParts(index, stand, comes, None, 0.0))
        if (way := _judged(short, before.stages[0], parts, steps)) is not None
    ]
    best = min(ways, key=lambda each: each.rank, default=None)
    stage = job.stages[index].name
    if best is None:
        return StandSwap(job, stage, name, (), (), clean=False, verdict=Verdict.STOP, considered=0)
    whole = with_steps(job, best.parts, best.steps)
    behind = assess_in_short(whole).stages[index + 1 :]
    return StandSwap(
        job=whole,
        stage=stage,
        stand=name,
        steps=tuple(
            SwapStep(planned.says, then.verdict, margin)
            for planned, then, margin in zip(best.steps, best.judged, best.margins, strict=True)
        ),
        stages=best.judged,
        clean=best.worst < Verdict.CAUTION,
        verdict=worst_of([each.verdict for each in behind]),
        considered=len(ways),
        moving=_moving(best.parts),
    )


def _moving(parts: SwapParts) -> tuple[str, ...]:
    return tuple(each.name for each in (parts.stand, parts.comes, parts.helper) if each is not None)


def _stand(job: Job, state: State, name: str) -> Support:
    """Return the stand that goes, as it stands.

    Raises:
        InputError: If it does not stand there, or is nothing that is set by hand.
    """
    found = next((each for each in state.supports if each.name == name), None)
    if found is None:
        there = ", ".join(f'"{each.name}"' for each in state.supports if not each.is_arm) or "none"
        message = f'must be a stand that is in place in step "{state.name}": {there}'
        raise InputError(Fault(job.source, "--stand", "", message))
    if found.equipment.kind not in STANDS_UNDER or found.piece:
        message = f'"{name}" is an arm, a hoist, or one saddle of several: only a stand, jack or table is swapped'
        raise InputError(Fault(job.source, "--stand", "", message))
    return found


def _comes(job: Job, stand: Support, touching: float, incoming: Equipment | None) -> Support | None:
    """Return what comes, set as near as it can be to where the stand that goes has its saddle, or touches [m]."""
    if incoming is None:
        return None
    taken = taken_names(job)
    name = next((each for each in (f"{stand.name}{number}" for number in range(2, 10)) if each not in taken), "")
    setting = fitted(job, incoming, stand.set_height or touching)
    tag = _free_tag(job, incoming, "") if stand.tag else ""
    new = replace(stand, name=name or free_letter(job), equipment=incoming, tag=tag, friction=None)
    return new if stand.standby else replace(new, height=setting.height, shim=setting.shim)


def _free_tag(job: Job, equipment: Equipment, but: str) -> str:
    """Return the first piece of a kind that may be used and that no stand of the job is, but one; "" for none."""
    return next((each for each in free_tags(job, equipment) if each != but), "")


def _possible(
    job: Job, state: State, statics: Statics, asked: SwapParts
) -> Iterator[tuple[SwapParts, tuple[Planned, ...]]]:
    """Yield the ways that come off: with nothing to help where nothing is carried, else with each helper."""
    stand = asked.stand
    load = statics.load(stand.name)
    if load is not None and load.expected <= CARRIES:
        yield asked, (departure(asked),)
        return
    height = stand.height
    if asked.comes is None and stand.equipment.is_stepless and height is not None:
        down = _emptied(job, asked, stand.name, lambda by: (own_lowering(asked, height - by),))
        if down is not None:
            yield asked, (own_lowering(asked, height - down), departure(asked))
    base = on_paper(job, asked.index, Verdict.STOP)
    for helper, touching in _helpers(job, state, statics, asked):
        parts = replace(asked, helper=helper, height=touching)
        if on_paper(with_steps(job, parts, (arrival(parts),)), asked.index, Verdict.STOP) <= base:
            steps = _with_helper(job, parts)
            if steps is not None:
                yield parts, steps


def _helpers(job: Job, state: State, statics: Statics, asked: SwapParts) -> Iterator[tuple[Support, float]]:
    """Yield what could take the load, at each free point, and the height at which its saddle touches [m]."""
    stand, coming = asked.stand, asked.comes.tag if asked.comes else ""
    whole = {stand.body, *statics.body(stand.body).rigid_with}
    used = pieces(each for each in state.supports if not each.is_arm)
    for point in job.vehicle.points:
        height = statics.height(point.body, point.at) if point.body in whole else None
        if height is None or not _is_free(point, state):
            continue
        for equipment in job.shop.equipment:
            count = equipment.usable_count
            busy = sum(piece.equipment.name == equipment.name for piece in used)
            if equipment.kind not in STANDS_UNDER or not equipment.is_stepless or (count is not None and busy >= count):
                continue
            setting = fitted(job, equipment, height)
            if abs(setting.total - height) <= finest(job):
                tag = _free_tag(job, equipment, coming) if stand.tag else ""
                helper = Support(free_letter(job), equipment, tag, point.body, point.at, shim=setting.shim)
                shim = setting.shim.height if setting.shim else 0.0
                yield helper.under(point, job.vehicle), height - shim


def _is_free(point: Point, state: State) -> bool:
    """Return whether nothing stands at a point that is there for certain."""
    there = not point.part or (point.part in state.on and point.part not in state.may_be_on)
    return there and all(each.at[:2] != point.at[:2] for each in state.supports)


def _with_helper(job: Job, parts: SwapParts) -> tuple[Planned, ...] | None:
    """Return the steps with a helper; None where it cannot take the load, or cannot go again."""
    by = _emptied(job, parts, parts.stand.name, lambda by: (arrival(parts), raising(parts, by)))
    by = None if by is None else _with_room(job, parts, by)
    if by is None or parts.helper is None:
        return None
    up = (arrival(parts), raising(parts, by), departure(parts))
    top = parts.height + by
    down = _emptied(job, parts, parts.helper.name, lambda low: (*up, lowering(parts, top - low)))
    if down is None:
        return None
    return (*up, lowering(parts, top - down), leaving(parts))


def _with_room(job: Job, parts: SwapParts, by: float) -> float | None:
    """Return how far a helper is raised so that what comes finds room [m]; None where it never does."""
    comes = parts.comes
    needed = 0.0 if comes is None or comes.set_height is None else comes.set_height
    while by <= FARTHEST:
        steps = (arrival(parts), raising(parts, by), departure(parts))
        found = _glanced(with_steps(job, parts, steps))[-1]
        height = found.height(parts.stand.body, parts.stand.at)
        if height is not None and height >= needed + PLAY:
            return by
        by = round(by + finest(job), 6)
    return None


def _emptied(job: Job, parts: SwapParts, name: str, steps: Callable[[float], tuple[Planned, ...]]) -> float | None:
    """Return how far something is moved until a support carries nothing, in the finest steps that are set [m].

    Args:
        job: The job up to the stage in which the swap begins.
        parts: Who takes part.
        name: The support that is to carry nothing.
        steps: The steps by how far it is moved.

    Returns:
        None where it carries something however far it is moved.
    """

    def empty(count: int) -> bool:
        load = _glanced(with_steps(job, parts, steps(count * finest(job))))[-1].load(name)
        return load is not None and load.expected <= CARRIES

    most = round(FARTHEST / finest(job)) - 1
    above = 1
    while not empty(above):
        if above >= most:
            return None
        above = min(2 * above, most)
    below = above // 2
    while above - below > 1:
        middle = (above + below) // 2
        below, above = (below, middle) if empty(middle) else (middle, above)
    return above * finest(job)


def _glanced(job: Job) -> tuple[Statics, ...]:
    """Return the stages of a job solved in passing; nothing carried in any of them where they cannot be."""
    return solve_stages_by(glance, job, states(job), lambda _: None)


def _judged(job: Job, before: StageAssessment, parts: SwapParts, steps: tuple[Planned, ...]) -> _Way | None:
    """Return a way with every state on it judged; None where it cannot be computed."""
    made = with_steps(job, parts, steps)
    plan = judged(made, parts.index + 1, Verdict.CAUTION)
    if not plan.stages:
        return None
    # What cautions before may go on cautioning; a stop that was none before is news.
    known = {(each.check, each.subject): each.verdict for each in before.findings if each.verdict >= Verdict.CAUTION}
    # What is empty on the way has to be: it is about to go, or has just come.
    moving = _moving(parts)
    unwanted = [
        each.verdict
        for stage in plan.stages
        for each in stage.findings
        if each.verdict >= Verdict.CAUTION
        and each.verdict > known.get((each.check, each.subject), Verdict.NOTE)
        and not (each.check is CheckName.JACK_HOLDING and each.verdict is Verdict.CAUTION)
        and not (each.check is CheckName.IDLE_SUPPORT and each.subject in moving)
    ]
    margins = tuple(smallest_margin(job, stage.statics) for stage in plan.stages)
    return _Way(parts, steps, plan.stages, margins, max(unwanted, default=Verdict.HOLDS))
