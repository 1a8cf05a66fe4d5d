"""Snag: how little a hose or strap left on has to pull before a free unit tips."""

from loadplan.checks.case import Case, Told
from loadplan.checks.phrases import length, load
from loadplan.model.answer import GroupAnswer
from loadplan.model.disturbance import Snag
from loadplan.model.verdict import CheckName, Finding, Measure, Sentence, Verdict
from loadplan.statics.snag_pull import LITTLE

FIRST_LIFT = 0.05
"""How far a vehicle is raised before all is looked at once more [m]; common practice, no source."""


def check(case: Case) -> list[Told]:
    """Judge the least upward pull at each undone joint of a free group.

    Args:
        case: The stage.

    Returns:
        One finding an undone joint: a note for the least one, a caution where that is little.
    """
    return [
        _finding(group, snag)
        for group in case.statics.groups
        if group.balanced and not case.holds_lift(group)
        for snag in group.snags
    ]


def _finding(group: GroupAnswer, snag: Snag) -> Finding:
    """Return how hard a joint that was left on has to pull before a group goes over."""
    return Finding(
        check=CheckName.SNAG,
        verdict=_verdict(group, snag),
        subject=snag.joint,
        value=snag.pull,
        limit=LITTLE,
        measure=Measure.LOAD,
        says=_says(snag),
    )


def _verdict(group: GroupAnswer, snag: Snag) -> Verdict:
    if snag.pull is None:
        return Verdict.HOLDS
    if snag.pull < LITTLE:
        return Verdict.CAUTION
    least = min((each for each in group.snags if each.pull is not None), key=lambda each: each.pull or 0.0)
    return Verdict.NOTE if snag is least else Verdict.HOLDS


def _says(snag: Snag) -> Sentence:
    """Return how hard a hose would have to pull, and where to look first where that is little."""
    if snag.pull is None:
        return (f"No upward pull at {snag.joint} tips the {snag.body}.",)
    pulls: Sentence = (f"A hose left on at {snag.joint} tips the {snag.body} when it pulls up with ", load(snag.pull))
    if snag.pull < LITTLE:
        return (
            *pulls,
            ", which is little. Before raising: look at all that crosses there, and again ",
            length(FIRST_LIFT),
            " up.",
        )
    return (*pulls, ".")
