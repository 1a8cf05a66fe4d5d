"""Where the stands should go: the layout with the largest worst margin, proven, and what each more stand buys."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from itertools import islice
from math import inf

from loadplan.assess import assess_in_short, told_from
from loadplan.model.job import Job
from loadplan.model.shop import Equipment
from loadplan.model.verdict import CheckName, Verdict
from loadplan.planning.placement.branch_and_bound import Members
from loadplan.planning.placement.common_level import Reach, clear, reaches
from loadplan.planning.placement.falling_margin import ROUNDING, FallingMargin
from loadplan.planning.placement.layout import TIE, Layout, ranked
from loadplan.planning.placement.layout_margin import largest_share, margin_at_most, margin_from
from loadplan.planning.placement.layout_space import Space, laid_out
from loadplan.planning.placement.search_work import GLANCED, JUDGED, MOST_SHARED_OUT, SearchLimits, SearchWork

MOST_JUDGED = 2000
"""Layouts judged in full for one number of stands; beyond that the answer is not called proven."""

KEPT = 0.9
"""Share of the margin that a runner-up keeps."""

RUNNERS = 20
"""Layouts that are judged in search of a runner-up."""

RUNNER_WORK = 100.0
"""Steps of layouts that are judged for it where the work is bounded."""


@dataclass(frozen=True, slots=True)
class Found:
    """What a search for one number of stands came to.

    Attributes:
        layouts: Layouts that may be used: the winner first, then others that were judged on the way.
        proven: Whether no layout has a larger margin.
        against: Checks that excluded layouts, and how many each.
    """

    layouts: tuple[Layout, ...]
    proven: bool
    against: tuple[tuple[CheckName, int], ...]


@dataclass(slots=True)
class _Ledger:
    """What a search has looked at.

    Attributes:
        work: What it may still look at.
        judged: Layouts judged in full, by their members.
        overloaded: Layouts set aside since a stand would carry too much, without judging the rest.
        narrower: Layouts set aside since their lean leaves them less margin than one that was judged.
    """

    work: SearchWork
    judged: dict[Members, Layout] = field(default_factory=dict)
    overloaded: int = 0
    narrower: int = 0


UNBOUNDED = SearchLimits()


class Search:
    """Searches the layouts of one job."""

    def __init__(self, here: Space, tell: Callable[[float], None], limits: SearchLimits = UNBOUNDED) -> None:
        """Prepare the space.

        Args:
            here: The job without the supports to be planned, and where they may stand.
            tell: Called with the largest margin so far [m], again and again.
            limits: What may be looked at, in all searches together.
        """
        self.space = here
        self.stopped = False
        self._limits = limits
        self._left = limits.work
        # Whether any search left something out for want of work.
        self.ran_out = False
        self._tell = tell
        self._reaches: tuple[Reach, ...] = reaches(here)
        self._falling = FallingMargin(here, self._reaches, tell)

    def largest(self, count: int, wanted: Callable[[Layout], bool], floor: float, among: int = 1) -> Found:
        """Find the layout with the largest margin among those that are wanted.

        Args:
            count: Number of stands.
            wanted: Which layouts count.
            floor: Margin below which none is wanted [m].
            among: Number of searches that have to do with the work that is left, this one among them.

        Returns:
            The winner and what was judged on the way. An interrupt ends this search and all after it with what they
            have, unproven.
        """
        ledger = _Ledger(SearchWork(self._limits, given := self._left / among))
        proven = False
        try:
            proven = not self.stopped and self._judge_until_clear(count, wanted, floor, ledger)
        except KeyboardInterrupt:
            self.stopped = True
        if ledger.work.bounded:
            self._left -= given - ledger.work.left
        self.ran_out = self.ran_out or ledger.work.cut
        used = [each for each in ledger.judged.values() if not each.against and wanted(each)]
        against = {CheckName.RATING: ledger.overloaded} if ledger.overloaded else {}
        for check in (check for each in ledger.judged.values() for check in sorted(each.against)):
            against[check] = against.get(check, 0) + 1
        return Found(ranked(used), proven, tuple(sorted(against.items(), key=lambda each: -each[1])))

    def in_the_way(self, count: int) -> CheckName:
        """Say which limit alone leaves no layout that stands: the points, the heights or the bases.

        Args:
            count: Number of stands.

        Returns:
            The check whose limit stands in the way.
        """
        # From the widest question to the narrowest: the first that leaves nothing names what is in the way.
        points, heights = self._falling.blocked_by(count, self._reaches)
        return CheckName.BALANCE if points else CheckName.HEIGHT if heights else CheckName.OVERLAP

    def nearest(self, count: int) -> Iterator[Members]:
        """Yield layouts by falling margin, then those that do not stand, by about how far they are from it.

        Args:
            count: Number of stands.

        Yields:
            Numbers of their points; none where the shop cannot set up any.
        """
        work = SearchWork(self._limits, RUNNER_WORK if self._limits.work < inf else inf)
        for each in self._falling.layouts(count, -inf, work):
            yield each.members

    def runner_up(self, count: int, winner: Layout) -> Layout | None:
        """Find another good layout that shares as few points as can be with the winner.

        Args:
            count: Number of stands.
            winner: The layout that it should differ from.

        Returns:
            A layout that keeps most of the margin; None where none was found among the first that differ most.
        """
        if self.stopped:
            return None
        try:
            return self._another(count, winner)
        except KeyboardInterrupt:
            self.stopped = True
            return None

    def _another(self, count: int, winner: Layout) -> Layout | None:
        """Return another good layout; None where none was found among the first that differ most."""
        work = SearchWork(self._limits, RUNNER_WORK if self._limits.work < inf else inf)
        # Half of the work is kept for judging what was compared.
        comparing = SearchWork(self._limits, work.left / 2)
        rows = islice(self._falling.layouts(count, max(KEPT * winner.margin, TIE), comparing), MOST_JUDGED)
        taken = set(winner.members)
        others = sorted(rows, key=lambda row: (len(taken & set(row.members)), -row.margin, row.share))
        for _, _, members in others[:RUNNERS]:
            if work.spent:
                return None
            layout = self._judged(members, KEPT * winner.margin - TIE, work)
            if layout is None:
                continue
            keeps = layout.margin >= KEPT * winner.margin - TIE
            if keeps and not layout.against and members != winner.members:
                return layout
        return None

    def _judge_until_clear(self, count: int, wanted: Callable[[Layout], bool], floor: float, ledger: _Ledger) -> bool:
        """Return whether every layout that could win was judged, by falling margin."""
        best: Layout | None = None
        for margin, share, members in self._falling.layouts(count, floor, ledger.work):
            # They come by falling margin: nothing from here on can win, unless not all were fetched.
            if best is not None and margin < best.margin - TIE:
                return not ledger.work.cut
            # At most a tie, and it carries no less for certain: to judge it in full would change nothing.
            if best is not None and best.margin >= margin - ROUNDING and best.share <= share + ROUNDING:
                continue
            # Even the bound from below is too much, and the rest of it costs far more to judge.
            if share > self.space.job.limits.rating_share:
                ledger.overloaded += 1
                continue
            if len(ledger.judged) + ledger.narrower >= MOST_JUDGED or ledger.work.spent:
                ledger.work.cut = True
                return False
            self._tell(0.0 if best is None else best.margin)
            layout = self._judged(members, -inf if best is None else best.margin - TIE, ledger.work)
            if layout is None:
                ledger.narrower += 1
                continue
            ledger.judged[members] = layout
            if not layout.against and wanted(layout):
                best = layout if best is None else ranked([best, layout])[0]
        return not ledger.work.cut

    def _judged(self, members: Members, least: float, work: SearchWork) -> Layout | None:
        """Return a layout with the first sharing out of equipment that nothing speaks against.

        One that leaves a smaller margin than the least that is asked for is not judged in full; None where all do.
        """
        layout = None
        narrower = False
        for number, equipment in enumerate(self._equipment(members)):
            # Of hundreds of ways to share out equipment each costs as much as a layout.
            if work.spent or number >= self._limits.sharings:
                work.cut = True
                return layout
            job = self._with(members, equipment)
            # A glance, with lean, takes a fifth of the time, and leaves no less margin than a whole look.
            if least > -inf:
                work.left -= GLANCED * len(job.stages)
                if margin_at_most(job, self.space.start) < least:
                    narrower = True
                    continue
            work.left -= JUDGED * len(job.stages)
            layout = self._looked_at(members, job)
            if not layout.against:
                return layout
        if layout is not None or narrower:
            return layout
        return Layout(members, self.space.job, -inf, inf, Verdict.STOP, frozenset({CheckName.COUNT}), frozenset())

    def _equipment(self, members: Members) -> Iterator[tuple[Equipment, ...]]:
        """Yield ways to share out equipment over the points, at any level, each once."""
        every = (equipment for reach in self._reaches for equipment in reach.assignments(members))
        seen: set[tuple[str, ...]] = set()
        places = tuple(self.space.points[member].at for member in members)
        for equipment in islice(every, MOST_SHARED_OUT):
            names = tuple(each.name for each in equipment)
            if names not in seen and clear(places, equipment):
                seen.add(names)
                yield equipment

    def _with(self, members: Members, equipment: tuple[Equipment, ...]) -> Job:
        """Return the job with given equipment at the points."""
        points = self.space.points
        return laid_out(
            self.space, tuple((points[each], piece) for each, piece in zip(members, equipment, strict=True))
        )

    def _looked_at(self, members: Members, job: Job) -> Layout:
        """Return a layout judged in full."""
        assessment = told_from(assess_in_short(job), self.space.first)
        findings = [finding for stage in assessment.stages for finding in stage.findings]
        share = largest_share(assessment, self.space.start)
        against = {finding.check for finding in findings if finding.verdict is Verdict.STOP}
        # What a job wants left of its ratings is a caution to the checks, but a proposal has to keep it.
        if share > job.limits.rating_share:
            against.add(CheckName.RATING)
        return Layout(
            members=members,
            job=job,
            margin=margin_from(assessment, self.space.start),
            share=share,
            # Whether a place that is no point bears, nobody has said yet.
            verdict=max(assessment.verdict, Verdict.CAUTION) if self._at_cell(members) else assessment.verdict,
            against=frozenset(against),
            cautions=frozenset(finding.check for finding in findings if finding.verdict is Verdict.CAUTION),
        )

    def _at_cell(self, members: Members) -> bool:
        return any(not self.space.points[each].name for each in members)
