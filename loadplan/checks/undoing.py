"""Undoing: joints come off one at a time, so every state in between has to stand."""

from loadplan.checks.case import Case, Told
from loadplan.checks.phrases import few, length, names, several, share
from loadplan.model.step_change import Halfway, Severity, Trouble, Undoing
from loadplan.model.verdict import CheckName, Finding, Measure, NotChecked, Sentence, Verdict
from loadplan.statics.settlement import FAR


def check(case: Case) -> list[Told]:
    """Judge the states between the joints of a stage that come off one after the other.

    Args:
        case: The stage.

    Returns:
        One finding where a stage undoes more than one joint; not checked where there is too much to look at.
    """
    undoing = case.statics.change.undoing
    if undoing is None:
        return _unjudged(case)
    worst = undoing.worst
    return [
        Finding(
            check=CheckName.UNDOING,
            verdict=_verdict(undoing),
            subject=", ".join(undoing.order),
            value=worst.value,
            limit=_limit(case, worst),
            measure=Measure.SHARE if worst.trouble in {Trouble.RATING, Trouble.BOUND} else Measure.LENGTH,
            says=_says(undoing),
        )
    ]


def _unjudged(case: Case) -> list[Told]:
    loose = {each.name for each in case.state.undone}
    tight = {each.name for each in case.before.done_up} if case.before else loose
    off = [name for name in case.state.stage.undone if name in loose & tight]
    if len(off) < 2:
        return []
    why = "the states in between are too many to look at, or cannot be computed"
    return [NotChecked((f"{case.state.name}: the order in which {few(off)} come off is not checked: {why}.",))]


def _verdict(undoing: Undoing) -> Verdict:
    match undoing.worst.severity:
        case Severity.OVER:
            return Verdict.STOP
        case Severity.NEAR:
            return Verdict.CAUTION
        case Severity.FINE:
            return Verdict.HOLDS if undoing.alike or undoing.listed else Verdict.NOTE


def _limit(case: Case, worst: Halfway) -> float | None:
    """Return what the worst on the way was held against; None where it is no number that decides."""
    over = worst.severity is Severity.OVER
    match worst.trouble:
        case Trouble.RATING:
            return 1.0 if over else case.job.limits.rating_share
        case Trouble.BOUND:
            return 1.0
        case Trouble.DROP:
            return case.job.limits.drop * (FAR if over else 1)
        case _:
            return None


def _says(undoing: Undoing) -> Sentence:
    """Return the order, what is wrong on its way, and what would help."""
    worst = undoing.worst
    if worst.severity is Severity.FINE:
        if undoing.alike:
            return (f"{few(undoing.order)} may come off in any order.",)
        return (f"Undo {_then(undoing.order)}: not every order holds.",)
    if undoing.listed:
        start = f"Undone as listed, {_then(undoing.order)}: "
        return (start, *_happens(worst), " Another order may hold: leave out undone_in_order to see.")
    if worst.severity is Severity.OVER:
        return ("In no order may they come off one by one: ", *_happens(worst), _help(worst))
    order = "" if undoing.alike else f" Undo {_then(undoing.order)}, that is the mildest order."
    return (*_happens(worst, begins=True), order, _help(worst))


def _then(order: tuple[str, ...]) -> str:
    return ", then ".join(order)


def _happens(worst: Halfway, *, begins: bool = False) -> Sentence:
    """Return what happens on the way, to follow a colon or to begin a sentence."""
    once = f"{'With' if begins else 'with'} only {few(worst.undone)} off "
    it = names(worst.subjects)
    match worst.trouble:
        case Trouble.BALANCE:
            goes, its = several(worst.subjects, "goes", "go"), several(worst.subjects, "its", "their")
            return (f"{once}the {it} {goes} over, or may inside the tolerance of {its} weights.",)
        case Trouble.RATING:
            return (f"{once}{it} carries up to ", share(worst.value or 0.0), " of its rating.")
        case Trouble.BOUND if worst.value is None:
            return (f"{once}nothing limits what {it} could carry on another floor.",)
        case Trouble.BOUND:
            return (f"{once}{it} could on another floor carry ", share(worst.value or 0.0), " of its rating.")
        case Trouble.DROP | Trouble.NONE:
            return (f"{once}it drops by ", length(worst.value or 0.0), f" at {it}.")


def _help(worst: Halfway) -> str:
    if worst.trouble is Trouble.DROP:
        return " Bring the stand there up before the first comes off, or hold it by a jack."
    return " Hold it by a jack or hoist while they come off, or set one more stand before."
