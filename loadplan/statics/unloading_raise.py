"""Unloading: what a support still carries when it is to be taken away, and which other one takes that from it."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from loadplan.model.job import State, Support
from loadplan.model.shop import EquipmentKind
from loadplan.model.step_change import Raising, Unloading
from loadplan.statics.contact_loads import settle, springs
from loadplan.statics.equilibrium import Frame
from loadplan.statics.mass import Array
from loadplan.statics.passage import Passage
from loadplan.statics.resting_state import Solved
from loadplan.statics.set_down_window import crossing

NOTHING = 1e-9
"""Share of the group's weight up to which a support carries nothing."""


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
    both = _with_both(passage)
    seen = passage.look(both, passage.gaps)
    told = []
    for each in cleared:
        frame, solved = next(pair for pair in seen if each.body in pair[0].bodies)
        if not any(_holds_from_above(one) for one in frame.supports if one.name in staying):
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


def _holds_from_above(support: Support) -> bool:
    return support.is_arm or support.equipment.kind is EquipmentKind.HOIST


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
    held = springs(frame, preload)
    low = np.array([gaps[name] / frame.span for name in order])
    found = []
    for other, each in enumerate(frame.supports):
        if each.name not in staying or each.is_arm:
            continue

        def lifted(levels: Array, other: int = other) -> Array:
            raised = np.tile(low, (len(levels), 1))
            raised[:, other] -= levels / frame.span
            loads = settle(held, np.tile(frame.load, (len(levels), 1)), raised).loads[:, number]
            excess: Array = NOTHING - loads
            return excess

        by = crossing(lifted)
        if by is not None:
            found.append(Raising(each.name, by))
    return Unloading(support.name, load, min(found, key=lambda each: each.by, default=None))
