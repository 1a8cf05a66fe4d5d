"""What is wrong with a layout that nearly fits: where it stops first, and where one more place would help."""

from dataclasses import dataclass

from loadplan.assess import assess_in_short
from loadplan.checks.one_more import OneMore, one_more
from loadplan.model.verdict import Finding, StageAssessment, Verdict
from loadplan.planning.placement.largest_margin import Layout
from loadplan.planning.placement.layout_space import Space


@dataclass(frozen=True, slots=True)
class NearMiss:
    """A layout that does not fit, and why.

    Attributes:
        layout: The layout.
        stage: The first stage that stops; of a layout that only carries too much the first planned one.
        finding: The finding that is told first there; None where nothing stops, and a share of a rating is too large.
        more: Where one more place would help in that stage, a body each; empty where every body stands well.
    """

    layout: Layout
    stage: StageAssessment
    finding: Finding | None
    more: tuple[OneMore, ...]


def near_miss(layout: Layout, space: Space) -> NearMiss:
    """Say what is wrong with a layout.

    Args:
        layout: The layout.
        space: The job without it.

    Returns:
        Its first stop, and where one more place would help then.
    """
    stages = assess_in_short(layout.job).stages[space.first :]
    stops = [(stage, each) for stage in stages for each in stage.findings if each.verdict is Verdict.STOP]
    stage, finding = stops[0] if stops else (stages[max(space.start - space.first, 0)], None)
    return NearMiss(layout, stage, finding, one_more(layout.job, stage.state, stage.statics))
