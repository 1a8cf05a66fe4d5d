"""Unloading: 100 N, and what is to be raised first."""

from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.checks import unloading
from loadplan.model.step_change import Raising, StepChange, Unloading
from loadplan.model.verdict import CheckName, Finding, Measure, Verdict
from tests.checks.builders import about, case, not_checked, support, words
from tests.checks.small_jobs import G, found, judged, said, stands, the, unit_job


def told(load: float | None, raising: Raising | None = None) -> Finding:
    base = case(support("A"), support("B"))
    change = StepChange(unloadings=(Unloading("gone", load, raising),))
    return about(unloading.check(replace(base, statics=replace(base.statics, change=change))), "gone")


@pytest.mark.parametrize(
    ("load", "verdict"),
    [(0.0, Verdict.HOLDS), (100.0, Verdict.HOLDS), (100.001, Verdict.CAUTION), (9e3, Verdict.CAUTION)],
)
def test_above_a_hundred_newtons_it_is_a_caution(load: float, verdict: Verdict) -> None:
    found_here = told(load)
    assert (found_here.verdict, found_here.value, found_here.limit) == (verdict, load, 100.0)


def test_it_says_what_to_raise_first_by_whole_millimetres() -> None:
    says = words(told(300.0, Raising("A", 0.0012)).says)
    assert says.startswith("gone still carries 300 N (300 N, told as mass) when it is taken away.")
    assert "Do not touch A. Take the weight back first. Then raise A by 0.002 m" in says
    assert "No single stand takes that from it" in words(told(300.0).says)


def test_what_a_stand_still_carries_is_told_with_what_takes_it() -> None:
    still = "gone still carries 300 N (300 N, told as mass) when it is taken away."
    jack = " No single stand takes that from it: take the weight by a jack beside gone first."
    for load, says in ((100.0, "gone carries next to nothing when it is taken away."), (300.0, f"{still}{jack}")):
        found_here = told(load)
        assert (found_here.check, found_here.measure, found_here.cures) == (CheckName.UNLOADING, Measure.FORCE, ())
        assert words(found_here.says) == says
    assert told(300.0, Raising("A", 0.001)).cures != ()
    assert told(100.0, Raising("A", 0.001)).cures == ()


@pytest.mark.parametrize(("by", "told_by"), [(0.001, "0.001 m"), (0.0010000000001, "0.001 m"), (0.00101, "0.002 m")])
def test_a_raise_is_told_in_whole_millimetres_and_rounding_makes_none_more(by: float, told_by: str) -> None:
    assert f"raise A by {told_by}" in words(told(300.0, Raising("A", by)).says)


def test_a_load_that_is_not_known_is_not_judged() -> None:
    base = case(support("A"))
    change = StepChange(unloadings=(Unloading("gone", None, None),))
    (said_so,) = not_checked(unloading.check(replace(base, statics=replace(base.statics, change=change))))
    assert "what gone still carries when it is taken away is not checked" in said_so


# ---- whole jobs: 400 kg at (100, 100) on four set stands at ±500 mm, C cleared in the second step --------------

PLACES = {"A": [500, 500, 200], "B": [500, -500, 200], "C": [-500, -500, 200], "D": [-500, 500, 200]}


def clearing(heights: dict[str, float]) -> dict[str, object]:
    job = unit_job(PLACES)
    job["part"][0]["at"] = [100, 100, 500]
    job["support"] = [each | {"height": 350 + heights.get(each["name"], 0.0)} for each in stands(PLACES, "unit", 350)]
    job["stage"].append({"name": "C away", "cleared": ["C"]})
    return job


def test_raised_by_what_it_says_it_is_cured(tmp_path: Path) -> None:
    """0.15 W at C, gone when B is 0.6 W / k higher: 0.94 mm, so a millimetre."""
    loaded = the(judged(clearing({}), tmp_path).stages[1], "unloading", "C")
    assert loaded.verdict is Verdict.CAUTION
    assert loaded.value == pytest.approx(0.15 * 400 * G)
    assert "raise B by 1 mm" in said(loaded)
    cured = the(judged(clearing({"B": 1}), tmp_path).stages[1], "unloading", "C")
    assert (cured.verdict, cured.value) == (Verdict.HOLDS, pytest.approx(0.0, abs=1e-6))


def test_what_nobody_clears_has_no_finding(tmp_path: Path) -> None:
    assert found(judged(clearing({}), tmp_path).stages[0], "unloading") == []
