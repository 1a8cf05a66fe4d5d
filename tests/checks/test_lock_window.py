"""Whether the lift has a lock where a unit is set down: in the window, further apart, or told by nobody."""

from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.checks.lock_window import LockDoubt, lock_doubt
from loadplan.model.verdict import Assessment, Verdict
from tests.checks.small_jobs import Raw, judged, lifted_job, said, the


def job_of(step: float | None, **stage: object) -> Raw:
    """The lifted job with the locks of its lift so far apart [mm]; the lift lowered into its window."""
    job = lifted_job()
    if step is None:
        del job["lift"]["lock_step"]
    else:
        job["lift"]["lock_step"] = step
    job["stage"][0] = job["stage"][0] | {"lowered": 5} | stage
    return job


def told(assessment: Assessment) -> list[str]:
    sentences = ("".join(str(piece) for piece in says) for says in assessment.not_checked)
    return [each for each in sentences if "lock_step" in each]


def test_a_lift_on_screws_has_a_lock_everywhere(tmp_path: Path) -> None:
    assessment = judged(job_of(0), tmp_path)
    found = the(assessment.stages[0], "set-down")
    assert (found.verdict, told(assessment)) == (Verdict.HOLDS, [])
    assert "lock" not in said(found)


def test_where_nobody_says_how_far_the_locks_are_apart_the_window_is_not_checked_against_them(tmp_path: Path) -> None:
    assessment = judged(job_of(None), tmp_path)
    found = the(assessment.stages[0], "set-down")
    assert found.verdict is Verdict.NOTE
    assert "Whether one of its locks lies there is not known: on none of them it hangs on oil." in said(found)
    assert told(assessment) == [
        "set down: whether bay has a lock in the window of heights is not checked, the shop's file does not say how "
        "far they are apart (lock_step, 0 on screws)."
    ]


def test_it_never_makes_milder_what_is_worse(tmp_path: Path) -> None:
    assessment = judged(job_of(None, lowered=0), tmp_path)
    assert the(assessment.stages[0], "set-down").verdict is Verdict.CAUTION
    assert told(assessment) != []


@pytest.mark.parametrize("stage", [{"lift_locked": False}, {"lowered": None, "raised": 5}])
def test_no_lock_is_wanted_where_the_lift_is_not_set_on_one_or_the_stands_come_up(
    tmp_path: Path, stage: dict[str, object]
) -> None:
    job = job_of(None, **stage)
    job["stage"][0] = {key: each for key, each in job["stage"][0].items() if each is not None}
    assessment = judged(job, tmp_path)
    assert (the(assessment.stages[0], "set-down").verdict, told(assessment)) == (Verdict.HOLDS, [])


def test_a_window_without_ends_asks_for_none(tmp_path: Path) -> None:
    stage = judged(job_of(None), tmp_path).stages[0]
    down, job = stage.statics.set_down, judged(job_of(None), tmp_path).job
    assert down is not None
    assert lock_doubt(job, stage.state, down) is LockDoubt.UNKNOWN
    for none in (replace(down, end=None), replace(down, start=None), replace(down, start=0.011, end=0.01), None):
        assert lock_doubt(job, stage.state, none) is LockDoubt.NONE
    assert lock_doubt(replace(job, lift=None), stage.state, down) is LockDoubt.NONE
