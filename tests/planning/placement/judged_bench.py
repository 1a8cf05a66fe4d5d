"""A search whose layouts are judged by what is written down: no statics."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from math import inf
from types import SimpleNamespace

from loadplan.model.shop import Equipment
from loadplan.model.vehicle import Point
from loadplan.model.verdict import CheckName, Verdict
from loadplan.planning.placement.falling_margin import Contender
from loadplan.planning.placement.largest_margin import UNBOUNDED, Search
from loadplan.planning.placement.layout_space import Space, space
from loadplan.planning.placement.search_work import SearchLimits, SearchWork
from tests.planning.jobs import STAND, scattered

A, B, C, D = (0, 1, 2), (0, 1, 3), (0, 2, 3), (1, 2, 3)
START, FIRST = 1, 1
BOUNDED = 1e6
STAGES = 2
"""Steps of the job: so much work costs it to judge a layout."""


def spaced(*kinds: str) -> Space:
    """Nine points 500 mm apart, in a shop with one kind of stand or more; of two steps the first is done."""
    job = scattered(2, 9)
    points = tuple(replace(each, at=(0.5 * number, 0.0, 0.2)) for number, each in enumerate(job.vehicle.points))
    stands = tuple(replace(STAND, name=each) for each in kinds or ("stand",))
    job = replace(job, vehicle=replace(job.vehicle, points=points), shop=replace(job.shop, equipment=stands))
    return space(job, FIRST)


@dataclass(frozen=True)
class Judged:
    """What judging a layout comes to: a glance leaves as much margin where nothing else is said."""

    margin: float
    share: float = 0.5
    stops: tuple[CheckName, ...] = ()
    cautions: tuple[CheckName, ...] = ()
    glance: float = inf
    verdict: Verdict = Verdict.HOLDS


@dataclass
class Bench:
    """A search whose layouts are judged by what is written here.

    Attributes:
        rows: What comes by falling margin.
        judged: What each comes to, by its members or by these and what stands there.
        looked: What was judged in full, in order.
        glanced: What was looked at in a glance.
        told: Margins that were told.
        asked: What the rows were asked for: how many stands, least margin, work that is left.
        blocked: Whether points, and points and heights, leave nothing.
    """

    rows: Sequence[Contender] = ()
    judged: dict[object, Judged] = field(default_factory=dict)
    looked: list[object] = field(default_factory=list)
    glanced: list[object] = field(default_factory=list)
    told: list[float] = field(default_factory=list)
    asked: list[tuple[int, float, float]] = field(default_factory=list)
    blocked: tuple[bool, bool] = (False, False)
    interrupted_at: object = None

    def search(self, here: Space | None = None, limits: SearchLimits = UNBOUNDED) -> Search:
        """Begin a search."""
        return Search(here or spaced(), self.told.append, limits)

    def layouts(self, count: int, floor: float, work: SearchWork) -> Iterator[Contender]:
        """Yield the rows of a number, by falling margin."""
        self.asked.append((count, floor, work.left))
        of_number = [each for each in self.rows if len(each.members) == count and each.margin >= floor]
        return iter(sorted(of_number, key=lambda each: -each.margin))

    def blocked_by(self, _count: int, _reaches: object) -> tuple[bool, bool]:
        """Say what leaves nothing."""
        return self.blocked

    def laid_out(self, here: Space, chosen: Sequence[tuple[Point, Equipment]]) -> SimpleNamespace:
        """Name the layout instead of putting it into the job."""
        members = tuple(here.points.index(point) for point, _ in chosen)
        with_kinds = (members, tuple(piece.name for _, piece in chosen))
        known = members if members in self.judged else with_kinds
        return SimpleNamespace(known=known, stages=here.job.stages, limits=here.job.limits, supports=())

    def assessed(self, job: SimpleNamespace) -> SimpleNamespace:
        """Judge it."""
        if job.known == self.interrupted_at:
            raise KeyboardInterrupt
        self.looked.append(job.known)
        judged = self.judged[job.known]
        findings = [SimpleNamespace(check=each, verdict=Verdict.STOP) for each in judged.stops]
        findings += [SimpleNamespace(check=each, verdict=Verdict.CAUTION) for each in judged.cautions]
        findings += [SimpleNamespace(check=CheckName.PART, verdict=Verdict.HOLDS)]
        stages = [SimpleNamespace(findings=findings[:1]), SimpleNamespace(findings=findings[1:])]
        return SimpleNamespace(judged=judged, stages=stages, verdict=judged.verdict, first=None)

    def glance(self, job: SimpleNamespace, start: int) -> float:
        """Look at it from the start on."""
        assert start == START
        self.glanced.append(job.known)
        judged = self.judged[job.known]
        return judged.margin if judged.glance == inf else judged.glance
