"""Another place for a stand that goes with a part: at which point of the same assembly the step holds with it."""

from dataclasses import replace
from functools import partial

from loadplan.checks.case import Case
from loadplan.checks.footprint import area, overlap
from loadplan.checks.phrases import length
from loadplan.model.job import Support
from loadplan.model.plan_cure import StandUnder
from loadplan.model.vehicle import Point
from loadplan.model.verdict import FoundCure, SolvedCure
from loadplan.statics.wider_stance import least_worst_margin

TRIED = 12
"""Points that are tried, in the order of the vehicle's file."""


def other_place_cure(case: Case, stand: Support) -> SolvedCure:
    """Say, once somebody reads it, where a stand would have to stand from the beginning.

    Args:
        case: The stage, in which the part is off that the stand was under.
        stand: The stand.

    Returns:
        A sentence of its own, beginning with a blank; nothing where the step holds without it, or at no point with it.
    """
    return SolvedCure(partial(_found, case, stand))


def _found(case: Case, stand: Support) -> FoundCure:
    """Return the cure, solved: of the points tried the one with the largest margin."""
    wanted = case.job.limits.margin
    bare = _margin(case, stand, None)
    if stand.piece or stand.on or (bare is not None and bare >= wanted):
        return FoundCure()
    tried = [(margin, place) for place in _free(case, stand)[:TRIED] if (margin := _margin(case, stand, place))]
    margin, point = max(tried, key=lambda each: each[0], default=(0.0, None))
    if point is None or margin < wanted:
        return FoundCure()
    says = f" ({point.say})" if point.say else ""
    planned = (
        f" Planned under {point.name}{says} from the beginning, {stand.name} stays, and nothing comes nearer than "
    )
    told = (planned, length(margin), " to tipping in this step.")
    return FoundCure(told, (StandUnder(stand.name, point.name),))


def _free(case: Case, stand: Support) -> list[Point]:
    """Return the points of the same rigid whole that stay, and where the base of the stand is in nobody's way."""
    own = case.whole(stand.body)
    others = [each for each in case.state.supports if each.name != stand.name]
    staying = [
        each for each in case.job.vehicle.points if each.body in own and (not each.part or each.part in case.state.on)
    ]
    return [
        each for each in staying if not any(_in_the_way(stand.under(each, case.job.vehicle), other) for other in others)
    ]


def _in_the_way(stand: Support, other: Support) -> bool:
    if stand.at[:2] == other.at[:2]:
        return True
    if stand.equipment.base is None or other.equipment.base is None:
        return False
    return overlap(area(stand.equipment.base, stand.at[:2]), area(other.equipment.base, other.at[:2]))


def _margin(case: Case, stand: Support, point: Point | None) -> float | None:
    """Return the least worst margin of the group with the stand just touching at a point, or without it [m]."""
    others = tuple(each for each in case.state.supports if each.name != stand.name)
    there = () if point is None else (replace(stand.under(point, case.job.vehicle), height=None),)
    state = replace(case.state, supports=(*others, *there))
    return least_worst_margin(case.job, state, {**case.statics.gaps, stand.name: 0.0}, stand.body)
