"""Drop: how far a unit that is free comes down from one step to the next, and what to raise before."""

from math import ceil, hypot

from loadplan.checks.case import Case, Told
from loadplan.checks.cure import move_stand
from loadplan.checks.phrases import length
from loadplan.model.job import Support
from loadplan.model.step_change import Drop
from loadplan.model.verdict import CheckName, Finding, Measure, Sentence, Verdict
from loadplan.statics.settlement import FAR

MILLIMETRE = 1e-3
"""What a stand is raised by is told to [m]."""

HAIR = 1e-6
"""Part of a millimetre that is rounding."""


def check(case: Case) -> list[Told]:
    """Judge how far the places of each body that does not hang on the lift sink from the step before.

    Args:
        case: The stage.

    Returns:
        One finding a body, of its place that sinks furthest.
    """
    furthest: dict[str, Drop] = {}
    for each in case.statics.change.drops:
        if each.body not in furthest or each.fall > furthest[each.body].fall:
            furthest[each.body] = each
    return [_finding(case, each) for each in furthest.values()]


def _finding(case: Case, drop: Drop) -> Finding:
    """Return whether a body comes down gently enough."""
    limit = case.job.limits.drop
    verdict = Verdict.CAUTION if drop.fall > limit else Verdict.HOLDS
    if drop.fall > FAR * limit:
        verdict = Verdict.STOP
    return Finding(
        check=CheckName.DROP,
        verdict=verdict,
        subject=drop.place,
        value=drop.fall,
        limit=FAR * limit if verdict is Verdict.STOP else limit,
        measure=Measure.LENGTH,
        says=_says(case, drop, verdict),
    )


def _says(case: Case, drop: Drop, verdict: Verdict) -> Sentence:
    if drop.fall <= 0:
        return (f"Nothing of the {drop.body} sinks.",)
    sinks: Sentence = (f"The {drop.body} drops by ", length(drop.fall), f" at {drop.place}")
    if verdict is Verdict.HOLDS:
        return (*sinks, " at most.")
    return (*sinks, ", all at once.", *_raised(case, drop))


def _raised(case: Case, drop: Drop) -> Sentence:
    """Return which stand to raise before, and by how much: the one at the place that drops, or the nearest to it."""
    own = [each for each in case.stands if each.body == drop.body]
    if not own:
        return (" Hold it by a jack or hoist while it comes free.",)
    stand = min(own, key=lambda each: _away(case, drop.place, each))
    falls = {each.place: each.fall for each in case.statics.change.drops}
    by = ceil(falls.get(stand.name, drop.fall) / MILLIMETRE - HAIR) * MILLIMETRE
    if by <= 0:
        return move_stand(
            case, drop.body, "the stands", (f"set one more stand under the {drop.body} near {drop.place}",)
        )
    return move_stand(case, drop.body, stand.name, (f"raise {stand.name} by ", length(by)))


def _away(case: Case, place: str, stand: Support) -> float:
    """Return how far a stand is from the place that drops [m]."""
    if stand.name == place:
        return 0.0
    spots = [each.at for each in case.state.supports if each.name == place]
    spots += [each for joint in case.job.vehicle.joints if joint.name == place for each in joint.at]
    return min((hypot(stand.at[0] - each[0], stand.at[1] - each[1]) for each in spots), default=0.0)
