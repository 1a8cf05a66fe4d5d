"""Pushed in between: in a stage whose parts come off in any order, what a push finds with some of them still on.

At the end of the stage all of them are off. On the way there one side may still carry its part while the other does
not; then the weight stands nearer to the edge, and less of a push takes it over. For each way to go over the work
against it is least with those parts on that sink in it, and the others off (the work is a sum over the parts, so each
is chosen by itself); that set is solved like a stage, where the push may be anywhere near what is asked.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace
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


def with_least_pushes(job: Job, state: State, statics: Statics, look: Look) -> Statics:
    """Put the least pushes in the middle of a stage into what is told of its end.

    Args:
        job: The job.
        state: The stage's end.
        statics: What was computed of it.
        look: Solves the groups of a state in the middle, with saddles and lift where they are.

    Returns:
        The same; of each body that is pushed, the push that is least by what is asked of it.
    """
    asked = job.limits.bar if state.stage.bar else job.limits.push
    sets = dict.fromkeys(on for mode in _ways_over(statics) for on in _worst_set(job, state, (statics, mode), asked))
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


def _ways_over(statics: Statics) -> Iterator[Mode]:
    for group in statics.groups:
        # What hangs on the lift is not pushed.
        if group.balanced and group.pushes:
            yield from group.modes


def _worst_set(job: Job, state: State, way: tuple[Statics, Mode], asked: float) -> Iterator[frozenset[str]]:
    """Yield the parts that are still on where a way to go over takes least, if a push may then be too much."""
    statics, mode = way
    motions = dict(mode.motions)
    parts = [each for each in job.vehicle.parts if each.name in state.may_be_on and each.body in motions]
    rises = {each.name: motions[each.body].up_at(*each.at[:2]) * each.mass * GRAVITY for each in parts}
    on = frozenset(name for name, work in rises.items() if work < 0)
    body, margin = next(iter(mode.margins), ("", inf))
    if not on or not body:
        return
    turn = hypot(motions[body].rx, motions[body].ry)
    work = margin * turn * statics.body(body).mass * GRAVITY + sum(rises[name] for name in on)
    lowest = min((each.at[2] for each in state.supports if each.body in motions), default=0.0)
    there = replace(state, on=state.on | on)
    high = max(highest_part(job, there, (name,))[1][2] for name in mode.bodies) - lowest
    if work < ANYWHERE_NEAR * TWICE * asked * high * turn:
        yield on


def _stood(push: PushAnswer, asked: float) -> float:
    """Return how many times what is asked a push may be: of what slides a share of its weight is enough."""
    share = LIGHT * push.borne
    return push.force / (min(asked, share) if push.first == "slides" and share > 0 else asked)
