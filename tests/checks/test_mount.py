"""Mount: limits, balance that hangs on one, and a force that is not what it is on the whole vehicle."""

from dataclasses import replace

import pytest

from loadplan.checks import mount
from loadplan.checks.case import Case
from loadplan.model.answer import JointForce
from loadplan.model.vehicle import Joint, JointKind
from loadplan.model.verdict import CheckName, Finding, Measure, Verdict
from tests.checks.builders import BOLTS, about, case, lifted, support, with_group, words

MOUNT = Joint("m", JointKind.MOUNT, ("unit", "shell"), ((0.0, 0.0, 0.5),), 3e5)


def tied(judged: Case, force: float | None, *, whole: float | None = None, limit: float | None = None) -> Case:
    joint = replace(MOUNT, limit=limit)
    return replace(
        judged,
        state=replace(judged.state, done_up=(joint,)),
        statics=replace(judged.statics, joints=(JointForce("m", force, whole),)),
    )


def told(force: float, *, whole: float | None = None, limit: float | None = None) -> Finding:
    return about(mount.check(tied(lifted(support("A")), force, whole=whole, limit=limit)), "m")


def needed(judged: Case) -> Case:
    return with_group(judged, replace(judged.group("unit"), needed_mounts=("m",)))


@pytest.mark.parametrize(
    ("force", "verdict"),
    [(4000.0, Verdict.HOLDS), (4000.1, Verdict.STOP), (-4000.0, Verdict.HOLDS), (-4000.1, Verdict.STOP)],
)
def test_a_mount_may_carry_its_limit_up_or_down(force: float, verdict: Verdict) -> None:
    found = told(force, limit=4000.0)
    assert (found.verdict, found.value, found.limit) == (verdict, abs(force), 4000.0)


def test_a_link_is_held_to_its_limit_along_its_line() -> None:
    judged = tied(lifted(support("A")), 900.0, whole=300.0, limit=4000.0)
    carried = JointForce("m", 900.0, 300.0, along=4100.0)
    found = about(mount.check(replace(judged, statics=replace(judged.statics, joints=(carried,)))), "m")
    assert (found.verdict, found.value) == (Verdict.STOP, 4100.0)
    more = replace(carried, along=3600.0)
    note = about(mount.check(replace(judged, statics=replace(judged.statics, joints=(more,)))), "m")
    assert note.verdict is Verdict.NOTE
    assert "more than twice the 1200 N" in words(note.says)


def test_the_cure_sets_a_stand_under_what_it_holds() -> None:
    assert words(told(4100.0, limit=4000.0).says) == (
        "m carries 4100 N, told as mass of the unit, more than the 4000 N, told as mass that it may. "
        "Before unbolting: set one more stand under the unit, near m."
    )
    assert "under the shell, near m" in words(told(-4100.0, limit=4000.0).says)


def test_balance_that_hangs_on_a_mount_is_a_caution_where_it_has_no_limit() -> None:
    free = case(support("A"))
    found = about(mount.check(needed(tied(free, 300.0))), "m")
    assert found.verdict is Verdict.CAUTION
    assert words(found.says) == (
        "m carries 300 N, told as mass of the unit, and without it the unit and shell would go over; what it may carry "
        "is not given. Do not touch the stands. Take the weight back first. Or give its limit from the maker's data."
    )
    assert about(mount.check(needed(tied(free, 300.0, limit=4000.0))), "m").verdict is Verdict.HOLDS
    assert about(mount.check(tied(free, 300.0)), "m").verdict is Verdict.HOLDS


@pytest.mark.parametrize(
    ("force", "whole", "verdict"),
    [
        (200.0, 100.0, Verdict.HOLDS),
        (200.1, 100.0, Verdict.NOTE),
        (-50.0, 100.0, Verdict.NOTE),
        (50.0, 100.0, Verdict.HOLDS),
        (-1e-9, 100.0, Verdict.HOLDS),
        (5000.0, None, Verdict.HOLDS),
    ],
)
def test_a_force_unlike_that_on_the_whole_vehicle_is_noted(force: float, whole: float | None, verdict: Verdict) -> None:
    assert told(force, whole=whole).verdict is verdict


def test_bolts_and_mounts_without_a_force_are_not_told() -> None:
    hung = lifted(support("A"))
    bolted = replace(
        hung,
        state=replace(hung.state, done_up=(BOLTS, MOUNT)),
        statics=replace(hung.statics, joints=(JointForce("bolts", None), JointForce("m", None))),
    )
    assert mount.check(bolted) == []


CARRIES = "m carries {} N, told as mass of the {}"


@pytest.mark.parametrize(
    ("force", "whole", "says"),
    [
        (200.0, 100.0, f"{CARRIES.format(200, 'unit')}."),
        (0.0, 100.0, f"{CARRIES.format(0, 'unit')}."),
        (-30.0, None, f"{CARRIES.format(30, 'shell')}."),
        (
            *(300.0, 100.0),
            f"{CARRIES.format(300, 'unit')}, more than twice the 100 N, told as mass of the whole vehicle.",
        ),
        (
            *(-50.0, 100.0),
            f"{CARRIES.format(50, 'shell')}; on the whole vehicle it carries 100 N, told as mass of the unit. "
            "Its force has turned round: look at m before work goes on.",
        ),
        (
            *(50.0, -100.0),
            f"{CARRIES.format(50, 'unit')}; on the whole vehicle it carries 100 N, told as mass of the shell. "
            "Its force has turned round: look at m before work goes on.",
        ),
        (-0.5, -0.4, f"{CARRIES.format(0.5, 'shell')}."),
        (
            0.5,
            -0.4,
            f"{CARRIES.format(0.5, 'unit')}; on the whole vehicle it carries 0.4 N, told as mass of the shell. "
            "Its force has turned round: look at m before work goes on.",
        ),
        (0.5, 0.0, f"{CARRIES.format(0.5, 'unit')}, more than twice the 0 N, told as mass of the whole vehicle."),
    ],
)
def test_a_mount_is_told_by_what_it_carries_here_and_on_the_whole_vehicle(
    force: float, whole: float | None, says: str
) -> None:
    found = told(force, whole=whole)
    assert (found.check, found.subject, found.value, found.measure) == (
        *(CheckName.MOUNT, "m"),
        *(abs(force), Measure.LOAD),
    )
    assert words(found.says) == says


def test_while_it_hangs_a_stand_is_set_under_what_only_the_mount_holds() -> None:
    found = about(mount.check(needed(tied(lifted(support("A")), 300.0))), "m")
    assert words(found.says).endswith(
        " Before unbolting: set one more stand under the unit, near m. Or give its limit from the maker's data."
    )
