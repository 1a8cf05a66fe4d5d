"""Timber: is the wood on a saddle pressed too hard across its grain, and is a high stack of it built crosswise.

Design values Fc⊥ from the National Design Specification for Wood Construction, Supplement, edition 2018, tables 4A
and 4B. They are set by how far the wood gives, not by its crushing, so no factor for how
long the load lasts applies to them (table 2.3.2); wet wood takes 0.67 of them (table 4A).
"""

from collections.abc import Mapping
from math import pi
from types import MappingProxyType

from loadplan.checks.case import Case, Told
from loadplan.checks.cure import move_stand
from loadplan.checks.phrases import length, share
from loadplan.limits import TAPE
from loadplan.model.job import Stack, Support
from loadplan.model.shop import Circle, EquipmentKind, Footprint, Square
from loadplan.model.verdict import CheckName, Finding, Measure, NotChecked, Quantity, Sentence, Verdict

PSI = 4.4482216152605 / 0.0254**2
"""Pound-force a square inch [Pa], exact."""

ACROSS_GRAIN: Mapping[str, float] = MappingProxyType({
    "douglas fir larch": 625 * PSI,
    "southern pine": 565 * PSI,
    "spruce pine fir": 425 * PSI,
    "hem fir": 405 * PSI,
    "red oak": 820 * PSI,
    "white oak": 800 * PSI,
    "mixed oak": 800 * PSI,
})
"""What dry wood may take across the grain, a design value [Pa], by species in small letters without hyphens."""

SOURCE = "NDS Supplement 2018"
"""Where these design values come from."""

NO_WOOD = frozenset({"rubber", "steel"})
"""What is not wood."""

HIGH = 0.100
"""Height of timber [m] from which it is built crosswise; common practice, no source."""


def check(case: Case) -> list[Told]:
    """Judge the timber on every saddle that carries something.

    Args:
        case: The stage.

    Returns:
        One finding a support whose wood, saddle and load are known, and one a high stack that is not crosswise; what
        cannot be looked at is told as not checked.
    """
    told: list[Told] = []
    for support in case.stands:
        stack = support.shim
        if stack is None or support.equipment.kind is EquipmentKind.HOIST:
            continue
        wood = _wood(case, stack)
        if wood not in NO_WOOD:
            told += [*_across_grain(case, support, wood), *_crosswise(case, support, stack)]
    return told


def _wood(case: Case, stack: Stack) -> str:
    """Return the wood as the job gives it, else that of the shop's blocks of this height where they agree."""
    if stack.wood:
        return stack.wood.lower()
    alike = {each.wood.lower() for each in case.job.shop.shims if abs(each.height - stack.height) <= TAPE}
    return alike.pop() if len(alike) == 1 else ""


def _across_grain(case: Case, support: Support, wood: str) -> list[Told]:
    """Return what a saddle presses on the timber under it, where wood and saddle are known."""
    strength = ACROSS_GRAIN.get(" ".join(wood.replace("-", " ").split()))
    if not wood:
        return _untold(support, "what wood it is, is not given")
    if strength is None:
        return _untold(support, f"what {wood} may take across the grain is not at hand")
    if support.equipment.saddle is None:
        return _untold(support, f"the shop file gives no saddle for a {support.equipment.name}")
    carried = case.load_range(support.name)
    if carried is None:
        return []
    return [_pressed(case, support, wood, (carried.high / _area(support.equipment.saddle), strength))]


def _untold(support: Support, why: str) -> list[Told]:
    return [NotChecked((f"Whether the timber on {support.name} is pressed too hard: not checked, {why}.",))]


def _pressed(case: Case, support: Support, wood: str, pressed: tuple[float, float]) -> Finding:
    """Return the verdict on a stress and a strength across the grain [Pa]."""
    stress, strength = pressed
    allowed = case.job.limits.rating_share * strength
    verdict = Verdict.STOP if stress > strength else Verdict.CAUTION if stress > allowed else Verdict.HOLDS
    asked = allowed if verdict is Verdict.CAUTION else strength
    bears: Sentence = (
        f"The timber on {support.name} is pressed with at most ",
        Quantity(stress, Measure.STRESS),
        " by the saddle, of the ",
        Quantity(strength, Measure.STRESS),
        f" that dry {wood} may take across the grain ({SOURCE})",
    )
    says = (*bears, *_spread(case, support, verdict))
    return Finding(CheckName.TIMBER, verdict, support.name, stress, asked, Measure.STRESS, says)


def _spread(case: Case, support: Support, verdict: Verdict) -> Sentence:
    """Return what follows from the stress, and what would spread the load."""
    act = (f"use a larger saddle at {support.name}, or a steel plate between saddle and timber",)
    cure = move_stand(case, support.body, support.name, act)
    match verdict:
        case Verdict.STOP:
            return (": too much for it.", *cure)
        case Verdict.CAUTION:
            room = " that is asked for; wet wood takes 0.67 of it."
            return (", above the ", share(case.job.limits.rating_share), room, *cure)
        case _:
            return (".",)


def _crosswise(case: Case, support: Support, stack: Stack) -> list[Told]:
    """Return whether timber that is stacked high lies crosswise."""
    if stack.height < HIGH:
        return []
    says: Sentence = (f"The timber on {support.name} is ", length(stack.height), " high")
    if stack.crib:
        says = (*says, " and built crosswise.")
    else:
        act = (f"build it crosswise, or use a taller stand at {support.name}",)
        cure = move_stand(case, support.body, support.name, act)
        says = (*says, " and not crosswise: it may lean over.", *cure)
    return [
        Finding(
            check=CheckName.TIMBER,
            verdict=Verdict.HOLDS if stack.crib else Verdict.CAUTION,
            subject=support.name,
            value=stack.height,
            limit=HIGH,
            measure=Measure.LENGTH,
            says=says,
        )
    ]


def _area(saddle: Footprint) -> float:
    """Return the area of a saddle [m²]."""
    match saddle:
        case Square():
            return saddle.along_x * saddle.along_y
        case Circle():
            return pi * saddle.diameter**2 / 4
