"""One layout, judged in full, and which of several comes first."""

from collections.abc import Iterable
from dataclasses import dataclass

from loadplan.checks.check_table import CHECK_OF
from loadplan.model.job import Job, Support
from loadplan.model.verdict import CheckName, Verdict
from loadplan.planning.placement.branch_and_bound import Members

TIE = 5e-5
"""Margins within 0.05 mm count as equal [m]."""


@dataclass(frozen=True, slots=True)
class Layout:
    """One layout, judged in full.

    Attributes:
        members: Numbers of its points, in the file's order.
        job: The job with it.
        margin: Worst margin over its stages and the bodies other than the lift's [m]; infinite where nothing tips.
        share: Greatest share of a rating.
        verdict: The whole job's.
        against: Checks that exclude it: a stop, or a load over the job's share of a rating.
        cautions: Checks that caution.
    """

    members: Members
    job: Job
    margin: float
    share: float
    verdict: Verdict
    against: frozenset[CheckName]
    cautions: frozenset[CheckName]

    @property
    def planned(self) -> tuple[Support, ...]:
        """The supports of the layout, in the file's order of points."""
        return self.job.supports[len(self.job.supports) - len(self.members) :]

    @property
    def quiet(self) -> bool:
        """Whether no check that has to be quiet for planning cautions."""
        return not self.against and not any(CHECK_OF[each].quiet_for_planning for each in self.cautions)


def ranked(layouts: Iterable[Layout]) -> tuple[Layout, ...]:
    """Order layouts by falling margin; among those tied with the widest the lower share, then the file's order.

    Args:
        layouts: The layouts.

    Returns:
        The same, the widest first.
    """
    every = tuple(layouts)
    # Tied to the widest, not to the one before: a chain of ties could end far below it.
    widest_margin = max((each.margin for each in every), default=0.0)
    return tuple(
        sorted(
            every,
            key=lambda each: (
                (0.0, each.share, each.members)
                if each.margin >= widest_margin - TIE
                else (widest_margin - each.margin, each.share, each.members)
            ),
        )
    )
