"""The verdict with what was read at the bay: the plan's own, or a worse one where the record of the work knows worse.

Readings take nothing back that the plan says: to what it finds is added what each reading comes to, and what the plan
comes to with the weights that the scales tell. So nobody who asks for the plan alone is told milder than is known.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import isclose
from typing import TYPE_CHECKING

from loadplan.assess import worst_of
from loadplan.checks.check_table import in_order
from loadplan.checks.phrases import names
from loadplan.checks.reading import read_at
from loadplan.model.job import Job, Stage
from loadplan.model.verdict import (
    Assessment,
    CheckName,
    Finding,
    Measure,
    NotChecked,
    Sentence,
    StageAssessment,
    Verdict,
)
from loadplan.model.work_record import RecordEntry, WorkRecord
from loadplan.planning.judged_readings import JudgedReadings, judge_stage_readings
from loadplan.planning.record_doubt import record_findings
from loadplan.planning.record_readings import last_read, read_before_moved, with_record_readings

if TYPE_CHECKING:
    from loadplan.planning.weight_learning import WeightLearning

CONTRADICT = (
    "What the scales read at the bay contradicts the plan, or one reading the other; what fits worst: {0}. Stop: "
    "nobody knows what stands there. Take {0} again, with the scale at nought and the stand at its place by tape; then "
    "the others."
)

BEYOND = (
    "No weights inside the plus or minus of the files fit what the scales read at the bay, though chance may have done "
    "that. Take the readings again."
)


@dataclass(frozen=True, slots=True)
class BayFindings:
    """What readings at the bay come to, beside what the plan says.

    Attributes:
        job: The job with the readings in its steps.
        of_step: Findings to be added, by the number of their step, from 0.
        not_checked: What could not be held against anything, a sentence each.
    """

    job: Job
    of_step: Mapping[int, tuple[Finding, ...]]
    not_checked: tuple[Sentence, ...]


def with_record(planned: Assessment, record: WorkRecord) -> Assessment:
    """Judge a job by its plan and by what was read at the bay.

    Args:
        planned: The job, judged as it is planned.
        record: What was done of it.

    Returns:
        The same with the readings in its steps, what they come to added to its findings, what of them is in doubt, too,
        and the worse of both verdicts; as it is where nothing was read and nothing is in doubt.
    """
    return with_findings(planned, findings_of(planned, record))


def findings_of(planned: Assessment, record: WorkRecord) -> BayFindings:
    """Judge what was read at the bay, step by step, and what of it cannot be told.

    Args:
        planned: The job, judged as it is planned.
        record: What was done of it.

    Returns:
        What it comes to beyond what the plan says already; nothing once the job is over, by a record that is whole.
    """
    doubts: dict[int, tuple[Finding, ...]] = {}
    for index, finding in record_findings(planned.job, record):
        doubts[index] = (*doubts.get(index, ()), finding)
    if record.is_over or not any(each.found for each in record.entries):
        return BayFindings(planned.job, doubts, ())
    read = _of_all_readings(planned, record)
    of_step = {index: (*read.of_step.get(index, ()), *doubts.get(index, ())) for index in {**read.of_step, **doubts}}
    return replace(read, of_step=of_step)


def _of_all_readings(planned: Assessment, record: WorkRecord) -> BayFindings:
    """Return what the readings of all steps come to."""
    job = with_record_readings(planned.job, record)
    # The readings of all steps count together: what one step's scales tell of the weights is held against the others'.
    judged = {
        stage.state.index: judge_stage_readings(job, replace(stage, state=replace(stage.state, stage=now)))
        for stage, now in zip(planned.stages, job.stages, strict=True)
        if last_read(record, now.name) and now.readings
    }
    found = {index: list(_of_readings(planned.stages[index], each, record)) for index, each in judged.items()}
    for index, each in judged.items():
        if each.learnt is not None:
            found[index] += _of_agreement(each.learnt)
    for index, each in judged.items():
        if each.learnt is not None and each.learnt.update.consistent:
            _add_learnt(planned, each.learnt, index, found)
    unchecked = [
        *(told.says for each in judged.values() for told in each.told if isinstance(told, NotChecked)),
        *(
            (f"{job.stages[index].name}: what scales read at the bay tells nothing of the weights: {each.not_learnt}.",)
            for index, each in judged.items()
            if each.not_learnt
        ),
    ]
    return BayFindings(job, {index: tuple(each) for index, each in found.items()}, tuple(dict.fromkeys(unchecked)))


def with_findings(assessment: Assessment, bay: BayFindings) -> Assessment:
    """Add to a judged job what was read at the bay.

    Args:
        assessment: The job, judged as it is planned; steps that are done may be left out of it.
        bay: What the readings come to.

    Returns:
        The job with the worse of both verdicts: what was read in a step that is done stands there yet, and counts.
    """
    if not bay.of_step:
        return assessment
    stages = tuple(
        _with_readings(stage, now, bay.of_step.get(stage.state.index, ()))
        for stage, now in zip(assessment.stages, bay.job.stages, strict=True)
    )
    return replace(
        assessment,
        job=bay.job,
        verdict=max(assessment.verdict, worst_of([stage.verdict for stage in stages])),
        not_checked=tuple(dict.fromkeys((*assessment.not_checked, *bay.not_checked))),
        stages=stages,
    )


def _with_readings(stage: StageAssessment, now: Stage, added: tuple[Finding, ...]) -> StageAssessment:
    """Return a step with its readings and what they come to; one that is not judged stays so unless they say more."""
    return with_found(replace(stage, state=replace(stage.state, stage=now)), added)


def with_found(stage: StageAssessment, added: tuple[Finding, ...]) -> StageAssessment:
    """Add findings to a judged step.

    Args:
        stage: The step.
        added: What was found at the bay.

    Returns:
        The step with them in their order, and the worse verdict; as it is where there are none.
    """
    if not added:
        return stage
    verdict = max(stage.verdict, worst_of([each.verdict for each in added]))
    return replace(stage, findings=in_order(stage.statics, (*stage.findings, *added)), verdict=verdict)


def _of_readings(stage: StageAssessment, judged: JudgedReadings, record: WorkRecord) -> Iterator[Finding]:
    """Yield what each reading of a step comes to by itself, with who read it and when."""
    name = stage.state.name
    if judged.fault:
        yield _finding(Verdict.STOP, name, (f"What was read at the bay cannot be judged: {judged.fault}. Stop: look.",))
    moved, read = read_before_moved(record, name), last_read(record, name)
    here, left = {each.found.support for each in read if each.found}, list(read)
    for finding in judged.findings:
        places = read_at(finding, here)
        entries = _read_together(finding, places, read) if len(places) > 1 else _read_alone(finding, left)
        if not entries:
            # The file has that reading, and the plan's own finding says it, unless it does not go with what was read.
            if finding not in stage.findings:
                yield finding
            continue
        again: Sentence = () if moved.isdisjoint(places) else (" Something moved since: read again.",)
        yield replace(finding, says=(f"Read at the bay {_when(entries)}: ", *finding.says, *again))


def _read_alone(finding: Finding, left: list[RecordEntry]) -> list[RecordEntry]:
    """Return the entry that a finding is about, of those not told yet; nothing where the file has that reading."""
    mine = [each for each in left if each.found is not None and each.found.support == finding.subject]
    by_scale = (each for each in mine if each.found and each.found.load == finding.value)
    by_hand = (each for each in mine if each.found and each.found.load is None)
    entry = next(by_scale, None) or next(by_hand, None)
    if entry is None:
        return []
    left.remove(entry)
    return [entry]


def _read_together(finding: Finding, places: Sequence[str], read: Sequence[RecordEntry]) -> list[RecordEntry]:
    """Return the entries that a finding on several places is about: those that come to its load at one height."""
    mine = [each for each in read if each.found is not None and each.found.support in places]
    heights = dict.fromkeys(each.found.lowered for each in mine if each.found)
    at_one = ([each for each in mine if each.found and each.found.lowered == height] for height in heights)
    return next((those for those in at_one if _comes_to(those, finding.value)), mine)


def _comes_to(entries: Sequence[RecordEntry], load: float | None) -> bool:
    """Return whether what was read comes to a load."""
    return load is not None and isclose(sum(each.found.load or 0.0 for each in entries if each.found), load)


def _when(entries: Sequence[RecordEntry]) -> str:
    """Return when something was read, and by whom where that is said."""
    told = [f"{each.at:%Y-%m-%d %H:%M}{f' by {each.who}' if each.who else ''}" for each in entries]
    return names(list(dict.fromkeys(told)))


def _of_agreement(learnt: "WeightLearning") -> list[Finding]:
    """Return that scales contradict the plan or each other, or fit no weights inside the files' plus or minus."""
    if not learnt.update.consistent:
        doubted = names(learnt.update.suspects)
        return [_finding(Verdict.STOP, learnt.stage, (CONTRADICT.format(doubted),))]
    return [_finding(Verdict.CAUTION, learnt.stage, (BEYOND,))] if learnt.beyond else []


def _add_learnt(planned: Assessment, learnt: "WeightLearning", index: int, found: dict[int, list[Finding]]) -> None:
    """Add to each step what is worse with the weights that the scales of one step tell than is known already."""
    for before, stage in zip(planned.stages, learnt.assessment.stages, strict=True):
        here = found.setdefault(stage.state.index, [])
        for finding in sorted(stage.findings, key=lambda each: -each.verdict):
            same = [
                each.verdict
                for each in (*before.findings, *here)
                if (each.check, each.subject) == (finding.check, finding.subject)
            ]
            if finding.verdict > Verdict.NOTE and finding.verdict > max(same, default=Verdict.HOLDS):
                says = (f"With the weights that scales at the bay tell in step {index + 1}: ", *finding.says)
                # What would help was sought for the plan before the work, and with weights that no file has.
                here.append(replace(finding, says=says, cures=(), cure=None))


def _finding(verdict: Verdict, subject: str, says: Sentence) -> Finding:
    return Finding(CheckName.READING, verdict, subject, None, None, Measure.LOAD, says)
