"""Bearing: does each stand have something above it, and under it; under or over air it carries nothing.

One piece of equipment under several places, such as a table, has to keep the middle of what it carries over its base.
"""

from dataclasses import replace

from shapely.geometry import Point, Polygon

from loadplan.checks.case import Case, Told
from loadplan.checks.cure import move_piece, move_stand
from loadplan.checks.footprint import ROUNDING, Area, area, covers
from loadplan.checks.other_place_cure import other_place_cure
from loadplan.checks.phrases import length, names, several
from loadplan.checks.piece import Piece, pieces
from loadplan.model.job import Support
from loadplan.model.part_above import parts_above
from loadplan.model.point_in_polygon import covers_point
from loadplan.model.shop import STANDS_UNDER, EquipmentKind
from loadplan.model.vehicle import PlanPoint
from loadplan.model.verdict import CheckName, Finding, Measure, NotChecked, Sentence, Verdict


def check(case: Case) -> list[Told]:
    """Judge whether the part of each point is on, and the middle of each saddle under what it is to hold.

    Args:
        case: The stage.

    Returns:
        One finding a support in place, arms too; none where neither a part nor an outline says anything, which is told
        as not checked for what stands under a body. Besides, what stands on an assembly but beside it, and what goes
        over under its load.
    """
    told = [_told(case, support) for support in case.state.supports]
    told += [_standing_on(case, support) for support in case.stands if support.on]
    told += [_over_base(case, piece) for piece in pieces(case.stands) if len(piece.supports) > 1]
    return [each for each in told if each is not None]


def _standing_on(case: Case, support: Support) -> Told | None:
    """Return what is told of a support that stands on an assembly: only where that does not reach under it."""
    if support.equipment.kind not in STANDS_UNDER:
        return None
    outline = case.body(support.on).outline
    if not outline:
        why = "not checked, the vehicle file gives no outline"
        return NotChecked((f"Whether stands on the {support.on} have something of it under them: {why}.",))
    if covers_point(outline, support.at[:2]):
        return None
    out = float(Polygon(outline).distance(Point(support.at[:2])))
    beside: Sentence = (f"{support.name} stands on nothing: the middle of its base is ", length(out))
    where = f" outside the outline of the {support.on}, so it carries nothing."
    move = move_stand(case, support.body, support.name, (f"move {support.name} in over the {support.on}",))
    return _finding(support, Verdict.STOP, out, (*beside, where, *move))


def _over_base(case: Case, piece: Piece) -> Finding | None:
    """Return a piece that goes over, or nearly, because what it carries lies beside its base, or near its rim."""
    loads = [(each.at, case.load(each.name)) for each in piece.supports]
    carried = [(at, load.expected) for at, load in loads if load is not None]
    total = sum(load for _, load in carried)
    if piece.equipment.base is None or total <= 0:
        return None
    middle = (sum(at[0] * load for at, load in carried) / total, sum(at[1] * load for at, load in carried) / total)
    base = area(piece.equipment.base, piece.centre)
    inside, asked = covers(base, middle), case.job.limits.margin
    room = _to_rim(base, middle)
    if inside and room >= asked - ROUNDING:
        return None
    told: Sentence = (f"The middle of what the {piece.equipment.name} carries is ", length(room))
    place = " inside the rim of its base: it may go over." if inside else " outside its base: it goes over."
    move = move_piece(
        case,
        piece.bodies,
        f"the {piece.equipment.name}",
        (f"move the {piece.equipment.name} under the middle of its load",),
    )
    verdict = Verdict.CAUTION if inside else Verdict.STOP
    limit = asked if inside else 0.0
    return Finding(CheckName.BEARING, verdict, piece.name, room, limit, Measure.LENGTH, (*told, place, *move))


def _to_rim(base: Area, place: PlanPoint) -> float:
    """Return how far a place is from the rim of a base [m], on either side of it."""
    if isinstance(base.core, Polygon):
        return float(base.core.exterior.distance(Point(place)))
    return abs(base.reach - float(base.core.distance(Point(place))))


def _told(case: Case, support: Support) -> Told | None:
    """Return what is told of one support: its part first, since a part that is off has no outline."""
    if support.part and support.part not in case.state.on:
        off = _finding(support, Verdict.STOP, None, (*_nothing(case, support), *_clear(case, support)))
        return off if support.is_arm else replace(off, cure=other_place_cure(case, support))
    if not support.is_under:
        out = float(Polygon(support.outline).distance(Point(support.at[:2])))
        beside: Sentence = (f"Nothing is above {support.name}: the middle of its saddle is ", length(out))
        where = f" outside the outline of the {_over(case, support)}, so it carries nothing."
        move = move_stand(case, support.body, support.name, (f"move {support.name} under the {_over(case, support)}",))
        return _finding(support, Verdict.STOP, out, (*beside, where, *move))
    above = [] if support.part else _off_above(case, support)
    if above:
        return _in_doubt(case, support, above)
    if not support.part and not support.outline:
        return _unknown(support)
    return _finding(support, Verdict.HOLDS, None, (f"{support.name} has the {_over(case, support)} above it.",))


def _off_above(case: Case, support: Support) -> list[str]:
    """Return the parts that are off and may be what a saddle bore on, its place naming none."""
    if support.equipment.kind is EquipmentKind.HOIST:
        return []
    near = parts_above(case.job.vehicle, support.body, support.at)
    return [name for name in near.names if name not in case.state.on]


def _in_doubt(case: Case, support: Support, above: list[str]) -> Finding:
    """Return that a saddle may have borne on a part that is off."""
    what, are = f"the {names(above)}", several(above, "is", "are")
    doubt = f"Perhaps nothing is above {support.name}: {what} lay nearest over it and {are} off"
    act = f"plan {support.name} under a place that stays, and say in the vehicle's file on which part that is"
    cure = move_stand(case, support.body, support.name, (act,))
    if support.is_arm:
        cure = (" Before lifting: look what the pad bears on, and say in the vehicle's file on which part that is.",)
    return _finding(support, Verdict.CAUTION, None, (f"{doubt}; no part is said for its place.", *cure))


def _over(case: Case, support: Support) -> str:
    """Return what a saddle has to be under: its point's part where that has an outline, else the body."""
    shaped = {part.name for part in case.job.vehicle.parts if part.outline}
    return support.part if support.part in shaped else support.body


def _nothing(case: Case, support: Support) -> Sentence:
    """Return that the part of a support's place is off."""
    hangs = support.equipment.kind is EquipmentKind.HOIST
    air = f"Nothing hangs from {support.name}" if hangs else f"Nothing is above {support.name}"
    unsaid = not support.point or any(each.name == support.point and not each.part for each in case.job.vehicle.points)
    which = "the lowest over it" if unsaid else f"on which {support.point} is"
    return (f"{air}: the {support.part}, {which}, is off, so it carries nothing.",)


def _clear(case: Case, support: Support) -> Sentence:
    """Return what to plan instead: a support that goes with its part, and another that stays."""
    if support.is_arm:
        return (f" Before lifting: set that pad on a place that stays when the {support.part} comes off.",)
    act = f"plan {support.name} under a place that stays, or clear it with the {support.part}"
    return move_stand(case, support.body, "the stands", (act,))


def _unknown(support: Support) -> NotChecked | None:
    if support.equipment.kind not in STANDS_UNDER:
        return None
    why = "not checked, the vehicle file gives no outline"
    return NotChecked((f"Whether stands have something of the {support.body} above them: {why}.",))


def _finding(support: Support, verdict: Verdict, out: float | None, says: Sentence) -> Finding:
    """Return a finding on a support; out: how far it is beside what it is to hold [m]."""
    limit = None if out is None else 0.0
    return Finding(CheckName.BEARING, verdict, support.name, out, limit, Measure.LENGTH, says)
