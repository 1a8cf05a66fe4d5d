"""Pushed in between: parts that come off in any order, against a job that takes them off one by one. Made-up jobs."""

from pathlib import Path

import pytest

from loadplan.model.verdict import StageAssessment, Verdict
from tests.checks.small_jobs import STAND, Raw, judged, part, said, the, unit_job

SPOTS: dict[str, list[float]] = {
    "A": [300, 250, 200],
    "B": [300, -250, 200],
    "C": [-300, 250, 200],
    "D": [-300, -250, 200],
}


def two_heads(stages: list[Raw], heavy: float = 120, **of_right: object) -> Raw:
    """A block with a head of 60 kg far out on each side, no more than a push high over narrow stands."""
    parts = [
        part("block", "unit", heavy, [0, 0, 700]),
        part("left", "unit", 60, [0, 480, 700]),
        part("right", "unit", 60, [0, -480, 700]) | of_right,
    ]
    stages = [{"name": "down", "in_place": list(SPOTS)}, *stages]
    limits = {"uneven": 0, "uneven_touch": 0, "floor_slope": 0}
    return unit_job(SPOTS, part=parts, equipment=[STAND | {"friction": 0.5}], stage=stages, limits=limits)


ANY = {"name": "off", "off": ["left", "right"], "any_order": True}


def last(raw: Raw, folder: Path) -> StageAssessment:
    return judged(raw, folder).stages[-1]


def test_what_one_head_leaves_of_a_push_is_told_of_any_order(tmp_path: Path) -> None:
    """The right head alone: moment 0.25 · 120 − 0.23 · 60 kg·m over 0.5 m, some 318 N; with both off some 588 N."""
    between = the(last(two_heads([{"name": "left off", "off": ["left"]}]), tmp_path), "push")
    in_turn = the(last(two_heads([ANY | {"any_order": False}]), tmp_path), "push")
    told = the(last(two_heads([ANY]), tmp_path), "push")
    assert in_turn.verdict is Verdict.HOLDS
    assert told.verdict is between.verdict is Verdict.CAUTION
    assert told.value == pytest.approx(between.value, rel=1e-3)
    assert said(told).startswith(("With right still on, of what comes", "With left still on, of what comes"))
    assert "further out" not in said(told).replace("set the stands further out", "")


def test_what_stays_until_another_is_off_is_on_with_that(tmp_path: Path) -> None:
    """The right head comes off only after the left one: it alone may be on."""
    told = the(last(two_heads([ANY], after=["left"]), tmp_path), "push")
    assert said(told).startswith("With right still on")
    alone = two_heads([{"name": "left off", "off": ["left"]}], after=["left"])
    assert the(last(alone, tmp_path), "push").value == pytest.approx(told.value, rel=1e-3)


def test_where_a_push_is_far_from_anything_none_is_looked_for_in_between(tmp_path: Path) -> None:
    stage = last(two_heads([ANY], heavy=2000), tmp_path)
    assert the(stage, "push").verdict is Verdict.HOLDS
    assert not any(each.still_on for group in stage.statics.groups for each in group.pushes)
