"""The stand that is set anew: found by trying, held against jobs that are written and solved again with it."""

from dataclasses import replace
from math import ceil, radians
from pathlib import Path
from random import Random

import pytest

from loadplan import read_job
from loadplan.assess import assess
from loadplan.files import shipped_folder
from loadplan.model.job import Stack
from loadplan.model.verdict import Assessment, Verdict
from loadplan.statics.levelling import Reset, reset_for_holes, reset_for_level
from tests.checks.small_jobs import STAND, G, Raw, judged, lifted_job, loads, part, said, stands, the, unit_job
from tests.reference import random_jobs
from tests.reference.random_jobs import write_job

THREE = {"A": [-1050, 300, 200], "B": [-1050, -300, 200], "C": [-1450, 0, 200]}
STEPPED = STAND | {"heights": {"from": 290, "to": 430, "step": 20}}


def parted(back: float, **of_stand: object) -> Raw:
    """The unit on three stands, the back one set to a height [mm]; its bolts sit 300 mm over the saddles."""
    bolts = {"name": "bolts", "kind": "bolted", "between": ["unit", "shell"]}
    job = lifted_job(joint=[bolts | {"at": [[-1050, 0, 500], [-1450, 0, 500]]}], support=stands(THREE, "unit", 350))
    job["support"][2] |= {"height": back} | of_stand
    job["stage"] = [
        {"name": "set down", "in_place": list(THREE), "lowered": 4, "lift_locked": True},
        {"name": "unbolted", "undone": ["bolts"]},
        {"name": "later"},
    ]
    return job


def worst_hole(assessment: Assessment) -> float:
    return max(each.miss for each in assessment.stages[1].statics.misses)


def tilt(assessment: Assessment) -> float:
    value = the(assessment.stages[1], "level", "unit").value
    assert value is not None
    return value


def gaps(assessment: Assessment) -> dict[str, float]:
    return {each.name: each.gap for each in assessment.stages[1].statics.supports}


def test_the_low_stand_is_raised_by_what_it_is_low(tmp_path: Path) -> None:
    """6 mm low at 400 mm: the bolts 300 mm up are 4.5 mm back and 3 mm up or down, 5.4 mm in all (by hand)."""
    assessment = judged(parted(344), tmp_path)
    found = the(assessment.stages[1], "alignment", "bolts")
    assert found.verdict is Verdict.CAUTION
    assert found.value == pytest.approx(0.0054, abs=4e-4)  # the back stand, with half the weight, sinks a little more
    assert said(found).endswith(
        "behind, 3 mm above its bracket on the shell. Before unbolting: raise C by 6 mm. "
        "That leaves the worst hole of all 1 mm out."
    )


def test_what_is_told_to_be_left_is_what_a_job_with_that_height_gives(tmp_path: Path) -> None:
    before = judged(parted(338), tmp_path)
    reset = reset_for_holes(before.job, before.stages[1].state, gaps(before), "unit")
    assert reset is not None
    assert (reset.support.name, reset.change) == ("C", pytest.approx(0.012))
    after = judged(parted(338 + reset.change * 1000), tmp_path)
    assert worst_hole(after) == pytest.approx(reset.left, abs=1e-12)
    level = reset_for_level(before.job, before.stages[1].state, gaps(before), "unit")
    assert level is not None
    assert tilt(judged(parted(338 + level.change * 1000), tmp_path)) == pytest.approx(level.left, abs=1e-12)


def test_no_other_whole_millimetre_of_that_stand_is_better(tmp_path: Path) -> None:
    before = judged(parted(340), tmp_path)
    reset = reset_for_holes(before.job, before.stages[1].state, gaps(before), "unit")
    assert reset is not None
    holes = {height: worst_hole(judged(parted(height), tmp_path)) for height in range(346, 356)}
    assert min(holes, key=holes.__getitem__) == 340 + round(reset.change * 1000)


def test_a_stand_that_is_too_high_is_lowered(tmp_path: Path) -> None:
    assert "lower C by 10 mm." in said(the(judged(parted(360), tmp_path).stages[1], "alignment", "bolts"))


def test_under_a_free_unit_the_weight_comes_back_first(tmp_path: Path) -> None:
    later = said(the(judged(parted(344), tmp_path).stages[2], "alignment", "bolts"))
    assert "Do not touch C. Take the weight back first. Then raise C by 6 mm." in later


@pytest.mark.parametrize(
    ("back", "shim", "told"),
    [
        (330, 14, "raise C by 6 mm (set to 350 mm, no shim)"),
        (330, 12, "raise C by 8 mm (set to 350 mm, no shim)"),
        (350, 9, "lower C by 9 mm (set to 350 mm, no shim)"),
        (310, 25, "raise C by 15 mm (set to 350 mm, no shim)"),
    ],
)
def test_a_stand_that_goes_in_steps_is_told_its_step_and_shim(tmp_path: Path, back: int, shim: int, told: str) -> None:
    job = parted(back, shim={"height": shim, "wood": "steel"}) | {"equipment": [STEPPED]}
    assert told in said(the(judged(job, tmp_path).stages[1], "alignment", "bolts"))


def test_a_stand_may_go_down_to_its_lowest_step_and_no_lower(tmp_path: Path) -> None:
    for lowest, told in ((350, "lower C by 9 mm (set to 350 mm, no shim)"), (370, "")):
        stepped = STEPPED | {"name": "stepped", "heights": {"from": lowest, "to": 430, "step": 20}}
        shim = {"height": 359 - lowest, "wood": "steel"} if lowest < 359 else None
        job = parted(lowest, use="stepped") | {"equipment": [STAND, stepped]}
        job["support"][2] |= {"shim": shim} if shim else {}
        said_of = said(the(judged(job, tmp_path).stages[1], "alignment", "bolts"))
        assert told in said_of
        assert bool(told) == ("lower C" in said_of)


def test_between_two_steps_the_rest_is_a_shim(tmp_path: Path) -> None:
    job = parted(330, shim={"height": 9, "wood": "steel"}) | {"equipment": [STEPPED]}
    for each in job["support"][:2]:
        each["shim"] = {"height": 6, "wood": "steel"}
    assert "raise C by 17 mm (set to 350 mm, shim 6 mm)" in said(the(judged(job, tmp_path).stages[1], "alignment"))


def test_a_stepless_stand_at_its_end_gets_a_shim(tmp_path: Path) -> None:
    low = STAND | {"name": "low", "heights": {"from": 100, "to": 344}}
    job = parted(344, use="low") | {"equipment": [STAND, low]}
    told = said(the(judged(job, tmp_path).stages[1], "alignment", "bolts"))
    assert "raise C by 6 mm (set to 344 mm, shim 6 mm)" in told
    high = STAND | {"name": "high", "heights": {"from": 350, "to": 900}}
    job = parted(350, use="high", shim={"height": 9, "wood": "steel"}) | {"equipment": [STAND, high]}
    told = said(the(judged(job, tmp_path).stages[1], "alignment", "bolts"))
    assert "lower C by 9 mm (set to 350 mm, no shim)" in told


def test_a_stepless_stand_is_turned_up_to_its_very_end_without_a_shim(tmp_path: Path) -> None:
    to_its_end = STAND | {"name": "end", "heights": {"from": 100, "to": 350}}
    told = said(
        the(judged(parted(344, use="end") | {"equipment": [STAND, to_its_end]}, tmp_path).stages[1], "alignment")
    )
    assert "raise C by 6 mm. That leaves" in told


def test_a_stand_that_cannot_go_down_is_left_and_another_one_told(tmp_path: Path) -> None:
    high = STAND | {"name": "high", "heights": {"from": 360, "to": 900}}
    told = said(the(judged(parted(360, use="high") | {"equipment": [STAND, high]}, tmp_path).stages[1], "alignment"))
    assert "lower C" not in told


def test_where_no_holes_are_apart_there_is_nothing_to_line_up(tmp_path: Path) -> None:
    before = judged(unit_job({"A": [300, 300, 200], "B": [300, -300, 200], "C": [-300, 0, 200]}), tmp_path)
    stage = before.stages[0]
    known = {each.name: each.gap for each in stage.statics.supports}
    assert reset_for_holes(before.job, stage.state, known, "unit") is None


def test_what_is_left_is_rounded_up(tmp_path: Path) -> None:
    """Two stands are off, and one reset leaves a few millimetres: told as no less than they are."""
    job = parted(340)
    job["support"][1]["height"] = 342
    assessment = judged(job, tmp_path)
    reset = reset_for_holes(assessment.job, assessment.stages[1].state, gaps(assessment), "unit")
    assert reset is not None
    assert reset.left > 0.0015
    told = said(the(assessment.stages[1], "alignment", "bolts"))
    assert f"That leaves the worst hole of all {ceil(reset.left * 1000)} mm out." in told


def test_a_stand_of_unknown_heights_is_just_raised(tmp_path: Path) -> None:
    bare = {key: value for key, value in STAND.items() if key != "heights"} | {"name": "bare"}
    job = parted(344, use="bare", shim={"height": 6, "wood": "steel"}) | {"equipment": [STAND, bare]}
    job["support"][2]["height"] = 338
    assert "raise C by 6 mm." in said(the(judged(job, tmp_path).stages[1], "alignment", "bolts"))


def test_a_level_unit_s_cure_names_what_it_leaves(tmp_path: Path) -> None:
    found = the(judged(parted(330), tmp_path).stages[1], "level", "unit")
    assert found.verdict is Verdict.CAUTION
    assert said(found).endswith("back low. Before unbolting: raise C by 20 mm. That leaves 0.1 degrees.")


def test_a_cure_that_leaves_another_assembly_leaning_more_says_of_which_it_tells(tmp_path: Path) -> None:
    """The base leans 3 degrees and comes to about 1; the rider on it, which leans nearly 8, comes to more than 5."""
    job = read_job(write_job(random_jobs.rough(Random(106)), tmp_path))
    told = said(the(assess(job).stages[1], "level", "base"))
    assert told.startswith("The base stands 3 degrees out of level")
    assert "That leaves the worst of the base and rider 5.4 degrees out." in told


def test_no_stand_is_reset_so_that_another_one_comes_loose(tmp_path: Path) -> None:
    """Four stands that all carry, the shell's holes out by 8 mm all round: turning the unit would free a stand."""
    job = lifted_job()
    assessment = judged(job, tmp_path)
    reset = reset_for_level(assessment.job, assessment.stages[1].state, gaps(assessment), "unit")
    assert reset is None


SOFT = {"A": [400, 300, 200], "B": [400, -300, 200], "C": [-400, 300, 200], "D": [-400, -300, 200]}


def on_soft(limit: float = 20000.0, rating: float = 20000.0) -> Raw:
    """400 kg a little behind the middle of four soft stands; the places over the back ones may take so much [N]."""
    soft = STAND | {"stiffness": 50, "rating": rating}
    job = unit_job(SOFT, part=[part("block", "unit", 400, [-100, -20, 500])], equipment=[soft])
    job["support"] = stands(SOFT, "unit", 350)
    job["point"] = [{"name": each.lower(), "body": "unit", "at": SOFT[each], "limit": limit} for each in "CD"]
    job["support"][2:] = [{"name": each, "use": "stand", "under": each.lower(), "height": 350} for each in "CD"]
    return job


def levelled(job: Raw, folder: Path) -> Reset | None:
    assessment = judged(job, folder)
    (stage,) = assessment.stages
    low = {each.name: each.gap for each in stage.statics.supports}
    return reset_for_level(assessment.job, stage.state, low, "unit")


@pytest.mark.parametrize("by_rating", [False, True])
def test_a_reset_that_overloads_another_place_is_not_told(tmp_path: Path, by_rating: bool) -> None:  # noqa: FBT001
    """Lowering A by 9 mm levels best; where C, or any stand, may take 1250 N, by 7 mm: with 8 it takes more."""
    free = levelled(on_soft(), tmp_path)
    assert free is not None
    assert (free.support.name, free.change) == ("A", pytest.approx(-0.009))
    limited = {"rating": 1250 / G} if by_rating else {"limit": 1250}
    held = levelled(on_soft(**limited), tmp_path)
    assert held is not None
    assert (held.support.name, held.change) == ("A", pytest.approx(-0.007))
    for change, fits in ((-7, True), (-8, False)):
        job = on_soft(**limited)
        job["support"][0]["height"] = 350 + change
        assert (loads(judged(job, tmp_path).stages[0])["C"] <= 1250) is fits


def test_a_reset_that_hardly_helps_is_not_told(tmp_path: Path) -> None:
    assert levelled(on_soft(limit=1170), tmp_path) is None


def test_what_stands_level_needs_none_and_what_hangs_has_none(tmp_path: Path) -> None:
    level = on_soft()
    level["part"][0]["at"] = [0, 0, 500]
    assert levelled(level, tmp_path) is None
    hung = on_soft()
    hung["equipment"][0] |= {"kind": "hoist"}
    hung["support"] = [{key: value for key, value in each.items() if key != "height"} for each in hung["support"]]
    assert levelled(hung, tmp_path) is None


def test_while_still_hung_only_stands_under_the_leaning_assembly_are_reset() -> None:
    """The demo's front unit with a 18 mm too high a shim at the gearbox: its own stands are reset, not the cradle's."""
    job = read_job(shipped_folder("demo") / "front-unit.toml")
    high = tuple(
        replace(each, shim=Stack(0.030, "steel", crib=False)) if each.name == "F" else each for each in job.supports
    )
    strict = replace(job.limits, level=radians(0.3))
    assessment = assess(replace(job, limits=strict, supports=high, stages=job.stages[:2]))
    leaning = said(the(assessment.stages[0], "level", "powertrain"))
    assert "lower F by 7 mm (set to 400 mm, shim 23 mm)." in leaning
    parted_ = said(the(assessment.stages[1], "alignment", "gearbox mount"))
    assert "The hole at gearbox mount will be" in parted_
    assert "Before unbolting: lower F by 18 mm (set to 400 mm, shim 12 mm)." in parted_
