"""Searches whose layouts are known beforehand: what a proposal makes of them shows at once, without judging any."""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from math import inf

from loadplan.model.verdict import CheckName, Verdict
from loadplan.planning.placement.branch_and_bound import Members
from loadplan.planning.placement.largest_margin import Found
from loadplan.planning.placement.layout import Layout, ranked
from loadplan.planning.placement.layout_space import Space, space
from tests.planning.jobs import scattered


def known_space(points: int) -> Space:
    """A space of so many points."""
    return space(scattered(2, points))


def layout(
    here: Space,
    members: Members,
    margin: float,
    *,
    share: float = 0.5,
    against: Sequence[CheckName] = (),
    cautions: Sequence[CheckName] = (),
) -> Layout:
    """A layout as if it had been judged."""
    verdict = Verdict.STOP if against else Verdict.CAUTION if cautions else Verdict.HOLDS
    return Layout(members, here.job, margin, share, verdict, frozenset(against), frozenset(cautions))


@dataclass
class KnownLayouts:
    """In place of a `Search`.

    Attributes:
        space: What it searches.
        layouts: All the layouts that there are.
        unproven: Numbers of stands, by themselves or with a least margin, of which it may have missed some.
        stops_at: The number of stands at which it is interrupted.
        ran_out: Whether work was left undone.
        runner: What it finds besides the answer.
        near: Members of what comes nearest to standing.
        asked: What it was asked: number of stands, least margin, among how many searches.
        others_asked: Of which layouts another one was asked for.
    """

    space: Space
    layouts: Sequence[Layout] = ()
    unproven: frozenset[int | tuple[int, float]] = frozenset()
    stops_at: float = inf
    ran_out: bool = False
    runner: Layout | None = None
    near: Sequence[Members] = ()
    stopped: bool = False
    asked: list[tuple[int, float, int]] = field(default_factory=list)
    others_asked: list[tuple[int, Layout]] = field(default_factory=list)

    def largest(self, count: int, wanted: Callable[[Layout], bool], floor: float, among: int = 1) -> Found:
        """Find what is wanted among the layouts that are known."""
        self.asked.append((count, floor, among))
        self.stopped = self.stopped or count >= self.stops_at
        of_number = [each for each in self.layouts if len(each.members) == count and each.margin >= floor]
        used = ranked(each for each in of_number if wanted(each))
        against = Counter(check for each in of_number for check in sorted(each.against))
        return Found(used, not {count, (count, floor)} & self.unproven, tuple(against.items()))

    def runner_up(self, count: int, winner: Layout) -> Layout | None:
        """Return the other one."""
        self.others_asked.append((count, winner))
        return self.runner

    def in_the_way(self, count: int) -> CheckName:
        """Say that heights are in the way where few stand, else bases."""
        return CheckName.HEIGHT if count < 5 else CheckName.OVERLAP

    def nearest(self, count: int) -> Iterator[Members]:
        """Yield those that have so many stands."""
        return iter([each for each in self.near if len(each) == count])
