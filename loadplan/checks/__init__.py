"""The checks in the order in which they are told, and what they make of one stage."""

from collections.abc import Callable
from typing import TypeAlias

from loadplan.checks import (
    alignment,
    balance,
    clearance,
    count,
    height,
    idle_support,
    inspection,
    jack_holding,
    level,
    lift,
    lift_lock,
    lost_support,
    margin,
    overlap,
    point,
    pull,
    push,
    rating,
    set_down,
    snag,
    sway,
    timber,
    wheels,
)
from loadplan.checks.case import Case, Told
from loadplan.model.verdict import Finding, NotChecked

Check: TypeAlias = Callable[[Case], list[Told]]
"""One check: what it found in a stage, and what it could not look at."""

CHECKS: tuple[Check, ...] = (
    balance.check,
    margin.check,
    rating.check,
    point.check,
    idle_support.check,
    lost_support.check,
    jack_holding.check,
    push.check,
    pull.check,
    snag.check,
    level.check,
    alignment.check,
    height.check,
    count.check,
    inspection.check,
    overlap.check,
    lift.check,
    lift_lock.check,
    set_down.check,
    timber.check,
    clearance.check,
    sway.check,
    wheels.check,
)
"""Every check, in the order in which they are told."""


AT_A_GLANCE: tuple[Check, ...] = (
    balance.check,
    margin.check,
    rating.check,
    point.check,
    idle_support.check,
    overlap.check,
)
"""Checks that need no more than a glance at the loads. A glance sees no range of loads, so what they come to is at
most as bad as it will be."""


def judge(case: Case, checks: tuple[Check, ...] = CHECKS) -> tuple[tuple[Finding, ...], tuple[NotChecked, ...]]:
    """Make checks of one stage.

    Args:
        case: The stage with what was computed about it.
        checks: Which; all of them if not said.

    Returns:
        Findings in the order of the checks, also those that hold; and what could not be checked, each sentence once.
    """
    told = [each for check in checks for each in check(case)]
    findings = tuple(each for each in told if isinstance(each, Finding))
    unchecked = dict.fromkeys(each for each in told if isinstance(each, NotChecked))
    return findings, tuple(unchecked)
