"""Grip: how steep each saddle that carries may come to stand, and how steep its friction holds."""

from math import atan, hypot

from loadplan.limits import Limits
from loadplan.model.answer import BodyAnswer, GripAnswer, SupportAnswer
from loadplan.model.job import State
from loadplan.model.shop import EquipmentKind
from loadplan.statics.saddle_friction import friction_of, least_friction_of

NOTHING = 1e-6
"""Share of what its supports carry together below which a saddle carries nothing."""


def grip_angles(
    state: State, limits: Limits, bodies: tuple[BodyAnswer, ...], supports: tuple[SupportAnswer, ...]
) -> tuple[GripAnswer, ...]:
    """Compare how steep each saddle may come to stand with its friction angle.

    Args:
        state: The state.
        limits: What is asked of the plan: floor slope, and the friction of a saddle of which nothing is said.
        bodies: Its bodies, solved.
        supports: Its supports, solved.

    Returns:
        One record a saddle that carries and whose body has a settled state, arms of the lift too; hoists hang.
    """
    loads = {each.name: each.load.expected for each in supports if each.load is not None}
    nothing = NOTHING * sum(loads.values())
    tilts = {each.name: hypot(each.settled.rx, each.settled.ry) for each in bodies if each.settled is not None}
    return tuple(
        GripAnswer(
            support=each.name,
            # Tilt and slope may point the same way, so they add up. What stands on an assembly may slide at its foot.
            angle=max(tilts[each.body], tilts.get(each.on, 0.0)) + limits.floor_slope,
            holds=atan(least_friction_of(each, limits.friction)),
            said=friction_of(each) is not None and not each.has_bare_foot,
        )
        for each in state.supports
        if each.equipment.kind is not EquipmentKind.HOIST and each.body in tilts and loads.get(each.name, 0.0) > nothing
    )
