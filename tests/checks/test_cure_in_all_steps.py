"""A told cure that moves or raises stands tells which other steps come out worse with it. Made-up jobs."""

import re
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from loadplan import read_job
from loadplan.assess import assess, assess_as_it_is, cures_in_all_steps
from loadplan.model.plan_cure import StandsMoved
from loadplan.model.verdict import Verdict
from tests.checks.small_jobs import STAND, Raw, judged, said, the
from tests.checks.test_moved_stand_cure import PLACES, forward, pushed
from tests.reference import random_jobs
from tests.reference.random_jobs import write_job

BASED = [STAND | {"base": 400}]


def two_steps(places: dict[str, list[float]], beside: list[float]) -> Raw:
    """A push that is too much for A and B; in the second step one more stand comes to a place."""
    raw = pushed(places, equipment=BASED)
    raw["support"].append({"name": "E", "use": "stand", "body": "unit", "at": beside})
    return raw | {"stage": [*raw["stage"], {"name": "one more", "in_place": ["E"]}]}


def told(beside: list[float], folder: Path) -> str:
    return said(the(judged(two_steps(PLACES, beside), folder).stages[0], "push"))


def test_a_cure_names_the_step_that_stops_with_it(tmp_path: Path) -> None:
    """A and B go so far forward that the base of E lies there."""
    apart = told([-600, 0, 200], tmp_path)
    out = int(re.search(r"A and B each (\d+) mm further out to the front", apart)[1])  # type: ignore[index]
    assert "with that" not in apart
    in_the_way = told([250 + out / 2 + 400, 250, 200], tmp_path)
    assert f"A and B each {out} mm further out" in in_the_way
    assert in_the_way.endswith(" But one more stops with that: mend the plan as a whole.")


def test_a_page_that_judges_each_change_itself_waits_for_no_other_step(tmp_path: Path) -> None:
    job = judged(two_steps(PLACES, [-600, 0, 200]), tmp_path).job
    out = int(re.search(r"each (\d+) mm", said(the(assess(job).stages[0], "push")))[1])  # type: ignore[index]
    job = judged(two_steps(PLACES, [250 + out / 2 + 400, 250, 200]), tmp_path).job
    alone = assess_as_it_is(job)
    assert "with that" not in said(the(alone.stages[0], "push"))
    assert "with that" in said(the(cures_in_all_steps(alone).stages[0], "push"))


def test_a_cure_names_the_step_that_comes_to_a_caution_with_it(tmp_path: Path) -> None:
    """As above, and the base of E ends 25 mm beside that of A: less than the 50 mm that are asked for."""
    out = int(re.search(r"each (\d+) mm", told([-600, 0, 200], tmp_path))[1])  # type: ignore[index]
    assert told([650 + out + 25, 250, 200], tmp_path).endswith(" Something else in one more then comes to a caution.")


@pytest.mark.parametrize("apart", [-25, 60])
def test_what_is_said_of_the_other_step_is_so(apart: float, tmp_path: Path) -> None:
    out = int(re.search(r"each (\d+) mm", told([-600, 0, 200], tmp_path))[1])  # type: ignore[index]
    beside = [650 + out + apart, 250, 200]
    before = judged(two_steps(PLACES, beside), tmp_path).stages[1]
    after = judged(two_steps(forward("AB", out), beside), tmp_path).stages[1]
    assert before.verdict < Verdict.STOP
    stops = "But one more stops" in told(beside, tmp_path)
    assert stops is (after.verdict is Verdict.STOP) is (apart < 0)


def test_a_distance_that_no_longer_does_once_the_stands_are_there_from_the_beginning_is_not_told(
    tmp_path: Path,
) -> None:
    """G is brought up to touch in the second step: to a unit that by then stands otherwise, and it carries nothing."""
    job = read_job(write_job(random_jobs.bolted_pair(Random(106)), tmp_path))
    alone = the(assess_as_it_is(job).stages[1], "sway")
    assert alone.cure is not None
    (out,) = alone.cure.found.cures
    assert isinstance(out, StandsMoved)
    to = {each.support: each.to for each in out.moves}
    supports = (replace(each, at=(*to.get(each.name, each.at[:2]), each.at[2])) for each in job.supports)
    after = the(assess(replace(job, supports=tuple(supports))).stages[1], "sway")
    assert after.verdict is Verdict.CAUTION
    assert "further out from their middle" in said(alone)
    assert "further out from their middle" not in said(the(assess(job).stages[1], "sway"))
