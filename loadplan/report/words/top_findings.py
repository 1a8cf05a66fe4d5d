"""What to look at first over a whole job: each caution and stop once, however its words change from step to step."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from loadplan.checks.check_table import ToldPlace, told_place
from loadplan.checks.past_limit import past_limit
from loadplan.checks.phrases import names, several
from loadplan.model.verdict import Assessment, CheckName, Finding, StageAssessment, Verdict
from loadplan.report.words.vocabulary import Reader


@dataclass(frozen=True, slots=True)
class Foremost:
    """A caution or stop about one thing over the whole job.

    Attributes:
        verdict: Caution or stop.
        check: The check that says it.
        subject: What it is about.
        text: What it says in its worst step, in the reader's words.
        stages: The stages that have it, from 0.
        worst: The stage whose words these are: the first that is as bad as any.
        same: Whether it reads the same in all of them.
    """

    verdict: Verdict
    check: CheckName
    subject: str
    text: str
    stages: tuple[int, ...]
    worst: int
    same: bool

    @property
    def steps(self) -> str:
        """The steps that have it, and whose words these are where they differ."""
        steps = steps_words(self.stages)
        return steps if self.same or len(self.stages) == 1 else f"{steps}, as in step {self.worst + 1}"


class _About(NamedTuple):
    """What a caution or stop is about, however its words change from step to step."""

    verdict: Verdict
    check: CheckName
    subject: str
    tips: bool
    """Whether it goes over as given: what does needs another cure than what only may, and is told beside it."""


class _Reads(NamedTuple):
    """How a line reads: two things that read the same in the same steps are told once."""

    verdict: Verdict
    stages: tuple[int, ...]
    text: str


def foremost(assessment: Assessment, reader: Reader) -> tuple[Foremost, ...]:
    """List the cautions and stops of a whole job, each once however its words change from step to step.

    Args:
        assessment: The job, judged.
        reader: Who reads it.

    Returns:
        Stops before cautions, then in the order of the checks, then by how far they are past their limits.
    """
    found: dict[_About, list[tuple[StageAssessment, Finding]]] = {}
    for stage in assessment.stages:
        for finding in stage.findings:
            if finding.verdict > Verdict.NOTE:
                tips = finding.check is CheckName.BALANCE and past_limit(stage.statics, finding).falls
                about = _About(finding.verdict, finding.check, finding.subject, tips)
                found.setdefault(about, []).append((stage, finding))
    merged: dict[_Reads, Foremost] = {}
    for those in sorted(found.values(), key=_place):
        line = _foremost(those, reader)
        merged.setdefault(_Reads(line.verdict, line.stages, line.text), line)
    return tuple(merged.values())


def steps_words(stages: Sequence[int]) -> str:
    """Name steps as people count them.

    Args:
        stages: Numbers of the stages, from 0, in order, at least one.

    Returns:
        The words.

    Example:
        >>> steps_words([1]), steps_words([1, 2, 5, 6])
        ('step 2', 'steps 2 to 3 and 6 to 7')
    """
    runs: list[list[int]] = []
    for stage in stages:
        if runs and runs[-1][-1] == stage - 1:
            runs[-1].append(stage)
        else:
            runs.append([stage])
    parts = [f"{run[0] + 1}" if len(run) == 1 else f"{run[0] + 1} to {run[-1] + 1}" for run in runs]
    return f"{several([*map(str, stages)], 'step', 'steps')} {names(parts)}"


def _place(those: list[tuple[StageAssessment, Finding]]) -> ToldPlace:
    """Return what orders the findings about one thing: told first is what hurts first."""
    stage, finding = those[0]
    worst = max(past_limit(each.statics, found) for each, found in those)
    return told_place(finding.verdict, finding.check, worst, stage.state.index)


def _foremost(those: list[tuple[StageAssessment, Finding]], reader: Reader) -> Foremost:
    """Return what several steps find alike as one finding, in the words of the step where it is worst."""
    stage, finding = max(those, key=lambda each: past_limit(each[0].statics, each[1]))
    return Foremost(
        verdict=finding.verdict,
        check=finding.check,
        subject=finding.subject,
        text=reader.finding(finding),
        # A stand may be read with the lift at several heights.
        stages=tuple(dict.fromkeys(each.state.index for each, _ in those)),
        worst=stage.state.index,
        same=len({reader.finding(each) for _, each in those}) == 1,
    )
