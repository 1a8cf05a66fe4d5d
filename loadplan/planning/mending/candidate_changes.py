"""The single changes that could mend a plan: which stands may be touched, and what can be made of each."""

from collections.abc import Iterator

from loadplan.checks.check_table import CHECK_OF
from loadplan.checks.one_more import one_more
from loadplan.model.job import Job, Support
from loadplan.model.vehicle import Place, PlanPoint
from loadplan.model.verdict import StageAssessment
from loadplan.planning.mending.added_stand import StepsLeft, additions
from loadplan.planning.mending.judged_plan import JudgedPlan
from loadplan.planning.mending.plan_change import PlanChange
from loadplan.planning.mending.stand_resets import equipment_changes, height_changes, piece_changes, place_changes
from loadplan.planning.mending.step_repairs import clearings, raisings
from loadplan.stages import states

MOST_CELLS = 6
"""Places that are no points which are tried on one body: of hundreds alike a few that lie far apart."""


def candidates(judged: JudgedPlan, first: int) -> tuple[PlanChange, ...]:
    """List the single changes to the stands that could take a trouble away.

    Args:
        judged: The plan, judged from its first step that is not done yet.
        first: Number of that step, from 0.

    Returns:
        The changes, stand by stand in the job's order, then one more stand, then what is raised first.
    """
    job = judged.job
    bodies = _in_trouble(judged)
    cells = _cells(judged)
    stands = [each for each in _free(job, first) if each.body in bodies]
    unlike = any(CHECK_OF[each.check].tells_pieces_apart for each in judged.troubles)
    stages = [each.stage for each in judged.troubles if each.stage >= first] or [first]
    left = StepsLeft(first, (min(stages), max(stages)))
    return (
        *(change for each in stands if unlike for change in piece_changes(job, each)),
        *(change for each in stands for change in _of(job, each, cells)),
        *(change for each in job.supports for change in clearings(job, each, first)),
        *(
            change
            for body in job.bodies
            if body in bodies
            for change in additions(job, body, cells.get(body, ()), left)
        ),
        *raisings(judged.stages, first),
    )


def _of(job: Job, support: Support, cells: dict[str, tuple[Place, ...]]) -> Iterator[PlanChange]:
    """Yield all that can be made of one stand."""
    yield from height_changes(job, support)
    yield from equipment_changes(job, support)
    yield from place_changes(job, support, cells.get(support.body, ()))


def _free(job: Job, first: int) -> tuple[Support, ...]:
    """Return the stands that are still to be set: what stands already stays as it stands."""
    standing = {each.name for each in states(job)[first - 1].supports} if first else set[str]()
    return tuple(each for each in job.supports if each.name not in standing)


def _in_trouble(judged: JudgedPlan) -> frozenset[str]:
    """Return the bodies that the troubles are about, and what is ever linked with them; all where one is unclear."""
    every = frozenset(judged.job.bodies)
    owner = {each.name: each.body for each in judged.job.supports} | {name: name for name in every}
    groups = [frozenset(group.bodies) for stage in judged.stages for group in stage.statics.groups]
    found: frozenset[str] = frozenset()
    for each in judged.troubles:
        about = [each.subject] if each.subject in owner else each.subject.split(", ")
        if not all(name in owner for name in about):
            return every
        found |= {owner[name] for name in about}
    while more := frozenset().union(*(group for group in groups if group & found)) - found:
        found |= more
    return found


def _cells(judged: JudgedPlan) -> dict[str, tuple[Place, ...]]:
    """Return a few places a body, far apart, where one more stand would help it: of the first step that lacks it."""
    found: dict[str, tuple[Place, ...]] = {}
    for stage in judged.stages:
        if {each.stage for each in judged.troubles} & {stage.state.index}:
            for each in one_more(judged.job, stage.state, stage.statics):
                if each.cells and each.body not in found:
                    z = _height(judged.job, stage, each.body)
                    found[each.body] = tuple((x, y, z) for x, y in _far_apart(each.cells))
    return found


def _height(job: Job, stage: StageAssessment, body: str) -> float:
    """Return how high the underside of a body is taken to be [m]: as its lowest saddle, else as its bottom."""
    saddles = [each.at[2] for each in stage.state.supports if each.body == body]
    bottoms = [each.bottom for each in job.vehicle.bodies if each.name == body and each.bottom is not None]
    return min(saddles or bottoms or [0.0])


def _far_apart(cells: tuple[PlanPoint, ...]) -> list[PlanPoint]:
    """Return a few of many places: the one nearest to their middle, then again and again the farthest from those."""
    middle = sum(x for x, _ in cells) / len(cells), sum(y for _, y in cells) / len(cells)
    chosen = [min(cells, key=lambda each: (_square(each, middle), each))]
    while len(chosen) < min(MOST_CELLS, len(cells)):
        chosen.append(max(cells, key=lambda each: (min(_square(each, other) for other in chosen), each)))
    return chosen


def _square(one: PlanPoint, other: PlanPoint) -> float:
    return (one[0] - other[0]) ** 2 + (one[1] - other[1]) ** 2
