"""The centre of the load on a lift: how far inside the pads it lies, where the posts are, how far it has moved."""

from math import atan2

from loadplan.checks.case import Case, Told
from loadplan.checks.pads import Pads
from loadplan.checks.phrases import eighth, length
from loadplan.checks.prop_cure import prop_words
from loadplan.model.job import LiftUse, Support
from loadplan.model.lowering import LiftAnswer
from loadplan.model.shop import EquipmentKind
from loadplan.model.verdict import CheckName, Finding, Measure, NotChecked, Sentence, Verdict
from loadplan.statics.body_figures import whole_load

WITHIN = 4.0
"""The load's centre lies this many times `margin` inside the pads, since pads slip; common practice, no source."""

MOVED = 0.100
"""From this far on [m] a load whose centre has moved needs a prop; common practice, no source."""

POSTS, MOVED_END = "posts", "heavy end"
"""Subjects of the findings that ballast does not change."""


def load_centre(case: Case, use: LiftUse, pads: Pads, carried: LiftAnswer) -> list[Told]:
    """Judge centre, posts and shift of the load on the lift.

    Args:
        case: The stage.
        use: How the job uses the lift.
        pads: Where its pads are.
        carried: What it carries.

    Returns:
        A finding each; what the job does not give is told as not checked.
    """
    return [_inside(case, use, pads, carried), _posts(use, pads), _moved(case, use, pads, carried)]


def _inside(case: Case, use: LiftUse, pads: Pads, carried: LiftAnswer) -> Finding:
    """Return how far the centre of the load lies inside the nearer end of the pads."""
    x = carried.cg[0]
    end = pads.end_of(x)
    left, asked = min(pads.front - x, x - pads.rear), WITHIN * case.job.limits.margin
    side = "inside" if left >= 0 else "beyond"
    lies: Sentence = (f"The centre of the load on {use.lift.name} lies ", length(abs(left)), f" {side} its {end} pads")
    near: Sentence = (f", so the {use.body} is heavy there (asked for: ", length(asked), ").")
    return Finding(
        check=CheckName.LIFT,
        verdict=Verdict.CAUTION if left < asked else Verdict.HOLDS,
        subject=f"{end} pads",
        value=left,
        limit=asked,
        measure=Measure.LENGTH,
        says=(*lies, *near, *_further(end, asked - left), *prop_words(case, pads, end))
        if left < asked
        else (*lies, "."),
    )


def _further(end: str, by: float) -> Sentence:
    """Return how far the pads at the heavy end would have to go: what a prop there holds it does not bring inside."""
    way = "forward" if end == "front" else "back"
    return (f" Before lifting: set the {end} pads ", length(by), f" further {way}, where the maker gives lift points.")


def _posts(use: LiftUse, pads: Pads) -> Told:
    """Return whether the posts of the lift stand between front and rear pads."""
    posts = f"the posts of {use.lift.name} stand between front and rear pads"
    if use.columns is None:
        return NotChecked((f"Whether {posts}: not checked, the job does not say where they are (columns).",))
    between = pads.rear <= use.columns <= pads.front
    cure = f"Do not lift it like this: {posts} on a vehicle that is well placed, and here they do not."
    return Finding(
        check=CheckName.LIFT,
        verdict=Verdict.HOLDS if between else Verdict.CAUTION,
        subject=POSTS,
        value=use.columns,
        limit=None,
        measure=Measure.LENGTH,
        says=(f"{posts[0].upper()}{posts[1:]}.",) if between else (cure,),
    )


def _moved(case: Case, use: LiftUse, pads: Pads, carried: LiftAnswer) -> Finding:
    """Return how far the centre has moved since everything was on, and whether a prop stands at that end."""
    _, start = whole_load(case.job)
    along, across = carried.cg[0] - start[0], carried.cg[1] - start[1]
    end = "rear" if along < 0 else "front"
    props = [each for each in case.stands if _props(case, use, each)]
    held = [each.name for each in props if (each.at[0] <= pads.rear if end == "rear" else each.at[0] >= pads.front)]
    far = carried.shift > MOVED
    moved: Sentence = (f"The centre of the load on {use.lift.name} has moved ", length(carried.shift))
    told = f" to the {eighth(atan2(across, along))} since everything was on"
    return Finding(
        check=CheckName.LIFT,
        verdict=Verdict.CAUTION if far and not held else Verdict.HOLDS,
        subject=MOVED_END,
        value=carried.shift,
        limit=MOVED,
        measure=Measure.LENGTH,
        says=(*moved, told, f", and nothing stands under its {end} end.", *prop_words(case, pads, end))
        if far and not held
        else (*moved, " since everything was on", f"; {held[0]} stands under that end." if far and held else "."),
    )


def _props(case: Case, use: LiftUse, support: Support) -> bool:
    """Return whether a support stands on the floor under what the lift holds."""
    whole = {use.body, *case.answer(use.body).rigid_with}
    on_floor = not support.on and support.equipment.kind is not EquipmentKind.HOIST
    return support.body in whole and on_floor and case.state.bears(support)
