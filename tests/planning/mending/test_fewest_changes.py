"""Mending against the obvious way, and on plans each of which stops for another reason."""

from collections.abc import Callable
from dataclasses import replace
from functools import reduce
from itertools import combinations
from math import inf

import pytest

from loadplan.assess import assess
from loadplan.model.job import Job, Stage
from loadplan.model.vehicle import Basis
from loadplan.model.verdict import CheckName, Verdict
from loadplan.planning.mending.candidate_changes import candidates
from loadplan.planning.mending.fewest_changes import mend
from loadplan.planning.mending.judged_plan import JudgedPlan, PlanGlance, judged
from loadplan.planning.mending.mending_answer import Mending
from loadplan.planning.mending.plan_change import ChangeKind, PlanChange
from loadplan.stages import states
from loadplan.statics.stage_sequence import solve_stages
from tests.planning.mending.bad_plans import bad_plans
from tests.planning.mending.plans import (
    POINTS,
    RATCHET,
    SCREW,
    VEHICLE,
    WEAK,
    but,
    plan,
    stand,
)

pytestmark = pytest.mark.slow

BAD = bad_plans()

QUICK = ("three stands, all in front", "a piece that is out of use")
"""One of each kind that is soon mended; the others are tried with the slow tests."""


def _mended(job: Job, first: int = 0) -> Mending:
    return mend(job, first, lambda _looked, _planned: None)


def _stops(job: Job) -> bool:
    return assess(job).verdict is Verdict.STOP


def _ends_well(name: str) -> None:
    job = BAD[name]
    assert _stops(job)
    found = _mended(job)
    assert found.before is Verdict.STOP
    assert 1 <= found.enough <= 2
    assert not _stops(found.job)
    assert found.verdict is assess(found.job).verdict


@pytest.mark.parametrize("name", QUICK)
def test_a_stop_has_a_way_out(name: str) -> None:
    _ends_well(name)


@pytest.mark.slow
@pytest.mark.parametrize("name", [name for name in BAD if name not in QUICK])
def test_every_stop_has_a_way_out_by_at_most_two_changes(name: str) -> None:
    _ends_well(name)


@pytest.mark.slow
@pytest.mark.parametrize("name", BAD)
def test_where_two_changes_are_told_judging_every_single_one_finds_none_that_does(name: str) -> None:
    job = BAD[name]
    found = _mended(job)
    single = bool(_without_stop(job, 1, lambda _: True))
    assert (found.enough == 1) is single


def test_there_are_twenty_bad_plans() -> None:
    assert len(BAD) >= 20


def _made(job: Job, changes: tuple[PlanChange, ...]) -> Job | None:
    """The job with changes made, None where one of them cannot be."""

    def one(so_far: Job | None, change: PlanChange) -> Job | None:
        made = change.make(so_far) if so_far else None
        return made.job if made else None

    return reduce(one, changes, job)


def _without_stop(job: Job, count: int, usable: Callable[[PlanChange], bool]) -> list[tuple[Verdict, float]]:
    """Verdict and margin of every plan with so many changes after which nothing stops, each judged by every check."""
    found = []
    every = [each for each in candidates(judged(job, 0, Verdict.STOP), 0) if usable(each)]
    for changes in combinations(every, count):
        made = _made(job, changes)
        if made is not None:
            told = judged(made, 0, Verdict.STOP)
            # A stand at a place that is no point is a caution at best, until the place is in the vehicle's file.
            mildest = Verdict.CAUTION if any(each.at_cell for each in changes) else Verdict.HOLDS
            if not told.troubles:
                found.append((max(told.verdict, mildest), told.margin))
    return found


SMALL = replace(
    VEHICLE, points=tuple(each for each in POINTS if each.name.startswith(("front", "rear", "middle"))), example=False
)


def _small(job: Job) -> Job:
    """A job of a shop that has little, and of a vehicle with few places: so that every pair can be judged."""
    return replace(job, vehicle=SMALL, shop=replace(job.shop, shims=()), stages=job.stages[:1])


@pytest.mark.parametrize(
    "job",
    [
        _small(plan(*but(stand("A", "front left", height=0.47)), shop=(RATCHET,))),
        _small(plan(stand("A", "front left"), stand("B", "front right"), stand("C", "middle left"), shop=(RATCHET,))),
        _small(plan(stand("A", "middle left"), stand("B", "middle right"), shop=(RATCHET,))),
    ],
    ids=["a height", "a place", "two more"],
)
def test_no_fewer_changes_do_than_judging_all_of_them_finds(job: Job) -> None:
    found = _mended(job)
    singles = _without_stop(job, 1, lambda _: True)
    if singles:
        assert found.enough == 1
        best = singles
    else:
        assert found.enough == 2
        best = _without_stop(job, 2, lambda each: each.kind in {ChangeKind.ADD, ChangeKind.PLACE})
    assert found.proven
    verdict = min(verdict for verdict, _ in best)
    assert found.verdict is verdict
    assert found.margin >= max(margin for each, margin in best if each is verdict) - 5e-5


@pytest.mark.parametrize("name", ["a place that may take little", "three stands, all in front", "oil overnight"])
def test_a_glance_is_never_worse_than_every_check(name: str) -> None:
    job = BAD[name]
    for change in candidates(judged(job, 0, Verdict.STOP), 0)[::6]:
        made = _made(job, (change,))
        if made is not None:
            full = judged(made, 0, Verdict.CAUTION)
            seen = PlanGlance(JudgedPlan(made, Verdict.HOLDS, frozenset(), inf), 0, Verdict.CAUTION).start
            assert seen.troubles <= full.troubles
            assert seen.margin >= full.margin - 1e-9


def test_where_nothing_stops_or_cautions_nothing_is_changed() -> None:
    found = _mended(plan())
    assert found.nothing_to_mend
    assert found.changes == ()
    assert found.job == plan()


def test_weights_that_are_guessed_are_nothing_to_mend() -> None:
    guessed = replace(VEHICLE, example=False, bodies=(replace(VEHICLE.bodies[0], basis=Basis.GUESS),))
    parts = tuple(replace(each, basis=Basis.GUESS) for each in VEHICLE.parts)
    job = replace(plan(), vehicle=replace(guessed, parts=parts))
    found = _mended(job)
    assert found.before is Verdict.CAUTION
    assert found.nothing_to_mend
    assert [each.finding.check for each in found.left] == [CheckName.BASIS] * len(found.left)


def test_where_only_something_cautions_the_caution_is_mended() -> None:
    job = plan(*but(stand("D", "rear right", height=0.31)))
    before = judged(job, 0, Verdict.CAUTION)
    assert before.verdict is Verdict.CAUTION
    found = _mended(job)
    assert found.enough == 0
    assert len(found.changes) == 1
    assert found.verdict is Verdict.HOLDS


def test_a_stop_without_a_way_out_is_told_as_one_and_nothing_is_changed() -> None:
    """A place that may take nothing, and no other: no stand anywhere helps."""
    points = tuple(replace(each, limit=1.0) for each in POINTS[:4])
    job = plan(shop=(RATCHET,))
    job = replace(
        job,
        vehicle=replace(VEHICLE, points=points),
        supports=tuple(replace(each, limit=1.0) for each in job.supports),
        shop=replace(job.shop, shims=()),
        stages=job.stages[:1],
    )
    found = _mended(job)
    assert found.verdict is Verdict.STOP
    assert found.changes == ()
    assert not found.nothing_to_mend
    assert CheckName.POINT in {each.finding.check for each in found.left}


def test_what_stands_already_stays_as_it_stands() -> None:
    """From the second step on the weak stand carries: one more is set, and the four are left alone."""
    job = plan(*but(stand("B", "front right", WEAK)), shop=(RATCHET, SCREW))
    found = _mended(job, 1)
    assert found.job.supports[:4] == job.supports
    assert found.job.stages[0] == job.stages[0]
    assert {each.kind for each in found.changes} <= {ChangeKind.ADD, ChangeKind.CLEAR, ChangeKind.RAISE}


def test_a_stand_that_is_to_be_kept_stays_in_its_place() -> None:
    job = plan(*but(replace(stand("A", "middle left"), keep=True)), shop=(RATCHET,))
    job = replace(_small(job), supports=tuple(replace(each, limit=1000.0) for each in job.supports))
    found = _mended(job)
    assert next(each for each in found.job.supports if each.name == "A").point == "middle left"


def test_a_stand_at_a_place_that_is_no_point_is_a_caution_at_best() -> None:
    points = tuple(each for each in POINTS if each.name in {"front left", "front right", "middle left"})
    job = plan(stand("A", "front left"), stand("B", "front right"), stand("C", "middle left"), shop=(SCREW,))
    job = replace(_small(job), vehicle=replace(SMALL, points=points))
    found = _mended(job)
    assert found.verdict is Verdict.CAUTION
    free = [each for each in found.job.supports if not each.point]
    assert free
    assert all("find a hard place" in "".join(map(str, each.says)) for each in found.changes)


def test_what_still_carries_as_its_part_goes_is_taken_off_by_raising_another_first() -> None:
    """The stand goes with its part, and what it carries goes over to a stand that turns: one change."""
    turning = replace(SCREW, count=5, tags=())
    stands = (
        *(replace(each, equipment=turning, tag="") for each in but()),
        stand("E", "box tail", turning, height=0.335),
    )
    job = plan(*stands, off=("box", "intake"))
    changes = [each for each in candidates(judged(job, 0, Verdict.STOP), 0) if each.kind is ChangeKind.CLEAR]
    plain, raised = (each.make(job) for each in changes)
    assert plain is not None
    assert "E" in plain.job.stages[1].cleared
    assert not plain.job.stages[0].set_anew
    made = raised
    assert made is not None
    assert "E" in made.job.stages[1].cleared
    assert made.job.stages[0].set_anew, "another stand takes its load before it goes"
    loaded = solve_stages(made.job, states(made.job))[0].load("E")
    assert loaded is not None
    assert loaded.expected < 100.0
    assert not judged(made.job, 0, Verdict.STOP).troubles


def test_an_interrupt_tells_the_best_so_far() -> None:
    job = _small(plan(*but(stand("A", "front left", height=0.47)), shop=(RATCHET,)))
    every = _mended(job).looked_at

    def impatient(looked: int, _planned: int) -> None:
        if looked == every:
            raise KeyboardInterrupt

    found = mend(job, 0, impatient)
    assert found.interrupted
    assert not found.proven
    assert not _stops(found.job)


def test_an_interrupt_before_anything_was_found_changes_nothing() -> None:
    def at_once(_looked: int, _planned: int) -> None:
        raise KeyboardInterrupt

    job = BAD["a setting above the stand's range"]
    found = mend(job, 0, at_once)
    assert found.interrupted
    assert found.job == job
    assert found.verdict is Verdict.STOP


def test_a_moved_unit_is_not_judged_on_its_way() -> None:
    job = plan()
    rolled = replace(job, stages=(*job.stages, Stage("Rolled", moved=True)))
    assert _mended(rolled).nothing_to_mend


def test_what_another_stand_still_carries_is_taken_from_it_by_one_that_turns_and_not_by_one_that_steps() -> None:
    """The middle stand goes while it carries: the least raise would be of a stand that steps, which is none."""
    turning = replace(SCREW, count=2)
    job = plan(*but(stand("D", "rear right", turning)), stand("E", "middle right"), shop=(RATCHET,))
    job = replace(job, stages=(*job.stages[:2], replace(job.stages[2], cleared=("E",), unattended=False)))
    told = judged(job, 0, Verdict.CAUTION)
    assert CheckName.UNLOADING in {each.check for each in told.troubles}
    raised = [each.make(job) for each in candidates(told, 0) if each.kind is ChangeKind.RAISE]
    made = [each for each in raised if each is not None]
    assert {each.support for each in made} == {"D"}
    after = judged(made[0].job, 0, Verdict.CAUTION)
    assert CheckName.UNLOADING not in {each.check for each in after.troubles}


def test_in_inches_a_stand_that_turns_is_set_to_eighths() -> None:
    job = replace(plan(*but(stand("A", "front left", SCREW, height=0.47)), shop=(SCREW,)), us_units=True)
    heights = [
        next(each.height for each in made.job.supports if each.name == "A")
        for change in candidates(judged(job, 0, Verdict.STOP), 0)
        if change.kind is ChangeKind.HEIGHT and change.about == "A" and (made := change.make(job)) is not None
    ]
    # Its lowest setting, 300 mm, is none: there the shop's file is what counts.
    eighths = [each / 0.003175 for each in heights if each is not None and each > 0.3]
    assert eighths
    assert all(abs(each - round(each)) < 1e-3 for each in eighths)
