"""Read past a rating: whether what a scale read is more than the stand, its place, the arm or the lift may carry.

That counts whatever the plan says, and whether or not other readings contradict it: what was read may be the truth.
"""

from dataclasses import dataclass

from loadplan.checks.case import Case
from loadplan.checks.phrases import load, share
from loadplan.checks.piece import pieces
from loadplan.model.job import StageReading
from loadplan.model.verdict import Sentence, Verdict


@dataclass(frozen=True, slots=True)
class ReadLoad:
    """What a scale read, held against what may be carried there.

    Attributes:
        verdict: Stop past the limit, caution past the share of it that is asked for.
        limit: What may be carried [N].
        says: Why, as the rest of a sentence.
    """

    verdict: Verdict
    limit: float
    says: Sentence


@dataclass(frozen=True, slots=True)
class _MayCarry:
    """A limit [N], the share [1] of it up to which nothing is said, what it is of, and what scales read [N]."""

    limit: float
    share: float
    what: str
    read: float


def read_load(case: Case, reading: StageReading) -> ReadLoad | None:
    """Hold what a scale read against ratings and limits, with what it may be off.

    Args:
        case: The stage.
        reading: The reading.

    Returns:
        The worst that there is; None where a hand tried it, or nothing is past what is asked for.
    """
    told = [_judged(each) for each in _limits(case, reading)]
    past = [each for each in told if each is not None]
    return max(past, key=lambda each: each.verdict, default=None)


def _judged(may: _MayCarry) -> ReadLoad | None:
    """Return what was read beside what may be carried; None where it is well below that."""
    if may.read > may.limit:
        says: Sentence = (" Stop: that is, with what scales may be off, ", load(may.read), ", more than the ")
        act = f" {may.what}. Let lift or jack hold the weight before anything else is done."
        return ReadLoad(Verdict.STOP, may.limit, (*says, load(may.limit), act))
    if may.read > may.share * may.limit:
        says = (" That is, with what scales may be off, above ", share(may.share), " of the ")
        return ReadLoad(Verdict.CAUTION, may.limit, (*says, load(may.limit), f" {may.what}."))
    return None


def _limits(case: Case, reading: StageReading) -> list[_MayCarry]:
    """Return all that may not be passed where something was read."""
    if reading.load is None:
        return []
    read, limits = reading.load + reading.pm, case.job.limits
    support = next((each for each in case.state.supports if each.name == reading.support), None)
    if support is None:
        lift = case.job.lift
        return [_MayCarry(lift.lift.rating, 1.0, f"that {reading.support} may lift", read)] if lift else []
    told = []
    if support.limit is not None:
        told.append(_MayCarry(support.limit, 1.0, f"that its place at {support.name} may take", read))
    if not support.is_arm:
        piece = next(each for each in pieces(case.stands) if support in each.supports)
        # Scales under one piece of equipment add up, where they were read with the lift at the same height.
        beside = {each.name for each in piece.supports if each.name != support.name}
        read += sum(
            each.load + each.pm
            for each in case.state.stage.readings
            if each.load is not None and each.support in beside and each.lowered == reading.lowered
        )
        may = f"that one {support.equipment.name} may carry"
        told.append(_MayCarry(support.equipment.rating_of_one, limits.rating_share, may, read))
    elif case.job.lift:
        told.append(_MayCarry(case.job.lift.lift.arm_rating, limits.arm_share, "that one arm may carry", read))
    return told
