"""Parts still on: what a check finds on the way, where parts come off in any order and some of them are on yet."""

from collections.abc import Callable
from dataclasses import replace

from loadplan.checks.case import Case, Told
from loadplan.checks.past_limit import past_limit
from loadplan.checks.phrases import names
from loadplan.model.answer import Between
from loadplan.model.verdict import Finding, NotChecked, Verdict
from loadplan.statics.loads_between import EVERY_SET


def worst_with_parts_on(case: Case, look: Callable[[Case], list[Told]], told: list[Told]) -> list[Told]:
    """Put what is worse in the middle of a stage in the place of what was told of its end.

    Args:
        case: The stage.
        look: The check.
        told: What it told of the stage's end.

    Returns:
        The same; a stop or caution is told of the middle where that of the same subject at the end is milder, or where
        there is none, and of several states in the middle the worst.
    """
    worst: dict[str, Finding] = {}
    end = {each.subject: each.verdict for each in told if isinstance(each, Finding)}
    for between in case.statics.between:
        there = replace(case, state=between.state, statics=between.statics)
        for each in look(there):
            if isinstance(each, Finding) and each.verdict > max(end.get(each.subject, Verdict.NOTE), Verdict.NOTE):
                known = worst.get(each.subject)
                if known is None or _badness(case, known) < _badness(case, each):
                    worst[each.subject] = _said(case, between, each)
    kept = [each for each in told if not isinstance(each, Finding) or each.subject not in worst]
    return [*kept, *worst.values()]


def sets_left_out(case: Case) -> list[NotChecked]:
    """Say how many sets of parts that come off in any order were looked at for loads, where it is not every one.

    Args:
        case: The stage.

    Returns:
        One sentence; none where all sets were looked at, or where nothing is looked at in the middle.
    """
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


def _badness(case: Case, finding: Finding) -> tuple[object, ...]:
    return int(finding.verdict), past_limit(case.statics, finding)


def _said(case: Case, between: Between, finding: Finding) -> Finding:
    """Return a finding of the middle that says which parts are still on.

    What was solved to help is left out: stands are moved, and margins sought, in the state at the stage's end.
    """
    on = [each for each in case.state.may_be_on if each in between.state.on]
    begins = f"With {names(on)} still on, of what comes off in any order: "
    return replace(finding, says=(begins, *finding.says), cure=None)
