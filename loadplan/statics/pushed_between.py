"""Pushed in between: in a stage whose parts come off in any order, what a push finds with some of them still on.

At the end of the stage all of them are off. On the way there one side may still carry its part while the other does
not; then the weight stands nearer to the edge, and less of a push takes it over. For each way to go over the work
against it is least with those parts on that sink in it, and the others off (the work is a sum over the parts, so each
is chosen by itself). A unit is pushed at its highest part: one that rises may add less to the work than to the lever,
so each that is higher is tried on top of them. Nor is the least work all: with other sets on it may sway more, or tip
where it would slide, so the sets in which loads are looked at are tried, too. A set is solved like a stage where the
push may be anywhere near what is asked, and where a mount has a limit, of which the load with more on leaves less.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import hypot, inf

from loadplan.limits import GRAVITY
from loadplan.model.answer import Mode, Statics
from loadplan.model.disturbance import PushAnswer
from loadplan.model.job import Job, State
from loadplan.statics.any_order import with_parts
from loadplan.statics.equilibrium import Frame
from loadplan.statics.resting_state import Solved
from loadplan.statics.saddle_friction import highest_part
from loadplan.statics.sideways_push import LIGHT, TWICE

ANYWHERE_NEAR = 1.5
"""Times what is asked above which a push, reckoned rigid and over the lowest saddle, is not solved: a sway that takes
more than a third off it is a stop anyway."""

Look = Callable[[State], tuple[tuple[Frame, Solved], ...]]
"""Solves the groups of a state."""


@dataclass(frozen=True, slots=True)
class _WayOver:
    """A way to go over from where nothing is on of what comes off.

    Attributes:
        bodies: What goes over.
        turn: How far it turns about level axes [rad].
        work: Work against it [J]; infinite where nothing turns.
        adds: Work that each of the parts adds when it is on, below 0 where it sinks [J].
        lowest: Height of the lowest saddle [m].
    """

    bodies: tuple[str, ...]
    turn: float
    work: float
    adds: Mapping[str, float]
    lowest: float


def with_least_pushes(
    job: Job, state: State, statics: Statics, look: Look, others: Sequence[frozenset[str]] = ()
) -> Statics:
    """Put the least pushes in the middle of a stage into what is told of its end.

    Args:
        job: The job.
        state: The stage's end.
        statics: What was computed of it.
        look: Solves the groups of a state in the middle, with saddles and lift where they are.
        others: Sets of parts that are tried besides those with which a way to go over takes least.

    Returns:
        The same; of each body that is pushed, the push that is least by what is asked of it.
    """
    asked = job.limits.bar if state.stage.bar else job.limits.push
    ways = [_way_over(job, state, statics, mode) for mode in _ways_over(statics)]
    tried = ((way, on) for way in ways for on in (*_worst_sets(job, state, way), *others))
    sets = dict.fromkeys(on for way, on in tried if on and _is_near(job, state, way, on, asked=asked))
    if ways and is_limited(state):
        sets |= dict.fromkeys(others)
    found: dict[str, PushAnswer] = {}
    for on in sets:
        between = with_parts(job, state, on)
        if between is None:
            continue
        for _, solved in look(between):
            for push in solved.answer.pushes:
                there = replace(push, still_on=tuple(name for name in state.may_be_on if name in on))
                found[push.body] = min(there, found.get(push.body, there), key=lambda each: _stood(each, asked))
    return replace(
        statics,
        groups=tuple(
            replace(
                group,
                pushes=tuple(
                    min(each, found.get(each.body, each), key=lambda push: _stood(push, asked)) for each in group.pushes
                ),
            )
            for group in statics.groups
        ),
    )


def is_push_near(job: Job, state: State, statics: Statics) -> bool:
    """Say whether a push may come near to what is asked for in a state, reckoned rigid and over the lowest saddle.

    Args:
        job: The job.
        state: The state, with no part that may be on.
        statics: What was computed of it.

    Returns:
        Whether the push has to be solved.
    """
    asked = job.limits.bar if state.stage.bar else job.limits.push
    modes = (mode for group in statics.groups if group.balanced for mode in group.modes)
    ways = (_way_over(job, state, statics, mode) for mode in modes)
    return any(_is_near(job, state, way, frozenset(), asked=asked) for way in ways)


def _ways_over(statics: Statics) -> Iterator[Mode]:
    for group in statics.groups:
        # What hangs on the lift is not pushed.
        if group.balanced and group.pushes:
            yield from group.modes


def is_limited(state: State) -> bool:
    """Say whether something that is tied may let go before it goes over: then work tells nothing of a push or pull.

    Args:
        state: A state.

    Returns:
        Whether a tight mount or link has a limit.
    """
    return any(joint.limit is not None for joint in state.done_up)


def _way_over(job: Job, state: State, statics: Statics, mode: Mode) -> _WayOver:
    """Return a way to go over with what each part that may still be on adds to the work."""
    motions = dict(mode.motions)
    parts = [each for each in job.vehicle.parts if each.name in state.may_be_on and each.body in motions]
    body, margin = next(iter(mode.margins), ("", inf))
    turn = hypot(motions[body].rx, motions[body].ry) if body else 0.0
    return _WayOver(
        bodies=mode.bodies,
        turn=turn,
        work=margin * turn * statics.body(body).mass * GRAVITY if body else inf,
        adds={each.name: motions[each.body].up_at(*each.at[:2]) * each.mass * GRAVITY for each in parts},
        lowest=min((each.at[2] for each in state.supports if each.body in motions), default=0.0),
    )


def _worst_sets(job: Job, state: State, way: _WayOver) -> Iterator[frozenset[str]]:
    """Yield the parts that sink in a way to go over, and these with each other one that is pushed higher up."""
    sink = frozenset(name for name, work in way.adds.items() if work < 0)
    yield sink
    high = _highest(job, state, way, sink)
    yield from (
        sink | {name} for name in way.adds if name not in sink and _highest(job, state, way, sink | {name}) > high
    )


def _is_near(job: Job, state: State, way: _WayOver, on: frozenset[str], *, asked: float) -> bool:
    """Return whether with some parts on a push may be too much, reckoned rigid and over the lowest saddle."""
    work = way.work + sum(way.adds.get(name, 0.0) for name in on)
    return work < ANYWHERE_NEAR * TWICE * asked * (_highest(job, state, way, on) - way.lowest) * way.turn


def _highest(job: Job, state: State, way: _WayOver, on: frozenset[str]) -> float:
    """Return how high [m] what goes over is pushed at the most, with some parts still on."""
    there = replace(state, on=state.on | on)
    return max(highest_part(job, there, (name,))[1][2] for name in way.bodies)


def _stood(push: PushAnswer, asked: float) -> float:
    """Return how many times what is asked a push may be: of what slides a share of its weight is enough."""
    share = LIGHT * push.borne
    return push.force / (min(asked, share) if push.first == "slides" and share > 0 else asked)
