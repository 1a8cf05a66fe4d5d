"""Point: does each place on the vehicle bear what presses on it."""

from loadplan.checks.case import Case, Told
from loadplan.checks.cure import move_stand
from loadplan.checks.phrases import AT_EDGE, WEIGH, load, names
from loadplan.model.job import Support
from loadplan.model.verdict import CheckName, Finding, Measure, Sentence, Verdict


def check(case: Case) -> list[Told]:
    """Judge the load on each place that a support or an arm bears on.

    Args:
        case: The stage.

    Returns:
        One finding a support: a note where its place has no limit, none where its load is not known. What several
        press on one point is added up.
    """
    found: list[Told] = []
    for support in case.state.supports:
        if support.limit is None:
            found.append(_unknown(support))
        elif case.load(support.name) is not None:
            others = [each for each in case.state.supports if each.point and each.point == support.point]
            together = [support, *(each for each in others if each.name != support.name)]
            loads = [carried for each in together if (carried := case.load(each.name)) is not None]
            high, edge = sum(each.at_most for each in loads), sum(each.at_edge for each in loads)
            found.append(_finding(case, together, (high, edge), support.limit))
    return found


def _unknown(support: Support) -> Finding:
    """Return a note that what a point may take is not given."""
    return Finding(
        check=CheckName.POINT,
        verdict=Verdict.NOTE,
        subject=support.name,
        value=None,
        limit=None,
        measure=Measure.LOAD,
        says=(f"What {_place([support])} may take is not given, so the load on it is not checked.",),
    )


def _finding(case: Case, together: list[Support], most: tuple[float, float], limit: float) -> Finding:
    """Return whether what presses on a point is no more than it may take, with the weights anywhere in tolerance."""
    support, (high, edge) = together[0], most
    verdict = Verdict.STOP if high > limit else Verdict.CAUTION if edge > limit else Verdict.HOLDS
    told, where = (edge, AT_EDGE) if verdict is Verdict.CAUTION else (high, "")
    presses: Sentence = (
        f"{_place(together)} takes at most ",
        load(told),
        f"{where} of the ",
        load(limit),
        " that it may take",
    )
    says: dict[Verdict, Sentence] = {
        Verdict.STOP: (*presses, ": too much.", *_cure(case, support)),
        Verdict.CAUTION: (*presses, f": too much. {WEIGH}", *_cure(case, support)),
    }
    return Finding(
        check=CheckName.POINT,
        verdict=verdict,
        subject=support.name,
        value=high,
        limit=limit,
        measure=Measure.LOAD,
        says=says.get(verdict, (*presses, ".")),
    )


def _place(together: list[Support]) -> str:
    point, own = together[0].point, [each.name for each in together]
    if not point:
        return f"the place at {own[0]}"
    return point if own == [point] else f"{point} ({names(own)})"


def _cure(case: Case, support: Support) -> Sentence:
    if support.is_arm:
        return (" Before lifting: set that pad on a stronger place.",)
    act = (f"move {support.name} to a stronger place, or set one more beside it",)
    return move_stand(case, support.body, support.name, act)
