"""Height: can each stand be set to the height that the job asks for."""

from loadplan.checks.case import Case, Told
from loadplan.checks.phrases import length
from loadplan.checks.reach import reaches
from loadplan.limits import TAPE
from loadplan.model.job import Support
from loadplan.model.plan_cure import StandsRaised
from loadplan.model.shop import EquipmentKind, Heights
from loadplan.model.step_change import Raising
from loadplan.model.verdict import CheckName, Finding, Measure, NotChecked, Sentence, Verdict


def check(case: Case) -> list[Told]:
    """Judge each height, set or brought up to touch, against what its equipment can be set to.

    Args:
        case: The stage.

    Returns:
        One finding a support whose height is known; what has no heights to look at is told as not checked.
    """
    touching = [each for each in case.stands if each.height is None and each.equipment.kind is not EquipmentKind.HOIST]
    brought_up = dict.fromkeys(reaches(case, each) for each in touching)
    return [_told(each, each.height) for each in case.stands if each.height is not None] + list(brought_up)


def _told(support: Support, height: float) -> Told:
    """Return whether equipment can be set to a height, inside what a tape shows."""
    heights = support.equipment.heights
    if heights is None:
        why = "not checked, the shop file gives no heights"
        return NotChecked((f"Whether a {support.equipment.name} can be set to its height: {why}.",))
    nearest = heights.nearest(height)
    fits = abs(height - nearest) <= TAPE
    return Finding(
        check=CheckName.HEIGHT,
        verdict=Verdict.HOLDS if fits else Verdict.STOP,
        subject=support.name,
        value=height,
        limit=nearest,
        measure=Measure.LENGTH,
        says=(f"{support.name} can be set to ", length(height), ".") if fits else _says(support, heights, height),
        # As high as planned, by the settings that it has and a shim.
        cures=() if fits else (StandsRaised((Raising(support.name, 0.0),)),),
    )


def _says(support: Support, heights: Heights, height: float) -> Sentence:
    """Return where a stand that cannot be set to a height stops, and what would help."""
    kind = support.equipment.name
    told: Sentence = (f"{support.name} cannot be set to ", length(height), f": a {kind} ")
    below = max((each for each in heights.settings if each < height), default=None)
    above = min((each for each in heights.settings if each > height), default=None)
    if below is None or above is None:
        reach: Sentence = ("goes from ", length(heights.lowest), " to ", length(heights.highest), ".")
        return (*told, *reach, " Plan another stand there.")
    rest: Sentence = (" Plan it at ", length(below), " with a shim for the other ", length(height - below), ".")
    return (*told, "stops at ", length(below), " and ", length(above), ".", *rest)
