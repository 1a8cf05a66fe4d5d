"""Alignment: bolt holes that have to line up again."""

from dataclasses import replace
from math import nextafter
from types import SimpleNamespace

import pytest

from loadplan.checks import alignment
from loadplan.checks.case import Case
from loadplan.model.answer import Miss
from loadplan.model.vehicle import Joint, JointKind
from loadplan.model.verdict import CheckName, Measure, Verdict
from tests.checks.builders import BOLTS, about, lifted, not_checked, support, words


def undone(joint: Joint, *misses: Miss) -> Case:
    free = lifted(support("A"), hung=False)
    return replace(free, state=replace(free.state, undone=(joint,)), statics=replace(free.statics, misses=misses))


def test_on_the_limit_it_holds_and_above_it_is_a_caution() -> None:
    for out, verdict in ((0.005, Verdict.HOLDS), (nextafter(0.005, 1), Verdict.CAUTION)):
        found = about(alignment.check(undone(BOLTS, Miss("bolts", out, (out, 0.0, 0.0)))), "bolts")
        assert (found.verdict, found.value, found.limit) == (verdict, out, 0.005)


def test_the_caution_says_where_the_holes_are() -> None:
    told = words(about(alignment.check(undone(BOLTS, Miss("bolts", 0.013, (-0.011, 0.00049, 0.007)))), "bolts").says)
    assert told == (
        "The worst bolt hole at bolts will be 0.013 m out: 0.011 m behind, 0.007 m above its bracket on the shell. "
        "Do not touch the stands. Take the weight back first."
    )


def test_a_mount_has_one_hole_and_no_worst_one() -> None:
    mount = replace(BOLTS, kind=JointKind.MOUNT)
    told = words(about(alignment.check(undone(mount, Miss("bolts", 0.013, (0.013, 0.0, 0.0)))), "bolts").says)
    assert told.startswith("The hole at bolts will be 0.013 m out: 0.013 m ahead of its bracket on the shell.")


def test_each_way_has_its_word() -> None:
    told = words(about(alignment.check(undone(BOLTS, Miss("bolts", 0.02, (0.01, -0.01, -0.01)))), "bolts").says)
    assert "0.01 m ahead of, 0.01 m right of, 0.01 m below its bracket on the shell." in told
    small = words(about(alignment.check(undone(BOLTS, Miss("bolts", 0.02, (0.0, 0.0, 0.0)))), "bolts").says)
    assert small.startswith("The worst bolt hole at bolts will be 0.02 m out. ")
    left = words(about(alignment.check(undone(BOLTS, Miss("bolts", 0.02, (0.0, 0.02, 0.0)))), "bolts").says)
    assert "0.02 m left of its bracket on the shell" in left


def test_the_cure_moves_the_stands_under_what_is_not_on_the_lift() -> None:
    judged = replace(
        undone(replace(BOLTS, between=("shell", "unit")), Miss("bolts", 0.02, (0.0, 0.0, 0.02))), before=None
    )
    told = words(about(alignment.check(judged), "bolts").says)
    assert told.endswith("Before unbolting: reset the stands under the unit so that it stays level.")


def test_bolts_without_places_are_not_checked() -> None:
    told = alignment.check(undone(replace(BOLTS, at=())))
    assert len(told) == 1
    assert not_checked(told)[0].startswith("Whether bolts lines up again: not checked")
    assert alignment.check(undone(BOLTS)) == []


FREE = "Do not touch the stands. Take the weight back first."


@pytest.mark.parametrize(
    ("between", "offset", "where"),
    [
        (("unit", "shell"), (0.0113, 0.0, 0.0), "0.011 m ahead of"),
        (("unit", "shell"), (-0.0117, 0.0, 0.0), "0.012 m behind"),
        # What is free comes second: its hole lies the other way from the first one's.
        (("shell", "unit"), (0.0113, 0.0, 0.0), "0.011 m behind"),
        (("shell", "unit"), (0.0, -0.0113, 0.0), "0.011 m left of"),
        (("shell", "unit"), (0.0, 0.0, 0.0113), "0.011 m below"),
    ],
)
def test_where_the_hole_of_what_is_free_lies_is_told_whichever_comes_first(
    between: tuple[str, str], offset: tuple[float, float, float], where: str
) -> None:
    told = about(alignment.check(undone(replace(BOLTS, between=between), Miss("bolts", 0.012, offset))), "bolts")
    assert (told.check, told.measure, told.cures) == (CheckName.ALIGNMENT, Measure.LENGTH, ())
    assert (
        words(told.says)
        == f"The worst bolt hole at bolts will be 0.012 m out: {where} its bracket on the shell. {FREE}"
    )


def test_where_the_holes_meet_it_is_told_by_how_much() -> None:
    told = about(alignment.check(undone(BOLTS, Miss("bolts", 0.004, (0.004, 0.0, 0.0)))), "bolts")
    assert words(told.says) == "The bolt holes at bolts are 0.004 m out."
    assert told.cures == ()


def test_a_stand_set_anew_is_told_with_what_it_leaves_rounded_up(monkeypatch: pytest.MonkeyPatch) -> None:
    reset = SimpleNamespace(left=0.0031)
    asked: list[str] = []
    monkeypatch.setattr(alignment, "reset_for_holes", lambda *of: asked.append(of[-1]) or reset)
    monkeypatch.setattr(alignment, "reset_words", lambda _, free, __: (f" Set the {free} anew.",))
    monkeypatch.setattr(alignment, "reset_cures", lambda _, given: (given,))
    told = about(alignment.check(undone(BOLTS, Miss("bolts", 0.013, (0.013, 0.0, 0.0)))), "bolts")
    assert words(told.says).endswith(" Set the unit anew. That leaves the worst hole of all 0.004 m out.")
    assert told.cures == (reset,)
    assert asked == ["unit"]


def test_a_body_that_is_left_out_is_not_set_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(alignment, "reset_for_holes", lambda *_: pytest.fail("there is nothing of it"))
    free = undone(replace(BOLTS, between=("shell", "cradle")), Miss("bolts", 0.013, (0.013, 0.0, 0.0)))
    cradle = replace(free.job.vehicle.bodies[0], name="cradle")
    vehicle = replace(free.job.vehicle, bodies=(*free.job.vehicle.bodies, cradle))
    told = about(alignment.check(replace(free, job=replace(free.job, vehicle=vehicle))), "bolts")
    assert told.cures == ()
