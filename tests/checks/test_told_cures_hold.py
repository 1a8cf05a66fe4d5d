"""Stands further out, or raised: done in the plan as told, the caution is gone. Made-up jobs by family and seed."""

import re
from collections.abc import Iterator
from dataclasses import replace
from math import hypot
from pathlib import Path
from random import Random

import pytest

from loadplan.assess import assess
from loadplan.model.job import Job
from loadplan.model.plan_cure import StandsRaised
from loadplan.model.verdict import Assessment, Finding, Measure, Verdict
from tests.checks.small_jobs import Raw, found, judged, part, said, the, unit_job
from tests.proofs.held_as_it_settles import with_tolerance
from tests.reference import random_jobs
from tests.validation import six_families

TOLD = re.compile(r" With (?P<stands>.+?) (?:each )?(?P<out>[0-9]+) mm further out to the (?P<way>[a-z ]+?) it has ")
WAYS = {"front": (1, 0), "back": (-1, 0), "left": (0, 1), "right": (0, -1)}


def moved(job: Job, says: str) -> Job:
    """Do what a finding tells: stands so far out, that way."""
    told = TOLD.search(says)
    assert told, says
    x, y = (sum(axis) for axis in zip(*(WAYS[each] for each in told["way"].split()), strict=True))
    by, names = int(told["out"]) / 1000 / hypot(x, y), re.split(", | and ", told["stands"])
    return replace(
        job,
        supports=tuple(
            replace(each, at=(each.at[0] + by * x, each.at[1] + by * y, each.at[2])) if each.name in names else each
            for each in job.supports
        ),
    )


def raised(job: Job, cure: StandsRaised) -> Job:
    ups = {each.support: each.by for each in cure.raises}
    return replace(
        job,
        supports=tuple(
            each if each.height is None else replace(each, height=each.height + ups.get(each.name, 0.0))
            for each in job.supports
        ),
    )


@pytest.mark.parametrize(
    ("raw", "step", "body"),
    [
        pytest.param(
            with_tolerance(six_families.tall_on_soft(Random(2000))), 0, "unit", id="soft stands give way at a corner"
        ),
        pytest.param(random_jobs.shell_elsewhere(Random(1000)), 0, "subframe", id="its tilt is too small, too"),
    ],
)
def test_stands_as_far_out_as_is_told_leave_no_caution(tmp_path: Path, raw: Raw, step: int, body: str) -> None:
    before = judged(raw, tmp_path)
    finding = the(before.stages[step], "margin", body)
    assert finding.verdict is Verdict.CAUTION
    if TOLD.search(said(finding)):
        assert the(assess(moved(before.job, said(finding))).stages[step], "margin", body).verdict is Verdict.HOLDS


def test_a_distance_that_leaves_too_little_tilt_says_so(tmp_path: Path) -> None:
    """A thin mast of a unit: 50 mm of margin are soon there, ten degrees at 2 m over the saddles never."""
    places = {"A": [80, 250, 200], "B": [80, -250, 200], "C": [-300, 250, 200], "D": [-300, -250, 200]}
    outline = [[160, 500], [160, -500], [-600, -500], [-600, 500]]
    block = part("block", "unit", 400, [50, 0, 2200])
    before = judged(unit_job(places, part=[block], body=[{"name": "unit", "outline": outline}]), tmp_path)
    says = said(the(before.stages[0], "margin"))
    assert "it has the margin asked for, but still tilts by less than is asked for." in says
    after = the(assess(moved(before.job, says)).stages[0], "margin")
    assert after.verdict is Verdict.CAUTION
    assert after.measure is Measure.ANGLE


def test_a_raise_in_the_plan_leaves_no_stand_idle_and_none_that_carries_when_it_is_taken_away(tmp_path: Path) -> None:
    """What is only brought up to touch comes up with the highest stand: raised in the plan, that one takes no load."""
    raws = [
        random_jobs.stacked(Random(1002)),
        random_jobs.bolted_pair(Random(1000)),
        random_jobs.one_body(Random(2002)),
        random_jobs.bolted_pair(Random(2003)),
        random_jobs.set_and_touched(Random(2002)),
    ]
    tried = [each for raw in raws for each in _done(judged(raw, tmp_path))]
    assert len(tried) > 3
    for before, after in tried:
        assert all(each.verdict < Verdict.CAUTION for each in after), said(before)


def _done(before: Assessment) -> Iterator[tuple[Finding, list[Finding]]]:
    """Yield each finding with a raise as a change of the plan, with what is found once that is done."""
    for index, stage in enumerate(before.stages):
        for finding in (*found(stage, "idle support"), *found(stage, "unloading")):
            for cure in finding.cures:
                assert isinstance(cure, StandsRaised)
                after = assess(raised(before.job, cure)).stages[index]
                yield finding, found(after, finding.check, finding.subject)


def test_what_stands_highest_is_not_told_to_be_raised_where_others_come_up_with_it(tmp_path: Path) -> None:
    finding = the(judged(random_jobs.stacked(Random(1002)), tmp_path).stages[0], "idle support", "D")
    assert "plan without it, or set what is only brought up to touch to a lower height" in said(finding)
    assert not finding.cures
