"""Where the stands should go: the layout with the largest worst margin, proven, and what each more stand buys."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import islice
from math import inf
from typing import NamedTuple

from loadplan.assess import assess_in_short, told_from
from loadplan.checks.check_table import CHECK_OF
from loadplan.model.job import Job, Support
from loadplan.model.shop import Equipment
from loadplan.model.verdict import CheckName, Verdict
from loadplan.planning.placement.blocked_modes import cover
from loadplan.planning.placement.branch_and_bound import Choices, Members, at_least, widest
from loadplan.planning.placement.common_level import Reach, apart, clear, reaches
from loadplan.planning.placement.layout_margin import exact_margin, largest_share, margin_at_most, margin_from
from loadplan.planning.placement.layout_space import Space, laid_out
from loadplan.planning.placement.share_bound import Shares

TIE = 5e-5
"""Margins within 0.05 mm count as equal [m]."""

ROUNDING = 1e-9
"""Margins [m] and shares closer than this are equal."""

STEPS = (TIE, 1e-3, 3e-3, 1e-2, 3e-2, 1e-1, 3e-1, 1.0, inf)
"""How far below the widest margin layouts are fetched, step by step [m]."""

MOST_JUDGED = 2000
"""Layouts judged in full for one number of stands; beyond that the answer is not called proven."""

KEPT = 0.9
"""Share of the margin that a runner-up keeps."""

RUNNERS = 20
"""Layouts that are judged in search of a runner-up."""

MOST_FETCHED = 600
"""Layouts that are compared without being judged, for one number of stands, where the work is bounded."""

MOST_SHARED_OUT = 100
"""Ways to share out equipment that are looked at for one choice of points."""


@dataclass(frozen=True, slots=True)
class Layout:
    """One layout, judged in full.

    Attributes:
        members: Numbers of its points, in the file's order.
        job: The job with it.
        margin: Worst margin over its stages and the bodies other than the lift's [m]; infinite where nothing tips.
        share: Greatest share of a rating.
        verdict: The whole job's.
        against: Checks that exclude it: a stop, or a load over the job's share of a rating.
        cautions: Checks that caution.
    """

    members: Members
    job: Job
    margin: float
    share: float
    verdict: Verdict
    against: frozenset[CheckName]
    cautions: frozenset[CheckName]

    @property
    def planned(self) -> tuple[Support, ...]:
        """The supports of the layout, in the file's order of points."""
        return self.job.supports[len(self.job.supports) - len(self.members) :]

    @property
    def quiet(self) -> bool:
        """Whether no check that has to be quiet for planning cautions."""
        return not self.against and not any(CHECK_OF[each].quiet_for_planning for each in self.cautions)


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
        judged: Layouts judged in full, by their members.
        overloaded: Layouts set aside since a stand would carry too much, without judging the rest.
        narrower: Layouts set aside since their lean leaves them less margin than one that was judged.
        most_steps: Steps of layouts to be judged at most.
        steps: Steps of layouts judged.
    """

    judged: dict[Members, Layout]
    overloaded: int
    narrower: int
    most_steps: float = inf
    steps: int = 0


class Search:
    """Searches the layouts of one job."""

    def __init__(self, here: Space, tell: Callable[[float], None], most_work: float = inf) -> None:
        """Prepare the space.

        Args:
            here: The job without the supports to be planned, and where they may stand.
            tell: Called with the largest margin so far [m], again and again.
            most_work: Steps of layouts judged at most, in all searches together.
        """
        self.space = here
        self.stopped = False
        self._left = most_work
        # Whether layouts were left out unseen, since there were too many to be compared.
        self._cut = False
        self._tell = tell
        self._cover = cover(self.space)
        self._apart = apart(self.space)
        self._reaches: tuple[Reach, ...] = reaches(self.space)
        self._shares = Shares(self.space)

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
        ledger = _Ledger({}, 0, 0, self._left / among)
        proven = self._cut = False
        try:
            proven = not self.stopped and self._judge_until_clear(count, wanted, floor, ledger)
        except KeyboardInterrupt:
            self.stopped = True
        self._left -= ledger.steps
        used = [each for each in ledger.judged.values() if not each.against and wanted(each)]
        against = {CheckName.RATING: ledger.overloaded} if ledger.overloaded else {}
        for check in (check for each in ledger.judged.values() for check in sorted(each.against)):
            against[check] = against.get(check, 0) + 1
        return Found(_ranked(used), proven, tuple(sorted(against.items(), key=lambda each: -each[1])))

    def in_the_way(self, count: int) -> CheckName:
        """Say which limit alone leaves no layout that stands: the points, the heights or the bases.

        Args:
            count: Number of stands.

        Returns:
            The check whose limit stands in the way.
        """
        # From the widest question to the narrowest: the first that leaves nothing names what is in the way.
        every = (1 << len(self.space.points)) - 1
        free = (0,) * len(self.space.points)
        if widest(Choices(self._cover, count, every, free), -inf, _unheard) <= TIE:
            return CheckName.BALANCE
        reached = [Choices(self._cover, count, each.allowed, free) for each in self._reaches]
        if all(widest(each, -inf, _unheard) <= TIE for each in reached):
            return CheckName.HEIGHT
        return CheckName.OVERLAP

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
        rows = islice(self._by_margin(count, max(KEPT * winner.margin, TIE)), MOST_JUDGED)
        taken = set(winner.members)
        others = sorted(rows, key=lambda row: (len(taken & set(row.members)), -row.margin, row.share))
        for _, _, members in others[:RUNNERS]:
            layout = self._judged(members, KEPT * winner.margin - TIE)
            if layout is None:
                continue
            keeps = layout.margin >= KEPT * winner.margin - TIE
            if keeps and not layout.against and members != winner.members:
                return layout
        return None

    def _judge_until_clear(self, count: int, wanted: Callable[[Layout], bool], floor: float, ledger: "_Ledger") -> bool:
        """Return whether every layout that could win was judged, by falling margin."""
        best: Layout | None = None
        for margin, share, members in self._by_margin(count, floor):
            # They come by falling margin: nothing from here on can win, unless not all were fetched.
            if best is not None and margin < best.margin - TIE:
                return not self._cut
            # At most a tie, and it carries no less for certain: to judge it in full would change nothing.
            if best is not None and best.margin >= margin - ROUNDING and best.share <= share + ROUNDING:
                continue
            # Even the bound from below is too much, and the rest of it costs far more to judge.
            if share > self.space.job.limits.rating_share:
                ledger.overloaded += 1
                continue
            if len(ledger.judged) + ledger.narrower >= MOST_JUDGED or ledger.steps >= ledger.most_steps:
                return False
            ledger.steps += len(self.space.job.stages)
            self._tell(0.0 if best is None else best.margin)
            layout = self._judged(members, -inf if best is None else best.margin - TIE)
            if layout is None:
                ledger.narrower += 1
                continue
            ledger.judged[members] = layout
            if not layout.against and wanted(layout):
                best = layout if best is None else _ranked([best, layout])[0]
        return not self._cut

    def _by_margin(self, count: int, floor: float) -> Iterator["_Contender"]:
        """Yield layouts by falling margin, the least share first among equals.

        The margin is without lean, so no layout has more; how much less is known once it has been judged in full.
        """
        choices = [(each, Choices(self._cover, count, each.allowed, self._apart)) for each in self._reaches]
        top = -inf
        for _, each in choices:
            # Each level begins with what the others reached, since only more counts.
            top = max(top, widest(each, top, self._tell))
        margins: dict[Members, float] = {}
        waiting: set[Members] = set()
        # Step by step: the answer is mostly near the top, and all layouts together may be millions.
        for step in STEPS:
            lowest = max(top - step, floor)
            fetched = (row for _, each in choices for row in at_least(each, lowest))
            for margin, members in fetched:
                if len(margins) >= MOST_FETCHED and self._left < inf:
                    self._cut = True
                    break
                if members not in margins:
                    margins[members] = self._exact(margin, members)
                    waiting.add(members)
            # A lower saddle takes off what the cover does not know: such a layout waits for the step that it belongs
            # to.
            ready = {members for members in waiting if margins[members] >= lowest}
            waiting -= ready
            rows = [_Contender(margins[members], self._shares.least(members), members) for members in ready]
            yield from sorted(rows, key=lambda row: (-row.margin, row.share, row.members))
            if lowest == floor or self._cut:
                return

    def _exact(self, margin: float, members: Members) -> float:
        """Return the worst margin of a layout without lean, from what its motions allow with saddles at the highest."""
        drops = self._cover.drops
        return exact_margin(self.space, members) if drops is None else margin - max(drops[each] for each in members)

    def _judged(self, members: Members, least: float) -> Layout | None:
        """Return a layout with the first sharing out of equipment that nothing speaks against.

        One that leaves a smaller margin than the least that is asked for is not judged in full; None where all do.
        """
        layout = None
        narrower = False
        for equipment in self._equipment(members):
            job = self._with(members, equipment)
            # A glance, with lean, takes a fifth of the time, and leaves no less margin than a whole look.
            if least > -inf and margin_at_most(job, self.space.start) < least:
                narrower = True
                continue
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


class _Contender(NamedTuple):
    """A layout before it is judged in full.

    Attributes:
        margin: Its worst margin [m].
        share: Share of a rating that it reaches at least.
        members: Numbers of its points.
    """

    margin: float
    share: float
    members: Members


def _unheard(_margin: float) -> None:
    """Take a margin that nobody waits for."""


def _ranked(layouts: list[Layout]) -> tuple[Layout, ...]:
    """Return layouts by falling margin; among those tied with the widest the lower share, then the file's order."""
    # Tied to the widest, not to the one before: a chain of ties could end far below it.
    widest_margin = max((each.margin for each in layouts), default=0.0)
    return tuple(
        sorted(
            layouts,
            key=lambda each: (
                (0.0, each.share, each.members)
                if each.margin >= widest_margin - TIE
                else (widest_margin - each.margin, each.share, each.members)
            ),
        )
    )
