"""Parts still on: what a check finds on the way, where parts come off or go on and some of them are on yet, or not."""

from collections.abc import Callable
from dataclasses import replace
from typing import TypeAlias

from loadplan.checks.case import Case, Told
from loadplan.checks.past_limit import PastLimit, past_limit
from loadplan.checks.phrases import few, in_any_order_with, names
from loadplan.model.answer import Between, Statics
from loadplan.model.job import State
from loadplan.model.verdict import Finding, NotChecked, Verdict
from loadplan.statics.loads_between import EVERY_SET

OTHER_ORDER = " Another order of the parts may hold: loadplan order looks for one."
"""What may help where parts come off as listed."""

_Badness: TypeAlias = tuple[int, PastLimit]


def worst_with_parts_on(
    case: Case,
    middle: tuple[Between, ...],
    look: Callable[[Case], list[Told]],
    told: list[Told],
    *,
    hangs_on_order: bool,
) -> list[Told]:
    """Put what is worse in the middle of a stage in the place of what was told of its end.

    Args:
        case: The stage.
        middle: States in the middle of it.
        look: The check.
        told: What it told of the stage's end.
        hangs_on_order: Whether another order of the parts may hold where this one does not.

    Returns:
        The same; a stop or caution is told of the middle where that of the same subject at the end is milder, or where
        there is none, and of several states in the middle the worst.
    """
    worst: dict[str, tuple[_Badness, Finding]] = {}
    end = {each.subject: _badness(case.statics, each) for each in told if isinstance(each, Finding)}
    for between in middle:
        there = replace(case, state=between.state, statics=between.statics)
        for each in look(there):
            if isinstance(each, Finding) and each.verdict > Verdict.NOTE:
                bad = _badness(between.statics, each)
                known = worst[each.subject][0] if each.subject in worst else None
                if _is_worse(bad, end.get(each.subject)) and (known is None or known < bad):
                    worst[each.subject] = bad, _said(case, between, each, hangs_on_order=hangs_on_order)
    kept = [each for each in told if not isinstance(each, Finding) or each.subject not in worst]
    return [*kept, *(each for _, each in worst.values())]


def left_out_on_the_way(case: Case) -> list[NotChecked]:
    """Say what was not looked at on the way: states that would take too long, and sets of parts in any order.

    Args:
        case: The stage.

    Returns:
        A sentence each; none where all were looked at, or where nothing is looked at in the middle.
    """
    return [*_states_left_out(case), *_sets_left_out(case)]


def _states_left_out(case: Case) -> list[NotChecked]:
    """Return that a step is not judged after each of its parts, where that would take too long."""
    if not case.statics.too_many_on_the_way:
        return []
    says = (
        f"{case.state.name}: it is not judged after each of the parts that come off or go on one after the other, as "
        "there are too many ways to go over. Write a step for each part."
    )
    return [NotChecked((says,))]


def _sets_left_out(case: Case) -> list[NotChecked]:
    """Return how many sets of parts that come off in any order were looked at for loads, where it is not every one."""
    owned = {part.name for part in case.job.vehicle.parts if part.body in case.state.bodies}
    free = owned & set(case.state.may_be_on)
    if len(free) <= EVERY_SET or not case.statics.between:
        return []
    tried = {each.state.on & free for each in case.statics.between} - {frozenset(free)}
    every = 2 ** len(free) - 2
    says = (
        f"{case.state.name}: parts come off in any order, and of up to {every:,} sets that may be on while others are "
        f"off {len(tried)} were looked at for loads: each part alone, and what loads or relieves a stand most."
    )
    return [NotChecked((says,))]


def _badness(statics: Statics, finding: Finding) -> _Badness:
    return int(finding.verdict), past_limit(statics, finding)


def _is_worse(bad: _Badness, end: _Badness | None) -> bool:
    """Return whether something is worse than the same at the stage's end: by verdict, or as it goes over as given."""
    return end is None or (bad[0], bad[1].falls) > (end[0], end[1].falls)


def _said(case: Case, between: Between, finding: Finding, *, hangs_on_order: bool) -> Finding:
    """Return a finding of the middle that says which parts are still on, or not on yet.

    What was solved to help is left out: stands are moved, and margins sought, in the state at the stage's end.
    """
    says = (_when(case, between.state), *finding.says)
    may_differ = hangs_on_order and between.other_order
    return replace(finding, says=(*says, OTHER_ORDER) if may_differ else says, cure=None)


def _when(case: Case, there: State) -> str:
    """Return when in the middle of a stage something is so."""
    stage = case.state.stage
    comes_off = case.state.may_be_on or stage.off
    on = [each for each in comes_off if each in there.on and each not in case.state.on]
    missing = [each for each in stage.on if each in case.state.on and each not in there.on]
    if case.state.may_be_on and on:
        return f"{in_any_order_with(on, comes_off)}: "
    if on:
        off = [each for each in stage.off if each not in on and each not in case.state.on]
        # What stood under the vehicle on the lift goes first: without that word nobody would know why it tips.
        stands = {each.name for each in there.supports}
        away = [each for each in stage.cleared if each not in stands]
        less = [f"{few(off)} off"] if off else []
        less += [f"{few(away)} away"] if away else []
        return f"With {few(on)} still on, and {names(less)}: " if less else f"With {few(on)} still on: "
    if missing:
        back = [each for each in stage.on if each in there.on]
        return f"With {few(back)} on, and {few(missing)} not yet: " if back else f"Before putting on {few(missing)}: "
    return f"Before tightening {few(stage.done_up)}: "
