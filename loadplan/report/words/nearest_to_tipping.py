"""What is nearest to tipping, in a step and in a job: the worst case first, as given beside it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum

from loadplan.checks.phrases import low_side, names, several
from loadplan.limits import Limits
from loadplan.model.answer import GroupAnswer, Loose, Mode, Statics
from loadplan.model.job import Job
from loadplan.model.verdict import Assessment, Measure, Quantity, StageAssessment
from loadplan.report.words.vocabulary import Reader
from loadplan.statics.worst_way import what_moves, worst_way

SAME = 1e-9
"""Margins that differ by less [m] are the same: the first of them is told."""


HALF_WAY = " (half way)"
"""What is told of what goes over first while some of a step's parts are off, or on, and others not yet."""


class Fall(Enum):
    """Why there is no margin: it goes over as given, nothing holds it, or it leans until it goes."""

    OVER = "over"
    ROCKS = "rocks"
    LEANS = "leans"


@dataclass(frozen=True, slots=True)
class NearestToTipping:
    """What goes over first.

    Attributes:
        stage: Number of the step, from 0.
        bodies: The assemblies: those of a rigid whole, or what goes over or rocks of a group that has no margin.
        fall: Why there is no margin, None where there is one.
        worst: Its margin in the worst case [m]; None without.
        given: Its margin with weights and places as given [m]; None without.
        about: What it turns about then; empty without.
        side: The side to which it goes over then; "" without.
        on_the_way: Whether that is on the way, with some parts of the step not off or on yet.
    """

    stage: int
    bodies: tuple[str, ...]
    fall: Fall | None = None
    worst: float | None = None
    given: float | None = None
    about: tuple[str, ...] = ()
    side: str = ""
    on_the_way: bool = False


def nearest_in_step(stage: StageAssessment) -> NearestToTipping | None:
    """Find what goes over first in a step: what has no margin any more, then the least in the worst case.

    Args:
        stage: The step.

    Returns:
        What it is; None where nothing can tip, or the step is not judged.
    """
    if not stage.is_judged:
        return None
    index, statics = stage.state.index, stage.statics
    any_order = [near for each in statics.between if (near := _nearest(index, each.statics))]
    listed = [near for each in statics.on_the_way if (near := _nearest(index, each.statics))]
    # Where parts come off in any order the step's own margins have every set of them; what goes over as given has none.
    half_way = (*(near for near in any_order if near.fall), *listed)
    found = (_nearest(index, statics), *(replace(near, on_the_way=True) for near in half_way))
    return nearest_of([near for near in found if near])


def _nearest(index: int, statics: Statics) -> NearestToTipping | None:
    """Return what goes over first in one state."""
    fallen = [(fall, group) for group in statics.groups if (fall := _fall(group))]
    if fallen:
        fall, group = fallen[0]
        return NearestToTipping(index, what_moves(group), fall)
    left = [(each.worst_margin, each) for each in statics.bodies if each.worst_margin is not None]
    if not left:
        return None
    least = min(worst for worst, _ in left)
    worst, body = next(each for each in left if each[0] <= least + SAME)
    first = worst_mode(statics, body.name)
    bodies = tuple(each.name for each in statics.bodies if each.name in {body.name, *body.rigid_with})
    side = low_side(dict(first.motions)[body.name]) if first else ""
    return NearestToTipping(index, bodies, None, worst, body.margin, first.about if first else (), side)


def nearest_in_job(assessment: Assessment) -> NearestToTipping | None:
    """Find what goes over first in a whole job.

    Args:
        assessment: The job, judged.

    Returns:
        The first step that has lost its margin, else the one with the least; None where nothing can tip.
    """
    return nearest_of([near for stage in assessment.stages if (near := nearest_in_step(stage))])


def nearest_of(found: Sequence[NearestToTipping]) -> NearestToTipping | None:
    """Choose the nearest of several.

    Args:
        found: What goes over first in each of some states.

    Returns:
        The first that has lost its margin, else the one with the least; None of none.
    """
    fallen = [near for near in found if near.fall]
    if fallen or not found:
        return fallen[0] if fallen else None
    least = min(near.worst or 0.0 for near in found)
    return next(near for near in found if (near.worst or 0.0) <= least + SAME)


def worst_mode(statics: Statics, body: str) -> Mode | None:
    """Find the way in which an assembly goes over first, in the worst case where that is known.

    Args:
        statics: What was computed of a step.
        body: The assembly.

    Returns:
        The mode that the finding of its margin names; None where none turns it.
    """
    return next((worst_way(group, body) for group in statics.groups if body in group.bodies), None)


def worst_words(near: NearestToTipping, limits: Limits, reader: Reader) -> str:
    """Tell how near it is, worst case, in as few words as a column holds.

    Args:
        near: What goes over first.
        limits: What is asked of the plan: a margin below it never reads as it.
        reader: Who reads it.

    Returns:
        Words such as "110 mm", "3 mm past", "goes over".
    """
    match near.fall:
        case Fall.OVER:
            return several(near.bodies, "goes over", "go over")
        case Fall.ROCKS:
            return "can rock"
        case Fall.LEANS:
            return several(near.bodies, "leans over", "lean over")
        case None:
            worst = near.worst or 0.0
            if worst <= 0:
                return f"{reader.length(-worst)} past"
            return reader.below(Quantity(worst, Measure.LENGTH), limits.margin)


def who_tips(near: NearestToTipping, reader: Reader) -> str:
    """Name what goes over first.

    Args:
        near: What goes over first.
        reader: Who reads it.

    Returns:
        Its assemblies, and that it is half way where some parts of the step are not off or on yet.
    """
    return reader.words(names(near.bodies)) + (HALF_WAY if near.on_the_way else "")


def about_words(near: NearestToTipping, job: Job) -> str:
    """Name what stays where it is while it goes over, apart by the assembly under which it is where several turn.

    Args:
        near: What goes over first.
        job: The job.

    Returns:
        Words such as "A and C under the cradle and E under the powertrain"; "" where nothing is known of it.
    """
    arms = job.lift.arms if job.lift else ()
    under = {each.name: each.body for each in (*job.supports, *arms)}
    bodies = list(dict.fromkeys(under[name] for name in near.about if name in under))
    if len(bodies) < 2:
        return names(near.about) if near.about else ""
    # They lie on no one line then: each assembly turns about its own.
    apart = [f"{names([name for name in near.about if under.get(name) == body])} under the {body}" for body in bodies]
    return names([*apart, *(name for name in near.about if name not in under)])


def _fall(group: GroupAnswer) -> Fall | None:
    """Return why a group has no margin, None where it has."""
    if isinstance(group.proof, Loose):
        return Fall.ROCKS
    if not group.balanced:
        return Fall.OVER
    return Fall.LEANS if group.sway is None else None
