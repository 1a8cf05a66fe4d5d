"""Any order: a stage in which parts come off as it suits, and what holds hangs on which are off already.

A mount whose bracket goes with a part, or a stand under a part, holds only while that part is on. So for each set of
such parts that may be on the stage is a state of its own, in which these are on and the others of them off; the rest of
the parts may be either way in each, as `worst_margin` has it. The worst of all these states counts.
"""

from dataclasses import dataclass, replace
from itertools import product

from loadplan.model.answer import GroupAnswer, Loose, Statics
from loadplan.model.job import Job, State
from loadplan.statics.equilibrium import Frame
from loadplan.statics.resting_state import Solved

MOST_HOLDING = 5
"""Parts with what holds on them for which every set is a state; with more all are judged without, the careful way."""


def states_between(job: Job, state: State) -> tuple[State, ...]:
    """List the states in the middle of a stage that differ in what holds.

    Args:
        job: The job.
        state: The stage's end.

    Returns:
        One state for each set of parts with something on them that may be on; empty where nothing hangs on that.
    """
    carriers = {each.part for each in state.gone_with_parts} | {each.part for each in state.supports}
    holding = tuple(name for name in state.may_be_on if name in carriers)
    if not holding or len(holding) > MOST_HOLDING:
        return ()
    after = {part.name: frozenset(part.after) for part in job.vehicle.parts}
    either = product((False, True), repeat=len(holding))
    chosen = (frozenset(name for name, on in zip(holding, each, strict=True) if on) for each in either)
    return tuple(found for on in chosen if (found := _with(job, state, on, frozenset(holding) - on, after)) is not None)


def with_parts(job: Job, state: State, on: frozenset[str]) -> State | None:
    """Return a stage in the middle: with some of its parts still on, and the others off.

    Args:
        job: The job.
        state: The stage's end.
        on: Parts that are on; what comes off only after one of them is on as well.

    Returns:
        The state; None where the order of the parts does not allow that.
    """
    after = {part.name: frozenset(part.after) for part in job.vehicle.parts}
    least = _with(job, state, on, frozenset(), after)
    if least is None:
        return None
    return _with(job, state, least.on & frozenset(state.may_be_on), frozenset(least.may_be_on), after)


def _with(
    job: Job, state: State, on: frozenset[str], off: frozenset[str], after: dict[str, frozenset[str]]
) -> State | None:
    """Return the stage with some parts on and others off; None where the order of the parts does not allow that."""
    free = frozenset(state.may_be_on)
    while more := {name for name in free - on if after[name] & on}:
        on |= more
    while more := {other for name in off for other in after[name] & free} - off:
        off |= more
    if on & off:
        return None
    tied = {joint.name for joint in (*state.done_up, *(each for each in state.gone_with_parts if each.part in on))}
    return replace(
        state,
        on=state.on | on,
        may_be_on=tuple(name for name in state.may_be_on if name not in on | off),
        done_up=tuple(joint for joint in job.vehicle.joints if joint.name in tied),
        undone=tuple(joint for joint in state.undone if joint.name not in tied),
        gone_with_parts=(),
    )


@dataclass(frozen=True, slots=True)
class _Least:
    """The least that a body has in any of the states between.

    Attributes:
        margin: Worst margin [m]; None where no mode rotates it in any of them.
        robust: Whether its group stands over the whole tolerance in all of them.
    """

    margin: float | None
    robust: bool


def over_every_set(statics: Statics, between: tuple[tuple[tuple[Frame, Solved], ...], ...]) -> Statics:
    """Put the worst of the states between into what is told of the stage.

    Args:
        statics: The stage's end, judged with nothing on the parts that come off.
        between: For each of the states between its groups, solved.

    Returns:
        The same with their worst margins, and with balance over the tolerance only where all of them have it.
    """
    if not between:
        return statics
    least = {body.name: _least(body.name, between) for body in statics.bodies}
    return replace(
        statics,
        bodies=tuple(
            replace(body, worst_margin=least[body.name].margin) if body.balanced else body for body in statics.bodies
        ),
        groups=tuple(_group(group, least) for group in statics.groups),
    )


def _least(body: str, between: tuple[tuple[tuple[Frame, Solved], ...], ...]) -> _Least:
    """Return the worst of one body over the states between."""
    found = [
        (frame.whole(body), solved)
        for groups in between
        for frame, solved in groups
        if any(body in names for names in frame.wholes)
    ]
    margins = [margin for whole, solved in found if (margin := _margin(body, whole, solved)) is not None]
    return _Least(min(margins, default=None), all(solved.answer.robust for _, solved in found))


def _margin(body: str, whole: int, solved: Solved) -> float | None:
    """Return the worst margin of a body in one state, below 0 where it tips; none holds it where it is free to move."""
    if solved.answer.balanced:
        return solved.worst_margins[whole]
    if isinstance(solved.answer.proof, Loose):
        return 0.0
    past = [margin for mode in solved.answer.modes for name, margin in mode.margins if name == body]
    return min(past, default=None)


def _group(group: GroupAnswer, least: dict[str, _Least]) -> GroupAnswer:
    """Return a group that is robust only where it is so with any of the parts gone."""
    return replace(group, robust=group.balanced and all(least[name].robust for name in group.bodies))
