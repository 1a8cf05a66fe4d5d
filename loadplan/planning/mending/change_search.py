"""Looking at many plans that differ from one by a few changes: which of them do, and which come nearest.

Three things keep it short, and lose nothing. Groups of assemblies that a change leaves as they were are not solved
again. Plans of several changes are looked at in the order of what their single changes left: those that ought to do
first. And as a plan that is looked at step by step only gets worse, it is left as soon as it is worse than what would
still be kept: the best that does, or before one does the few on which more changes are built.
"""

from bisect import insort
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from math import isfinite
from typing import NamedTuple

from loadplan.checks.check_table import CHECK_OF
from loadplan.model.job import Job
from loadplan.model.verdict import Verdict
from loadplan.planning.mending.judged_plan import (
    JudgedPlan,
    PlanGlance,
    PlanTrouble,
    SeenSoFar,
    judged,
    on_paper,
)
from loadplan.planning.mending.mending_answer import DoneChange
from loadplan.planning.mending.plan_change import PlanChange

MOST_LOOKS = 3000
"""Plans that are looked at in passing at most, for one of the two goals."""

MOST_WORK = 27_000
"""Plans times the square of their steps at most: a plan of many steps has as many more stands and joints, too."""

FULL_LOOKS = 4
"""One in so many plans may be judged in full: that takes several times as long."""

LEAST_LOOKS = 200
"""Plans that are looked at however many steps they have."""

ON_PAPER = 0.125
"""What looking at a plan on paper costs of a look that solves it; measured."""

BLIND = 0.25
"""Share of the plans judged in full that is spent on whether single changes help where no glance sees it."""

KEPT = 6
"""Pairs on which a third and a fourth change are built."""

TIE = 5e-5
"""Margins within 0.05 mm count as equal [m]."""


@dataclass(frozen=True, slots=True)
class TriedChanges:
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
    def rank(self) -> "PlanRank":
        """What orders plans."""
        cells = sum(each.at_cell for each in self.changes)
        return plan_rank(self.plan.verdict, len(self.plan.troubles), cells, self.plan.margin)


class PlanRank(NamedTuple):
    """What orders plans: the milder verdict, fewer troubles, no stand at a place that is no point, more margin.

    Attributes:
        verdict: The verdict.
        troubles: How many troubles it has.
        cells: How many of its stands are at places that are no points.
        short: Its margin, less than nothing [m]: more margin ranks before less.
    """

    verdict: int
    troubles: int
    cells: int
    short: float


def plan_rank(verdict: Verdict, troubles: int, cells: int, margin: float) -> PlanRank:
    """Rank a plan, or the best that can become of one that was not looked at to its end.

    Args:
        verdict: The worst verdict of its steps.
        troubles: How many troubles it has.
        cells: How many of its stands are at places that are no points: those caution at best.
        margin: Its smallest worst margin [m].

    Returns:
        Its rank; margins within 0.05 mm count as equal.
    """
    told = round(margin / TIE) * TIE if isfinite(margin) else margin
    return PlanRank(int(max(verdict, Verdict.CAUTION) if cells else verdict), troubles, cells, -told)


@dataclass(slots=True)
class LooksTaken:
    """What a search has looked at, and the best that it has found.

    Attributes:
        tell: Called with how many plans were looked at, and how many there are to look at as far as is known.
        looks: Plans looked at.
        goal_looks: The same for the goal at hand, one that ended on paper as a part of one.
        planned: Plans that are to be looked at as far as is known.
        best: The best answer so far.
        cut: Whether something was left out that might have been an answer.
        ran_out: Whether a goal's looks were used up before all was looked at.
        share: Share of the looks that the goal at hand gets.
    """

    tell: Callable[[int, int], None]
    looks: int = 0
    goal_looks: float = 0.0
    planned: int = 0
    best: TriedChanges | None = None
    cut: bool = False
    ran_out: bool = False
    share: float = 1.0


class ChangeSearch:
    """Looks at plans for one goal."""

    def __init__(self, start: JudgedPlan, first: int, least: Verdict, ledger: LooksTaken) -> None:
        """Look at the plan as it is.

        Args:
            start: The plan, judged for the goal.
            first: Number of the first step that is not done yet, from 0.
            least: As bad as this may no finding be.
            ledger: What was looked at.
        """
        self._start, self._first, self._least, self._ledger = start, first, least, ledger
        self._glance = PlanGlance(start, first, least)
        self._left_by: dict[int, frozenset[PlanTrouble]] = {}
        stages = len(start.job.stages)
        self._most = ledger.share * min(MOST_LOOKS, max(LEAST_LOOKS, MOST_WORK // stages**2))
        self._full_left = float(self._most // FULL_LOOKS)
        # How much of judging in full it is to come up to the last step that has a trouble which no glance sees.
        self._deep = max((each.stage + 1 for each in self._glance.blind), default=0) / stages
        ledger.goal_looks = 0

    def singles(self, changes: Iterable[PlanChange]) -> list[TriedChanges]:
        """Look at every plan with one change made.

        Args:
            changes: The changes.

        Returns:
            The plans, looked at in passing; those without trouble judged in full, as long as one may be the best.
        """
        wanted = list(changes)
        self._plan_looks(len(wanted))
        seen = [each for change in wanted if (each := self._looked_at((change,), None)) is not None]
        for each in seen:
            self._left_by[id(each.changes[0])] = each.plan.troubles | self._glance.blind
        untroubled = [each for each in seen if not each.plan.troubles]
        return [each for each in seen if each.plan.troubles] + self._in_full(untroubled, None)

    def helping(self, singles: list[TriedChanges]) -> list[TriedChanges]:
        """Choose the changes that help by themselves, of which pairs are made.

        Args:
            singles: Plans with one change each.

        Returns:
            Those that take a trouble away, also one that no glance sees, or move everything further from tipping.
        """
        found, least_left = [], self._full_left * (1 - BLIND)
        self._plan_looks(0)
        for each in singles:
            clears = False
            if not each.plan.stages and self._glance.blind and self._full_left > least_left:
                clears = self._clears_unseen(each)
            if clears or self._helps(each):
                found.append(each)
        return found

    def several(self, sets: Iterable[tuple[PlanChange, ...]], among: Iterable[TriedChanges] = ()) -> list[TriedChanges]:
        """Look at plans with several changes made: first at those that ought to do.

        Args:
            sets: The changes of each.
            among: Plans that are known already, with which these are compared.

        Returns:
            Those among which are the best that do, judged in full; where none does, those that come nearest to it.
        """
        wanted = sorted(sets, key=self._expected)
        self._plan_looks(len(wanted))
        ranks = sorted(each.rank for each in among)[:KEPT]
        found: list[TriedChanges] = []
        waiting: list[TriedChanges] = []
        best: TriedChanges | None = None
        for changes in wanted:
            bound = best.rank if best else ranks[KEPT - 1] if len(ranks) >= KEPT else None
            seen = self._looked_at(changes, bound)
            if seen is None:
                continue
            if best is not None:
                waiting.append(seen)
                continue
            judged_now = [seen] if seen.plan.troubles else self._in_full([seen], None)
            found += judged_now
            best = self.best_of(judged_now)
            for each in judged_now:
                insort(ranks, each.rank)
        return found + self._in_full([each for each in waiting if not each.plan.troubles], best)

    def in_part(self, singles: list[TriedChanges], most: int) -> TriedChanges | None:
        """Make one change after the other, each time that which leaves the fewest troubles.

        Args:
            singles: Plans with one change each.
            most: Changes at most.

        Returns:
            Changes after which fewer troubles are left and no other has come; None where there are none.
        """
        best = TriedChanges((), self._start, ())
        for _ in range(most):
            further = apart((*best.changes, *each.changes) for each in singles)
            looked = (self._looked_at(changes, None) for changes in further) if best.changes else iter(singles)
            seen = [each for each in looked if each is not None]
            likely = sorted(seen, key=lambda each: (len(each.plan.troubles - best.plan.troubles), each.rank))[:KEPT]
            full = [replace(each, plan=judged(each.plan.job, self._first, self._least)) for each in likely]
            better = [each for each in full if each.plan.troubles < best.plan.troubles]
            if not better:
                break
            best = self._ledger.best = min(better, key=lambda each: (len(each.plan.troubles), each.rank))
        return best if best.changes else None

    def best_of(self, tried: Iterable[TriedChanges]) -> TriedChanges | None:
        """Choose the best of those that reach the goal.

        Args:
            tried: Plans with changes made.

        Returns:
            It, None where none does.
        """
        return min((each for each in tried if self._reaches(each)), key=lambda each: each.rank, default=None)

    def _reaches(self, tried: TriedChanges) -> bool:
        """Return whether nothing is as bad any more; a stand at a place that is no point is a caution itself."""
        cautions = self._least <= Verdict.CAUTION and any(each.at_cell for each in tried.changes)
        return bool(tried.plan.stages) and not tried.plan.troubles and not cautions

    def _helps(self, tried: TriedChanges) -> bool:
        """Return whether changes take a trouble away, or move everything further from tipping."""
        seen = self._start if tried.plan.stages else self._glance.start
        # What only every check sees is not seen at a glance: there a trouble less would be none taken away.
        return bool(seen.troubles - tried.plan.troubles) or tried.plan.margin > seen.margin + TIE

    def _clears_unseen(self, tried: TriedChanges) -> bool:
        """Return whether a change takes away a trouble that no glance sees, and remember what it leaves of those."""
        self._count()
        self._full_left -= self._deep
        left = self._glance.blind_left(tried.plan.job)
        self._left_by[id(tried.changes[0])] = tried.plan.troubles | left
        return left < self._glance.blind

    def _in_full(self, untroubled: list[TriedChanges], best: TriedChanges | None) -> list[TriedChanges]:
        """Return plans that a glance found untroubled judged in full, in the order of what it says of them.

        As a glance has no less margin and no worse verdict, one that even by that does not beat the best is left out;
        so is one that leaves a trouble which no glance sees.
        """
        found = []
        for each in sorted(untroubled, key=lambda each: each.rank):
            self._count()
            if best is not None and each.rank >= best.rank:
                continue
            if self._full_left < 1:
                self._ledger.cut = self._ledger.ran_out = True
                break
            self._full_left -= self._deep
            if left := self._glance.blind_left(each.plan.job):
                plan = replace(each.plan, verdict=max(each.plan.verdict, self._least), troubles=left)
                found.append(replace(each, plan=plan))
                continue
            self._full_left -= 1
            full = replace(each, plan=judged(each.plan.job, self._first, self._least))
            found.append(full)
            if self._reaches(full) and (best is None or full.rank < best.rank):
                best = self._ledger.best = full
        return found

    def _expected(self, changes: tuple[PlanChange, ...]) -> int:
        """Return how many troubles a plan ought to have, by what each of its changes leaves by itself, and brings."""
        left = [self._left_by[id(each)] for each in changes]
        brought = sum(len(each - self._start.troubles) for each in left)
        return len(frozenset.intersection(*left) & self._start.troubles) + brought

    def _looked_at(self, changes: tuple[PlanChange, ...], bound: PlanRank | None) -> TriedChanges | None:
        """Return the plan with changes made one after the other, looked at in passing.

        Args:
            changes: The changes.
            bound: A rank from which on nobody wants the plan, None for none.

        Returns:
            None where one of them cannot be made, enough plans were looked at, or this one is worse than the bound.
        """
        if self._ledger.goal_looks >= self._most:
            # As all singles come before any pair, only what is left out of them could have been fewer.
            self._ledger.ran_out = True
            self._ledger.cut = self._ledger.cut or len(changes) == 1
            return None
        self._ledger.goal_looks += ON_PAPER
        self._count()
        found = made(self._start.job, changes)
        if found is None:
            return None
        (job, done), cells = found, sum(each.at_cell for each in changes)
        if len(changes) > 1:
            margin = self._glance.start.margin
            # What loads would tell is taken to be what each change by itself leaves.
            left = frozenset.intersection(*(self._left_by[id(each)] for each in changes)) - self._glance.blind
            loaded = frozenset(each for each in left if CHECK_OF[each.check].needs_loads)

            def too_many(troubles: frozenset[PlanTrouble]) -> bool:
                count = len(troubles | loaded)
                return bool(troubles) and bound is not None and plan_rank(Verdict.STOP, count, cells, margin) >= bound

            troubles = on_paper(job, self._first, self._least, too_many)
            if too_many(troubles):
                return None
            if troubles:
                return TriedChanges(changes, JudgedPlan(job, Verdict.STOP, troubles | loaded, margin), done)
        self._ledger.goal_looks += 1.0 - ON_PAPER

        def hopeless(seen: SeenSoFar) -> bool:
            return bound is not None and plan_rank(seen.verdict, len(seen.troubles), cells, seen.margin) >= bound

        plan = self._glance.look(job, hopeless)
        return None if plan is None else TriedChanges(changes, plan, done)

    def _plan_looks(self, count: int) -> None:
        """Say how many more plans there are to look at."""
        self._ledger.planned = self._ledger.looks + count

    def _count(self) -> None:
        """Tell how far it is."""
        self._ledger.looks += 1
        self._ledger.planned = max(self._ledger.planned, self._ledger.looks)
        self._ledger.tell(self._ledger.looks, self._ledger.planned)


def made(job: Job, changes: tuple[PlanChange, ...]) -> tuple[Job, tuple[DoneChange, ...]] | None:
    """Make changes one after the other.

    Args:
        job: The plan.
        changes: The changes.

    Returns:
        The plan with them, and what was done; None where one cannot be made.
    """
    done = []
    for each in changes:
        change = each.make(job)
        if change is None:
            return None
        job = change.job
        done.append(DoneChange(each.kind, change.support, change.says))
    return job, tuple(done)


def apart(sets: Iterable[tuple[PlanChange, ...]]) -> Iterator[tuple[PlanChange, ...]]:
    """Choose the sets of changes that can be made together.

    Args:
        sets: Sets of changes.

    Yields:
        Those in which no two are of one kind about the same, each once.
    """
    seen: set[frozenset[int]] = set()
    for changes in sets:
        key = frozenset(id(each) for each in changes)
        if len({(each.kind, each.about) for each in changes}) == len(changes) and key not in seen:
            seen.add(key)
            yield changes
