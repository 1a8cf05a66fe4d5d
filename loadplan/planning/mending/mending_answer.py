"""The answer of a mending: what to change, what it comes to, and what is left."""

from dataclasses import dataclass

from loadplan.checks.check_table import CHECK_OF
from loadplan.model.job import Job
from loadplan.model.verdict import Finding, Sentence, Verdict
from loadplan.planning.mending.plan_change import ChangeKind


@dataclass(frozen=True, slots=True)
class DoneChange:
    """One change of the answer.

    Attributes:
        kind: Its kind.
        support: The support that it is about.
        says: What to do, a sentence.
    """

    kind: ChangeKind
    support: str
    says: Sentence


@dataclass(frozen=True, slots=True)
class LeftOver:
    """A finding that still stops or cautions.

    Attributes:
        stage: Name of its step.
        finding: The finding.
    """

    stage: str
    finding: Finding


@dataclass(frozen=True, slots=True)
class Mending:
    """How a plan can be mended.

    Attributes:
        job: The plan with the changes; as it was where there are none.
        changes: What to change, in the order in which it is told; empty where nothing is to mend, or nothing helps.
        enough: How many of them, from the first on, are enough that nothing stops.
        before: Verdict of the plan as it was, from the first step that is not done yet.
        verdict: Verdict of the plan with the changes.
        proven: Whether no fewer changes of these kinds would do.
        margin: Smallest worst margin with the changes, over the bodies other than the lift's [m].
        left: What still stops, or cautions.
        looked_at: Plans that were looked at.
        interrupted: Whether somebody ended the search.
        short: Pieces that the shop has too few, whatever is set where: then nothing was searched.
        ran_out: Whether the search stopped at its budget before all was looked at.
    """

    job: Job
    changes: tuple[DoneChange, ...]
    enough: int
    before: Verdict
    verdict: Verdict
    proven: bool
    margin: float
    left: tuple[LeftOver, ...]
    looked_at: int
    interrupted: bool
    short: int = 0
    ran_out: bool = False

    @property
    def in_part(self) -> bool:
        """Whether changes leave a caution that stands can take away."""
        return bool(self.changes) and self.verdict is Verdict.CAUTION and _mendable(self.left)

    @property
    def nothing_to_mend(self) -> bool:
        """Whether no change to the stands is called for."""
        return not self.changes and self.before < Verdict.STOP and not _mendable(self.left)


def _mendable(left: tuple[LeftOver, ...]) -> bool:
    return any(CHECK_OF[each.finding.check].mended_by_stands for each in left)
