"""Stands that are out of line with the others are set anew together."""

import re
from pathlib import Path

import pytest

from loadplan.files import read_job, shipped_folder
from loadplan.model.job import Job
from loadplan.model.verdict import Verdict
from loadplan.planning.mending.candidate_changes import candidates
from loadplan.planning.mending.change_search import ChangeSearch, LooksTaken, made
from loadplan.planning.mending.fewest_changes import mend
from loadplan.planning.mending.judged_plan import judged
from loadplan.planning.mending.level_changes import back_in_line
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
