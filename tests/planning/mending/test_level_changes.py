"""Stands that are out of line with the others are set anew together."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.files import read_job, shipped_folder
from loadplan.model.job import Job
from loadplan.model.verdict import Verdict
from loadplan.planning.mending.candidate_changes import candidates
from loadplan.planning.mending.change_search import ChangeSearch, LooksTaken, TriedChanges, made
from loadplan.planning.mending.fewest_changes import mend
from loadplan.planning.mending.judged_plan import JudgedPlan, judged
from loadplan.planning.mending.level_changes import back_in_line
from loadplan.planning.mending.plan_change import ChangeKind, PlanChange
from tests.planning.mending.plans import RATCHET, SCREW, but, plan, stand

LOW = 0.29


def heights(job: Job) -> dict[str, int]:
    """Return how high each stand is set [mm], 0 where it is brought up to touch."""
    return {each.name: round(1000 * (each.set_height or 0.0)) for each in job.supports}


def test_of_each_level_the_stands_that_are_off_it_are_brought_to_it_the_fewest_first() -> None:
    job = plan(
        *but(stand("A", "front left", height=LOW), stand("B", "front right", height=LOW)),
        stand("E", "middle left", height=0.33),
        shop=(RATCHET,),
    )
    start = judged(job, 0, Verdict.CAUTION)
    singles = ChangeSearch(start, 0, Verdict.CAUTION, LooksTaken(lambda _looked, _planned: None)).singles(
        candidates(start, 0)
    )
    two, three = back_in_line(job, singles)
    raised, lowered = (made(job, each) for each in (two, three))
    assert raised is not None
    assert lowered is not None
    assert {each.about for each in two} == {"A", "B"}
    assert {each.about for each in three} == {"C", "D", "E"}
    assert set(heights(raised[0]).values()) == {330}
    assert set(heights(lowered[0]).values()) == {290}


def test_stands_within_an_uneven_floor_of_the_others_are_in_line() -> None:
    near = 0.33 + 0.002
    job = plan(
        *but(
            stand("A", "front left", SCREW, near),
            stand("B", "front right", SCREW, near),
            stand("C", "rear left", SCREW, 0.31),
        )
    )
    start = judged(job, 0, Verdict.CAUTION)
    singles = ChangeSearch(start, 0, Verdict.CAUTION, LooksTaken(lambda _looked, _planned: None)).singles(
        candidates(start, 0)
    )
    assert [{each.about for each in one} for one in back_in_line(job, singles)] == [{"A", "B", "D"}]


@pytest.mark.slow
def test_two_stands_of_the_demo_one_setting_too_low_are_both_set_right(tmp_path: Path) -> None:
    """Neither helps by itself: before, a stand was moved elsewhere, and a caution was left."""
    for name in ("front-unit.toml", "shop.toml"):
        (tmp_path / name).write_text((shipped_folder("demo") / name).read_text("utf-8"), "utf-8")
    file = tmp_path / "front-unit.toml"
    text, count = re.subn(r"(?m)^(height\s*=\s*)330$", r"\g<1>290", file.read_text("utf-8"), count=2)
    assert count == 2
    file.write_text(text, "utf-8")
    found = mend(read_job(file), 0, lambda _looked, _planned: None)
    assert heights(found.job) == heights(read_job(shipped_folder("demo") / "front-unit.toml"))
    assert len(found.changes) == 2
    assert found.proven


def set_to(name: str, height: float | None, kind: ChangeKind = ChangeKind.HEIGHT) -> TriedChanges:
    """A plan with one stand set otherwise."""
    change = PlanChange(kind, name, lambda _: None)
    job = plan()
    there = replace(job, supports=tuple(replace(s, height=height) if s.name == name else s for s in job.supports))
    return TriedChanges((change,), JudgedPlan(there, Verdict.STOP, frozenset(), 0.0), ())


def brought(heights_: dict[str, float | None], *singles: TriedChanges) -> list[list[int]]:
    """What is brought back into line, by the numbers of the single changes; A to D are set as given, else at 330 mm."""
    supports = tuple(replace(each, height=heights_.get(each.name, 0.33)) for each in plan().supports)
    found = back_in_line(replace(plan(), supports=supports), singles)
    numbers = {id(each.changes[0]): number for number, each in enumerate(singles)}
    return [[numbers[id(change)] for change in those] for those in found]


def test_of_each_stand_the_setting_nearest_to_the_level_is_taken() -> None:
    """A and B are 40 mm low: of A 328 mm is the nearest, of B 331 mm, after which 329 mm is as near."""
    singles = [set_to("A", 0.32), set_to("A", 0.328), set_to("A", 0.34), set_to("B", 0.331), set_to("B", 0.329)]
    low = {"A": 0.29, "B": 0.29}
    assert brought(low, *singles) == [[1, 3]]
    # What brings none nearer, is no height, or is brought up to touch, is not taken.
    none = [set_to("A", 0.28), set_to("B", 0.38), set_to("A", 0.33, ChangeKind.EQUIPMENT), set_to("B", None)]
    assert brought(low, *none) == []
    assert brought(low, *none, *singles) == [[5, 7]]
    assert brought({"A": None, "B": 0.29}, *singles) == []


def test_the_fewest_come_first_and_one_alone_is_none() -> None:
    """A is 40 mm low, so three would have to go down to it; to the others it goes up by itself."""
    down = [set_to(each, 0.29) for each in "BCD"]
    assert brought({"A": 0.29}, set_to("A", 0.33), *down) == [[1, 2, 3]]
    assert brought({"A": 0.29, "B": 0.31}, set_to("A", 0.33), set_to("B", 0.33), *down) == [[0, 1], [2, 3, 4]]


def test_within_an_uneven_floor_a_stand_is_there() -> None:
    """The floor may be uneven by 3 mm."""
    assert plan().limits.uneven == pytest.approx(0.003)
    singles = [set_to("A", 0.33), set_to("B", 0.33)]
    assert brought({"A": 0.3269, "B": 0.3}, *singles) == [[0, 1]]
    assert brought({"A": 0.3271, "B": 0.3}, *singles) == []


def test_what_stands_on_an_assembly_has_no_level_of_its_own() -> None:
    job = plan()
    supports = tuple(replace(each, height=0.29, on="cradle" if each.name == "A" else "") for each in job.supports[:2])
    supports = (*supports, *job.supports[2:])
    singles = [set_to("A", 0.33), set_to("B", 0.33)]
    assert back_in_line(replace(job, supports=supports), singles) == []
