"""Mending: the fewest changes to the stands after which nothing stops, then nothing cautions.

The idea. Every single change is looked at, in passing first: a glance is never worse than the whole of `check`, so
what it finds troubled is set aside unjudged, and no answer is lost. Where no single change does, all pairs of those
that help are looked at in the same way, then pairs of one that helps with any other. As all singles were judged before,
a pair that does is as few as can be. Three and four are only built on the best of the pairs, and told as not proven.
Stands set out of line with the others help only together: those that bring all of them back are looked at first.
There are finitely many changes and each set is looked at once, so it ends; a count of looks bounds the time.
"""

from collections.abc import Callable
from dataclasses import replace
from itertools import chain, combinations, product

from loadplan.model.job import Job
from loadplan.model.verdict import Verdict
from loadplan.planning.mending.candidate_changes import candidates
from loadplan.planning.mending.change_search import KEPT, ChangeSearch, LooksTaken, TriedChanges, apart, made
from loadplan.planning.mending.equipment_shortage import equipment_shortage
from loadplan.planning.mending.judged_plan import JudgedPlan, judged
from loadplan.planning.mending.level_changes import back_in_line
from loadplan.planning.mending.mending_answer import LeftOver, Mending

MOST_CHANGES = 4
"""Changes that are made at most: a plan that wants more is planned anew."""


CALM_SHARE = 0.25
"""Share of the looks that go to cautions once stops had to be mended: somebody waits, and may go on from there."""


def _unheard() -> None:
    """Take what nobody waits for."""


def mend(
    job: Job, first: int, tell: Callable[[int, int], None], nothing_stops: Callable[[], None] = _unheard
) -> Mending:
    """Find the fewest changes to the stands after which nothing stops, then nothing cautions.

    Args:
        job: The plan.
        first: Number of the first step that is not done yet, from 0: what stands before it stays as it stands.
        tell: Called with how many plans were looked at, and how many there are as far as is known.
        nothing_stops: Called once changes are found after which nothing stops, before cautions are looked at.

    Returns:
        The changes and the plan with them. An interrupt ends the search with the best so far.
    """
    start = judged(job, first, Verdict.STOP)
    ledger = LooksTaken(tell)
    short = equipment_shortage(job, first)
    if short:
        # Nobody waits for a search that cannot end well.
        return replace(_mending(TriedChanges((), start, ()), start, (0, True, False), ledger), short=short)
    answer, proven, interrupted = TriedChanges((), start, ()), True, False
    try:
        if start.verdict is Verdict.STOP:
            found = _fewest(start, first, Verdict.STOP, MOST_CHANGES, ledger)
            if found is None:
                return _mending(answer, start, (0, False, False), ledger)
            answer, proven, ledger.best = found, len(found.done) <= 2, None
            ledger.share = CALM_SHARE
            nothing_stops()
        calm = judged(answer.plan.job, first, Verdict.CAUTION)
        if calm.troubles and len(answer.done) < MOST_CHANGES:
            more = _fewest(calm, first, Verdict.CAUTION, MOST_CHANGES - len(answer.done), ledger)
            if more is None:
                # That nothing better was found does not prove that there is nothing.
                proven = proven and bool(answer.done)
            else:
                proven = not answer.done and len(more.done) <= 2 and not more.plan.troubles
                answer = _after(answer, more)
                answer = without_idle(answer, job, first)
    except KeyboardInterrupt:
        proven, interrupted = False, True
        answer = answer if ledger.best is None else _after(answer, ledger.best)
    return _mending(answer, start, (_enough(answer, job, first), proven, interrupted), ledger)


def _enough(answer: TriedChanges, job: Job, first: int) -> int:
    """Return how many changes, from the first on, are enough that nothing stops."""
    for count in range(len(answer.changes)):
        changed = made(job, answer.changes[:count])
        if changed is not None and judged(changed[0], first, Verdict.STOP).verdict < Verdict.STOP:
            return count
    return len(answer.changes)


def without_idle(answer: TriedChanges, job: Job, first: int) -> TriedChanges:
    """Leave out of an answer what a later change has made idle: without it nothing more is troubled, nothing worse.

    Args:
        answer: Changes, and the plan with them.
        job: The plan before them.
        first: Number of the first step that is not done yet, from 0.

    Returns:
        The answer with the changes that it needs.
    """
    for each in answer.changes:
        fewer = tuple(other for other in answer.changes if other is not each)
        changed = made(job, fewer)
        if changed is not None:
            tried = TriedChanges(fewer, judged(changed[0], first, Verdict.CAUTION), changed[1])
            if tried.plan.troubles <= answer.plan.troubles and tried.plan.verdict <= answer.plan.verdict:
                return without_idle(tried, job, first)
    return answer


def _after(first: TriedChanges, more: TriedChanges) -> TriedChanges:
    """Return changes made after others."""
    return TriedChanges(first.changes + more.changes, more.plan, first.done + more.done)


def _fewest(start: JudgedPlan, first: int, least: Verdict, most: int, ledger: LooksTaken) -> TriedChanges | None:
    """Return the fewest changes after which no finding is as bad as that; None where so many do not do it.

    Of cautions some may be left: what can be mended is.

    Args:
        start: The plan, judged for that.
        first: Number of the first step that is not done yet.
        least: As bad as this may no finding be.
        most: Changes at most.
        ledger: What was looked at.
    """
    search = ChangeSearch(start, first, least, ledger)
    singles = search.singles(candidates(start, first))
    answer = search.best_of(singles)
    if answer or most < 2:
        return answer if answer or least is Verdict.STOP else search.in_part(singles, most)
    helping = search.helping(singles)
    in_line = back_in_line(start.job, singles)
    of_two = [each for each in in_line if len(each) == 2]
    two = ((*one.changes, *other.changes) for one, other in combinations(helping, 2))
    pairs = search.several(apart(chain(of_two, two)))
    answer = search.best_of(pairs)
    if answer:
        return answer
    known = {each.changes for each in helping}
    rest = [each for each in singles if each.changes not in known]
    mixed = search.several(apart((*one.changes, *other.changes) for one, other in product(helping, rest)), pairs)
    answer = search.best_of(mixed)
    front = sorted((*pairs, *mixed), key=lambda each: each.rank)[:KEPT]
    for count in range(3, most + 1):
        if answer:
            break
        more = ((*one.changes, *other.changes) for one, other in product(front, helping))
        longer = search.several(apart(chain((each for each in in_line if len(each) == count), more)))
        answer = search.best_of(longer)
        front = sorted(longer, key=lambda each: each.rank)[:KEPT]
    return answer if answer or least is Verdict.STOP else search.in_part(helping, most)


def _mending(answer: TriedChanges, start: JudgedPlan, how: tuple[int, bool, bool], ledger: LooksTaken) -> Mending:
    """Return the answer as it is told."""
    enough, proven, interrupted = how
    plan = answer.plan
    cell = any(each.at_cell for each in answer.changes)
    return Mending(
        job=plan.job,
        changes=answer.done,
        enough=enough,
        before=start.verdict,
        verdict=max(plan.verdict, Verdict.CAUTION) if cell else plan.verdict,
        proven=proven and not ledger.cut,
        margin=plan.margin,
        left=_left(plan),
        looked_at=ledger.looks,
        interrupted=interrupted,
        ran_out=ledger.ran_out,
    )


def _left(plan: JudgedPlan) -> tuple[LeftOver, ...]:
    """Return what still stops or cautions, stops first."""
    found = [LeftOver(stage.state.name, each) for stage in plan.stages for each in stage.findings]
    worse = [each for each in found if each.finding.verdict >= Verdict.CAUTION]
    return tuple(sorted(worse, key=lambda each: -each.finding.verdict))
