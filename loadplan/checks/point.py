"""Point: does each place on the vehicle bear what presses on it."""

from loadplan.checks.case import Case, Told
from loadplan.checks.cure import move_stand
from loadplan.checks.words import load
from loadplan.model.job import Support
from loadplan.model.verdict import Finding, Measure, Sentence, Verdict


def check(case: Case) -> list[Told]:
    """Judge the load on each place that a support or an arm bears on.

    Args:
        case: The stage.

    Returns:
        One finding a support: a note where its place has no limit, none where its load is not known.
    """
    found: list[Told] = []
    for support in case.state.supports:
        carried = case.load(support.name)
        if support.limit is None:
            found.append(_unknown(support))
        elif carried is not None:
            found.append(_finding(case, support, carried.high, support.limit))
    return found


def _unknown(support: Support) -> Finding:
    return Finding(
        check="point",
        verdict=Verdict.NOTE,
        subject=support.name,
        value=None,
        limit=None,
        measure=Measure.LOAD,
        says=(f"What {_place(support)} may take is not given, so the load on it is not checked.",),
    )


def _finding(case: Case, support: Support, high: float, limit: float) -> Finding:
    presses: Sentence = (f"{_place(support)} takes at most ", load(high), " of the ", load(limit), " that it may take")
    over = high > limit
    return Finding(
        check="point",
        verdict=Verdict.STOP if over else Verdict.HOLDS,
        subject=support.name,
        value=high,
        limit=limit,
        measure=Measure.LOAD,
        says=(*presses, ": too much.", *_cure(case, support)) if over else (*presses, "."),
    )


def _place(support: Support) -> str:
    return f"{support.point} ({support.name})" if support.point not in {"", support.name} else _bare(support)


def _bare(support: Support) -> str:
    return support.name if support.point else f"the place at {support.name}"


def _cure(case: Case, support: Support) -> Sentence:
    if support.is_arm:
        return (" Before lifting: set that pad on a stronger place.",)
    act = (f"move {support.name} to a stronger place, or set one more beside it",)
    return move_stand(case, support.body, support.name, act)
