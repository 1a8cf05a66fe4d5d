"""Part: one that is heavy comes off, or goes on, in hands that the plan knows nothing of."""

from collections.abc import Iterable
from math import hypot

from loadplan.checks.case import Case, Told
from loadplan.model.job import Support
from loadplan.model.shop import EquipmentKind
from loadplan.model.vehicle import Part
from loadplan.model.verdict import CheckName, Finding, Measure, Quantity, Verdict

BY_HAND = 25.0
"""Heavier parts [kg] are not held by one person: guideline for lifting close to the body, between knuckle and elbow
height, HSE INDG143."""

NEAR = 0.3
"""A hoist, jack or table holds a part whose centre of gravity is this near to it in plan [m]; common practice, no
source."""

HOLDERS = frozenset({EquipmentKind.HOIST, EquipmentKind.JACK, EquipmentKind.TABLE})


def check(case: Case) -> list[Told]:
    """Note heavy parts that come off or go on in a step with nothing that holds them.

    Args:
        case: The stage.

    Returns:
        One finding a part that comes off or goes on.
    """
    moving = dict.fromkeys(case.state.stage.off, "comes off") | dict.fromkeys(case.state.stage.on, "goes on")
    # What holds a part while it comes off stood there before; what holds it while it goes on stands there after.
    there = (*case.state.supports, *(case.before.supports if case.before else ()))
    return [_finding(each, moving[each.name], there) for each in case.job.vehicle.parts if each.name in moving]


def _finding(part: Part, moves: str, there: Iterable[Support]) -> Finding:
    """Return what is to be said of one part that moves."""
    holding = [each.name for each in there if _holds(each, part)]
    mass = Quantity(part.mass, Measure.MASS)
    note = part.mass > BY_HAND and not holding
    if note:
        says = (
            f"The {part.name} {moves}, ",
            mass,
            ", and no hoist, jack or table holds it: what holds it, and how it tugs at the unit, are not judged.",
        )
    elif holding:
        says = (f"The {part.name} {moves}, ", mass, f", held by {holding[0]}.")
    else:
        says = (f"The {part.name} {moves}, ", mass, ".")
    return Finding(
        check=CheckName.PART,
        verdict=Verdict.NOTE if note else Verdict.HOLDS,
        subject=part.name,
        value=part.mass,
        limit=BY_HAND,
        measure=Measure.MASS,
        says=says,
    )


def _holds(support: Support, part: Part) -> bool:
    """Return whether a piece of equipment is there for a part: by its kind, and by what its place is on, or is near."""
    if support.equipment.kind not in HOLDERS or support.body != part.body:
        return False
    if support.part:
        return support.part == part.name
    return hypot(support.at[0] - part.at[0], support.at[1] - part.at[1]) <= NEAR
