"""Drop: how far a unit that is free comes down from one step to the next, and what to raise before."""

from loadplan.checks.case import Case, Told
from loadplan.checks.cure import move_stand
from loadplan.checks.phrases import length, listed, names, several
from loadplan.checks.resetting import raise_cures
from loadplan.model.step_change import Drop, Raising
from loadplan.model.verdict import CheckName, Finding, Measure, Sentence, Verdict
from loadplan.statics.settlement import FAR


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
        cures=raise_cures(case, raises) if verdict > Verdict.HOLDS and (raises := _raises(case, drop)) else (),
    )


def _says(case: Case, drop: Drop, verdict: Verdict) -> Sentence:
    if drop.fall <= 0:
        return (f"Nothing of the {drop.body} sinks.",)
    sinks: Sentence = (f"The {drop.body} drops by ", length(drop.fall), f" at {drop.place}")
    if verdict is Verdict.HOLDS:
        return (*sinks, " at most.")
    return (*sinks, ", all at once.", *_raised(case, drop))


def _raises(case: Case, drop: Drop) -> tuple[Raising, ...]:
    cures = {each.body: each.raises for each in case.statics.change.drop_cures}
    return cures.get(drop.body, ())


def _raised(case: Case, drop: Drop) -> Sentence:
    """Return which stands to raise before, and by how much, so that it does not drop: what was tried and held."""
    raises = _raises(case, drop)
    if not raises:
        return (" Hold it by a jack or hoist while it comes free.",)
    which = [each.support for each in raises]
    if len({each.by for each in raises}) == 1:
        each_one = several(which, "", " each")
        return move_stand(case, drop.body, names(which), (f"raise {names(which)} by ", length(raises[0].by), each_one))
    acts = [(f"{each.support} by ", length(each.by)) for each in raises]
    return move_stand(case, drop.body, names(which), ("raise ", *listed(acts, ", ")))
