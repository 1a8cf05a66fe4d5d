"""A body left out is carried elsewhere with its joints undone: the checks see these joints too."""

from math import hypot
from pathlib import Path

import pytest

from loadplan.model.verdict import Verdict
from tests.checks.small_jobs import Raw, found, judged, lifted_job, part, said, stands, the, unit_job

FOUR = {"A": [500, 500, 200], "B": [500, -500, 200], "C": [-500, 500, 200], "D": [-500, -500, 200]}


def without_the_shell(at: list[list[float]], **more: object) -> Raw:
    """The unit of 400 kg alone on four stands, its shell carried elsewhere; A and C stand 20 mm higher."""
    job = unit_job(FOUR)
    return job | {
        "body": [{"name": "unit"}, {"name": "shell"}],
        "bodies": ["unit"],
        "part": [*job["part"], part("roof", "shell", 800, [-1250, 0, 900])],
        "joint": [{"name": "bolts", "kind": "bolted", "between": ["unit", "shell"], "at": at} | more],
        "support": [{**each, "height": 370 if each["name"] in "AC" else 350} for each in stands(FOUR, "unit")],
    }


def test_holes_of_a_body_left_out_are_judged(tmp_path: Path) -> None:
    """Left side up by 20 mm over 1 m: holes 800 mm over the saddles go 16 mm aside, each 10 mm off their mean."""
    job = without_the_shell([[0, 500, 1000], [0, -500, 1000]])
    told = the(judged(job, tmp_path).stages[0], "alignment", "bolts")
    assert told.verdict is Verdict.CAUTION
    assert told.value == pytest.approx(hypot(0.016, 0.010))
    assert "its bracket on the shell" in said(told)


def test_holes_of_a_body_left_out_without_places_are_told(tmp_path: Path) -> None:
    job = without_the_shell([[0, 500, 1000]])
    del job["joint"][0]["at"]
    told = judged(job, tmp_path)
    says = "Whether bolts lines up again: not checked, the vehicle file gives no places for its bolts."
    assert (says,) in told.not_checked


def test_a_lift_under_a_vehicle_with_a_body_left_out_has_to_be_locked(tmp_path: Path) -> None:
    job = lifted_job(support=[], stage=[{"name": "up"}], bodies=["shell"])
    assert "With mounts or bolts off, bay is not on its locks." in said(
        the(judged(job, tmp_path).stages[0], "lift lock")
    )
    job["stage"] = [{"name": "up", "lift_locked": True}]
    assert the(judged(job, tmp_path).stages[0], "lift lock").verdict is Verdict.HOLDS


def test_a_body_left_out_that_nothing_tied_asks_for_nothing(tmp_path: Path) -> None:
    job = lifted_job(support=[], stage=[{"name": "up"}], bodies=["shell"], joint=[])
    told = judged(job, tmp_path).stages[0]
    assert the(told, "lift lock").verdict is Verdict.HOLDS
    assert found(told, "alignment") == []
