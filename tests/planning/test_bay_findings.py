"""What readings at the bay come to, told with who read them and when, and what is worse by them. Made-up judgements."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.assess import assess
from loadplan.checks.phrases import names
from loadplan.model.job import Job
from loadplan.model.learnt_weights import WeightUpdate
from loadplan.model.plan_cure import LiftLowered
from loadplan.model.verdict import (
    Assessment,
    CheckName,
    Finding,
    FoundCure,
    Measure,
    NotChecked,
    SolvedCure,
    StageAssessment,
    Verdict,
)
from loadplan.model.work_record import FoundAtStand, WorkRecord
from loadplan.planning import record_verdict
from loadplan.planning.judged_readings import JudgedReadings
from loadplan.planning.record_verdict import findings_of, with_record
from loadplan.planning.weight_learning import WeightLearning
from tests.checks.small_jobs import said
from tests.planning.test_record_verdict import ON, THREE, of_readings, on_three, read, weighed


@pytest.fixture
def judged_as(monkeypatch: pytest.MonkeyPatch) -> Callable[[JudgedReadings], None]:
    """Let what was read in a step come to what is written down."""

    def put(judged: JudgedReadings) -> None:
        monkeypatch.setattr(record_verdict, "judge_stage_readings", lambda _job, _stage: judged)

    return put


def reading(subject: str, value: float | None, verdict: Verdict = Verdict.NOTE) -> Finding:
    return Finding(CheckName.READING, verdict, subject, value, None, Measure.LOAD, (f"{subject} reads.",))


AT_HEIGHTS = (
    *(FoundAtStand("A", 100.0), FoundAtStand("B", 100.0), FoundAtStand("C", turns=True)),
    *(FoundAtStand("A", 150.0, lowered=0.01), FoundAtStand("B", 150.0, lowered=0.01)),
    *(FoundAtStand("A", 160.0, lowered=0.02), FoundAtStand("C", 30.0, lowered=0.02)),
)
"""A, B and C read at three heights, C by hand at the first: at 08:00, 08:07, and so on."""


@pytest.mark.parametrize(
    ("places", "value", "moments"),
    [
        ("A, B, C", 200.0, ["08:00", "08:07", "08:14"]),
        ("A, B, C", 300.0, ["08:21", "08:28"]),
        ("A, B", 160.0, ["08:35"]),
        # What comes to no height alone is told with all of them.
        ("A, B", 190.0, ["08:00", "08:07", "08:21", "08:28", "08:35"]),
        ("A, B", None, ["08:00", "08:07", "08:21", "08:28", "08:35"]),
    ],
)
def test_readings_together_are_told_with_the_moments_of_those_at_one_height(
    tmp_path: Path, judged_as: Callable[[JudgedReadings], None], places: str, value: float | None, moments: list[str]
) -> None:
    planned = assess(on_three(tmp_path))
    judged_as(JudgedReadings((reading(places, value, Verdict.STOP),)))
    (told,) = of_readings(with_record(planned, read(*AT_HEIGHTS)))
    when = names([f"2026-11-20 {each} by K" for each in moments])
    assert told.says == (f"Read at the bay {when}: ", f"{places} reads.")


def test_each_reading_is_told_with_its_own_moment_whatever_another_stand_read(
    tmp_path: Path, judged_as: Callable[[JudgedReadings], None]
) -> None:
    """A and C read alike, B was tried by hand and is held against what the plan says of it."""
    planned = assess(on_three(tmp_path))
    judged_as(JudgedReadings((reading("A", 100.0), reading("B", 77.0), reading("C", 100.0))))
    record = read(FoundAtStand("C", 100.0), FoundAtStand("B", turns=True), FoundAtStand("A", 100.0))
    told = {each.subject: each.says[0] for each in of_readings(with_record(planned, record))}
    assert told == {
        "A": "Read at the bay 2026-11-20 08:14 by K: ",
        "B": "Read at the bay 2026-11-20 08:07 by K: ",
        "C": "Read at the bay 2026-11-20 08:00 by K: ",
    }
    judged_as(JudgedReadings((reading("A", 100.0), reading("A", 77.0))))
    by_hand_too = read(FoundAtStand("A", turns=True), FoundAtStand("A", 100.0, lowered=0.01))
    moments = [each.says[0] for each in of_readings(with_record(planned, by_hand_too))]
    assert moments == [f"Read at the bay 2026-11-20 {each} by K: " for each in ("08:07", "08:00")]
    # One that the job's file has is nobody's at the bay; who read the other is not written.
    judged_as(JudgedReadings((of_file := reading("A", 77.0), reading("B", 100.0))))
    both = read(FoundAtStand("A", 100.0), FoundAtStand("B", 100.0))
    nameless = WorkRecord(tuple(replace(each, who="") for each in both.entries))
    first, second = of_readings(with_record(planned, nameless))
    assert (first, second.says[0]) == (of_file, "Read at the bay 2026-11-20 08:07: ")


def test_a_reading_that_nothing_can_be_held_against_is_told_as_not_checked(
    tmp_path: Path, judged_as: Callable[[JudgedReadings], None]
) -> None:
    planned, says = assess(on_three(tmp_path)), ("on stands: the reading at C is not checked.",)
    judged_as(JudgedReadings((NotChecked(says), reading("A", 100.0))))
    assert with_record(planned, read(weighed("C", 200))).not_checked == (*planned.not_checked, says)


def learnt_of(job: Job, assessment: Assessment, *, beyond: bool = False) -> JudgedReadings:
    """What scales tell of the weights, with what the job comes to then."""
    update = WeightUpdate((), consistent=True, suspects=(), stiffness=(), further=None, by_hand=())
    return JudgedReadings(learnt=WeightLearning(ON, update, job, (), assessment, beyond))


def test_readings_that_no_weights_in_the_files_fit_are_a_caution_of_their_step(
    tmp_path: Path, judged_as: Callable[[JudgedReadings], None]
) -> None:
    planned = assess(on_three(tmp_path))
    judged_as(learnt_of(planned.job, planned, beyond=True))
    told = with_record(planned, read(weighed("C", 200)))
    (finding,) = of_readings(told)
    assert (finding.verdict, finding.subject, told.stages[1]) == (Verdict.CAUTION, ON, planned.stages[1])
    assert said(finding) == (
        "No weights inside the plus or minus of the files fit what the scales read at the bay, though chance may have "
        "done that. Take the readings again."
    )
    judged_as(learnt_of(planned.job, planned))
    assert with_record(planned, read(weighed("C", 200))).verdict is planned.verdict


def test_what_is_worse_with_learnt_weights_is_told_without_what_would_help_the_plan(
    tmp_path: Path, judged_as: Callable[[JudgedReadings], None]
) -> None:
    """What would help was sought for weights that no file has."""
    planned = assess(on_three(tmp_path))
    stage = planned.stages[1]
    worse = replace(next(each for each in stage.findings if each.check is CheckName.MARGIN), verdict=Verdict.CAUTION)
    with_cures = replace(worse, cures=(LiftLowered(0.01),), cure=SolvedCure(FoundCure))
    later = replace(stage, findings=(with_cures,))
    judged_as(learnt_of(planned.job, replace(planned, stages=(planned.stages[0], later))))
    told = with_record(planned, read(weighed("C", 200)))
    (finding,) = [each for each in told.stages[1].findings if each.verdict is Verdict.CAUTION]
    assert finding.says == ("With the weights that scales at the bay tell in step 1: ", *worse.says)
    assert (finding.cures, finding.cure) == ((), None)


@pytest.mark.parametrize(
    ("by_plan", "learnt", "added"),
    [
        ([Verdict.NOTE], [Verdict.CAUTION, Verdict.STOP], [Verdict.STOP]),
        ([Verdict.CAUTION], [Verdict.CAUTION, Verdict.NOTE], []),
        ([], [Verdict.CAUTION], [Verdict.CAUTION]),
        # A note that the plan has not is no worse verdict.
        ([], [Verdict.NOTE], []),
        ([Verdict.HOLDS], [Verdict.NOTE], []),
    ],
)
def test_of_what_is_worse_with_learnt_weights_only_the_worst_is_told(
    tmp_path: Path,
    judged_as: Callable[[JudgedReadings], None],
    by_plan: list[Verdict],
    learnt: list[Verdict],
    added: list[Verdict],
) -> None:
    def found(assessment: Assessment, verdicts: list[Verdict]) -> Assessment:
        margin = next(each for each in assessment.stages[1].findings if each.check is CheckName.MARGIN)
        findings = tuple(replace(margin, verdict=each, subject="unit") for each in verdicts)
        return replace(assessment, stages=(assessment.stages[0], replace(assessment.stages[1], findings=findings)))

    planned = assess(on_three(tmp_path))
    judged_as(learnt_of(planned.job, found(planned, learnt)))
    of_step = findings_of(found(planned, by_plan), read(weighed("C", 200))).of_step
    assert [each.verdict for each in of_step[1]] == added


def test_only_what_was_read_at_the_bay_is_learnt_from(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The reading of the first step stands in the job's file: the plan has been judged with it."""
    stage = [{"name": ON, "in_place": list(THREE), "readings": [{"support": "C", "load": 200}]}, {"name": "later"}]
    planned = assess(on_three(tmp_path, stage=stage))
    asked: list[str] = []

    def judge(_job: Job, step: StageAssessment) -> JudgedReadings:
        asked.append(step.state.name)
        return JudgedReadings()

    monkeypatch.setattr(record_verdict, "judge_stage_readings", judge)
    with_record(planned, read(weighed("C", 200), step="later"))
    assert asked == ["later"]
