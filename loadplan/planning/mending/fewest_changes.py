"""Mending: the fewest changes to the stands after which nothing stops, then nothing cautions.

The idea. Every single change is looked at, in passing first: a glance is never worse than the whole of `check`, so
what it finds troubled is set aside unjudged, and no answer is lost. Where no single change does, all pairs of those
that help are looked at in the same way, then pairs of one that helps with any other. As all singles were judged before,
a pair that does is as few as can be. Three and four are only built on the best of the pairs, and told as not proven.
There are finitely many changes and each set is looked at once, so it ends; a count of looks bounds the time.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import combinations, product
from math import isfinite

from loadplan.checks.check_table import CHECK_OF
from loadplan.model.job import Job
from loadplan.model.verdict import Verdict
from loadplan.planning.mending.candidate_changes import candidates
from loadplan.planning.mending.equipment_shortage import equipment_shortage
from loadplan.planning.mending.judged_plan import (
    JudgedPlan,
    PlanTrouble,
    glanced,
    judged,
    on_paper,
)
from loadplan.planning.mending.mending_answer import DoneChange, LeftOver, Mending
from loadplan.planning.mending.plan_change import PlanChange

MOST_CHANGES = 4
"""Changes that are made at most: a plan that wants more is planned anew."""

MOST_LOOKS = 3000
"""Plans that are looked at in passing at most, for one of the two goals."""

MOST_WORK = 27_000
"""Plans times the square of their steps at most: a plan of many steps has as many more stands and joints, too."""

FULL_LOOKS = 4
"""One in so many plans may be judged in full: that takes several times as long."""

LEAST_LOOKS = 200
"""Plans that are looked at however many steps they have."""

KEPT = 6
"""Pairs on which a third and a fourth change are built."""

TIE = 5e-5
"""Margins within 0.05 mm count as equal [m]."""


@dataclass(frozen=True, slots=True)
class _Tried:
    """A plan with changes made.

    Attributes:
        changes: The changes.
        plan: The plan with them, judged, or looked at in passing.
        done: What was done, as it is told.
    """

    changes: tuple[PlanChange, ...]
    plan: JudgedPlan
    done: tuple[DoneChange, ...]

    @property
    def rank(self) -> tuple[int, int, int, float]:
        """What orders plans: the milder verdict, fewer troubles, no stand at a place that is no point, more margin."""
        cells = sum(each.at_cell for each in self.changes)
        verdict = max(self.plan.verdict, Verdict.CAUTION) if cells else self.plan.verdict
        margin = self.plan.margin
        told = round(margin / TIE) * TIE if isfinite(margin) else margin
        return (int(verdict), len(self.plan.troubles), cells, -told)


@dataclass(slots=True)
class _LooksTaken:
    """What a search has looked at, and the best that it has found.

    Attributes:
        tell: Called with how many plans were looked at, and how many there are to look at as far as is known.
        looks: Plans looked at.
        goal_looks: The same for the goal at hand.
        planned: Plans that are to be looked at as far as is known.
        best: The best answer so far.
        cut: Whether something was left out that might have been an answer.
    """

    tell: Callable[[int, int], None]
    looks: int = 0
    goal_looks: int = 0
    planned: int = 0
    best: _Tried | None = None
    cut: bool = False


def mend(job: Job, first: int, tell: Callable[[int, int], None]) -> Mending:
    """Find the fewest changes to the stands after which nothing stops, then nothing cautions.

    Args:
        job: The plan.
        first: Number of the first step that is not done yet, from 0: what stands before it stays as it stands.
        tell: Called with how many plans were looked at, and how many there are as far as is known.

    Returns:
        The changes and the plan with them. An interrupt ends the search with the best so far.
    """
    start = judged(job, first, Verdict.STOP)
    ledger = _LooksTaken(tell)
    short = equipment_shortage(job, first)
    if short:
        # Nobody waits for a search that cannot end well.
        return replace(_mending(_Tried((), start, ()), start, (0, True, False), ledger), short=short)
    answer, proven, interrupted = _Tried((), start, ()), True, False
    try:
        if start.verdict is Verdict.STOP:
            found = _fewest(start, first, Verdict.STOP, MOST_CHANGES, ledger)
            if found is None:
                return _mending(answer, start, (0, False, False), ledger)
            answer, proven, ledger.best = found, len(found.done) <= 2, None
        calm = judged(answer.plan.job, first, Verdict.CAUTION)
        if calm.troubles and len(answer.done) < MOST_CHANGES:
            more = _fewest(calm, first, Verdict.CAUTION, MOST_CHANGES - len(answer.done), ledger)
            if more is None:
                # That nothing better was found does not prove that there is nothing.
                proven = proven and bool(answer.done)
            else:
                proven = not answer.done and len(more.done) <= 2 and not more.plan.troubles
                answer = _after(answer, more)
                answer = answer if more.plan.troubles else _without_idle(answer, job, first)
    except KeyboardInterrupt:
        proven, interrupted = False, True
        answer = answer if ledger.best is None else _after(answer, ledger.best)
    return _mending(answer, start, (_enough(answer, job, first), proven, interrupted), ledger)


def _enough(answer: _Tried, job: Job, first: int) -> int:
    """Return how many changes, from the first on, are enough that nothing stops."""
    for count in range(len(answer.changes)):
        made = _made(job, answer.changes[:count])
        if made is not None and judged(made[0], first, Verdict.STOP).verdict < Verdict.STOP:
            return count
    return len(answer.changes)


def _without_idle(answer: _Tried, job: Job, first: int) -> _Tried:
    """Return an answer without a change that what came after it has made idle."""
    for each in answer.changes:
        fewer = tuple(other for other in answer.changes if other is not each)
        made = _made(job, fewer)
        if made is not None:
            tried = _Tried(fewer, judged(made[0], first, Verdict.CAUTION), made[1])
            if not tried.plan.troubles:
                return _without_idle(tried, job, first)
    return answer


def _made(job: Job, changes: tuple[PlanChange, ...]) -> tuple[Job, tuple[DoneChange, ...]] | None:
    """Return a plan with changes made one after the other, and what was done; None where one cannot be made."""
    done = []
    for each in changes:
        made = each.make(job)
        if made is None:
            return None
        job = made.job
        done.append(DoneChange(each.kind, made.support, made.says))
    return job, tuple(done)


def _after(first: _Tried, more: _Tried) -> _Tried:
    """Return changes made after others."""
    return _Tried(first.changes + more.changes, more.plan, first.done + more.done)


def _fewest(start: JudgedPlan, first: int, least: Verdict, most: int, ledger: _LooksTaken) -> _Tried | None:
    """Return the fewest changes after which no finding is as bad as that; None where so many do not do it.

    Of cautions some may be left: what can be mended is.

    Args:
        start: The plan, judged for that.
        first: Number of the first step that is not done yet.
        least: As bad as this may no finding be.
        most: Changes at most.
        ledger: What was looked at.
    """
    search = _Search(start, first, least, ledger)
    singles = search.looked_at([(each,) for each in candidates(start, first)])
    answer = search.best_of(singles)
    if answer or most < 2:
        return answer if answer or least is Verdict.STOP else search.in_part(singles, most)
    helping = [each for each in search.deepened(singles) if search.helps(each)]
    pairs = search.looked_at(_apart((*one.changes, *other.changes) for one, other in combinations(helping, 2)))
    answer = search.best_of(pairs)
    if answer:
        return answer
    known = {each.changes for each in helping}
    rest = [each for each in singles if each.changes not in known]
    mixed = search.looked_at(_apart((*one.changes, *other.changes) for one, other in product(helping, rest)))
    answer = search.best_of(mixed)
    front = sorted((*pairs, *mixed), key=lambda each: each.rank)[:KEPT]
    for _ in range(2, most):
        if answer:
            break
        longer = search.looked_at(_apart((*one.changes, *other.changes) for one, other in product(front, helping)))
        answer = search.best_of(longer)
        front = sorted(longer, key=lambda each: each.rank)[:KEPT]
    return answer if answer or least is Verdict.STOP else search.in_part(helping, most)


class _Search:
    """Looks at plans for one goal."""

    def __init__(self, start: JudgedPlan, first: int, least: Verdict, ledger: _LooksTaken) -> None:
        self._start, self._first, self._least, self._ledger = start, first, least, ledger
        self._glance = glanced(start.job, first, least)
        self._known: dict[int, frozenset[PlanTrouble]] = {}
        self._most = min(MOST_LOOKS, max(LEAST_LOOKS, MOST_WORK // len(start.job.stages) ** 2))
        self._full_left = self._most // FULL_LOOKS
        ledger.goal_looks = 0

    def looked_at(self, sets: Iterable[tuple[PlanChange, ...]]) -> list[_Tried]:
        """Return plans with changes made: looked at in passing, and those without trouble judged in full.

        They are judged in the order of what a glance says of them. As that has no less margin and no worse verdict,
        one that even by its glance does not beat the best of them is left unjudged.
        """
        wanted = list(sets)
        self._ledger.planned = self._ledger.looks + min(len(wanted), self._most - self._ledger.goal_looks)
        seen = [each for changes in wanted if (each := self._glanced(changes)) is not None]
        untroubled = sorted((each for each in seen if not each.plan.troubles), key=lambda each: each.rank)
        self._ledger.planned += len(untroubled)
        found = [each for each in seen if each.plan.troubles]
        best: _Tried | None = None
        for each in untroubled:
            self._count()
            if best is not None and each.rank >= best.rank:
                continue
            if not self._full_left:
                self._ledger.cut = True
                break
            self._full_left -= 1
            full = replace(each, plan=judged(each.plan.job, self._first, self._least))
            found.append(full)
            if self._reaches(full) and (best is None or full.rank < best.rank):
                best = self._ledger.best = full
        return found

    def deepened(self, tried: list[_Tried]) -> list[_Tried]:
        """Return plans that were looked at in passing judged in full, where a glance cannot tell whether they help."""
        if self._start.troubles <= self._glance.troubles:
            return tried
        blind = [each for each in tried if not each.plan.stages and not self.helps(each)][: self._full_left // 2]
        self._full_left -= len(blind)
        self._ledger.planned = self._ledger.looks + len(blind)
        full = {}
        for each in blind:
            self._count()
            full[id(each)] = replace(each, plan=judged(each.plan.job, self._first, self._least))
        return [full.get(id(each), each) for each in tried]

    def in_part(self, singles: list[_Tried], most: int) -> _Tried | None:
        """Return changes after which fewer troubles are left and no other has come; None where there are none.

        One after the other is made, each time that which leaves the fewest.
        """
        best = _Tried((), self._start, ())
        for _ in range(most):
            further = _apart((*best.changes, *each.changes) for each in singles)
            looked = (self._glanced(changes) for changes in further) if best.changes else iter(singles)
            seen = [each for each in looked if each is not None]
            likely = sorted(seen, key=lambda each: (len(each.plan.troubles - best.plan.troubles), each.rank))[:KEPT]
            full = [replace(each, plan=judged(each.plan.job, self._first, self._least)) for each in likely]
            better = [each for each in full if each.plan.troubles < best.plan.troubles]
            if not better:
                break
            best = self._ledger.best = min(better, key=lambda each: (len(each.plan.troubles), each.rank))
        return best if best.changes else None

    def _count(self) -> None:
        """Tell how far it is."""
        self._ledger.looks += 1
        self._ledger.tell(self._ledger.looks, self._ledger.planned)

    def best_of(self, tried: list[_Tried]) -> _Tried | None:
        """Return the best of those that reach the goal."""
        return min((each for each in tried if self._reaches(each)), key=lambda each: each.rank, default=None)

    def helps(self, tried: _Tried) -> bool:
        """Return whether changes take a trouble away, or move everything further from tipping."""
        seen = self._start if tried.plan.stages else self._glance
        # What only every check sees is not seen at a glance: there a trouble less would be none taken away.
        gone = seen.troubles - tried.plan.troubles
        return bool(gone) or tried.plan.margin > seen.margin + TIE

    def _reaches(self, tried: _Tried) -> bool:
        """Return whether nothing is as bad any more; a stand at a place that is no point is a caution itself."""
        cautions = self._least <= Verdict.CAUTION and any(each.at_cell for each in tried.changes)
        return bool(tried.plan.stages) and not tried.plan.troubles and not cautions

    def _glanced(self, changes: tuple[PlanChange, ...]) -> _Tried | None:
        """Return the plan with changes made one after the other, looked at in passing.

        Returns:
            None where one of them cannot be made, or enough plans were looked at.
        """
        if self._ledger.goal_looks >= self._most:
            # As all singles come before any pair, only what is left out of them could have been fewer.
            self._ledger.cut = self._ledger.cut or len(changes) == 1
            return None
        self._ledger.goal_looks += 1
        self._count()
        made = _made(self._start.job, changes)
        if made is None:
            return None
        job, done = made
        plan = self._seen_on_paper(job, changes) or glanced(job, self._first, self._least)
        if len(changes) == 1:
            self._known[id(changes[0])] = plan.troubles
        return _Tried(changes, plan, done)

    def _seen_on_paper(self, job: Job, changes: tuple[PlanChange, ...]) -> JudgedPlan | None:
        """Return a plan with several changes that is troubled without a look at its loads; None for any other.

        What loads would tell is taken to be what each change by itself leaves.
        """
        if len(changes) == 1:
            return None
        troubles = on_paper(job, self._first, self._least)
        if not troubles:
            return None
        left = frozenset.intersection(*(self._known[id(each)] for each in changes))
        loaded = frozenset(each for each in left if CHECK_OF[each.check].needs_loads)
        return JudgedPlan(job, Verdict.STOP, troubles | loaded, self._glance.margin)


def _apart(sets: Iterable[tuple[PlanChange, ...]]) -> Iterator[tuple[PlanChange, ...]]:
    """Yield sets of changes in which no two are of one kind about the same, each set once."""
    seen: set[frozenset[int]] = set()
    for changes in sets:
        key = frozenset(id(each) for each in changes)
        if len({(each.kind, each.about) for each in changes}) == len(changes) and key not in seen:
            seen.add(key)
            yield changes


def _mending(answer: _Tried, start: JudgedPlan, how: tuple[int, bool, bool], ledger: _LooksTaken) -> Mending:
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
    )


def _left(plan: JudgedPlan) -> tuple[LeftOver, ...]:
    """Return what still stops or cautions, stops first."""
    found = [LeftOver(stage.state.name, each) for stage in plan.stages for each in stage.findings]
    worse = [each for each in found if each.finding.verdict >= Verdict.CAUTION]
    return tuple(sorted(worse, key=lambda each: -each.finding.verdict))
