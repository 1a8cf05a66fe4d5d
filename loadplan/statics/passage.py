"""A passage: the way from the state before a stage to the one after it, as far as what happens on it hangs on that."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import TypeAlias

import numpy as np

from loadplan.model.answer import Load, LoadRange, Motion
from loadplan.model.job import Job, State
from loadplan.statics.contact_loads import springs
from loadplan.statics.equilibrium import Frame
from loadplan.statics.group import glance
from loadplan.statics.resting_state import Settings, Solved
from loadplan.statics.uneven_floor import load_range, mass_levels

Seen: TypeAlias = tuple[tuple[Frame, Solved], ...]
"""The groups of a state, each with what was solved of it."""


@dataclass(frozen=True, slots=True)
class Passage:
    """A stage with the state that it began with.

    Attributes:
        job: The job.
        before: The state that it began with.
        after: The state that it leaves.
        stood: Motion of each body before, measured from the reference of the state after.
        stands: Motion of each body after.
        gaps: Gap of every support of before and after [m], arms where the lift was before.
        look: Solves a state on the way with these gaps, from memory where a group was solved before.
    """

    job: Job
    before: State
    after: State
    stood: Mapping[str, Motion]
    stands: Mapping[str, Motion]
    gaps: Mapping[str, float]
    look: Callable[[State, Mapping[str, float]], Seen]


def motions(seen: Seen) -> dict[str, Motion]:
    """Take the expected motion of each body whose group is balanced.

    Args:
        seen: The groups of a state.

    Returns:
        Motion by body.
    """
    return {
        name: each.motions[number]
        for frame, each in seen
        if each.motions is not None
        for number, names in enumerate(frame.wholes)
        for name in names
    }


def solve_in_passing(frame: Frame, settings: Settings) -> Solved:
    """Solve a group as far as a state on the way is judged: whether it stands, and the most that each support carries.

    Args:
        frame: Its equations.
        settings: What they are solved with.

    Returns:
        What `glance` gives, with the loads on an uneven floor where it stands over its whole tolerance; no bounds.
    """
    solved = glance(frame, settings)
    if not solved.answer.robust or solved.loads is None:
        return solved
    # What stands over its whole tolerance stands at every mass level, so there is no mode to ask.
    levels = mass_levels(frame, np.zeros((0, frame.load.size)))
    held = springs(frame, dict(settings.preload))
    ends = load_range(held, levels, np.array(settings.gaps) / frame.span, np.array(settings.uneven) / frame.span)
    return replace(
        solved,
        loads=tuple(
            Load(load.expected, LoadRange(min(low, load.expected), max(high, load.expected), None, None))
            for load, low, high in zip(
                solved.loads, (frame.weight * ends.low).tolist(), (frame.weight * ends.high).tolist(), strict=True
            )
        ),
    )
