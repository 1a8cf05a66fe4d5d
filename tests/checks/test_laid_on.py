"""Laid on: what leaning on a corner does, on each limit and in words."""

from dataclasses import replace
from math import nextafter
from pathlib import Path

import pytest

from loadplan.checks import laid_on
from loadplan.checks.case import Case
from loadplan.model.disturbance import LaidOn
from loadplan.model.verdict import CheckName, Measure, Verdict
from tests.checks.builders import about, case, findings, group, not_checked, support, with_group, words
from tests.checks.small_jobs import EXACT, G, judged, said, the, unit_job


def laid(weight: float | None, *, known: bool = True) -> Case:
    free = replace(case(support("A"), support("B")), before=None)
    at = None if weight is None else (0.5, 0.5)
    answer = LaidOn("unit", at, weight, ("A", "B"), known)
    return with_group(free, replace(group(("unit",), ("A", "B")), laid_on=(answer,)))


@pytest.mark.parametrize(
    ("weight", "verdict", "limit"),
    [
        (nextafter(225.0, 0), Verdict.STOP, 225.0),
        (225.0, Verdict.CAUTION, 450.0),
        (nextafter(450.0, 0), Verdict.CAUTION, 450.0),
        (450.0, Verdict.HOLDS, 450.0),
        (None, Verdict.HOLDS, 450.0),
    ],
)
def test_one_that_leans_stops_and_twice_is_asked_for(weight: float | None, verdict: Verdict, limit: float) -> None:
    told = about(laid_on.check(laid(weight)), "unit")
    assert (told.verdict, told.value, told.limit) == (verdict, weight, limit)


def test_it_is_said_how_much_where_and_what_helps() -> None:
    stop, caution, holds, never = (
        words(about(laid_on.check(laid(weight)), "unit").says) for weight in (200.0, 300.0, 900.0, None)
    )
    start = (
        "Leaning with 200 N (200 N, told as mass) on the front left corner of the unit, or laying that on it, tips it,"
    )
    assert stop.startswith(f"{start} turning about A and B: less than 225 N")
    assert "set a stand further out, or one more, under its front left end" in stop
    assert "less than twice 225 N" in caution
    assert "Lean on nothing, lay nothing on it." in caution
    assert holds.endswith("turning about A and B.")
    assert never == "No weight laid on a corner of the unit tips it."


def test_without_an_outline_it_is_not_checked() -> None:
    told = laid_on.check(laid(None, known=False))
    assert findings(told) == []
    assert not_checked(told) == [
        "What weight laid on a corner of the unit tips it: not checked, its outline is not given."
    ]


def test_by_hand_from_a_file(tmp_path: Path) -> None:
    """40 kg on a square of 1 m, 0.1 m inside its front edge, its outline 1 m further out: 392 N · 0.1 / 1.0 = 39 N."""
    places = {"A": [500, 500, 200], "B": [500, -500, 200], "C": [-500, 500, 200], "D": [-500, -500, 200]}
    job = unit_job(
        places,
        body=[{"name": "unit", "outline": [[1500, 0], [550, 550], [-550, 550], [-550, -550], [550, -550]]}],
        part=[{"name": "block", "body": "unit", "mass": 40, "at": [400, 0, 300]} | EXACT],
        limits={"uneven_touch": 0},
    )
    told = the(judged(job, tmp_path).stages[0], "laid on", "unit")
    assert told.verdict is Verdict.STOP
    assert told.value == pytest.approx(40 * G * 0.1, rel=0.01)
    assert "on the front corner of the unit" in said(told)
    light = job | {"limits": {"uneven_touch": 0, "laid_on": 15}}
    assert the(judged(light, tmp_path).stages[0], "laid on", "unit").verdict is Verdict.HOLDS


def test_over_one_edge_it_goes_to_the_side_that_every_other_finding_names(tmp_path: Path) -> None:
    """Near its front edge, and its outline furthest out at the front left: a weight on that corner tips it forward."""
    places = {"A": [500, 500, 200], "B": [500, -500, 200], "C": [-500, 500, 200], "D": [-500, -500, 200]}
    job = unit_job(
        places,
        body=[{"name": "unit", "outline": [[700, 600], [550, -550], [-550, -550], [-550, 550]]}],
        part=[{"name": "block", "body": "unit", "mass": 40, "at": [460, 0, 300]} | EXACT],
        limits={"uneven_touch": 0},
    )
    stage = judged(job, tmp_path).stages[0]
    laid_on_it, margin = said(the(stage, "laid on", "unit")), said(the(stage, "margin"))
    assert "on the front left corner of the unit, or laying that on it, tips it to the front, turning" in laid_on_it
    for found in (laid_on_it, margin):
        assert " to the front, turning about A and B" in found
        assert "under its front end." in found


@pytest.mark.parametrize(
    ("weight", "says"),
    [
        (200.0, ": less than 225 N (225 N, told as mass)."),
        (300.0, ": less than twice 225 N (225 N, told as mass). Lean on nothing, lay nothing on it."),
    ],
)
def test_what_is_asked_for_is_told_before_what_helps(weight: float, says: str) -> None:
    found = about(laid_on.check(laid(weight)), "unit")
    assert (found.check, found.measure) == (CheckName.LAID_ON, Measure.FORCE)
    assert words(found.says).endswith(
        f" tips it, turning about A and B{says} "
        "Before the weight comes on: set a stand further out, or one more, under its front left end."
    )


@pytest.mark.parametrize(
    ("at", "side"),
    [((2.5, 1.5), "front left"), ((2.5, 0.5), "front right"), ((1.5, 1.5), "back left"), ((1.5, 0.5), "back right")],
)
def test_a_corner_is_told_as_seen_from_the_middle_of_its_body(at: tuple[float, float], side: str) -> None:
    """The unit is 1 m square about (2, 1)."""
    judged = laid(200.0)
    outline = ((2.5, 1.5), (2.5, 0.5), (1.5, 0.5), (1.5, 1.5))
    unit = replace(judged.job.vehicle.bodies[0], outline=outline)
    job = replace(judged.job, vehicle=replace(judged.job.vehicle, bodies=(unit,)))
    answer = replace(judged.statics.groups[0].laid_on[0], at=at)
    judged = with_group(replace(judged, job=job), replace(judged.statics.groups[0], laid_on=(answer,)))
    assert f" on the {side} corner of the unit, or" in words(about(laid_on.check(judged), "unit").says)
