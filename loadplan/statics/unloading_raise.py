"""Unloading: what a support still carries when it is to be taken away, and which other one takes that from it."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from loadplan.model.job import State, Support
from loadplan.model.shop import EquipmentKind
from loadplan.model.step_change import Raising, Unloading
from loadplan.statics.contact_loads import Springs, settle, springs
from loadplan.statics.equilibrium import Frame
from loadplan.statics.mass import Array
from loadplan.statics.passage import Passage
from loadplan.statics.resting_state import Solved
from loadplan.statics.set_down_window import DEEPEST, GRID, SHALLOWEST
from loadplan.statics.unsolved import UNSOLVED

NOTHING = 1e-9
"""Share of the group's weight up to which a support carries nothing."""

STEPS = 9
"""Ever larger steps by which a support is raised at first."""


def unloadings(passage: Passage, preload: Mapping[str, float]) -> tuple[Unloading, ...]:
    """Tell what each support carries that a stage takes away.

    Everything of before and after is in place, parts and joints are as the stage leaves them.

    Args:
        passage: The stage, with the state before it.
        preload: Force [N] of mounts in the file's attitude, by name.

    Returns:
        One record a support, in the job's order; none where the lift or a hoist holds its group from then on, or where
        its body is gone.
    """
    staying = {each.name for each in passage.after.supports}
    cleared = [
        each
        for each in passage.before.supports
        if each.name not in staying
        and not each.is_arm
        and {each.body, each.on or each.body} <= set(passage.after.bodies)
    ]
    if not cleared:
        return ()
    try:
        seen = passage.look(_with_both(passage), passage.gaps)
    except UNSOLVED:
        return tuple(Unloading(each.name, None, None) for each in cleared)
    told = []
    for each in cleared:
        frame, solved = next(pair for pair in seen if each.body in pair[0].bodies)
        # Where the lift or a hoist goes on holding the group, what is taken away does not leave it to stands alone.
        above = [one for one in frame.supports if one.is_arm or one.equipment.kind is EquipmentKind.HOIST]
        if not any(one.name in staying for one in above):
            told.append(_unloading((frame, solved), each, passage.gaps, dict(preload), staying))
    return tuple(told)


def _with_both(passage: Passage) -> State:
    """Return the state after a stage with all supports of before and after in place, in the job's order."""
    names = {each.name for each in (*passage.before.supports, *passage.after.supports)}
    now = {each.name: each for each in (*passage.before.supports, *passage.after.supports)}
    bodies = set(passage.after.bodies)
    arms = passage.job.lift.arms if passage.job.lift else ()
    there = [now[each.name] for each in (*passage.job.supports, *arms) if each.name in names]
    kept = tuple(each for each in there if {each.body, each.on or each.body} <= bodies)
    return replace(passage.after, supports=kept, may_be_on=())


def _unloading(
    group: tuple[Frame, Solved],
    support: Support,
    gaps: Mapping[str, float],
    preload: dict[str, float],
    staying: set[str],
) -> Unloading:
    """Return what one support carries, and the least that another one has to be raised to take it."""
    frame, solved = group
    order = [each.name for each in frame.supports]
    if solved.loads is None:
        return Unloading(support.name, None, None)
    if support.name not in order:
        return Unloading(support.name, 0.0, None)
    number = order.index(support.name)
    load = solved.loads[number].expected
    if load <= NOTHING * frame.weight:
        return Unloading(support.name, load, None)
    # What goes away itself, or is an arm of the lift, is no stand to raise.
    others = [
        other
        for other, each in enumerate(frame.supports)
        if each.name in staying and not each.is_arm and other != number
    ]
    low = np.array([gaps[name] for name in order])
    try:
        by = _raised_until_empty(springs(frame, preload), frame, low, (number, others))
    except UNSOLVED:
        return Unloading(support.name, load, None)
    found = [Raising(order[other], float(each)) for other, each in zip(others, by, strict=True) if each < np.inf]
    found.sort(key=lambda each: each.by)
    return Unloading(support.name, load, found[0] if found else None, tuple(found))


def _raised_until_empty(held: Springs, frame: Frame, gaps: Array, asked: tuple[int, list[int]]) -> Array:
    """Return how far each of some supports (c) has to be raised until another one carries nothing; inf where it cannot.

    The load falls piecewise linearly. All of them are searched side by side: the first of ever larger steps at which
    the load is gone, then narrowed down 64 times in each of four rounds.
    """
    number, others = asked
    raised = np.arange(len(others))

    def left(levels: Array) -> Array:
        """Return the load that is left (c, l) with each support (c) raised by its levels (c, l) [m]."""
        low = np.tile(gaps, (*levels.shape, 1))
        # A stand set higher is a smaller gap.
        low[raised[:, None], np.arange(levels.shape[1]), np.array(others)[:, None]] -= levels
        cases = low.reshape(-1, len(gaps)) / frame.span
        loads: Array = settle(held, np.tile(frame.load, (len(cases), 1)), cases).loads[:, number]
        return loads.reshape(levels.shape)

    if not others:
        return np.zeros(0)
    steps = np.append(0.0, np.geomspace(SHALLOWEST, DEEPEST, STEPS))
    empty = left(np.tile(steps, (len(others), 1))) <= NOTHING
    first = np.maximum(empty.argmax(axis=1), 1)
    below, above = steps[first - 1], steps[first]
    for _ in range(4):
        levels = np.linspace(below, above, GRID, axis=1)
        first = np.maximum((left(levels) <= NOTHING).argmax(axis=1), 1)
        below, above = levels[raised, first - 1], levels[raised, first]
    return np.where(empty.any(axis=1), above, np.inf)
