"""The whole job, computed and judged once: what every report is made of."""

from dataclasses import replace
from math import isfinite

from loadplan.checks.case import Case
from loadplan.checks.check_table import AT_A_GLANCE, judge
from loadplan.checks.cure_in_all_steps import judged_in_all_steps
from loadplan.errors import InputError
from loadplan.model.answer import Statics
from loadplan.model.job import Job, State, Support
from loadplan.model.verdict import (
    Assessment,
    CheckName,
    Finding,
    Measure,
    Narrowest,
    NotChecked,
    StageAssessment,
    Verdict,
)
from loadplan.model.weight_basis import poorest_basis
from loadplan.stages import states
from loadplan.statics.listed_order import MOST_TOGETHER
from loadplan.statics.margin_sensitivity import unknowns
from loadplan.statics.stage_preview import StagePreview
from loadplan.statics.stage_sequence import solve_stages
from loadplan.statics.unsolved import UNSOLVED, fault_of

SAME = 1e-9
"""Margins that differ by less [m] are the same."""


def assess(job: Job) -> Assessment:
    """Compute and judge every stage of a job.

    Args:
        job: The job.

    Returns:
        Verdict, basis, and everything behind them.
    """
    return cures_in_all_steps(assess_as_it_is(job))


def assess_as_it_is(job: Job) -> Assessment:
    """Compute and judge every stage of a job, and solve each cure that is told for its own stage alone.

    Args:
        job: The job.

    Returns:
        What `assess` returns, several times sooner where many cures are read: for a page that judges each change itself
        before it offers it.
    """
    followed = states(job)
    solved = solve_stages(job, followed)
    return replace(_whole(job, followed, solved), narrowest=_narrowest(job, followed, solved))


def cures_in_all_steps(assessment: Assessment) -> Assessment:
    """Have each told cure that moves or raises stands judged over all stages, once somebody reads it.

    Args:
        assessment: A job, judged as it is.

    Returns:
        The same, with cures that name the stages which come out worse with them.
    """
    return replace(assessment, stages=judged_in_all_steps(assessment.job, assessment.stages, assess_in_short))


def assess_in_short(job: Job) -> Assessment:
    """Compute and judge every stage of a job, without asking what it would gain to weigh more exactly.

    Args:
        job: The job.

    Returns:
        What `assess` returns, but for `narrowest`, which is None: for many jobs at once.
    """
    followed = states(job)
    return _whole(job, followed, solve_stages(job, followed))


def assess_step(job: Job, index: int) -> StageAssessment:
    """Compute and judge one stage of a job, without the others: for a what-if of which one stage is read.

    Args:
        job: The job.
        index: Number of the stage, from 0.

    Returns:
        What `assess` returns of that stage.
    """
    followed = states(job)
    solved = StagePreview(job, followed, index).in_full()
    return _stage(Case(job, followed[index], solved, followed[index - 1] if index else None))[0]


def told_from(assessment: Assessment, first: int) -> Assessment:
    """Leave out what was found in steps that are done already.

    Args:
        assessment: A job judged as a whole: what stands in a step hangs on the steps before it.
        first: Number of the first step that is not done yet, from 0.

    Returns:
        The job with no findings in the steps before, which are not judged, and with the verdict of the others.
    """
    if not first:
        return assessment
    done = tuple(replace(each, findings=(), verdict=Verdict.NOTE) for each in assessment.stages[:first])
    to_do = assessment.stages[first:]
    followed = tuple(each.state for each in to_do)
    says = (f"What is done before step {first + 1} is not judged: it stands as it stands.",)
    return replace(
        assessment,
        verdict=_of_job(list(to_do)),
        not_checked=(says, *assessment.not_checked),
        stages=(*done, *to_do),
        narrowest=_narrowest(assessment.job, followed, tuple(each.statics for each in to_do)),
    )


def _whole(job: Job, followed: tuple[State, ...], solved: tuple[Statics, ...]) -> Assessment:
    """Return the judged job as it comes out of its stages, in which each has the state before it to compare with."""
    befores = (None, *followed[:-1])
    judged = [_stage(Case(job, *each)) for each in zip(followed, solved, befores, strict=True)]
    unchecked = [sentence for _, sentences in judged for sentence in sentences]
    return Assessment(
        job=job,
        verdict=_of_job([stage for stage, _ in judged]),
        basis=poorest_basis(job),
        assumed=job.assumed + _simplified(followed, solved),
        not_checked=tuple(dict.fromkeys(each.says for each in unchecked)),
        stages=tuple(stage for stage, _ in judged),
        narrowest=None,
    )


class Preview:
    """Looks at one stage in passing, again and again while one of its supports is being moved.

    Expected loads and margins are those that `assess` gives. The verdict is that of the checks that need no more:
    never worse than `assess` will say, perhaps milder.
    """

    def __init__(self, job: Job, index: int) -> None:
        """Come up to a stage.

        Args:
            job: The job.
            index: Number of the stage, from 0.
        """
        followed = states(job)
        self._job = job
        self._before = followed[index - 1] if index else None
        self._supports = followed[index].supports
        self._statics = StagePreview(job, followed, index)

    def as_it_is(self) -> StageAssessment:
        """Look at the stage with its supports where the job has them.

        Returns:
            What `look` gives.
        """
        return self.look(self._supports)

    def look(self, supports: tuple[Support, ...]) -> StageAssessment:
        """Look at the stage with its supports where they are now.

        Args:
            supports: Those of the stage, some of them at another place.

        Returns:
            The stage, with no ranges of loads, lost supports and pushes in it.
        """
        case = Case(self._job, *self._statics.look(supports), self._before)
        if case.state.stage.moved:
            return _moved(case)[0]
        findings, _ = judge(case, AT_A_GLANCE)
        return StageAssessment(case.state, case.statics, findings, worst_of([each.verdict for each in findings]))


def _of_job(stages: list[StageAssessment]) -> Verdict:
    """Return the worst of the stages; a job of which no stage was judged does not hold, it is not judged."""
    if stages and all(stage.state.stage.moved for stage in stages):
        return Verdict.NOTE
    return worst_of([stage.verdict for stage in stages])


def worst_of(verdicts: list[Verdict]) -> Verdict:
    """Return the worst of some verdicts; a note changes none.

    Args:
        verdicts: Any number.

    Returns:
        Holds, caution or stop.

    Example:
        >>> worst_of([Verdict.HOLDS, Verdict.NOTE]).words
        'holds'
    """
    worst = max(verdicts, default=Verdict.HOLDS)
    return Verdict.HOLDS if worst is Verdict.NOTE else worst


def _stage(case: Case) -> tuple[StageAssessment, tuple[NotChecked, ...]]:
    """Return one stage judged, and what could not be looked at.

    Raises:
        InputError: If a check needs loads that cannot be computed.
    """
    if case.state.stage.moved:
        return _moved(case)
    try:
        findings, unchecked = judge(case)
    except UNSOLVED as error:
        raise InputError(fault_of(case.job, case.state, error)) from error
    verdict = worst_of([finding.verdict for finding in findings])
    return StageAssessment(case.state, case.statics, findings, verdict), unchecked + _emptied(case)


def _moved(case: Case) -> tuple[StageAssessment, tuple[NotChecked, ...]]:
    """Return a stage in which the unit is rolled: nothing here knows about bumps and turns."""
    says = (f"{case.state.name}: NOT CHECKED. Rolling on castors is outside this plan.",)
    finding = Finding(CheckName.WHEELS, Verdict.NOTE, case.state.name, None, None, Measure.COUNT, says)
    return StageAssessment(case.state, case.statics, (finding,), Verdict.NOTE), (NotChecked(says),)


def _emptied(case: Case) -> tuple[NotChecked, ...]:
    """Return a word on a body whose many last parts come off in any order: in between only the listed one is judged."""
    before = case.before.bodies if case.before else case.job.bodies
    gone = [name for name in before if name not in case.state.bodies]
    if len(case.state.may_be_on) <= MOST_TOGETHER or not gone:
        return ()
    return (
        NotChecked((
            f"{case.state.name}: {' and '.join(gone)} comes apart in any order, and is judged in between only "
            "as listed. Make a step of its last part.",
        )),
    )


def _narrowest(job: Job, followed: tuple[State, ...], solved: tuple[Statics, ...]) -> Narrowest | None:
    """Return where the smallest worst margin is, the first of equals."""
    ways = [
        *zip(followed, solved, strict=True),
        *((each.state, each.statics) for statics in solved for each in statics.on_the_way),
    ]
    found = [
        (body.worst_margin, number, body.name)
        for number, (state, statics) in enumerate(ways)
        for body in statics.bodies
        if body.worst_margin is not None and isfinite(body.worst_margin) and not state.stage.moved
    ]
    if not found:
        return None
    least = min(margin for margin, _, _ in found)
    margin, number, body = next(each for each in found if each[0] <= least + SAME)
    state, statics = ways[number]
    return Narrowest(state.index, body, margin, unknowns(job, state, statics.group_of(body), body))


def _simplified(followed: tuple[State, ...], solved: tuple[Statics, ...]) -> tuple[str, ...]:
    return tuple(
        f"{state.name}: more than 12 supports carry one group, so unevenness was judged by the patterns "
        "that change each load most, not by every combination."
        for state, statics in zip(followed, solved, strict=True)
        if any(group.simplified for group in statics.groups)
    )
