"""What there is to say about a job: findings of all stages worst first, each told once."""

from dataclasses import dataclass, replace
from typing import NamedTuple

from loadplan.checks.check_table import told_place
from loadplan.checks.past_limit import PastLimit, past_limit
from loadplan.model.plan_cure import PlanCure
from loadplan.model.verdict import Assessment, CheckName, Finding, StageAssessment, Verdict
from loadplan.report.words.merged_notes import note_texts
from loadplan.report.words.vocabulary import Reader

NO_TROUBLE = PastLimit(falls=False, times=0.0)
"""How far a note is past a limit."""


@dataclass(frozen=True, slots=True)
class ToldFinding:
    """A finding, or the notes of one check, with the stages in which it reads the same.

    Attributes:
        verdict: Note, caution or stop.
        check: The check.
        text: What it says, in the reader's words.
        stages: First and last of the stages in a row, from 0.
        past: How far past its limit, as `past_limit` says it of the first stage; nothing for a note.
        cures: What would help in the first of the stages, as something that can be done to the plan.
        subjects: What the findings are about, one of each.
    """

    verdict: Verdict
    check: CheckName
    text: str
    stages: tuple[int, int]
    past: PastLimit
    cures: tuple[PlanCure, ...] = ()
    subjects: tuple[str, ...] = ()

    @property
    def steps(self) -> str:
        """The stages as people count them: "step 3", "steps 3 to 5"."""
        first, last = self.stages
        return f"step {first + 1}" if first == last else f"steps {first + 1} to {last + 1}"


class _Key(NamedTuple):
    """What has to be the same for two findings to be told as one; the notes of one check are, whatever they say."""

    verdict: Verdict
    check: CheckName
    text: str


def told(assessment: Assessment, reader: Reader) -> tuple[ToldFinding, ...]:
    """List what the checks have to say: worst first, then in the order of the checks, then furthest past its limit.

    Args:
        assessment: The job, judged.
        reader: Who reads it.

    Returns:
        Each finding that does not simply hold, once for all the stages in a row in which it reads the same.
    """
    lines: list[ToldFinding] = []
    for stage in assessment.stages:
        for line in stage_lines(stage, reader):
            before = _before(lines, line)
            if before is None:
                lines.append(line)
            else:
                lines[before] = replace(lines[before], stages=(lines[before].stages[0], line.stages[1]))
    return tuple(sorted(lines, key=lambda line: told_place(line.verdict, line.check, line.past, line.stages[0])))


def stage_lines(stage: StageAssessment, reader: Reader) -> list[ToldFinding]:
    """List what the checks have to say about one stage, in the order of the checks.

    Args:
        stage: The stage.
        reader: Who reads it.

    Returns:
        Cautions and stops one by one; the notes of one check are one, where its first note is.
    """
    index = stage.state.index
    found: dict[_Key, list[Finding]] = {}
    for finding in stage.findings:
        if finding.verdict is not Verdict.HOLDS:
            own = "" if finding.verdict is Verdict.NOTE else reader.finding(finding)
            found.setdefault(_Key(finding.verdict, finding.check, own), []).append(finding)
    return [
        ToldFinding(
            verdict=key.verdict,
            check=key.check,
            text=key.text or " ".join(note_texts(those, reader)),
            stages=(index, index),
            past=max(past_limit(stage.statics, each) for each in those) if key.verdict > Verdict.NOTE else NO_TROUBLE,
            cures=those[0].all_cures if key.verdict > Verdict.NOTE else those[0].cures,
            subjects=tuple(each.subject for each in those),
        )
        for key, those in found.items()
    ]


def parted(text: str) -> tuple[str, str]:
    """Part what a finding says: a caution or a stop says what is wrong first, then what would help.

    Args:
        text: What it says.

    Returns:
        The first sentence, and the others.

    Example:
        >>> parted("C carries 2 kg. Raise it. Look again.")
        ('C carries 2 kg.', 'Raise it. Look again.')
    """
    first, stop, others = text.partition(". ")
    return f"{first}{stop.strip()}", others


def holding(assessment: Assessment) -> int:
    """Count the checks that simply hold.

    Args:
        assessment: The job, judged.

    Returns:
        How many findings of all stages hold.
    """
    return sum(finding.verdict is Verdict.HOLDS for stage in assessment.stages for finding in stage.findings)


def _before(lines: list[ToldFinding], line: ToldFinding) -> int | None:
    """Return the place of the same line told for the stage before, None where there is none."""
    same = (line.verdict, line.check, line.text)
    for place, other in enumerate(lines):
        if (other.verdict, other.check, other.text) == same and other.stages[1] >= line.stages[0] - 1:
            return place
    return None
