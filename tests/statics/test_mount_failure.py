"""Mount failure: which mounts a group would not stand without."""

from dataclasses import replace

import pytest

from loadplan.statics import mount_failure
from loadplan.statics.equilibrium import Frame, without_mount
from loadplan.statics.mount_failure import needed_mounts
from tests.statics import builders as make
from tests.statics.builders import SQUARE


def test_a_unit_on_two_stands_hangs_on_its_one_mount() -> None:
    assert needed_mounts(make.frame(make.rider((0.2, 0.2), (0.2, -0.2)))) == ("link",)


def test_a_unit_on_four_stands_needs_none() -> None:
    assert needed_mounts(make.frame(make.rider((0.2, 0.2), (0.2, -0.2), (-0.2, 0.2), (-0.2, -0.2)))) == ()


def test_three_stands_that_do_not_hold_it_alone_need_it() -> None:
    """The unit's weight is at 0, its stands at x = 0.05 and beyond: without the mount at −0.2 it tips back."""
    assert needed_mounts(make.frame(make.rider((0.05, 0.2), (0.05, -0.2), (0.3, 0.0)))) == ("link",)


def test_a_mount_with_a_limit_is_left_out() -> None:
    made = make.rider((0.2, 0.2), (0.2, -0.2))
    limited = replace(made.vehicle, joints=tuple(replace(each, limit=4000.0) for each in made.vehicle.joints))
    assert needed_mounts(make.frame(replace(made, vehicle=limited))) == ()


def hung(*more: tuple[float, float]) -> Frame:
    parts = [make.part((0.0, 0.0), 100.0, name="u"), make.part((0.0, 0.0), 50.0, name="c", body="cradle")]
    ties = [make.mount(f"m{number}", at) for number, at in enumerate([(0.2, 0.2), (0.2, -0.2), (-0.2, 0.0)])]
    own = [make.support(f"e{number}", at) for number, at in enumerate(more)]
    return make.frame(make.job(parts, [*make.stands(SQUARE, body="cradle"), *own], joints=ties))


def test_a_body_that_hangs_in_its_mounts_alone_is_no_caution() -> None:
    """As on the vehicle; a stand under it that lets it hang on one of them is another thing."""
    assert needed_mounts(hung()) == ()
    assert needed_mounts(hung((0.3, 0.3))) == ("m1", "m2")


def test_what_the_lift_holds_is_left_out() -> None:
    frame = make.frame(make.rider((0.2, 0.2), (0.2, -0.2)))
    arms = tuple(replace(each, equipment=make.ARM) for each in frame.supports)
    assert needed_mounts(replace(frame, supports=arms)) == ()


def test_what_would_take_too_long_counts_as_needed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(mount_failure, "MOST_SUBSETS", 0)
    assert needed_mounts(make.frame(make.rider((0.2, 0.2), (0.2, -0.2), (-0.2, 0.2), (-0.2, -0.2)))) == ("link",)


ROD = make.link("rod", (-0.3, 0.0, 0.1), (0.3, 0.0, 0.1))
"""A level rod 300 mm under mounts that make.mount puts at z 0.4."""


def test_a_link_that_points_at_the_line_of_its_mounts_is_none() -> None:
    """Level with both mounts it turns about their line with what it ties: its lever is 0, under them 300 mm.

    A third mount off that line holds by itself; a rod in the plane of all three still bears nothing upright.
    """
    parts = [make.part(name="u"), make.part(name="c", body="cradle")]
    mounts = [make.mount("m0", (0.2, 0.2)), make.mount("m1", (0.2, -0.2))]
    for z, third, names in [(0.4, [], []), (0.36, [], []), (0.1, [], ["rod"]), (0.4, [(-0.2, 0.2)], [])]:
        rod = make.link("rod", (-0.3, 0.0, z), (0.3, 0.0, z))
        ties = [*mounts, *(make.mount("m2", at) for at in third), rod]
        frame = make.frame(make.job(parts, make.stands(SQUARE, body="cradle"), joints=ties))
        assert [each.name for each in frame.mounts if each.to] == names


def test_a_link_goes_with_the_second_of_the_mounts_beside_it() -> None:
    parts = [make.part(name="u"), make.part(name="c", body="cradle")]
    ties = [make.mount("m0", (0.2, 0.2)), ROD, make.mount("m1", (0.2, -0.2))]
    frame = make.frame(make.job(parts, make.stands(SQUARE, body="cradle"), joints=ties))
    assert [each.name for each in frame.mounts] == ["m0", "rod", "m1"]
    less = without_mount(frame, 0)
    assert ([each.name for each in less.mounts], [each.name for each in less.links]) == (["m1"], ["rod"])
    assert less.stretch.tolist() == frame.stretch[2:].tolist()


def test_a_flat_rod_is_as_soft_as_what_it_pulls_aside() -> None:
    """By hand: rod 300 N/mm 500 mm beside the line of two mounts of 300 N/mm, level, 250 mm under them, square to it.

    A pull P along it stretches the rod by P/300 and shifts both mounts by P/600, so along it 200 N/mm are left, and
    upright at its place (250/500)² of that: 50 N/mm. On end it pulls nothing aside, and keeps its 300 N/mm.
    """
    parts = [make.part(name="u"), make.part(name="c", body="cradle")]
    mounts = [make.mount("m0", (0.2, 0.2, 0.4)), make.mount("m1", (0.2, -0.2, 0.4))]
    for end, stiffness in [((0.0, 0.0, 0.15), 50e3), ((-0.3, 0.0, 0.4), 300e3)]:
        rod = make.link("rod", (-0.3, 0.0, 0.15), end)
        frame = make.frame(make.job(parts, make.stands(SQUARE, body="cradle"), joints=[*mounts, rod]))
        assert [each.stiffness for each in frame.mounts if each.to] == [pytest.approx(stiffness)]
