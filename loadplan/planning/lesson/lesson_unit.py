"""The unit of a lesson: what stands on its own in one step, on which stands, and of which rigid pieces it is made."""

from collections.abc import Sequence

from loadplan.checks.piece import pieces
from loadplan.model.answer import GroupAnswer
from loadplan.model.job import Support
from loadplan.model.shop import EquipmentKind
from loadplan.model.verdict import Assessment
from loadplan.planning.whatif import Shot

FEWEST = 3
"""Fewest stands on which something stands on its own."""

NOTHING = 1e-6
"""A stand that is expected to carry less [N] carries nothing."""


def unit_of(shot: Shot) -> GroupAnswer | None:
    """Find what stands on its own in a step: of several, what stands on most stands.

    Args:
        shot: The step.

    Returns:
        Its group, not that of the body on the lift; None where there is none.
    """
    lift = shot.assessment.job.lift
    free = [
        group
        for group in shot.stage.statics.groups
        if not (lift and lift.body in group.bodies) and len(stands_of(shot, group.bodies)) >= FEWEST
    ]
    return max(free, key=lambda group: len(stands_of(shot, group.bodies)), default=None)


def first_unit(assessment: Assessment, *, balanced: bool) -> Shot | None:
    """Find the first step in which something stands on its own.

    Args:
        assessment: The job, judged.
        balanced: Whether it has to stand in balance, or must not.

    Returns:
        The step, None where there is none; steps in which it is rolled do not count.
    """
    for stage in assessment.stages:
        shot = Shot(assessment, stage.state.index)
        unit = None if stage.state.stage.moved else unit_of(shot)
        if unit is not None and unit.balanced is balanced:
            return shot
    return None


def the_unit(shot: Shot) -> GroupAnswer:
    """Return what stands on its own in a step that has such a thing.

    Args:
        shot: The step.

    Returns:
        Its group.

    Raises:
        ValueError: If nothing does.
    """
    unit = unit_of(shot)
    if unit is None:
        message = f"nothing stands on its own in {shot.stage.state.name!r}"
        raise ValueError(message)
    return unit


def stands_of(shot: Shot, bodies: tuple[str, ...]) -> tuple[Support, ...]:
    """List the stands under some bodies that are there to carry.

    Args:
        shot: The step.
        bodies: Names of the bodies.

    Returns:
        Supports in the job's order: no arms, no hoists, none that only stands by.
    """
    return tuple(
        each
        for each in shot.stage.state.supports
        if each.body in bodies
        and not each.is_arm
        and not each.standby
        and each.equipment.kind is not EquipmentKind.HOIST
    )


def pieces_of(shot: Shot, group: GroupAnswer) -> tuple[tuple[str, ...], ...]:
    """List the rigid pieces of a group.

    Args:
        shot: The step.
        group: The group.

    Returns:
        Names of the bodies of each, in the job's order.
    """
    found: dict[frozenset[str], tuple[str, ...]] = {}
    for body in shot.stage.statics.bodies:
        if body.name in group.bodies:
            whole = frozenset((body.name, *body.rigid_with))
            found.setdefault(whole, tuple(name for name in group.bodies if name in whole))
    return tuple(found.values())


def bearers(supports: Sequence[Support]) -> str:
    """Name what something stands on.

    Args:
        supports: Supports.

    Returns:
        "stands"; "places" where one piece of equipment bears at several of them.
    """
    return "stands" if len(pieces(supports)) == len(supports) else "places"


def carried(shot: Shot, support: str) -> float:
    """Return what a support is expected to carry [N], 0 where it is not told."""
    load = shot.load(support)
    return load.expected if load else 0.0
