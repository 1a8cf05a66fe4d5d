"""The checks in the order in which they are told: all that hangs on one stands in its record, and nowhere else."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import NamedTuple, TypeVar

from loadplan.checks import (
    alignment,
    balance,
    basis,
    bearing,
    clearance,
    count,
    drop,
    grip,
    height,
    idle_support,
    inspection,
    jack_holding,
    laid_on,
    level,
    lift,
    lift_lock,
    lost_support,
    margin,
    mount,
    overlap,
    part,
    part_order,
    point,
    pull,
    push,
    rating,
    reading,
    set_down,
    snag,
    sway,
    timber,
    undoing,
    unloading,
    wheels,
)
from loadplan.checks.case import Case, Told
from loadplan.checks.parts_still_on import left_out_on_the_way, worst_with_parts_on
from loadplan.checks.past_limit import PastLimit, past_limit
from loadplan.model.answer import Statics
from loadplan.model.verdict import CheckName, Finding, NotChecked, Verdict

ToldKind = TypeVar("ToldKind", bound=Told)
"""What is put in order: all that checks hand back, or findings alone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One check, and where it counts.

    Attributes:
        name: Its name.
        look: What it found in a stage, and what it could not look at.
        follows_finger: Whether it is made while a stand is being moved on the live plan. A glance sees no range of
            loads, lost supports or pushes, so what it comes to then is at most as bad as it will be.
        of_a_stand: Whether its findings belong to one stand, and mark that stand's row.
        notes_in_one: Whether its notes say the same of so many stands that one sentence tells them together: that of
            `report/words/merged_notes.py`, which has words for one such check so far.
        quiet_for_planning: Whether a proposed layout must leave no caution of it where no number of stands is named.
        way_out: What helps where it leaves no layout; "" where the check itself says more.
        of_tipping: Whether it finds fault with a margin, and with the edge that it is measured to.
        of_bodies: Whether its subjects are assemblies, so that an edge may be at fault on its account.
        against_rating: Whether it holds a load against a rating.
        needs_loads: Whether it hangs on what stands carry; without, it costs next to nothing.
        tells_pieces_apart: Whether pieces of one kind are unlike to it.
        mended_by_stands: Whether a change to the stands can take its caution away.
        mended_by_heights: Whether other set heights, at the same places, can take its caution away.
        raised_for_good: Whether stands that its cure raises stay so; what is raised to unload another one does not.
        of_settings: Whether it is about the settings that heights are made of, chosen once a height is told.
        between_steps: Whether it is about what happens between two steps, and wants no ranges of loads in either.
        with_parts_on: Whether it is made of the states in the middle, too, where parts come off in any order, or as
            listed.
        pushed_on_the_way: The same only where they come off as listed: in any order the stage's own answer has it.
        hangs_on_order: Whether it says that another order of the parts may hold, where it finds fault on the way as
            listed.
    """

    name: CheckName
    look: Callable[[Case], list[Told]]
    follows_finger: bool = False
    of_a_stand: bool = False
    notes_in_one: bool = False
    quiet_for_planning: bool = False
    way_out: str = ""
    of_tipping: bool = False
    of_bodies: bool = False
    against_rating: bool = False
    needs_loads: bool = True
    tells_pieces_apart: bool = False
    mended_by_stands: bool = True
    mended_by_heights: bool = False
    raised_for_good: bool = False
    of_settings: bool = False
    between_steps: bool = False
    with_parts_on: bool = False
    pushed_on_the_way: bool = False
    hangs_on_order: bool = False


CHECKS: tuple[Check, ...] = (
    Check(
        name=CheckName.BEARING,
        look=bearing.check,
        follows_finger=True,
        of_a_stand=True,
        quiet_for_planning=True,
        way_out="Points that stay when parts come off, and lie under their assembly, would bear.",
    ),
    Check(
        name=CheckName.BALANCE,
        look=balance.check,
        hangs_on_order=True,
        with_parts_on=True,
        follows_finger=True,
        quiet_for_planning=True,
        way_out="Points further out, or one more stand, hold it; weighing what is guessed helps, too.",
        of_tipping=True,
        of_bodies=True,
    ),
    Check(
        name=CheckName.SWAY,
        look=sway.check,
        with_parts_on=True,
        follows_finger=True,
        way_out="Stiffer or lower stands, or stands further apart, would hold it up.",
        of_tipping=True,
        of_bodies=True,
    ),
    Check(
        name=CheckName.GRIP,
        look=grip.check,
        with_parts_on=True,
        follows_finger=True,
        of_a_stand=True,
        way_out="Saddles with a higher friction, rubber or timber on them, would hold.",
    ),
    Check(name=CheckName.UNDOING, look=undoing.check, between_steps=True),
    Check(name=CheckName.DROP, look=drop.check, raised_for_good=True, between_steps=True),
    Check(name=CheckName.SET_DOWN, look=set_down.check, mended_by_heights=True),
    Check(
        name=CheckName.LIFT,
        look=lift.check,
        with_parts_on=True,
        way_out="The vehicle on the lift has to be put right first.",
        against_rating=True,
    ),
    Check(name=CheckName.UNLOADING, look=unloading.check, between_steps=True),
    Check(
        name=CheckName.RATING,
        look=rating.check,
        with_parts_on=True,
        follows_finger=True,
        of_a_stand=True,
        quiet_for_planning=True,
        way_out="More stands, or stronger ones, share the load.",
        against_rating=True,
    ),
    Check(
        name=CheckName.POINT,
        look=point.check,
        with_parts_on=True,
        follows_finger=True,
        of_a_stand=True,
        quiet_for_planning=True,
        way_out="More stands share the load; a point with a higher limit in the maker's manual would do.",
    ),
    Check(name=CheckName.JACK_HOLDING, look=jack_holding.check, of_a_stand=True),
    Check(
        name=CheckName.LAID_ON,
        look=laid_on.check,
        with_parts_on=True,
        way_out="Points further out, or one more stand under the end that overhangs, hold more.",
        of_bodies=True,
    ),
    Check(name=CheckName.PUSH, look=push.check, quiet_for_planning=True, of_bodies=True, pushed_on_the_way=True),
    Check(name=CheckName.PULL, look=pull.check, of_bodies=True, pushed_on_the_way=True),
    Check(name=CheckName.READING, look=reading.check, of_a_stand=True, mended_by_stands=False),
    Check(
        name=CheckName.MARGIN,
        look=margin.check,
        hangs_on_order=True,
        with_parts_on=True,
        follows_finger=True,
        quiet_for_planning=True,
        of_tipping=True,
        of_bodies=True,
    ),
    Check(name=CheckName.BASIS, look=basis.check, mended_by_stands=False),
    Check(
        name=CheckName.IDLE_SUPPORT,
        look=idle_support.check,
        with_parts_on=True,
        mended_by_heights=True,
        follows_finger=True,
        of_a_stand=True,
        notes_in_one=True,
        quiet_for_planning=True,
        raised_for_good=True,
    ),
    Check(name=CheckName.LOST_SUPPORT, look=lost_support.check),
    Check(
        name=CheckName.MOUNT,
        look=mount.check,
        with_parts_on=True,
        way_out="One more stand near the mount, or one that may carry more, would do.",
    ),
    Check(name=CheckName.SNAG, look=snag.check, with_parts_on=True),
    Check(
        name=CheckName.LEVEL,
        look=level.check,
        with_parts_on=True,
        mended_by_heights=True,
        quiet_for_planning=True,
        way_out="Shims, or stands whose heights fit the points, would level it.",
        raised_for_good=True,
    ),
    Check(name=CheckName.ALIGNMENT, look=alignment.check, raised_for_good=True),
    Check(
        name=CheckName.HEIGHT,
        look=height.check,
        mended_by_heights=True,
        of_a_stand=True,
        way_out="The shop's stands reach no such points at one common level: shims, or screw stands, would.",
        needs_loads=False,
        of_settings=True,
    ),
    Check(
        name=CheckName.COUNT,
        look=count.check,
        of_a_stand=True,
        way_out="The shop would need more pieces, or a common level that more of them reach.",
        needs_loads=False,
        tells_pieces_apart=True,
    ),
    Check(
        name=CheckName.INSPECTION, look=inspection.check, of_a_stand=True, needs_loads=False, tells_pieces_apart=True
    ),
    Check(
        name=CheckName.OVERLAP,
        look=overlap.check,
        follows_finger=True,
        of_a_stand=True,
        quiet_for_planning=True,
        way_out="Smaller bases, or points further apart, would fit.",
        needs_loads=False,
    ),
    Check(name=CheckName.LIFT_LOCK, look=lift_lock.check),
    Check(name=CheckName.PART, look=part.check),
    Check(name=CheckName.PART_ORDER, look=part_order.check, mended_by_stands=False),
    Check(name=CheckName.TIMBER, look=timber.check, of_a_stand=True),
    Check(name=CheckName.CLEARANCE, look=clearance.check),
    Check(name=CheckName.WHEELS, look=wheels.check, of_a_stand=True),
)
"""Every check, in the order in which they are told: what hurts first is told first."""

CHECK_OF = MappingProxyType({each.name: each for each in CHECKS})
"""Each check by its name."""

_RANKS = MappingProxyType({each.name: place for place, each in enumerate(CHECKS)})

AT_A_GLANCE = tuple(each for each in CHECKS if each.follows_finger)
"""Checks that need no more than a glance at the loads."""


def judge(case: Case, checks: tuple[Check, ...] = CHECKS) -> tuple[tuple[Finding, ...], tuple[NotChecked, ...]]:
    """Make checks of one stage.

    Args:
        case: The stage with what was computed about it.
        checks: Which; all of them if not said.

    Returns:
        Findings in the order of the checks, also those that hold, within a check stops and cautions first and the worst
        of them foremost; and what could not be checked, each sentence once.
    """
    told = [each for check in checks for each in _worst_first(case.statics, _looked(case, check))]
    told += left_out_on_the_way(case)
    findings = tuple(each for each in told if isinstance(each, Finding))
    unchecked = dict.fromkeys(each for each in told if isinstance(each, NotChecked))
    return findings, tuple(unchecked)


def in_order(statics: Statics, findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Put findings of one stage into the order in which `judge` tells them.

    Args:
        statics: What was computed about the stage.
        findings: Its findings, in any order.

    Returns:
        The same.
    """
    of_check = [[each for each in findings if each.check is check.name] for check in CHECKS]
    return tuple(each for those in of_check for each in _worst_first(statics, those))


class ToldPlace(NamedTuple):
    """What orders findings: verdict, check, how far past its limit, stage; the least is told first."""

    verdict: int
    check: int
    past: tuple[bool, float]
    stage: int


def told_place(verdict: Verdict, check: CheckName, past: PastLimit, stage: int) -> ToldPlace:
    """Say where a finding is told: stops first, then what hurts first, then the worst, then by stage.

    Args:
        verdict: Its verdict.
        check: Its check.
        past: How far it is past its limit.
        stage: Number of its first stage.

    Returns:
        Its place.
    """
    return ToldPlace(-verdict, _RANKS[check], (not past.falls, -past.times), stage)


def _looked(case: Case, check: Check) -> list[Told]:
    """Return what a check tells of a stage, with what is worse on the way where parts come off or go on."""
    told = check.look(case)
    middle = case.statics.between if check.with_parts_on else ()
    if check.with_parts_on or check.pushed_on_the_way:
        middle += case.statics.on_the_way
    if not middle:
        return told
    return worst_with_parts_on(case, middle, check.look, told, hangs_on_order=check.hangs_on_order)


def _worst_first(statics: Statics, told: Sequence[ToldKind]) -> list[ToldKind]:
    """Return what a check told, its stops and cautions first, worst foremost; what is no trouble keeps its order."""

    def badness(each: Told) -> tuple[int, PastLimit]:
        if isinstance(each, NotChecked) or each.verdict <= Verdict.NOTE:
            return 0, PastLimit(falls=False, times=0.0)
        return int(each.verdict), past_limit(statics, each)

    # Most checks of most steps tell of no trouble.
    troubled = any(isinstance(each, Finding) and each.verdict > Verdict.NOTE for each in told)
    return sorted(told, key=badness, reverse=True) if troubled else list(told)
