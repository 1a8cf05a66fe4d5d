"""Laid on: how much weight, leant or laid on at the worst corner of a unit, takes it over."""

from math import atan2

from loadplan.checks.case import Case, Told
from loadplan.checks.cure import Way, steady
from loadplan.checks.phrases import eighth, force, low_side, names, turning_about
from loadplan.model.disturbance import LaidOn
from loadplan.model.vehicle import PlanPoint
from loadplan.model.verdict import CheckName, Finding, Measure, NotChecked, Sentence, Verdict
from loadplan.statics.outline_corners import outline_corners

TWICE = 2.0
"""Times the weight laid on that is asked for without a caution; common practice, no source."""


def check(case: Case) -> list[Told]:
    """Judge the least weight that, laid on at a corner of what is on it, takes a rigid whole's group over.

    Args:
        case: The stage.

    Returns:
        One finding a rigid whole of a balanced group, or that its outline is not known.
    """
    return [
        _finding(case, laid) if laid.known else _unknown(case, laid)
        for group in case.statics.groups
        for laid in group.laid_on
    ]


def _unknown(case: Case, laid: LaidOn) -> NotChecked:
    """Return that nobody knows where a weight could be laid on."""
    whole = names(case.whole(laid.body))
    return NotChecked((f"What weight laid on a corner of the {whole} tips it: not checked, its outline is not given.",))


def _finding(case: Case, laid: LaidOn) -> Finding:
    """Return whether a rigid whole stands a weight at its worst corner."""
    verdict, limit = _judged(laid.weight, case.job.limits.laid_on)
    return Finding(
        check=CheckName.LAID_ON,
        verdict=verdict,
        subject=", ".join(case.whole(laid.body)),
        value=laid.weight,
        limit=limit,
        measure=Measure.FORCE,
        says=_says(case, laid, verdict),
    )


def _judged(weight: float | None, asked: float) -> tuple[Verdict, float]:
    """Return the verdict, and the limit that it was held against [N]."""
    if weight is not None and weight < asked:
        return Verdict.STOP, asked
    return (Verdict.CAUTION if weight is not None and weight < TWICE * asked else Verdict.HOLDS), TWICE * asked


def _says(case: Case, laid: LaidOn, verdict: Verdict) -> Sentence:
    """Return which weight on which corner tips it, and what would help where that is little."""
    if laid.weight is None or laid.at is None:
        return (f"No weight laid on a corner of the {names(case.whole(laid.body))} tips it.",)
    corner, side = _corner(case, laid.body, laid.at), _side_that_goes(case, laid)
    over = f"tips it{f' to the {side}' if side else ''}, {turning_about(laid.about)}"
    tips: Sentence = (
        "Leaning with ",
        *force(laid.weight),
        f" on the {corner} corner of the {laid.body}, or laying that on it, {over}",
    )
    way = Way(tuple(case.whole(laid.body)), laid.about, side or corner)
    asked, cure = case.job.limits.laid_on, steady(case, way)
    match verdict:
        case Verdict.STOP:
            return (*tips, ": less than ", *force(asked), ".", *cure)
        case Verdict.CAUTION:
            less: Sentence = (*tips, ": less than twice ", *force(asked), ". Lean on nothing, lay nothing on it.")
            return (*less, *cure)
        case _:
            return (*tips, ".")


def _side_that_goes(case: Case, laid: LaidOn) -> str:
    """Return the side that goes down, as it is told of the margin about the same places; "" where that is not known.

    The corner on which a weight hurts most need not lie on that side: on a long edge it lies at one end of it.
    """
    ways = (mode for mode in case.group(laid.body).modes if set(mode.about) == set(laid.about))
    motions = (dict(mode.motions).get(laid.body) for mode in ways)
    return next((low_side(motion) for motion in motions if motion is not None), "")


def _corner(case: Case, body: str, at: PlanPoint) -> str:
    """Return the side on which a corner lies, seen from the middle of a body with what is on it."""
    places = [place for _, place in outline_corners(case.job, case.state, (body,))]
    x, y = ((min(axis) + max(axis)) / 2 for axis in zip(*places, strict=True))
    return eighth(atan2(at[1] - y, at[0] - x))
