"""Reach: can a stand that is brought up to touch stand where it is planned: at one of its steps, or between two ends.

What goes in steps touches at these only: between two of them it stays short of what it is to hold, or lifts it. How
high it has to go is known while set stands hold what it is under, too, or once the lift has gone. What it alone holds
may have been raised since by as much as the lift rises: then only what fits at none of its heights is told.
"""

from dataclasses import dataclass

from loadplan.checks.case import Case, Told
from loadplan.checks.phrases import length
from loadplan.checks.prop_height import SHORT
from loadplan.model.job import Support
from loadplan.model.shop import Equipment, EquipmentKind, Heights
from loadplan.model.verdict import CheckName, Finding, Measure, NotChecked, Sentence, Verdict

ROUNDING = 1e-9
"""Heights that differ by less [m] are the same figure."""


@dataclass(frozen=True, slots=True)
class _TouchHeight:
    """How high a saddle has to go to touch [m]: at least and at most, as far as the lift may have moved."""

    least: float
    most: float


def reaches(case: Case, support: Support) -> Told:
    """Judge whether a stand that is brought up to touch can be set that low, and that high.

    Args:
        case: The stage.
        support: The stand; its height is left out, and it stands, or hangs by no chain.

    Returns:
        A finding; what is not known is told as not checked.
    """
    heights, room = support.equipment.heights, _room(case, support)
    kind = support.equipment.name
    if heights is None or room is None:
        return _unknown(kind)
    slack = case.job.limits.uneven
    low, high = room.most < heights.lowest - slack, room.least > heights.highest + slack
    if not (low or high) and not _stops_in(heights, room, slack):
        return _between_steps(support, heights, room)
    if not (low or high) and room.least != room.most:
        return _unknown(kind)
    needed = room.most if low else room.least
    verdict = Verdict.STOP if low or high else Verdict.HOLDS
    return Finding(
        check=CheckName.HEIGHT,
        verdict=verdict,
        subject=support.name,
        value=needed,
        limit=heights.lowest if low else heights.highest,
        measure=Measure.LENGTH,
        says=_says(case, support, needed, verdict),
    )


def _stops_in(heights: Heights, room: _TouchHeight, slack: float) -> bool:
    """Return whether equipment can be set to a height that touches, or within the slack of one [m]."""
    # Heights in inches are sums of rounded figures: to the last bit a setting would miss the place it is made for.
    least, most = room.least - slack - ROUNDING, room.most + slack + ROUNDING
    return not heights.settings or any(least <= each <= most for each in heights.settings)


def _between_steps(support: Support, heights: Heights, room: _TouchHeight) -> Finding:
    """Return that a stand touches at none of its steps: a note where it stands by, and catches in time all the same."""
    below = max(each for each in heights.settings if each < room.least)
    above = min(each for each in heights.settings if each > room.most)
    short, known = room.least - below, room.least == room.most
    if support.standby and known and short <= SHORT + ROUNDING:
        says: Sentence = (f"{support.name} stops at ", length(below), ", ", length(short), " short of touching.")
        verdict = Verdict.NOTE
    else:
        under = support.point or f"the {support.body}"
        there: Sentence = (length(room.least), *(() if known else (" to ", length(room.most))))
        stops: Sentence = (f", and a {support.equipment.name} stops at ", length(below), " and ", length(above), ". ")
        shim: Sentence = ("Plan it at ", length(below), " with a shim for the other ", length(short), ", or a stand ")
        cannot = f"{support.name} cannot be brought up to touch under {under}: from floor to saddle there are "
        says = (cannot, *there, *stops, *(shim if known else ("Plan a stand ",)), "there that turns.")
        verdict = Verdict.STOP
    limit = heights.nearest(room.least)
    return Finding(CheckName.HEIGHT, verdict, support.name, room.least, limit, Measure.LENGTH, says)


def _unknown(kind: str) -> NotChecked:
    why = "not checked, the job leaves its height out"
    return NotChecked((f"Whether a {kind} that is brought up to touch reaches: {why}.",))


def _room(case: Case, support: Support) -> _TouchHeight | None:
    """Return how high a saddle has to go; None where nobody knows how high what it is under stands."""
    floor = case.statics.floor
    if support.on or floor is None:
        return None
    shim = support.shim.height if support.shim else 0.0
    touches = support.at[2] - floor - case.gap(support.name) - shim
    if not _may_have_moved(case, support.body):
        return _TouchHeight(touches, touches)
    use = case.job.lift
    if use is None or use.lift.rise is None:
        return _TouchHeight(touches, float("inf"))
    pads = max(arm.at[2] - floor - case.gap(arm.name) for arm in case.arms)
    return _TouchHeight(touches, touches + max(use.lift.rise - pads, 0.0))


def _may_have_moved(case: Case, body: str) -> bool:
    """Return whether the lift may have raised a body since stands were set: no set stand holds what it hangs with."""
    if not case.on_lift(body):
        return False
    group = case.group(body).supports
    return not any(each.name in group and each.set_height is not None and not each.on for each in case.stands)


def _says(case: Case, support: Support, needed: float, verdict: Verdict) -> Sentence:
    """Return how high a saddle has to go, and which kind of the shop goes there where its own does not."""
    heights, kind = support.equipment.heights, support.equipment.name
    under = support.point or f"the {support.body}"
    if verdict is Verdict.HOLDS or heights is None:
        return (f"{support.name} is brought up to touch at ", length(needed), ".")
    reach: Sentence = (f"a {kind} goes from ", length(heights.lowest), " to ", length(heights.highest), ".")
    least = "at most" if needed < heights.lowest else "at least"
    cannot = f"{support.name} cannot stand under {under}: from floor to saddle there are {least} "
    slack = case.job.limits.uneven
    other = next((each.name for each in case.job.shop.equipment if _goes_to(each, support, needed, slack)), None)
    cure = f" Plan a {other} there." if other else " Plan another stand there, or another place for it."
    return (cannot, length(needed), ", and ", *reach, cure)


def _goes_to(equipment: Equipment, instead_of: Support, height: float, slack: float) -> bool:
    """Return whether equipment that bears as well goes to a height, within the slack of one of its steps [m]."""
    heights, own = equipment.heights, instead_of.equipment
    stands = equipment.kind is not EquipmentKind.HOIST and equipment.locks >= own.locks
    strong = equipment.rating >= own.rating
    if heights is None or not (stands and strong):
        return False
    there = _TouchHeight(height, height)
    return heights.lowest <= height <= heights.highest and _stops_in(heights, there, slack)
