"""Upset in between: parts that come off in any order, against a job that takes them off one by one. Made-up jobs."""

from itertools import combinations
from pathlib import Path

import numpy as np
import pytest

from loadplan.model.verdict import Finding, StageAssessment, Verdict
from tests.checks.small_jobs import STAND, Raw, found, judged, part, said, stands, the, unit_job
from tests.statics.test_pushed_between import ANY, SPOTS, two_heads

OUTLINE = [[350, 300], [350, -300], [-350, -300], [-350, 300]]
LEFT_OFF = {"name": "left off", "off": ["left"]}
IN_TURN = ANY | {"any_order": False}
RIGHT_OFF = {"name": "right off", "off": ["right"]}


def last(raw: Raw, folder: Path) -> StageAssessment:
    """The last step; where parts come off one after the other as listed, what is left of that in a step of its own."""
    end = raw["stage"][-1]
    if len(end.get("off", ())) > 1 and not end.get("any_order"):
        pulled_then = {key: end[key] for key in ("pull", "bar") if key in end}
        raw = raw | {"stage": [*raw["stage"], {"name": "then"} | pulled_then]}
    return judged(raw, folder).stages[-1]


def of(stage: StageAssessment, check: str) -> Finding:
    """The worst of a check."""
    return max(found(stage, check), key=lambda each: (each.verdict, -(each.value or 0)))


def outlined(stages: list[Raw], **of_right: object) -> Raw:
    """Two heads on a block that sticks out 50 mm over its stands."""
    return two_heads(stages, **of_right) | {"body": [{"name": "unit", "outline": OUTLINE}]}  # type: ignore[arg-type]


def beside_a_frame(stages: list[Raw], **more: object) -> Raw:
    """The two heads tied by a mount to a frame that stands by itself."""
    raw = two_heads(stages)
    places = {"P": [900, 300, 200], "Q": [900, -300, 200], "R": [1400, 0, 200]}
    raw["body"].append({"name": "frame"})
    raw["part"].append(part("beam", "frame", 800, [1150, 0, 400]))
    raw["support"] += stands(places, "frame")
    raw["stage"][0]["in_place"] = [*SPOTS, *places]
    mount = {"name": "mount", "kind": "mount", "between": ["unit", "frame"], "at": [0, 400, 500], "stiffness": 300}
    raw["joint"] = [mount | more]
    return raw


def wide(stages: list[Raw]) -> Raw:
    """The same with the heads 900 mm out."""
    raw = beside_a_frame(stages)
    raw["part"][1]["at"], raw["part"][2]["at"] = [0, 900, 700], [0, -900, 700]
    return raw


def propped(stages: list[Raw]) -> Raw:
    """Two heads, and a fifth stand far to the left."""
    raw = two_heads(stages)
    raw["support"] += stands({"E": [0, 480, 200]}, "unit")
    raw["stage"][0]["in_place"] = [*SPOTS, "E"]
    return raw


def pulled(stages: list[Raw], force: float, **more: object) -> Raw:
    """Two heads, pulled to the right in the last step."""
    pull = {"body": "unit", "at": [0, 0, 700], "force": force, "towards": [0, -1, 0]}
    return two_heads([*stages[:-1], stages[-1] | {"pull": pull}], **more)  # type: ignore[arg-type]


def test_a_head_that_sticks_out_is_leant_on_while_it_is_on(tmp_path: Path) -> None:
    """With the right head alone 15.7 kg m are left, and its outline reaches 350 mm beyond the stands: 45 kg there."""
    reach = {"mass": 62, "outline": [[100, -400], [100, -600], [-100, -600], [-100, -400]]}
    between, end, told = (
        the(last(outlined([stage], **reach), tmp_path), "laid on") for stage in (LEFT_OFF, IN_TURN, ANY)
    )
    assert end.verdict is Verdict.HOLDS
    assert told.verdict is between.verdict is Verdict.CAUTION
    assert told.value == pytest.approx(between.value, rel=1e-3)
    assert said(told).startswith("With right still on, of what comes off in any order: Leaning with ")


def test_a_corner_of_the_unit_is_leant_on_while_one_head_is_on(tmp_path: Path) -> None:
    """The right head alone, heavier: 0.25 · 120 − 0.23 · 121 = 2.2 kg m over 0.05 m of overhang."""
    between, end, told = (
        the(last(outlined([stage], mass=121), tmp_path), "laid on") for stage in (LEFT_OFF, IN_TURN, ANY)
    )
    assert end.verdict is Verdict.HOLDS
    assert told.verdict is between.verdict > Verdict.HOLDS
    assert told.value == pytest.approx(between.value, rel=1e-3)


def test_a_hose_left_on_while_one_head_is_on_is_judged(tmp_path: Path) -> None:
    """A joint undone on the left: pulled up there the unit goes over the right stands, sooner with that head on."""
    parted = {"name": "parted", "undone": ["mount"]}
    between, end, told = (
        of(last(beside_a_frame([parted, stage], at=[0, 600, 500]), tmp_path), "snag")
        for stage in (LEFT_OFF, IN_TURN, ANY)
    )
    assert end.verdict < Verdict.CAUTION
    assert told.verdict is between.verdict is Verdict.CAUTION
    assert told.value == pytest.approx(between.value, rel=1e-3)
    assert said(told).startswith("With right still on, of what comes off in any order: A hose left on at mount")


def test_a_mount_that_is_needed_only_while_one_head_is_on_is_told(tmp_path: Path) -> None:
    """The left head of 60 kg at 900 mm: without the right one the centre lies 300 mm to the left."""
    between, end, told = (the(last(wide([stage]), tmp_path), "mount", "mount") for stage in (RIGHT_OFF, IN_TURN, ANY))
    assert end.verdict < Verdict.CAUTION
    assert told.verdict is between.verdict is Verdict.CAUTION
    assert said(told).startswith("With left still on, of what comes off in any order: mount carries")
    assert "without it the" in said(told)


def test_a_stand_that_carries_nothing_while_one_head_is_on_is_told(tmp_path: Path) -> None:
    """At 480 mm 1 − 0.16 · 0.48 / 0.0625 is below 0, so with the right head alone it hangs free."""
    between, end, told = (
        the(last(propped([stage]), tmp_path), "idle support", "E") for stage in (LEFT_OFF, IN_TURN, ANY)
    )
    assert end.verdict < Verdict.CAUTION
    assert told.verdict is between.verdict is Verdict.CAUTION
    assert said(told).startswith("With right still on, of what comes off in any order: E carries nothing.")


@pytest.mark.parametrize("force", [330, 250])
def test_a_known_pull_is_judged_with_one_head_on(tmp_path: Path, force: float) -> None:
    """The right head alone stands some 318 N towards the right, none of them some 588 N."""
    between, end, told = (the(last(pulled([stage], force), tmp_path), "pull") for stage in (LEFT_OFF, IN_TURN, ANY))
    assert end.verdict is Verdict.HOLDS
    assert told.verdict is between.verdict is (Verdict.STOP if force > 318 else Verdict.CAUTION)
    assert told.value == pytest.approx(between.value, rel=1e-3)
    assert said(told).startswith("With right still on, of what comes off in any order, the pull on the unit")


def test_a_pull_counts_with_all_parts_on_as_well(tmp_path: Path) -> None:
    """Both heads on the right: with both on it stands least, and the step before was judged without a pull."""
    raw = pulled([ANY], 100, heavy=300)
    raw["part"][1]["at"] = [100, -480, 700]
    assert said(the(last(raw, tmp_path), "pull")).startswith("With left and right still on")


def with_a_tank(stages: list[Raw], heavy: float = 120, lamp: float = 300, stiffness: float = 50) -> Raw:
    """A block on soft stands, a tank high over the front ones and ballast; an arm reaches 620 mm out in front."""
    places = {"A": [250, 250, 200], "B": [250, -250, 200], "C": [-250, 250, 200], "D": [-250, -250, 200]}
    return unit_job(
        places,
        body=[{"name": "unit", "outline": [[870, 300], [870, -300], [-300, -300], [-300, 300]]}],
        part=[
            part("block", "unit", heavy, [0, 0, 300]),
            part("lamp", "unit", 0.1, [0, 0, lamp]),
            part("left", "unit", 60, [240, 0, 1600]),
            part("right", "unit", 150, [-200, 0, 300]),
        ],
        equipment=[STAND | {"stiffness": stiffness}],
        stage=[{"name": "down", "in_place": list(places)}, *stages],
        limits={"uneven": 0, "uneven_touch": 0, "floor_slope": 0, "level": 5},
    )


@pytest.mark.parametrize("check", ["laid on", "push", "pull"])
def test_what_sways_more_with_a_part_on_is_told_with_it(tmp_path: Path, check: str) -> None:
    """The tank is 10 mm behind the edge and adds next to nothing, but on four springs of 50 N/mm it takes 7 % off."""
    pull = {"pull": {"body": "unit", "at": [0, 0, 900], "force": 265, "towards": [1, 0, 0]}}
    between, end, told = (
        the(last(with_a_tank([stage | pull]), tmp_path), check) for stage in (RIGHT_OFF, IN_TURN, ANY)
    )
    assert end.verdict is Verdict.HOLDS
    assert told.verdict is between.verdict > Verdict.HOLDS
    assert told.value == pytest.approx(between.value, rel=1e-3)
    assert said(told).startswith("With left still on, of what comes off in any order")


def test_what_sways_more_is_pushed_no_higher_up_and_stands_less(tmp_path: Path) -> None:
    """A lamp on top is pushed with the tank and without; 300 kg over 0.25 m stand 490 N at 1.5 m, less the sway."""
    raws = [with_a_tank([stage], heavy=300, lamp=1700, stiffness=45) for stage in (RIGHT_OFF, IN_TURN, ANY)]
    between, end, told = (the(last(raw, tmp_path), "push") for raw in raws)
    assert end.verdict is Verdict.HOLDS
    assert told.verdict is between.verdict is Verdict.CAUTION
    assert told.value == pytest.approx(between.value, rel=1e-3)


def test_far_from_anything_nothing_is_solved_in_full(tmp_path: Path) -> None:
    stage = last(outlined([ANY]) | {"part": two_heads([], heavy=4000)["part"]}, tmp_path)
    assert len(stage.statics.between) == 2
    assert not any(group.laid_on for between in stage.statics.between for group in between.statics.groups)


def any_unit(luck: np.random.Generator) -> Raw:
    """Heads far out left and right, a case in front; outlines stick out; a frame beside, tied or parted."""
    raw = beside_a_frame([])
    at = [[0, 480], [0, -480], [420, 0]]
    places = [[float(luck.uniform(-80, 80)) + each for each in place] for place in at]
    parts = [
        part(name, "unit", float(luck.uniform(40, 75)), [*at, 700]) for name, at in zip(NAMES, places, strict=True)
    ]
    for each in parts[:2]:
        x, y, _ = each["at"]
        each["outline"] = [[x + 150, y - 100], [x + 150, y + 100], [x - 150, y + 100], [x - 150, y - 100]]
    raw["body"][0]["outline"] = OUTLINE
    raw["part"] = [part("block", "unit", float(luck.uniform(110, 150)), [0, 0, 700]), *parts, raw["part"][-1]]
    raw["joint"][0]["at"] = [0, float(luck.choice([-1, 1]) * luck.uniform(400, 800)), 500]
    raw["stage"].append({"name": "parted", "undone": ["mount"] if luck.random() < 0.5 else []})
    if luck.random() < 0.4:
        raw["support"] += stands({"E": [0, 480, 200]}, "unit")
        raw["stage"][0]["in_place"] = [*raw["stage"][0]["in_place"], "E"]
    return raw


NAMES = ("left", "right", "case")
CHECKED = ("laid on", "snag", "mount", "idle support", "pull")


def worst_verdicts(stage: StageAssessment) -> dict[str, Verdict]:
    return {each: max((it.verdict for it in found(stage, each)), default=Verdict.HOLDS) for each in CHECKED}


@pytest.mark.slow
def test_no_set_of_parts_is_worse_than_what_is_told_of_any_order(tmp_path: Path) -> None:
    """Every set of parts being off, each as a step of its own."""
    luck, worse_than_the_end = np.random.default_rng(17), dict.fromkeys(CHECKED, 0)
    for _ in range(20):
        raw = any_unit(luck)
        pull = {"body": "unit", "at": [0, 0, 700], "force": float(luck.uniform(200, 500)), "towards": [0, -1, 0]}
        step = {"name": "off", "off": list(NAMES), "pull": pull}
        told, end = (
            worst_verdicts(last(raw | {"stage": [*raw["stage"], step | {"any_order": any_order}]}, tmp_path))
            for any_order in (True, False)
        )
        for count in range(1, len(NAMES)):
            for off in combinations(NAMES, count):
                stage = last(raw | {"stage": [*raw["stage"], step | {"off": list(off)}]}, tmp_path)
                for check, verdict in worst_verdicts(stage).items():
                    if stage.verdict is Verdict.STOP and the_balance_is_lost(stage):
                        continue
                    assert told[check] >= verdict or verdict is Verdict.NOTE, (check, off)
                    worse_than_the_end[check] += verdict > max(end[check], Verdict.NOTE)
    del worse_than_the_end["mount"]  # so seldom needed only on the way that the draws show none
    assert all(worse_than_the_end.values()), worse_than_the_end


def the_balance_is_lost(stage: StageAssessment) -> bool:
    return any(each.verdict is Verdict.STOP for each in found(stage, "balance"))
