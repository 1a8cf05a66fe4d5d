"""Upset in between: what weights laid on, snags and pulls find where some of the parts that come off are still on.

At the end of a stage whose parts come off in any order all of them are off. On the way there the unit may stand nearer
to the edge, have corners that stick out further, or hang on a mount that it needs at neither end. For each way to go
over, the work against it is least with those parts on that sink in it and the others off (a sum over the parts, so each
is chosen by itself). Where by that work anything comes near to what is asked for, that set is solved like a stage. What
is stood is that work less the sway, which other sets may make larger: those that sway more than the end are tried, too.
The ways are those of the stage's end, where the least holds: whatever moves with more on it moves there, too, or is
made of such ways, and no sum of ways takes less than the one of them that takes least (work over drop, or over rise).
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from math import hypot, inf
from typing import TypeAlias

from loadplan.limits import GRAVITY
from loadplan.model.answer import Between, Mode, Motion, Statics
from loadplan.model.disturbance import PullAnswer
from loadplan.model.job import Job, Pull, State
from loadplan.statics.any_order import with_parts
from loadplan.statics.equilibrium import Frame
from loadplan.statics.loads_between import loads_between, statics_between
from loadplan.statics.mode_axes import told
from loadplan.statics.mount_failure import less_each_mount
from loadplan.statics.outline_corners import outline_corners
from loadplan.statics.passage import Seen
from loadplan.statics.pull_factor import pulled
from loadplan.statics.pushed_between import is_limited, is_push_near, with_least_pushes
from loadplan.statics.sideways_resistance import Grip
from loadplan.statics.snag_pull import LITTLE
from loadplan.statics.tipping_modes import EDGE, rays

NEAR = 3.0
"""Times what is asked for of weights and pulls below which a set of parts is solved: up to twice of it is a caution,
and a sway that takes more than a third off is a stop anyway."""

AS_GOOD_AS = 1.1
"""Times the little pull of a snag below which a set is solved: no sway comes into that."""

SWAYS_MORE = 0.01
"""Sway beyond that of the stage's end from which a set is tried: it takes as large a share off what is stood."""

NOTHING_LEFT = 0.01
"""Share of the works that add up to one below which that one is nothing, so that the set is solved."""

ALL_BUT_OVER = 0.001
"""Margin without a mount [m] below which a state is solved: with less than nothing left it goes over."""

Look = Callable[[State], Seen]
"""Solves the groups of a state."""

EndAndSets: TypeAlias = tuple[Statics, tuple[frozenset[str], ...]]
"""What was computed of a stage's end, and sets of parts that sway more; all where a mount may tear."""


@dataclass(frozen=True, slots=True)
class _Worst:
    """A way to go over with those parts still on that make it easiest, or sway.

    Attributes:
        motions: How each body moves in it.
        on: The parts that are on.
        work: Work against it with these on [J].
        raised: Work that each of the other parts adds when it is on as well [J].
    """

    motions: Mapping[str, Motion]
    on: frozenset[str]
    work: float
    raised: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Looks:
    """How states in the middle of a stage are looked at, with saddles and lift where they are at its end.

    Attributes:
        full: Solves the groups of a state.
        passing: The same as far as loads go.
        holds: How each support holds sideways.
    """

    full: Look
    passing: Look
    holds: Mapping[str, Grip]


def with_states_between(
    job: Job, state: State, end: tuple[Statics, Mapping[str, float]], frames: tuple[Frame, ...], looks: Looks
) -> Statics:
    """Put what counts of the middle of a stage into what is told of its end.

    Args:
        job: The job.
        state: The stage's end, with parts that come off in any order.
        end: What was computed of that; mount forces by mount on the whole vehicle [N].
        frames: Its groups.
        looks: How states in the middle are looked at.

    Returns:
        The same with the least pushes and pulls, and the states in which loads, weights laid on, snags and mounts are
        worst.
    """
    statics, preload = end
    passing = loads_between(job, state, (statics, preload), looks.passing)
    others = tuple(each.state.on - state.on for each in passing)
    statics = with_least_pushes(job, state, statics, looks.full, others)
    limited = is_limited(state)
    swaying = tuple(each.state.on - state.on for each in passing if limited or _sways_more(each.statics, statics))
    statics = with_least_pull(job, state, (statics, swaying), looks)
    # Once more: what pushes and pulls had solved in full meanwhile is told in full, from memory.
    passing = loads_between(job, state, (statics, preload), looks.passing)
    upset = _upset(job, state, (statics, preload), _near_sets(job, state, (statics, swaying), frames), looks.full)
    # Of a state that is in both, what is told in full.
    found = {each.state.on: each for each in passing} | {each.state.on: each for each in upset}
    return replace(statics, between=tuple(found.values()))


def _upset(
    job: Job, state: State, end: tuple[Statics, Mapping[str, float]], sets: Iterable[frozenset[str]], look: Look
) -> Iterator[Between]:
    """Yield the states in which sets of parts are on, with those that come off only after them."""
    for on in sets:
        there = with_parts(job, state, on)
        if there is not None and there.on != state.on:
            yield Between(there, statics_between(job, there, end, look(there)))


def with_least_pull(job: Job, state: State, end: EndAndSets, looks: Looks) -> Statics:
    """Put the least that is stood of a known pull, with any of the parts still on, into what is told of the end.

    Args:
        job: The job.
        state: The stage's end.
        end: What was computed of it, and sets of parts that are tried as well.
        looks: How states in the middle are looked at.

    Returns:
        The same, with the least factor. With all the parts on counts, too: the pull is made in this stage.
    """
    statics, swaying = end
    pull, least = state.stage.pull, statics.pull
    if pull is None or least is None:
        return statics
    sets = [worst.on for worst in _worst_of(job, state, end) if _is_pulled_over(worst, pull, state)]
    sets += swaying if is_limited(state) else ()
    for on in dict.fromkeys((*sets, frozenset(state.may_be_on))):
        there = with_parts(job, state, on)
        if there is None or there.on == state.on:
            continue
        seen = looks.full(there)
        answer = pulled(pull, tuple(frame for frame, _ in seen), tuple(each for _, each in seen), looks.holds)
        if answer is not None and _factor(answer) < _factor(least):
            least = replace(answer, still_on=tuple(name for name in state.may_be_on if name in there.on - state.on))
    return replace(statics, pull=least)


def is_upset_near(job: Job, state: State, statics: Statics, frames: tuple[Frame, ...]) -> bool:
    """Say whether a push, a weight laid on, a snag or a lost mount may come near to what is asked for in a state.

    Args:
        job: The job.
        state: The state, with no part that may be on, and nothing tied that may let go.
        statics: What was computed of it as far as loads go.
        frames: Its groups.

    Returns:
        Whether it has to be solved like a stage. A state that does not stand needs no more than what was computed.
    """
    if is_push_near(job, state, statics):
        return True
    if any(
        _is_snagged(worst, state) or any(_laid_on(job, state, worst)) for worst in _worst_of(job, state, (statics, ()))
    ):
        return True
    lost = (mode for frame in frames for less in less_each_mount(frame) for mode in told(less, rays(less)))
    return any(margin < ALL_BUT_OVER for mode in lost for _, margin in mode.margins)


def _factor(answer: PullAnswer) -> tuple[float, float]:
    """Return what orders pulls: the factor, and that with oil at what is not said."""
    return (inf if answer.factor is None else answer.factor, inf if answer.oiled is None else answer.oiled)


def _near_sets(job: Job, state: State, end: EndAndSets, frames: tuple[Frame, ...]) -> dict[frozenset[str], None]:
    """Return the sets of parts, each once, with which something comes near to what is asked for."""
    found: list[frozenset[str]] = []
    for worst in _worst_of(job, state, end):
        if _is_snagged(worst, state):
            found.append(worst.on)
        found += _laid_on(job, state, worst)
    found += [on for frame in frames for on in _without_a_mount(job, state, frame)]
    return dict.fromkeys(found)


def _sways_more(there: Statics, end: Statics) -> bool:
    """Return whether a tilt makes itself worse in a state than at the stage's end, of any group that settles there."""
    at_end = {name: group.sway or 0.0 for group in end.groups for name in group.bodies}
    # What is not there any more at the end is not judged on the way.
    return any(
        group.sway is not None and group.sway > min(at_end.get(name, inf) for name in group.bodies) + SWAYS_MORE
        for group in there.groups
    )


def _worst_of(job: Job, state: State, end: EndAndSets) -> Iterator[_Worst]:
    """Yield each way to go over with the parts on that sink in it, then with each set that sways more."""
    statics, swaying = end
    for mode in (mode for group in statics.groups if group.balanced for mode in group.modes):
        adds = _adds(job, state, mode)
        for on in (frozenset(name for name, work in adds.items() if work < 0), *swaying):
            yield _with_on(mode, adds, on)


def _adds(job: Job, state: State, mode: Mode) -> Mapping[str, float]:
    """Return the work that each part adds to a way to go over when it is on [J]; below 0 where it sinks."""
    motions = dict(mode.motions)
    parts = [each for each in job.vehicle.parts if each.name in state.may_be_on and each.body in motions]
    return {each.name: motions[each.body].up_at(*each.at[:2]) * each.mass * GRAVITY for each in parts}


def _with_on(mode: Mode, adds: Mapping[str, float], on: frozenset[str]) -> _Worst:
    """Return a way to go over with some parts on."""
    work = mode.work + sum(adds.get(name, 0.0) for name in on)
    raised = {name: more for name, more in adds.items() if name not in on}
    return _Worst(dict(mode.motions), on, work, raised)


def _is_snagged(worst: _Worst, state: State) -> bool:
    """Return whether a hose left on at an undone joint may take little to take the unit over."""
    rises = (
        worst.motions[body].up_at(x, y)
        for joint in state.undone
        for body in joint.between
        if body in worst.motions
        for x, y, _ in joint.at
    )
    return any(rise > EDGE and worst.work < AS_GOOD_AS * LITTLE * rise for rise in rises)


def _laid_on(job: Job, state: State, worst: _Worst) -> Iterator[frozenset[str]]:
    """Yield sets with a corner on which a weight that is near to what is asked for takes the unit over."""
    asked, bodies = NEAR * job.limits.laid_on, tuple(worst.motions)
    drops = (-worst.motions[body].up_at(*place) for body, place in outline_corners(job, state, bodies))
    if any(drop > EDGE and worst.work < asked * drop for drop in drops):
        yield worst.on
    for part in job.vehicle.parts:
        if part.name in state.may_be_on and part.body in worst.motions:
            motion, work = worst.motions[part.body], worst.work + worst.raised.get(part.name, 0.0)
            drop = max((-motion.up_at(*place) for place in part.outline), default=0.0)
            if drop > EDGE and work < asked * drop:
                yield worst.on | {part.name}


def _is_pulled_over(worst: _Worst, pull: Pull, state: State) -> bool:
    """Return whether a known pull may take the unit over, reckoned with its longest lever and the worst direction."""
    motion = worst.motions.get(pull.body)
    if motion is None:
        return False
    low = min((each.at[2] for each in state.supports if each.body in worst.motions), default=0.0)
    lever = abs(motion.up_at(*pull.at[:2])) + (max(pull.at[2] - low, 0.0) + pull.bar) * hypot(motion.rx, motion.ry)
    return worst.work < NEAR * pull.force * lever


def _without_a_mount(job: Job, state: State, frame: Frame) -> Iterator[frozenset[str]]:
    """Yield sets with which a group that stands without a mount at the end of the stage would go over without it."""
    for less in less_each_mount(frame):
        for mode in told(less, rays(less)):
            adds = _adds(job, state, mode)
            on = frozenset(name for name, work in adds.items() if work < 0)
            # Both add up to the work: of what is left of them nothing is certain where that is next to nothing.
            if on and mode.work + sum(adds[name] for name in on) < NOTHING_LEFT * mode.work:
                yield on
