"""How bad a finding is beside others of its check: within a check the worst is told first."""

from math import inf

from loadplan.model.answer import Statics
from loadplan.model.verdict import CheckName, Finding


def past_limit(statics: Statics, finding: Finding) -> tuple[bool, float]:
    """Say how bad a finding is beside others of the same check and verdict.

    Args:
        statics: What was computed about its stage.
        finding: The finding.

    Returns:
        Whether something goes over without its subject, which only oil holds; and how many times it is past its limit,
        to a hundredth, so that rounding orders nothing. Both grow with how bad it is.
    """
    lost = statics.without(finding.subject)
    falls = finding.check is CheckName.JACK_HOLDING and lost is not None and not lost.balanced
    value, limit = finding.value, finding.limit
    if value is None:
        # Where a worst case or a bound is missing because there is none, nothing is worse.
        return falls, inf if limit else 1.0
    if not limit:
        return falls, 1.0
    if value <= 0:
        return falls, inf
    return falls, round(max(value / limit, limit / value), 2)
