"""Clearance: the way up over a parted unit, under the lift's end and the ceiling."""

from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.checks import clearance
from loadplan.checks.case import Case
from loadplan.model.vehicle import Joint, JointKind
from loadplan.model.verdict import Finding, Verdict
from tests.checks.builders import SHELL, UNIT, case, findings, group, lifted, not_checked, support, words
from tests.checks.small_jobs import found, judged, lifted_job, said

# The unit's top is 600 mm, its saddle 350 mm under a place at 200 mm: it stands 150 mm higher than in the vehicle,
# whose bottom is 200 mm: 550 mm up. The pads are at 200 mm; the vehicle's top at 1500 mm.
NEEDED = 0.6 + 0.15 - 0.2


def parted(rise: float | None = 1.85, ceiling: float | None = 3.9, lock_step: float | None = None) -> Case:
    free = lifted(support("A"), hung=False)
    use = free.job.lift
    assert use is not None
    changed = replace(use, lift=replace(use.lift, rise=rise, ceiling=ceiling, lock_step=lock_step))
    return replace(free, job=replace(free.job, lift=changed))


def by_end(judged: Case) -> tuple[Finding, Finding]:
    lift, ceiling = findings(clearance.check(judged))
    return lift, ceiling


def test_what_is_left_is_told_for_the_lift_and_for_the_ceiling() -> None:
    lift, ceiling = by_end(parted())
    assert (lift.verdict, ceiling.verdict) == (Verdict.HOLDS, Verdict.HOLDS)
    assert lift.value == pytest.approx(1.85 - 0.2 - NEEDED)
    assert ceiling.value == pytest.approx(3.9 - 1.5 - NEEDED)
    assert words(lift.says) == "The shell clears the unit once it is 0.55 m up; bay ends 1.1 m above that."
    assert words(ceiling.says).endswith("the ceiling is in the way 1.85 m above that.")


@pytest.mark.parametrize(
    ("left", "verdict", "limit"),
    [
        (-1e-9, Verdict.STOP, 0.0),
        (1e-9, Verdict.CAUTION, 0.1),
        (0.1 - 1e-9, Verdict.CAUTION, 0.1),
        (0.1 + 1e-9, Verdict.HOLDS, 0.1),
    ],
)
def test_each_end_is_held_against_nothing_and_a_hand_of_room(left: float, verdict: Verdict, limit: float) -> None:
    lift, _ = by_end(parted(rise=NEEDED + 0.2 + left))
    assert (lift.verdict, lift.limit) == (verdict, limit)
    _, ceiling = by_end(parted(ceiling=NEEDED + 1.5 + left))
    assert (ceiling.verdict, ceiling.limit) == (verdict, limit)


def test_the_words_of_a_stop_and_a_caution() -> None:
    stop, _ = by_end(parted(rise=NEEDED + 0.1))
    assert words(stop.says).endswith(
        "but bay ends 0.1 m before that. Set the stands lower, or use a table that goes down."
    )
    caution, _ = by_end(parted(rise=NEEDED + 0.25))
    assert words(caution.says).endswith("and bay ends only 0.05 m above that. Set the stands lower.")


@pytest.mark.parametrize(("left", "verdict"), [(0.149, Verdict.CAUTION), (0.151, Verdict.HOLDS)])
def test_less_than_a_step_of_the_locks_is_a_caution(left: float, verdict: Verdict) -> None:
    lift, _ = by_end(parted(rise=NEEDED + 0.2 + left, lock_step=0.15))
    assert lift.verdict is verdict
    assert ("Its locks are 0.15 m apart: coming down onto one it may touch." in words(lift.says)) is (left < 0.15)


def test_the_highest_pad_and_the_highest_saddle_count() -> None:
    free = parted()
    up = tuple(replace(each, at=(*each.at[:2], 0.3)) if each.name == "pad 2" else each for each in free.arms)
    lift, _ = by_end(replace(free, state=replace(free.state, supports=(*free.stands, *up))))
    assert lift.value == pytest.approx(1.85 - 0.3 - NEEDED)
    two = lifted(support("A"), replace(support("B"), height=0.37), hung=False)
    lift, _ = by_end(two)
    assert lift.value == pytest.approx(1.85 - 0.2 - NEEDED - 0.02)


def test_what_is_still_tied_or_hung_or_never_was_parted_is_not_judged() -> None:
    assert clearance.check(lifted(support("A"))) == []
    assert clearance.check(case(support("A"))) == []
    free = parted()
    never = replace(free, state=replace(free.state, undone=()))
    assert clearance.check(never) == []
    nowhere = replace(free, state=replace(free.state, supports=free.arms))
    assert clearance.check(nowhere) == []
    away = replace(free, state=replace(free.state, supports=free.stands))
    assert clearance.check(away) == []


def test_without_top_or_bottom_it_is_a_note() -> None:
    free = parted()
    for body, edge in (("unit", "top"), ("shell", "bottom")):
        bodies = tuple(replace(each, **{edge: None}) if each.name == body else each for each in free.job.vehicle.bodies)
        vague = replace(free, job=replace(free.job, vehicle=replace(free.job.vehicle, bodies=bodies)))
        (told,) = findings(clearance.check(vague))
        assert (told.verdict, told.value) == (Verdict.NOTE, None)
        assert words(told.says).endswith(f"not checked: top or bottom of the {body} is not given.")


def test_what_the_files_leave_out_is_not_checked() -> None:
    low, high = not_checked(clearance.check(parted(rise=None, ceiling=None)))
    assert low.endswith("not checked, the files do not say how high the lift rises.")
    assert high.endswith("not checked, the files do not say how high ceiling and vehicle are.")
    touching = lifted(replace(support("A"), height=None), hung=False)
    (told,) = not_checked(clearance.check(touching))
    assert told.endswith("not checked, no stand under the unit has a height set.")


def test_a_unit_below_the_vehicle_is_cleared_where_it_was() -> None:
    free = parted()
    bodies = tuple(replace(each, top=0.0) if each.name == "unit" else each for each in free.job.vehicle.bodies)
    low = replace(free, job=replace(free.job, vehicle=replace(free.job.vehicle, bodies=bodies)))
    lift, _ = by_end(low)
    assert words(lift.says).startswith("The shell clears the unit even where it stood before; bay ends")


@pytest.mark.parametrize(
    ("rise", "verdict"), [(849, Verdict.STOP), (851, Verdict.CAUTION), (949, Verdict.CAUTION), (951, Verdict.HOLDS)]
)
def test_a_whole_job_is_judged_when_the_unit_is_parted(tmp_path: Path, rise: float, verdict: Verdict) -> None:
    """Unit's top 700, up 150 on its stands, vehicle's bottom 180: 670 mm; pads at 180 mm."""
    job = lifted_job()
    job["lift"] |= {"rise": rise, "ceiling": 4000}
    bolted, free = judged(job, tmp_path).stages
    assert found(bolted, "clearance") == []
    lift, ceiling = found(free, "clearance")
    assert (lift.verdict, ceiling.verdict) == (verdict, Verdict.HOLDS)
    assert lift.value == pytest.approx((rise - 180 - 670) / 1000)
    assert "670 mm up" in said(lift)


def test_of_several_assemblies_the_highest_top_and_the_lowest_bottom_count() -> None:
    free = parted()
    arch = replace(UNIT, name="arch", top=0.9)
    tray = replace(SHELL, name="tray", bottom=0.05, top=1.7)
    hung = Joint("hangers", JointKind.MOUNT, ("shell", "tray"), ((-2.0, 0.0, 0.5),), 3e5)
    link = Joint("link", JointKind.MOUNT, ("unit", "arch"), ((0.0, 0.0, 0.5),), 3e5)
    vehicle = replace(free.job.vehicle, bodies=(UNIT, SHELL, arch, tray))
    more = replace(
        free,
        job=replace(free.job, vehicle=vehicle, bodies=("unit", "shell", "arch", "tray")),
        state=replace(free.state, done_up=(hung, link)),
        statics=replace(free.statics, groups=(group(("unit", "arch"), ("A",)), group(("shell", "tray"), ()))),
    )
    lift, ceiling = by_end(more)
    needed = 0.9 + 0.15 - 0.05
    assert lift.value == pytest.approx(1.85 - 0.2 - needed)
    assert ceiling.value == pytest.approx(3.9 - 1.7 - needed)
    assert lift.subject == "unit, arch"


def test_what_was_parted_from_another_free_assembly_is_not_parted_from_the_vehicle() -> None:
    free = parted()
    between = replace(free.state.undone[0], between=("unit", "arch"))
    assert clearance.check(replace(free, state=replace(free.state, undone=(between,)))) == []


def test_a_support_on_another_assembly_does_not_make_it_stand_on_the_floor() -> None:
    free = parted()
    beam = tuple(replace(each, on="shell") for each in free.stands)
    assert clearance.check(replace(free, state=replace(free.state, supports=(*beam, *free.arms)))) == []


def test_with_just_a_step_of_the_locks_left_no_lock_is_in_the_way() -> None:
    rise = NEEDED + 0.25
    lift, _ = by_end(parted(rise=rise))
    assert lift.value is not None
    for step, warned in ((lift.value, False), (lift.value * (1 + 1e-9), True)):
        told, _ = by_end(parted(rise=rise, lock_step=step))
        assert told.verdict is Verdict.CAUTION
        assert ("coming down onto one it may touch" in words(told.says)) is warned


def test_what_came_off_the_vehicle_elsewhere_parts_no_other_unit() -> None:
    free = parted()
    elsewhere = Joint("axle bolts", JointKind.BOLTED, ("shell", "axle"), ((-3.0, 0.0, 0.5),), 0.0)
    assert clearance.check(replace(free, state=replace(free.state, undone=(elsewhere,)))) == []
