"""How bad a finding is beside others of its check: within a check the worst is told first."""

from math import inf
from typing import NamedTuple

from loadplan.model.answer import Balanced, Statics
from loadplan.model.verdict import CheckName, Finding


class PastLimit(NamedTuple):
    """How bad a finding is; of two the greater one is worse.

    Attributes:
        falls: Whether something goes over without its subject, which only oil holds, or goes over with the weights
            as they are given, not only where they are off as far as they may be.
        times: How many times it is past its limit, to a hundredth, so that rounding orders nothing.
    """

    falls: bool
    times: float


def past_limit(statics: Statics, finding: Finding) -> PastLimit:
    """Say how bad a finding is beside others of the same check and verdict.

    Args:
        statics: What was computed about its stage.
        finding: The finding.

    Returns:
        How far past its limit it is.
    """
    lost = statics.without(finding.subject)
    falls = finding.check is CheckName.JACK_HOLDING and lost is not None and not lost.balanced
    if finding.check is CheckName.BALANCE:
        proofs = [group.proof for group in statics.groups if ", ".join(group.bodies) == finding.subject]
        falls = any(not isinstance(proof, Balanced) for proof in proofs)
    value, limit = finding.value, finding.limit
    if value is None:
        # Where there is a limit and no number, the number is past all bounds: nothing is worse.
        return PastLimit(falls, inf if limit else 1.0)
    if not limit:
        return PastLimit(falls, 1.0)
    if value <= 0:
        return PastLimit(falls, inf)
    return PastLimit(falls, round(max(value / limit, limit / value), 2))
