"""Loads in between: what supports carry in a stage whose parts come off in any order, with some of them still on.

At the end of the stage all of them are off, and at its beginning none. On the way one end of a unit may have lost its
part while the other still has it; then what stands under that one may carry more, or less, than at both ends of the
stage. A part adds to a support or relieves it, so of many parts the sets are looked at that load, or relieve, one
support most; of a few every set.
"""

from collections.abc import Callable, Iterator, Mapping
from itertools import combinations
from types import MappingProxyType

from loadplan.model.answer import Between, Load, LoadRange, Statics
from loadplan.model.job import Job, Stage, State
from loadplan.statics.any_order import with_parts
from loadplan.statics.body_figures import body_answers, lift_answer
from loadplan.statics.grip_angle import grip_angles
from loadplan.statics.mass import lumps
from loadplan.statics.passage import Seen
from loadplan.statics.stage_figures import joint_forces, support_answers

EVERY_SET = 3
"""Up to so many parts every set of them is looked at."""

Look = Callable[[State], Seen]
"""Solves the groups of a state, with the ranges of loads on an uneven floor."""


def loads_between(
    job: Job, state: State, set_up: tuple[Statics, Mapping[str, float]], look: Look
) -> tuple[Between, ...]:
    """Solve the states in the middle of a stage in which loads may be greatest, or least.

    Args:
        job: The job.
        state: The stage's end.
        set_up: What was computed of that; mount forces by mount on the whole vehicle [N].
        look: Solves the groups of a state in the middle, with saddles and lift where they are.

    Returns:
        One answer a state, each with some of the parts on; none where at most one part comes off.
    """
    free = tuple(part.name for part in job.vehicle.parts if part.name in state.may_be_on and part.body in state.bodies)
    if len(free) < 2:
        return ()
    sets = _sets(free, len(free) if len(free) <= EVERY_SET else 1)
    found = _solved(job, state, set_up, (look, sets))
    if len(free) > EVERY_SET:
        found |= _solved(job, state, set_up, (look, _telling(state, set_up[0], found)))
    if state.index and _takes_parts_off_alone(state.stage):
        # With all of them on it is the state that the stage begins with, and judged as that.
        found.pop(frozenset(free), None)
    return tuple(found.values())


def _takes_parts_off_alone(stage: Stage) -> bool:
    """Return whether a stage leaves stands, joints and lift as they are."""
    changed = (*stage.in_place, *stage.cleared, *stage.undone, *stage.done_up, *stage.set_anew, *stage.on)
    return not changed and stage.lowered is None and stage.raised is None


def _sets(free: tuple[str, ...], most: int) -> Iterator[frozenset[str]]:
    """Yield every set of at least one and at most so many parts."""
    for count in range(1, most + 1):
        yield from map(frozenset, combinations(free, count))


def _solved(
    job: Job, state: State, set_up: tuple[Statics, Mapping[str, float]], looked: tuple[Look, Iterator[frozenset[str]]]
) -> dict[frozenset[str], Between]:
    """Return the states in which sets of parts are on, by the parts that are then on, those before them counted."""
    look, sets = looked
    found: dict[frozenset[str], Between] = {}
    for on in sets:
        there = with_parts(job, state, on)
        if there is None:
            continue
        still_on = there.on - state.on
        if still_on not in found:
            found[still_on] = Between(there, statics_between(job, there, set_up, look(there)))
    return found


def statics_between(
    job: Job,
    there: State,
    set_up: tuple[Statics, Mapping[str, float]],
    seen: Seen,
    gaps: Mapping[str, float] = MappingProxyType({}),
) -> Statics:
    """Gather what was computed of a state in the middle; what happens on the way to it is left to the stage's end.

    Args:
        job: The job.
        there: The state.
        set_up: What was computed of the stage's end; mount forces by mount on the whole vehicle [N].
        seen: Its groups, solved.
        gaps: Gap [m] of each support that stands there and no more at the stage's end.

    Returns:
        What checks are made of.
    """
    end, preload = set_up
    frames, solved = tuple(frame for frame, _ in seen), tuple(each for _, each in seen)
    made_of = lumps(job, there)
    supports = support_answers(there, frames, solved, end.gaps | dict(gaps), Load(0.0, LoadRange(0.0, 0.0, 0.0, 0.0)))
    bodies = body_answers(there, frames, solved, made_of)
    return Statics(
        groups=tuple(each.answer for each in solved),
        bodies=bodies,
        supports=supports,
        joints=joint_forces(there, frames, solved, preload),
        misses=(),
        lift=lift_answer(job, there, made_of, supports),
        set_down=None,
        pull=None,
        grips=grip_angles(there, job.limits, bodies, supports),
        floor=end.floor,
    )


def _telling(state: State, end: Statics, alone: Mapping[frozenset[str], Between]) -> Iterator[frozenset[str]]:
    """Yield for each support the parts that load it, and those that relieve it, by what each does alone."""
    for support in state.supports:
        at_end = end.load(support.name)
        more, less = set[str](), set[str]()
        for still_on, each in alone.items():
            load = each.statics.load(support.name)
            if load is not None and at_end is not None:
                (more if load.expected > at_end.expected else less).update(still_on)
        yield from (frozenset(each) for each in (more, less) if each)
