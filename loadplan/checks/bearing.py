"""Bearing: does each stand have something above it; one under air carries nothing, whatever it is set to."""

from shapely.geometry import Point, Polygon

from loadplan.checks.case import Case, Told
from loadplan.checks.cure import move_stand
from loadplan.checks.phrases import length
from loadplan.model.job import Support
from loadplan.model.shop import EquipmentKind
from loadplan.model.verdict import CheckName, Finding, Measure, NotChecked, Sentence, Verdict

UNDER = frozenset((EquipmentKind.STAND, EquipmentKind.JACK, EquipmentKind.TABLE))
"""What stands under a body, so that an outline says whether it is beside it."""


def check(case: Case) -> list[Told]:
    """Judge whether the part of each point is on, and the middle of each saddle under what it is to hold.

    Args:
        case: The stage.

    Returns:
        One finding a support in place, arms too; none where neither a part nor an outline says anything, which is told
        as not checked for what stands under a body.
    """
    told = [_told(case, support) for support in case.state.supports]
    return [each for each in told if each is not None]


def _told(case: Case, support: Support) -> Told | None:
    """Return what is told of one support: its part first, since a part that is off has no outline."""
    if support.part and support.part not in case.state.on:
        return _finding(support, Verdict.STOP, None, (*_nothing(support), *_clear(case, support)))
    if not support.is_under:
        out = float(Polygon(support.outline).distance(Point(support.at[:2])))
        beside: Sentence = (f"Nothing is above {support.name}: the middle of its saddle is ", length(out))
        where = f" outside the outline of the {_over(case, support)}, so it carries nothing."
        move = move_stand(case, support.body, support.name, (f"move {support.name} under the {_over(case, support)}",))
        return _finding(support, Verdict.STOP, out, (*beside, where, *move))
    if not support.part and not support.outline:
        return _unknown(support)
    return _finding(support, Verdict.HOLDS, None, (f"{support.name} has the {_over(case, support)} above it.",))


def _over(case: Case, support: Support) -> str:
    """Return what a saddle has to be under: its point's part where that has an outline, else the body."""
    shaped = {part.name for part in case.job.vehicle.parts if part.outline}
    return support.part if support.part in shaped else support.body


def _nothing(support: Support) -> Sentence:
    """Return that the part of a support's point is off."""
    hangs = support.equipment.kind is EquipmentKind.HOIST
    air = f"Nothing hangs from {support.name}" if hangs else f"Nothing is above {support.name}"
    return (f"{air}: the {support.part}, on which {support.point} is, is off, so it carries nothing.",)


def _clear(case: Case, support: Support) -> Sentence:
    """Return what to plan instead: a support that goes with its part, and another that stays."""
    if support.is_arm:
        return (f" Before lifting: set that pad on a place that stays when the {support.part} comes off.",)
    act = f"plan {support.name} under a place that stays, or clear it with the {support.part}"
    return move_stand(case, support.body, "the stands", (act,))


def _unknown(support: Support) -> NotChecked | None:
    if support.equipment.kind not in UNDER:
        return None
    why = "not checked, the vehicle file gives no outline"
    return NotChecked((f"Whether stands have something of the {support.body} above them: {why}.",))


def _finding(support: Support, verdict: Verdict, out: float | None, says: Sentence) -> Finding:
    """Return a finding on a support; out: how far it is beside what it is to hold [m]."""
    limit = None if out is None else 0.0
    return Finding(CheckName.BEARING, verdict, support.name, out, limit, Measure.LENGTH, says)
