"""Drop: its limit, four times it, and which stand is raised before."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.checks import drop
from loadplan.checks.case import Case
from loadplan.model.step_change import Drop, DropCure, Raising, StepChange
from loadplan.model.verdict import CheckName, Finding, Measure, Verdict
from tests.checks.builders import about, case, lifted, support, words
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


def cured(judged_case: Case, *raises: Raising) -> str:
    """What is said of a unit that drops at A, with what was found to raise."""
    change = replace(judged_case.statics.change, drop_cures=(DropCure("unit", raises),) if raises else ())
    return words(told(replace(judged_case, statics=replace(judged_case.statics, change=change))).says)


def test_what_was_found_to_hold_is_raised_while_the_lift_holds_the_weight() -> None:
    parting = replace(sinking({"A": 0.0071}, lifted(A, B, hung=False)), before=lifted(A, B).state)
    drops = "The unit drops by 0.0071 m at A, all at once. Before unbolting: "
    assert cured(parting, Raising("A", 0.008)) == f"{drops}raise A by 0.008 m."
    alike = cured(parting, Raising("A", 0.008), Raising("B", 0.008))
    assert alike == f"{drops}raise A and B by 0.008 m each."
    assert cured(parting, Raising("A", 0.008), Raising("B", 0.003)) == f"{drops}raise A by 0.008 m, B by 0.003 m."


def test_of_places_that_sink_alike_the_first_is_told_and_a_place_that_stays_does_not_sink() -> None:
    found_here = told(sinking({"A": 0.001, "B": 0.001}))
    assert (found_here.check, found_here.measure) == (CheckName.DROP, Measure.LENGTH)
    assert words(told(sinking({"A": 0.0})).says) == "Nothing of the unit sinks."


def test_what_is_raised_is_a_change_to_the_plan_only_where_it_drops_too_far() -> None:
    raising = Raising("A", 0.008)
    for fall, changed in ((0.0071, True), (0.005, False)):
        parting = replace(sinking({"A": fall}, lifted(A, B, hung=False)), before=lifted(A, B).state)
        for body in ("unit", "shell"):
            change = replace(parting.statics.change, drop_cures=(DropCure(body, (raising,)),))
            found_here = told(replace(parting, statics=replace(parting.statics, change=change)))
            assert bool(found_here.cures) is (changed and body == "unit")
            if changed and body != "unit":
                assert words(found_here.says).endswith(" Hold it by a jack or hoist while it comes free.")


def test_several_stands_under_what_is_free_already_are_not_touched() -> None:
    said_ = cured(sinking({"A": 0.0071}), Raising("A", 0.008), Raising("B", 0.003))
    assert said_.endswith(", all at once. Do not touch A and B. Take the weight back first.")


def test_where_no_raise_holds_none_is_told() -> None:
    assert cured(sinking({"A": 0.0071})).endswith("Hold it by a jack or hoist while it comes free.")


def test_a_unit_that_is_free_already_is_not_touched() -> None:
    assert "Do not touch A. Take the weight back first." in cured(sinking({"A": 0.006}), Raising("A", 0.002))


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
    assert said(finding).endswith("Before unbolting: raise A, B, C and D by 3 mm each.")


@pytest.mark.parametrize(("raised", "verdict"), [(2, Verdict.CAUTION), (3, Verdict.HOLDS)])
def test_what_is_told_to_raise_holds_when_it_is_done_and_a_millimetre_less_does_not(
    tmp_path: Path, raised: float, verdict: Verdict
) -> None:
    """All four raised alike is the lift lowered by as much."""
    job = soft_job(150)
    job["stage"][0]["lowered"] = raised
    assert the(judged(job, tmp_path).stages[1], "drop").verdict is verdict


def test_one_stand_set_too_low_is_raised_alone_and_then_it_holds(tmp_path: Path) -> None:
    """D is set 12 mm low: the unit comes down there until it bears."""

    def drop_of(change: float) -> Finding:
        job = lifted_job()
        for each in job["support"]:
            each["height"] = 350 - (12 - change) * (each["name"] == "D")
        job["part"][1]["at"] = [-1400, -150, 450]
        job["stage"][0]["lowered"] = 10
        return the(judged(job, tmp_path).stages[1], "drop")

    finding = drop_of(0)
    assert finding.verdict > Verdict.HOLDS
    raised = re.search(r"raise D by (\d+) mm\.$", said(finding))
    assert raised, said(finding)
    assert drop_of(int(raised[1])).verdict is Verdict.HOLDS
    assert drop_of(int(raised[1]) - 1).verdict > Verdict.HOLDS


@pytest.mark.parametrize(
    ("share", "verdict"), [(1.001, Verdict.HOLDS), (0.999, Verdict.CAUTION), (0.2499, Verdict.STOP)]
)
def test_a_job_may_set_its_own_limit(tmp_path: Path, share: float, verdict: Verdict) -> None:
    parted = judged(soft_job(150, 100 * G / 150 * share), tmp_path).stages[1]
    assert the(parted, "drop").verdict is verdict
