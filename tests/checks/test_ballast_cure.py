"""Ballast: the least that clears every caution about the load on the lift but the shift, by levers and by hand."""

from pathlib import Path

import pytest

from loadplan.model.verdict import CheckName, Finding, Measure, StageAssessment, Verdict
from tests.checks.small_jobs import (
    TAIL,
    cautions,
    found,
    heavy_tail,
    judged,
    lifted_job,
    only_stage,
    part,
    said,
    the,
)


def note(told: StageAssessment) -> Finding | None:
    return next((each for each in found(told, "lift") if each.subject == "ballast"), None)


def test_the_least_ballast_is_the_one_by_hand(tmp_path: Path) -> None:
    """900 kg · 0.1 m short at x = −1.9; at the front point, 0.5 m before the axle, 2.3 m before the bound: 39.13 kg."""
    nose = {"name": "nose", "body": "shell", "at": [500, 0, 300]}
    told = only_stage(heavy_tail(-1900, nose, TAIL), tmp_path)
    assert cautions(told) == {"rear pads", "heavy end"}
    best = note(told)
    assert best is not None
    assert (best.verdict, best.value) == (Verdict.NOTE, pytest.approx(40.0))
    assert (best.check, best.limit, best.measure) == (CheckName.LIFT, None, Measure.MASS)
    assert said(best) == (
        "If the vehicle maker's manual names ballast: at least 40 kg at nose clears this. If it names none, use none."
    )
    pads_only = note(only_stage(heavy_tail(-1900, TAIL), tmp_path))
    assert pads_only is not None
    assert pads_only.value == pytest.approx(70.0)  # 90 / 1.3 = 69.2 at a front pad
    assert "at FL" in said(pads_only)


def test_that_ballast_clears_it_and_a_kilogram_less_does_not(tmp_path: Path) -> None:
    nose = {"name": "nose", "body": "shell", "at": [500, 0, 300]}
    for mass, cleared in ((40, True), (39, False)):
        job = heavy_tail(-1900, nose, TAIL)
        job["part"] = [*job["part"], part("ballast", "shell", mass, [500, 0, 300])]
        assert (cautions(only_stage(job, tmp_path)) == {"heavy end"}) is cleared


def test_ballast_is_not_named_where_it_is_not_needed_or_does_not_help(tmp_path: Path) -> None:
    nose = {"name": "nose", "body": "shell", "at": [500, 0, 300]}
    assert note(only_stage(heavy_tail(-1500, nose, TAIL), tmp_path)) is None  # only the shift
    job = heavy_tail(-1900, nose, TAIL)
    job["lift"] |= {"columns": -300}
    assert note(only_stage(job, tmp_path)) is None  # the posts are not moved by ballast
    for rating, arm, named in ((939, 900, None), (941, 900, 40.0), (4000, 451, 43.0), (4000, 453, 40.0)):
        heavy = heavy_tail(-1900, nose, TAIL, limits={"uneven_touch": 0, "arm_share": 0.9})
        heavy["lift"] |= {"rating": rating, "arm_rating": arm}
        best = note(only_stage(heavy, tmp_path))
        assert (best.value if best else None) == named  # 940 kg; a rear arm has (1260 − m) / 3
    lone = heavy_tail(-1900)
    lone["part"] = [part("shell", "shell", 9000, [-1900, 0, 600]), part("engine", "shell", 100, [900, 0, 600])]
    lone["lift"] |= {"rating": 40000}
    assert note(only_stage(lone, tmp_path)) is None  # more than anybody lays on a vehicle


def test_a_heavy_nose_is_cleared_by_ballast_at_the_tail(tmp_path: Path) -> None:
    """900 kg · 0.05 m too far ahead of −0.7; at −3.5 the lever is 2.8 m: 16.07 kg."""
    job = heavy_tail(-650, TAIL)
    job["part"][1]["at"] = [-650, 0, 600]
    best = note(only_stage(job, tmp_path))
    assert best is not None
    assert best.value == pytest.approx(17.0)
    assert "at tail" in said(best)


def test_no_ballast_is_named_while_the_unit_still_comes_down(tmp_path: Path) -> None:
    job = lifted_job()
    job["stage"][0]["lowered"] = 6.7  # arms nearly empty: their low is nothing
    down = judged(job, tmp_path).stages[0]
    assert {each.verdict for each in found(down, "lift", "FL")} == {Verdict.CAUTION}
    assert "it may come off its pad. Lower less." in said(the(down, "lift", "FL"))
    assert note(down) is None


def test_an_arm_that_may_come_loose_is_cleared_by_ballast_at_its_end(tmp_path: Path) -> None:
    """Pads off by 2 mm lift an arm with little on it; ballast in front presses the front arms down again."""
    nose = {"name": "nose", "body": "shell", "at": [500, 0, 300]}
    job = heavy_tail(-1790, nose, TAIL, limits={"uneven_touch": 2})
    told = only_stage(job, tmp_path)
    assert {"FL", "FR"} <= cautions(told)
    assert "Set a prop to just touch under tail before that." in said(the(told, "lift", "FL"))
    best = note(told)
    assert best is not None
    for more, cleared in ((0, True), (-1, False)):
        eased = heavy_tail(-1790, nose, TAIL, limits={"uneven_touch": 2})
        eased["part"] = [*eased["part"], part("ballast", "shell", (best.value or 0) + more, [500, 0, 300])]
        assert (cautions(only_stage(eased, tmp_path)) <= {"heavy end"}) is cleared
