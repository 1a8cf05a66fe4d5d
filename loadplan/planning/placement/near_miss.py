"""Near misses: where no layout stands, the three that come nearest, how each goes over, and where one more would help.

Layouts are ranked by their margin without lean, the widest first, of all that the shop can set up beside each other;
where there are none of those, of the first that there are.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import combinations, islice
from math import inf

from loadplan.assess import assess
from loadplan.checks.one_more import one_more
from loadplan.checks.phrases import low_side
from loadplan.model.answer import BodyAnswer, Statics
from loadplan.model.job import Job, Support
from loadplan.model.vehicle import PlanPoint
from loadplan.model.verdict import Sentence, StageAssessment, Verdict
from loadplan.planning.placement.branch_and_bound import Members
from loadplan.planning.placement.layout_margin import ExactMargins
from loadplan.planning.placement.layout_space import Space, laid_out, movable
from loadplan.statics.worst_way import worst_way

NEAREST = 3
"""Layouts that are told."""

LOOKED_AT = 200
"""Layouts that are looked at."""


@dataclass(frozen=True, slots=True)
class NearMiss:
    """A layout that does not stand.

    Attributes:
        planned: Its stands.
        stage: Name of the first step in which it goes over.
        body: Body that goes.
        side: Side to which it goes; "" where it has none.
        short: How far its centre of gravity is outside, in the worst case [m]; None where it is free to rock.
        cells: Where one more stand would help it [m]; empty where none would, or no outline tells.
        says: What stops it where it does stand: by how much, and what would help; empty where it goes over.
    """

    planned: tuple[Support, ...]
    stage: str
    body: str
    side: str
    short: float | None
    cells: tuple[PlanPoint, ...]
    says: Sentence = ()


def near_misses(space: Space, count: int, widest: Iterable[Members]) -> tuple[NearMiss, ...]:
    """Find the layouts that come nearest to standing, where none does.

    Args:
        space: The job without the supports to be planned.
        count: Number of stands; no more than there are points.
        widest: Layouts of so many stands that the shop can set up, the widest margin first.

    Returns:
        At most three, nearest first; none where the shop has nothing to stand there.
    """
    if not space.points or not movable(space.job):
        return ()
    ranked = list(islice(widest, NEAREST))
    if not ranked:
        every = combinations(range(len(space.points)), min(count, len(space.points)))
        margins = ExactMargins(space)
        ranked = sorted(islice(every, LOOKED_AT), key=lambda members: -margins.of(members))[:NEAREST]
    found = (_missed(space, members) for members in ranked)
    return tuple(each for each in found if each is not None)


def _missed(space: Space, members: Members) -> NearMiss | None:
    """Return how a layout goes over in the first step in which it does, else what stops it; None for one that holds."""
    anything = movable(space.job)[0]
    job = laid_out(space, tuple((space.points[each], anything) for each in members))
    lift = job.lift.body if job.lift else ""
    judged = assess(job).stages[space.start :]
    for stage in judged:
        going = None if stage.state.stage.moved else _going(stage.statics, lift)
        if going is not None:
            return _told(job, stage, job.supports[-len(members) :], going)
    stops = [(stage, each) for stage in judged for each in stage.findings if each.verdict is Verdict.STOP]
    if not stops:
        return None
    stage, finding = stops[0]
    return NearMiss(job.supports[-len(members) :], stage.state.name, "", "", None, (), finding.says)


def _going(statics: Statics, lift: str) -> BodyAnswer | None:
    """Return the body that goes over furthest, the lift's aside; None where all stand."""
    falling = [each for each in statics.bodies if each.name != lift and not statics.group_of(each.name).robust]
    return max(falling, key=lambda each: inf if (short := _short(statics, each)) is None else short, default=None)


def _short(statics: Statics, body: BodyAnswer) -> float | None:
    """Return how far a body's centre of gravity is outside in the worst case [m]; None where no edge is told."""
    mode = worst_way(statics.group_of(body.name), body.name)
    if mode is None:
        return None
    return -dict(mode.worst_margins or mode.margins)[body.name]


def _told(job: Job, stage: StageAssessment, planned: tuple[Support, ...], body: BodyAnswer) -> NearMiss:
    """Return by how much, to which side and in which stage a layout goes over, and where one more stand would help."""
    mode = worst_way(stage.statics.group_of(body.name), body.name)
    more = one_more(job, stage.state, stage.statics)
    return NearMiss(
        planned=planned,
        stage=stage.state.name,
        body=body.name,
        side=low_side(dict(mode.motions)[body.name]) if mode else "",
        short=_short(stage.statics, body),
        cells=next((each.cells for each in more if each.body == body.name), ()),
    )
