"""Drop: its limit, four times it, and which stand is raised before."""

from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.checks import drop
from loadplan.checks.case import Case
from loadplan.model.step_change import Drop, StepChange
from loadplan.model.verdict import Finding, Verdict
from tests.checks.builders import BOLTS, about, case, lifted, support, words
from tests.checks.small_jobs import STAND, G, found, judged, lifted_job, said, the

A, B = support("A", at=(0.4, 0.0)), support("B", at=(-0.4, 0.0))


def sinking(falls: dict[str, float], judged_before: Case | None = None) -> Case:
    base = judged_before or case(A, B)
    change = StepChange(tuple(Drop(name, "unit", fall) for name, fall in falls.items()))
    return replace(base, statics=replace(base.statics, change=change))


def told(judged_case: Case, place: str = "A") -> Finding:
    return about(drop.check(judged_case), place)


@pytest.mark.parametrize(
    ("fall", "verdict", "limit"),
    [
        (-0.1, Verdict.HOLDS, 0.005),
        (0.005, Verdict.HOLDS, 0.005),
        (0.00501, Verdict.CAUTION, 0.005),
        (0.02, Verdict.CAUTION, 0.005),
        (0.02001, Verdict.STOP, 0.02),
    ],
)
def test_above_its_limit_it_is_a_caution_and_above_four_times_that_a_stop(
    fall: float, verdict: Verdict, limit: float
) -> None:
    found_here = told(sinking({"A": fall, "B": fall - 0.001}))
    assert (found_here.verdict, found_here.value, found_here.limit) == (verdict, fall, limit)


def test_the_stand_at_the_place_is_raised_before_by_whole_millimetres() -> None:
    """Before the weight is on: the state before is the vehicle's, with the unit still bolted to it."""
    parting = lifted(A, B, hung=False)
    hung = lifted(A, B).state
    judged_case = replace(sinking({"A": 0.0071, "B": 0.001}, parting), before=hung)
    assert words(told(judged_case).says) == (
        "The unit drops by 0.0071 m at A, all at once. Before unbolting: raise A by 0.008 m."
    )


def test_a_joint_that_drops_has_its_nearest_stand_raised_by_what_that_sinks() -> None:
    parting = lifted(A, B, hung=False)
    bolts = replace(BOLTS, at=((-0.3, 0.1, 0.5),))
    vehicle = replace(parting.job.vehicle, joints=(bolts,))
    judged_case = replace(
        sinking({"A": 0.001, "B": 0.003, "bolts": 0.009}, parting),
        before=lifted(A, B).state,
        job=replace(parting.job, vehicle=vehicle),
    )
    assert words(told(judged_case, "bolts").says).endswith("Before unbolting: raise B by 0.003 m.")
    risen = sinking({"A": 0.001, "B": -0.003, "bolts": 0.009}, judged_case)
    assert "set one more stand under the unit near bolts" in words(told(risen, "bolts").says)


def test_a_unit_that_is_free_already_is_not_touched() -> None:
    assert "Do not touch A. Take the weight back first." in words(told(sinking({"A": 0.006})).says)


def test_what_only_rises_or_sinks_a_little_is_told_so() -> None:
    assert words(told(sinking({"A": -0.001})).says) == "Nothing of the unit sinks."
    assert words(told(sinking({"A": 0.001})).says) == "The unit drops by 0.001 m at A at most."
    assert drop.check(case(A, B)) == []


# ---- whole jobs ----------------------------------------------------------------------------------


def soft_job(stiffness: float, limit: float | None = None) -> dict[str, object]:
    """400 kg bolted to the vehicle, at first touch over four stands: parted, it comes down by 100 G / stiffness."""
    more = {} if limit is None else {"limits": {"drop": limit}}
    job = lifted_job(equipment=[STAND | {"stiffness": stiffness}], **more)
    job["stage"][0]["lowered"] = 0
    return job


def test_soft_stands_let_a_unit_down_as_far_as_they_give(tmp_path: Path) -> None:
    gives = 100 * G / 150  # mm
    (down, parted) = judged(soft_job(150), tmp_path).stages
    assert found(down, "drop") == []
    finding = the(parted, "drop")
    assert finding.value == pytest.approx(gives / 1000)
    assert finding.verdict is Verdict.CAUTION
    assert "Before unbolting: raise " in said(finding)


@pytest.mark.parametrize(
    ("share", "verdict"), [(1.001, Verdict.HOLDS), (0.999, Verdict.CAUTION), (0.2499, Verdict.STOP)]
)
def test_a_job_may_set_its_own_limit(tmp_path: Path, share: float, verdict: Verdict) -> None:
    parted = judged(soft_job(150, 100 * G / 150 * share), tmp_path).stages[1]
    assert the(parted, "drop").verdict is verdict
