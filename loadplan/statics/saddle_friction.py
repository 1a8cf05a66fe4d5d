"""How each saddle holds sideways: friction there, or the stand's own footing."""

from dataclasses import replace
from math import inf

from loadplan.model.job import Job, State, Support
from loadplan.model.shop import Circle, EquipmentKind, Footprint, Square
from loadplan.model.vehicle import Place, PlanPoint
from loadplan.statics.sideways_resistance import Grip
from loadplan.statics.table_base import TableBase, base_sides

CASTOR = 0.02
"""Sideways hold of a unit of load on unlocked castors: rolling resistance, common practice, no source."""


def grips(job: Job, state: State, reference: float | None) -> dict[str, Grip]:
    """Say how each support in place holds sideways.

    Args:
        job: The job.
        state: The state.
        reference: Smallest (point z − height − shim) of the supports set on the floor [m]; None without any.

    Returns:
        Grip by support; arms of the lift have friction only, hoists none.
    """
    found = {support.name: _grip(support, job, reference) for support in state.supports}
    for support in state.supports:
        mates = tuple(each for each in state.supports if each.piece and each.piece == support.piece)
        base = support.equipment.base
        if len(mates) > 1 and base is not None and support.equipment.kind is not EquipmentKind.HOIST:
            # A table does not go over corner by corner: its one base holds what all of them carry.
            table = TableBase(support.piece, _middle(mates), base_sides(base), _height(support, reference))
            found[support.name] = replace(found[support.name], footing=inf, base=table)
    return found


def _middle(mates: tuple[Support, ...]) -> PlanPoint:
    """Return the middle of a piece in plan [m]: the mean of its places."""
    many = len(mates)
    return sum(each.at[0] for each in mates) / many, sum(each.at[1] for each in mates) / many


def friction_of(support: Support) -> float | None:
    """Look up the friction of a saddle.

    Args:
        support: The support.

    Returns:
        What was written for it, else for its equipment; None where neither says.
    """
    return support.equipment.friction if support.friction is None else support.friction


def least_friction_of(support: Support, bare: float) -> float:
    """Return the friction that holds a support at both its ends.

    The foot of a stand on the floor grips better than its saddle. On an assembly it stands on bare metal, of which
    what is said of the equipment's saddle says nothing; what is said of that place itself counts for both ends.

    Args:
        support: The support.
        bare: Friction of metal on metal of which nothing is said.

    Returns:
        Its friction.
    """
    own = friction_of(support)
    if own is None:
        return bare
    return min(own, bare) if support.has_bare_foot else own


def _grip(support: Support, job: Job, reference: float | None) -> Grip:
    """Return how one saddle holds: its own friction, else its equipment's, else the job's; less on castors."""
    equipment = support.equipment
    if equipment.kind is EquipmentKind.HOIST:
        return Grip(0.0, inf)
    friction, said = least_friction_of(support, job.limits.friction), job.says_friction(support)
    # However rough the saddle, castors roll first.
    if equipment.wheels:
        friction = min(friction, CASTOR)
    # Without a base in the file nothing can be said of the stand itself going over.
    if support.is_arm or equipment.base is None:
        return Grip(friction, inf, said)
    return Grip(friction, _half(equipment.base) / _height(support, reference), said)


def _half(base: Footprint) -> float:
    match base:
        case Square():
            return min(base.along_x, base.along_y) / 2
        case Circle():
            return base.diameter / 2


def _height(support: Support, reference: float | None) -> float:
    """Return the height of the saddle with its shim [m]: as set, as needed, or the greatest there is."""
    if support.set_height is not None:
        return support.set_height
    stands_at = support.foot if support.on else reference
    if stands_at is not None:
        # A height of nothing would make the footing endless.
        return max(support.at[2] - stands_at, 1e-3)
    shim = support.shim.height if support.shim else 0.0
    if support.equipment.heights is not None:
        # Not set yet: as high as it goes it stands worst, which is the careful answer.
        return support.equipment.heights.highest + shim
    return max(support.at[2], 1e-3)


def highest_part(job: Job, state: State, bodies: tuple[str, ...]) -> tuple[str, Place]:
    """Find where a rigid whole is pushed: at its highest part still on.

    Args:
        job: The job.
        state: The state.
        bodies: Bodies of the whole.

    Returns:
        Body and place [m]; a body weighed whole without parts counts by its centre of gravity.
    """
    parts = [(part.body, part.at) for part in job.vehicle.parts if part.name in state.on and part.body in bodies]
    whole = [(body.name, body.weighed.cg) for body in job.vehicle.bodies if body.weighed and body.name in bodies]
    return max(parts or whole, key=lambda each: each[1][2])
