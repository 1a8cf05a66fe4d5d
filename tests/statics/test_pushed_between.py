"""Pushed in between: parts that come off in any order, against a job that takes them off one by one. Made-up jobs."""

from pathlib import Path

import pytest

from loadplan.model.verdict import StageAssessment, Verdict
from tests.checks.small_jobs import STAND, G, Raw, judged, part, said, stands, the, unit_job

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
    """The last step; where parts come off one after the other as listed, what is left of that in a step of its own."""
    end = raw["stage"][-1]
    if len(end.get("off", ())) > 1 and not end.get("any_order"):
        pulled_then = {key: end[key] for key in ("pull", "bar") if key in end}
        raw = raw | {"stage": [*raw["stage"], {"name": "then"} | pulled_then]}
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


def with_a_mast(stages: list[Raw]) -> Raw:
    """A low block of 60 kg with 200 kg beside it and a mast of 5 kg that reaches 1300 mm over the stands."""
    parts = [
        part("block", "unit", 60, [0, 0, 300]),
        part("left", "unit", 200, [0, 0, 300]),
        part("right", "unit", 5, [0, 0, 1500]),
    ]
    return two_heads(stages) | {"part": parts}


def test_a_light_part_that_sticks_up_is_pushed_while_the_heavy_ones_are_off(tmp_path: Path) -> None:
    """The mast sinks in no way over, yet 65 kg over 0.25 m stand only 65 · 9.80665 · 0.25 / 1.3 N at its top."""
    end = the(last(with_a_mast([ANY | {"any_order": False}]), tmp_path), "push")
    told = the(last(with_a_mast([ANY]), tmp_path), "push")
    assert end.verdict is Verdict.HOLDS
    assert told.verdict is Verdict.STOP
    assert told.value == pytest.approx(65 * G * 0.25 / 1.3, rel=1e-3)
    assert said(told).startswith("With right still on, of what comes")


def test_of_more_than_three_parts_one_that_sticks_up_is_pushed_with_each_set_that_sinks(tmp_path: Path) -> None:
    """Two heads, either of which alone leaves least, a mast that rises with both, and another part low down."""
    raw = two_heads([ANY | {"off": ["left", "right", "mast", "tray"]}], heavy=160)
    raw["part"] += [part("mast", "unit", 2, [0, 0, 1100]), part("tray", "unit", 2, [0, 0, 300])]
    one = raw | {"stage": [raw["stage"][0], {"name": "one", "off": ["left", "tray"]}]}
    between, told = the(last(one, tmp_path), "push"), the(last(raw, tmp_path), "push")
    assert told.verdict is between.verdict is Verdict.CAUTION
    assert told.value == pytest.approx(between.value, rel=1e-3)
    assert "right and mast still on" in said(told) or "left and mast still on" in said(told)


def on_mounts(stages: list[Raw], limit: float = 800) -> Raw:
    """A unit on three mounts over a frame, one of which may carry little."""
    places = {"A": [251, 236, 200], "B": [-424, -326, 200], "C": [-263, 276, 200], "D": [371, -364, 200]}
    mounts = {"p": [276, 232, 434], "q": [-341, -294, 437], "r": [-128, 209, 423]}
    parts = [
        part("frame", "frame", 155, [-77, -46, 327]),
        part("block", "unit", 43, [-104, 155, 561]),
        part("pump", "unit", 18, [-175, -128, 485]),
        part("left", "unit", 34, [-245, 60, 457]),
        part("right", "unit", 18, [-142, -62, 587]),
        part("rear", "unit", 23, [5, -264, 568]),
    ]
    limits = {"q": {"limit": limit}}
    joint = {"kind": "mount", "between": ["unit", "frame"], "stiffness": 272}
    return {
        "body": [{"name": "frame"}, {"name": "unit"}],
        "part": parts,
        "joint": [joint | {"name": name, "at": at} | limits.get(name, {}) for name, at in mounts.items()],
        "equipment": [STAND],
        "support": stands(places, "frame"),
        "stage": [{"name": "down", "in_place": list(places)}, *stages],
        "limits": {"uneven": 0, "uneven_touch": 0, "floor_slope": 0},
    }


def test_with_more_on_a_mount_has_less_left_of_its_limit_for_a_push(tmp_path: Path) -> None:
    """At the end it slides, and less is asked of it; with right and rear on the mount tears first, at some 930 N."""
    bar = ANY | {"off": ["left", "right", "rear"], "bar": True}
    between, end, told = (
        the(last(on_mounts([stage]), tmp_path), "push", "unit")
        for stage in (bar | {"off": ["left"], "any_order": False}, bar | {"any_order": False}, bar)
    )
    assert end.verdict is Verdict.HOLDS
    assert told.verdict is between.verdict is Verdict.CAUTION
    assert told.value == pytest.approx(between.value, rel=1e-3)


def test_with_more_on_a_mount_has_less_left_of_its_limit_for_a_pull(tmp_path: Path) -> None:
    """In front the left part takes weight off the mount: off before the others it leaves least of 600 N."""
    pull = {"body": "unit", "at": [-142, -62, 587], "force": 100, "towards": [0, -1, 0]}
    step = ANY | {"off": ["left", "right", "rear"], "pull": pull}
    raws = [on_mounts([stage], limit=600) for stage in (step | {"off": ["left"]}, step | {"any_order": False}, step)]
    for raw in raws:
        raw["part"][3]["at"] = [300, 250, 457]
    between, end, told = (the(last(raw, tmp_path), "pull") for raw in raws)
    assert told.value == pytest.approx(between.value, rel=1e-3)
    assert told.value < 0.5 * end.value
    assert said(told).startswith("With right and rear still on")
