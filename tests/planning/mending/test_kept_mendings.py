"""How plans are mended: what is looked at, what is told, and what is left, held against kept texts."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import groupby, pairwise
from pathlib import Path
from typing import NamedTuple

import pytest

from loadplan.model.job import Job
from loadplan.planning.mending import change_search
from loadplan.planning.mending.fewest_changes import mend
from tests.kept_text import assert_kept
from tests.planning.mending.bad_plans import bad_plans
from tests.planning.mending.plans import CORNERS, POINTS, RATCHET, SCREW, VEHICLE, WEAK, but, plan, stand
from tests.planning.mending.test_mend_what_can_be import small
from tests.planning.mending.written import differences, sentence

KEPT = Path(__file__).parent / "kept"
BAD = bad_plans()


class Looks(NamedTuple):
    """What a search was heard to tell.

    Attributes:
        looked: Plans looked at.
        planned: Plans that are to be looked at.
    """

    looked: int
    planned: int


def _weak(count: int) -> Job:
    """So many of four stands too weak, D set too low."""
    stands = [replace(each, equipment=WEAK, tag=f"W{number}") for number, each in enumerate(CORNERS[:count], 1)]
    return small(plan(*but(*stands, stand("D", "rear right", height=0.31)), shop=(RATCHET,)))


def _far_from_tipping(job: Job) -> Job:
    """Half a metre to tipping is asked for, which four corners do not leave."""
    return replace(job, limits=replace(job.limits, margin=0.5))


def _beside_points() -> Job:
    """Three places in a row, and more needed: it has to be one that is no point."""
    points = tuple(each for each in POINTS if each.name in {"front left", "front right", "middle left"})
    job = small(plan(stand("A", "front left"), stand("B", "front right"), stand("C", "middle left"), shop=(SCREW,)))
    return replace(job, vehicle=replace(VEHICLE, points=points, example=False))


PLANS: Mapping[str, Job] = {
    "two-alone": small(BAD["two stands alone"]),
    "a-saddle-that-slips": small(BAD["a saddle that slips"]),
    "too-high-for-the-stand": small(BAD["a setting above the stand's range"]),
    "oil-overnight": small(BAD["oil overnight"]),
    "beside-points": _beside_points(),
    "weak-and-low": _weak(1),
    "three-weak-and-low": _weak(3),
    "mended-in-part": _far_from_tipping(_weak(0)),
    "not-inspected-and-beside": BAD["not inspected, and beside the unit"],
    "under-what-comes-off": BAD["a stand under what comes off"],
}
SLOW = ("weak-and-low", "three-weak-and-low", "mended-in-part", "not-inspected-and-beside", "under-what-comes-off")


def _written(job: Job, first: int = 0) -> Iterator[str]:
    heard: list[Looks] = []
    found = mend(job, first, lambda *told: heard.append(Looks(*told)), lambda: heard.append(Looks(0, 0)))
    for ahead, looks in groupby(filter(lambda each: each.planned, heard), key=lambda each: each.looked < each.planned):
        told = list(looks)
        planned = sorted({each.planned for each in told if ahead})
        yield f"looked at {told[0].looked} to {told[-1].looked} of {planned or 'as many'}"
    yield f"nothing stops after {[each.looked for each, after in pairwise(heard) if after == Looks(0, 0)]}"
    proven, ended = "proven" * found.proven or "not proven", "ran out" * found.ran_out or "ended"
    yield f"{found.before.name} -> {found.verdict.name}, margin {found.margin:.4f}; {proven}; {ended}"
    yield f"{found.looked_at} looked at; {found.enough} of {len(found.changes)} enough; short {found.short}"
    yield f"in part {found.in_part}; nothing to mend {found.nothing_to_mend}"
    yield from (f"{each.kind} {each.support}: {sentence(each.says)}" for each in found.changes)
    yield from (f"    {line}" for line in differences(job, found.job))
    for each in found.left:
        yield f"left: {each.stage}, {each.finding.verdict.name} {each.finding.check.value} {each.finding.subject}"


@pytest.mark.parametrize("name", [pytest.param(each, marks=[pytest.mark.slow] * (each in SLOW)) for each in PLANS])
def test_a_plan_is_mended_as_it_is_kept(name: str) -> None:
    assert_kept(KEPT / f"mended-{name}.txt", "\n".join([*_written(PLANS[name]), ""]))


def test_out_of_looks_it_ends_as_it_is_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(change_search, "MOST_LOOKS", 30)
    assert_kept(KEPT / "mended-out-of-looks.txt", "\n".join([*_written(small(BAD["too weak, and out of use"])), ""]))
